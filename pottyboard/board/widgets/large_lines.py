"""A few short lines as large as their place allows, in plain bold text where there is none."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Final, NamedTuple

from textual.content import Content
from textual.widget import Widget

from pottyboard.board.text.glyphs import GlyphSet
from pottyboard.board.widgets import large

_MOST_SCALE: Final = 4
_LEAST_PLAIN_SCALE: Final = 2
"""Letters drawn in ``#`` alone read from this scale on."""


class LargeLine(NamedTuple):
    """One line: in capitals to be drawn ``large``, and as a ``plain`` sentence."""

    large: str
    plain: str


class LargeLines(Widget):
    """Shows lines for reading across a room."""

    def __init__(self, lines: Sequence[LargeLine], glyphs: GlyphSet, id: str) -> None:
        """Show ``lines`` from the beginning."""
        super().__init__(id=id)
        self._lines = tuple(lines)
        self._glyphs: GlyphSet = glyphs

    def show(self, lines: Sequence[LargeLine]) -> None:
        """Show other lines; does nothing if they are the same."""
        if tuple(lines) != self._lines:
            self._lines = tuple(lines)
            self.refresh()

    def render(self) -> Content:
        """Return the lines for the present size."""
        return Content("\n".join(draw(self._lines, *self.size, self._glyphs)))


def draw(lines: Sequence[LargeLine], width: int, height: int, glyphs: GlyphSet) -> list[str]:
    """Return the rows of ``lines`` for a place of ``width`` × ``height`` cells.

    All are drawn at one scale, the largest at which each fits, close together if need be; where
    none does, or ASCII would be too small to read, they are plain sentences.
    """
    ascii_only = glyphs == "ascii"
    drawings = [large.words(line.large) for line in lines]
    widest = max(len(drawing[0]) for drawing in drawings)
    least = _LEAST_PLAIN_SCALE if ascii_only else 1
    for scale, gap in product(range(_MOST_SCALE, least - 1, -1), (1, 0)):
        # A letter of an odd height leaves half a row under it, which parts two lines by itself.
        if not gap and large.ROWS * scale % 2 == 0:
            continue
        rows = len(lines) * (large.height(scale) + gap) - gap
        if widest * scale <= width and rows <= height:
            drawn = (large.draw(drawing, scale, ascii_only=ascii_only) for drawing in drawings)
            return [row for drawing in drawn for row in (*drawing, *[""] * gap)][:rows]
    return [line.plain for line in lines]
