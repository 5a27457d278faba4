"""Text that a person or a file wrote, fitted into the cells of a terminal."""

from __future__ import annotations

from rich.cells import cell_len

from pottyboard.core.model.printable import is_visible, shown_letters


def one_line(text: str, width: int, cut: str = "…") -> str:
    """Return what of ``text`` may be shown, in at most ``width`` cells, with ``cut`` if longer.

    It is still no markup: hand it on as plain text.
    """
    kept: list[str] = []
    cells = 0
    for letter in shown_letters(text):
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
    return "".join(letter for letter in spaced if letter == " " or is_visible(letter))


def _cut(letters: list[str], width: int, cut: str) -> str:
    """Return the letters with ``cut`` at the end, dropped from the right until they fit."""
    if width < 1:
        return ""
    while letters and cell_len("".join(letters)) > width - 1:
        letters.pop()
    return "".join(letters).rstrip() + cut
