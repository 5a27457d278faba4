"""Text in columns of a terminal: measured, wrapped, and laid out as a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Final

WIDTH: Final = 80
"""Columns of a line of text."""


def columns(text: str) -> int:
    """Return how many columns a text takes; wide characters take two."""
    from rich.cells import cell_len

    return cell_len(text)


def wrapped(text: str, later: str = "", first: str = "", width: int = WIDTH) -> list[str]:
    """Return text in lines of at most ``width`` columns, wide characters counted as two.

    The first line begins with ``first``, the others with ``later``.
    """
    lines, line = [], first
    for word in _words(text, width - max(len(later), len(first))):
        blank = "" if line in (first, later) else " "
        if columns(line) + len(blank) + columns(word) > width:
            lines.append(line.rstrip())
            line, blank = later, ""
        line += blank + word
    return [*lines, line.rstrip()]


def _words(text: str, most: int) -> Iterator[str]:
    """Yield the words of a text, those that no line could hold in pieces; blanks in front stay."""
    for word in text.split(" "):
        rest = word
        while columns(rest) > most:
            yield rest[: max(1, most // 2)]
            rest = rest[max(1, most // 2) :]
        yield rest


def laid_out(
    heads: Sequence[str],
    rows: Iterable[Sequence[str]],
    right: Iterable[int] = (),
    width: int = WIDTH,
) -> list[str]:
    """Return a table in lines of at most ``width`` columns, ``right`` columns flush right.

    Each column is as wide as its widest cell; where that is too much the last is wrapped.
    """
    table = [tuple(heads), *(tuple(row) for row in rows)]
    flush = frozenset(right)
    widths = [max(columns(cell) for cell in column) for column in zip(*table, strict=True)]
    fixed = sum(widths[:-1]) + 2 * (len(widths) - 1)
    widths[-1] = min(widths[-1], max(_LEAST, width - fixed))
    # A table that is still too wide gives of its widest columns, and wraps those as well.
    while sum(widths) + 2 * (len(widths) - 1) > width:
        widths[widths.index(max(widths))] -= 1
    lines = []
    for row in table:
        cells = [wrapped(cell, width=wide) for cell, wide in zip(row, widths, strict=True)]
        for pieces in zip_longest(*cells, fillvalue=""):
            line = "  ".join(
                _filled(piece, wide, place in flush)
                for place, (piece, wide) in enumerate(zip(pieces, widths, strict=True))
            )
            lines.append(line.rstrip())
    return lines


_LEAST: Final = 24


def _filled(text: str, width: int, right: bool) -> str:
    blanks = " " * (width - columns(text))
    return blanks + text if right else text + blanks
