"""A message that covers no more of the board than it may."""

from __future__ import annotations

import re
from typing import Final

from textual.content import Content

ROWS: Final = 2
"""Rows that a message may take in a low window: a free one, and the key line."""
_FRAME: Final = 3
"""Columns of a message that are not text."""


def in_rows(words: str, columns: int, rows: int = ROWS) -> str:
    """Return ``words`` without the sentences that do not fit into so many rows of a message.

    The first sentence says what happened, the last how to take it back: those between go first,
    from the last on, then the last.
    """
    said = re.split(r"(?<=[.?!]) ", words)
    while len(said) > 1 and _height(said, columns - _FRAME) > rows:
        del said[-2 if len(said) > 2 else -1]
    return " ".join(said)


def _height(said: list[str], width: int) -> int:
    return Content(" ".join(said)).get_height({}, max(1, width))
