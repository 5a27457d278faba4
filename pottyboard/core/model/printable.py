"""The one rule for text that a person or a file wrote: what of it may be shown, on one line.

Control characters, the leading byte of escape codes, direction marks and whatever else does not
show go; every white space becomes one blank; a letter keeps at most two combining marks. What is
left can be printed anywhere, but is still no markup.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from itertools import islice
from typing import Final

MOST_LETTERS: Final = 200
"""Letters of one text that a line shows; the rest stays in the log."""

_INVISIBLE: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_VARIATION: Final = range(0xFE00, 0xFE10)
_MARKS: Final = frozenset({"Mn", "Me"})
_MARKS_A_LETTER: Final = 2


def is_visible(letter: str) -> bool:
    """Whether a character shows: blanks, control characters and direction marks do not."""
    return not letter.isspace() and unicodedata.category(letter) not in _INVISIBLE


def shown_letters(text: str) -> Iterator[str]:
    """Yield what of ``text`` may be shown on one line, character by character."""
    if text.isascii() and text.isprintable():
        return iter(" ".join(text.split()))
    return _shown(text)


def _shown(text: str) -> Iterator[str]:
    marks, begun, blank = 0, False, False
    for letter in text:
        if letter.isspace():
            blank = begun
            continue
        category = unicodedata.category(letter)
        if category in _INVISIBLE or ord(letter) in _VARIATION:
            continue
        marks = marks + 1 if category in _MARKS else 0
        if marks > _MARKS_A_LETTER or (marks and (blank or not begun)):
            continue
        if blank:
            yield " "
        yield letter
        begun, blank = True, False


def printable(text: str, most: int = MOST_LETTERS) -> str:
    """Return what of ``text`` may be shown, on one line; more than ``most`` letters end in ``…``.

    ``most`` is at least 1.
    """
    shown = "".join(islice(shown_letters(text), most + 1))
    return shown if len(shown) <= most else shown[: most - 1].rstrip() + "…"
