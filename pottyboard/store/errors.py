"""What can go wrong with the store."""


class StoreError(Exception):
    """Something could not be read or saved; the message says what to do."""
