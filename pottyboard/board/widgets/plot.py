"""Curves drawn in a terminal: numbers in, rows of text out.

What lies on a plot is told apart by its pen as well as by its ink, so that a drawing reads without
colours too: a thin line (braille dots), a thick one (half blocks), a dotted one, and in ASCII a
letter for each.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from typing import Final, Literal

from msgspec import Struct

from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.inked import Row, Run

Span = tuple[float, float]
"""The two ends of an axis, the lower one first."""

Point = tuple[float, float | None]
"""A place on a curve; None where the curve is not known from here on."""

Pen = Literal["thin", "thick", "dotted"]

_Dots = frozenset[tuple[int, int]]


class _Nib(Struct, frozen=True):
    """How a pen writes: dots in a cell, ``letter`` for those that are set, one in ``every``."""

    across: int
    down: int
    letter: Callable[[_Dots], str]
    every: int = 1


_BITS: Final = {
    (0, 0): 0x01, (0, 1): 0x02, (0, 2): 0x04, (0, 3): 0x40,
    (1, 0): 0x08, (1, 1): 0x10, (1, 2): 0x20, (1, 3): 0x80,
}  # fmt: skip


def _braille(dots: _Dots) -> str:
    return chr(0x2800 + sum(_BITS[dot] for dot in dots))


def _halves(dots: _Dots) -> str:
    return "█" if len(dots) == 2 else "▄" if (0, 1) in dots else "▀"


_NIBS: Final[dict[tuple[Pen, bool], _Nib]] = {
    ("thin", False): _Nib(2, 4, _braille),
    ("thick", False): _Nib(1, 2, _halves),
    ("dotted", False): _Nib(2, 4, _braille, every=4),
    ("thin", True): _Nib(1, 1, lambda _: "*"),
    ("thick", True): _Nib(1, 1, lambda _: "#"),
    ("dotted", True): _Nib(1, 1, lambda _: ".", every=2),
}


class Plot:
    """A drawing of ``width`` × ``height`` cells; what is drawn later lies on top."""

    def __init__(self, x: Span, y: Span, width: int, height: int, glyphs: GlyphSet) -> None:
        """Begin with an empty sheet that shows the span ``x`` across and ``y`` upwards."""
        self.x, self.y, self.width, self.height = x, y, width, height
        self._glyphs: GlyphSet = glyphs
        self._cells: list[list[Run]] = [[(" ", "")] * width for _ in range(height)]

    def row_of(self, y: float) -> int:
        """Return the row, from the top, in which the value ``y`` is drawn."""
        return self.height - 1 - place(y, self.y, self.height)

    def level(self, y: float, ink: str) -> None:
        """Draw a dashed line across at ``y``."""
        self._cells[self.row_of(y)] = [(sign("level", self._glyphs), ink)] * self.width

    def upright(self, x: float, ink: str) -> None:
        """Draw a dashed line upwards at ``x``."""
        at = place(x, self.x, self.width)
        for row in self._cells:
            row[at] = (sign("upright", self._glyphs), ink)

    def curve(self, points: Sequence[Point], pen: Pen, ink: str, *, stepped: bool = False) -> None:
        """Draw a curve through ``points`` (by rising x), straight from one to the next.

        A ``stepped`` one keeps the height of a point until the next.
        """
        nib = _NIBS[pen, self._glyphs == "ascii"]
        cells: dict[tuple[int, int], set[tuple[int, int]]] = {}
        for across, down in self._dots(points, nib, stepped):
            cell = (down // nib.down, across // nib.across)
            cells.setdefault(cell, set()).add((across % nib.across, down % nib.down))
        for (row, column), dots in cells.items():
            self._cells[row][column] = (nib.letter(frozenset(dots)), ink)

    def _dots(self, points: Sequence[Point], nib: _Nib, stepped: bool) -> Iterator[tuple[int, int]]:
        """Yield every dot of a curve, as dots from the left and from the top."""
        wide, high = self.width * nib.across, self.height * nib.down
        before: int | None = None
        for across in range(0, wide, nib.every):
            x = self.x[0] + (self.x[1] - self.x[0]) * across / max(1, wide - 1)
            y = _height(points, x, stepped)
            if y is None:
                before = None
                continue
            down = high - 1 - place(y, self.y, high)
            # A steep piece is closed, each dot joined to the one before.
            start = down if before is None or nib.every > 1 else before
            step = 1 if down > start else -1
            yield across, down
            for between in range(start + step, down, step):
                yield across, between
            before = down

    def rows(self) -> tuple[Row, ...]:
        """Return the rows from the top, each as pieces of one ink."""
        return tuple(
            tuple(
                ("".join(letter for letter, _ in cells), ink)
                for ink, cells in groupby(row, key=lambda cell: cell[1])
            )
            for row in self._cells
        )


def _height(points: Sequence[Point], x: float, stepped: bool) -> float | None:
    """Return the height of a curve at ``x``; None before its first point and past its last."""
    at = bisect_right(points, x, key=lambda point: point[0]) - 1
    if at < 0 or (at == len(points) - 1 and x > points[at][0]):
        return None
    left, low = points[at]
    if stepped or low is None or at == len(points) - 1:
        return low
    right, high = points[at + 1]
    return None if high is None else low + (high - low) * (x - left) / (right - left)


def place(value: float, span: Span, cells: int) -> int:
    """Return which of ``cells`` the value falls in, the ends included; past them, the end."""
    share = (value - span[0]) / (span[1] - span[0])
    return min(cells - 1, max(0, round(share * (cells - 1))))


def sample(pen: Pen, glyphs: GlyphSet) -> str:
    """Return three cells drawn with a pen, for a legend."""
    plot = Plot((0, 1), (0, 1), 3, 1, glyphs)
    plot.curve([(0, 0.5), (1, 0.5)], pen, "")
    return "".join(text for text, _ in plot.rows()[0])


def marks(values: Iterable[float], mark: str, x: Span, width: int) -> str:
    """Return a row with ``mark`` at each value."""
    row = [" "] * width
    for value in values:
        row[place(value, x, width)] = mark
    return "".join(row)


def bar(low: float, middle: float, high: float, x: Span, width: int, glyphs: GlyphSet) -> str:
    """Return a row with a bar from ``low`` to ``high`` and a mark in its middle.

    An end past the edge is an arrow.
    """
    start, centre, end = (place(value, x, width) for value in (low, middle, high))
    row = [" "] * start + [sign("line", glyphs)] * (end - start + 1) + [" "] * (width - end - 1)
    row[start] = sign("from", glyphs)
    row[end] = sign("further" if high > x[1] else "to", glyphs)
    row[centre] = sign("middle", glyphs)
    return "".join(row)


def floor(columns: Iterable[int], width: int, glyphs: GlyphSet) -> str:
    """Return the line under a plot, with a tick at each of ``columns``."""
    row = [sign("line", glyphs)] * width
    for column in columns:
        row[column] = sign("tick", glyphs)
    return "".join(row)


def labels(texts: Iterable[tuple[int, str]], width: int) -> str:
    """Return texts side by side, each centred on its column where there is room.

    The first ones come first: a text that would touch an earlier one, or is too long, is left out.
    """
    row = [" "] * width
    for column, text in texts:
        start = min(max(0, column - len(text) // 2), width - len(text))
        if start >= 0 and not "".join(row[max(0, start - 1) : start + len(text) + 1]).strip():
            row[start : start + len(text)] = text
    return "".join(row)
