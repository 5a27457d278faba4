"""Text that a person or a file wrote, made safe to show on one line of a terminal."""

from __future__ import annotations

import unicodedata

from rich.cells import cell_len

_INVISIBLE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_MARKS = frozenset({"Mn", "Me"})
_MARKS_A_LETTER = 2
_VARIATION = range(0xFE00, 0xFE10)


def one_line(text: str, width: int, cut: str = "…") -> str:
    """Return ``text`` on one line of at most ``width`` cells, with ``cut`` where it is longer.

    Control characters, escape codes' leading byte, direction marks and other invisible characters
    go; every white space becomes one blank; a letter keeps at most two combining marks. What is
    left can be printed anywhere, but is still no markup: hand it on as plain text.
    """
    kept: list[str] = []
    cells = marks = 0
    blank = False
    for letter in text:
        if letter.isspace():
            blank = bool(kept)
            continue
        category = unicodedata.category(letter)
        if category in _INVISIBLE or ord(letter) in _VARIATION:
            continue
        marks = marks + 1 if category in _MARKS else 0
        if marks > _MARKS_A_LETTER or (marks and (blank or not kept)):
            continue
        if blank:
            kept.append(" ")
            cells += 1
            blank = False
        kept.append(letter)
        cells += cell_len(letter)
        if cells > width:
            return _cut(kept, width, cut)
    return "".join(kept)


def padded(text: str, width: int, cut: str = "…") -> str:
    """Return :func:`one_line` filled up with blanks to exactly ``width`` cells."""
    line = one_line(text, width, cut)
    return line + " " * (width - cell_len(line))


def typeable(text: str) -> str:
    """Return what was typed or pasted without what would not show; white space becomes blanks."""
    spaced = (" " if letter.isspace() else letter for letter in text)
    return "".join(letter for letter in spaced if unicodedata.category(letter) not in _INVISIBLE)


def _cut(letters: list[str], width: int, cut: str) -> str:
    """Return the letters with ``cut`` at the end, dropped from the right until they fit."""
    if width < 1:
        return ""
    while letters and cell_len("".join(letters)) > width - 1:
        letters.pop()
    return "".join(letters).rstrip() + cut
