"""What leaves the program: the situation, the log and the visits, as text, HTML and a calendar."""


class PaperError(ValueError):
    """A paper that cannot be made as asked; the message says what to ask for instead."""
