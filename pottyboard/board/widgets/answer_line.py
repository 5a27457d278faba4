"""A line for typing an answer."""

from __future__ import annotations

from textual import events
from textual.widgets import Input

from pottyboard.board.text.safe_text import typeable


class AnswerLine(Input):
    """An input whose cursor stands still, and into which nothing can be pasted that would not show.

    What is selected when the focus comes goes with the first letter that is typed.
    """

    def __init__(self, value: str = "", *, id: str | None = None, classes: str = "") -> None:
        """Begin with ``value``."""
        super().__init__(value, id=id, classes=classes, compact=True)
        self.cursor_blink = False

    def on_paste(self, event: events.Paste) -> None:
        """Take all that is pasted, of several lines too: with a blank for each new one."""
        event.prevent_default()
        event.stop()
        self.replace(" ".join(event.text.splitlines()), *self.selection)

    def replace(self, text: str, start: int, end: int) -> None:
        """Put ``text`` in place of a piece: typing, pasting and deleting all come here."""
        super().replace(typeable(text), start, end)
