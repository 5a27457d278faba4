"""The one large thing on the board: the state, and the time to the next break."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget

from pottyboard.board.text.glyphs import LOOKS, GlyphSet
from pottyboard.board.text.words import Face
from pottyboard.board.widgets import large

_WIDEST_FIGURES = "0h00"
_LEAST_WIDTH = 44
_MOST_SCALE = 8


class Countdown(Widget):
    """Shows a ``Face`` in letters as large as its own size allows.

    The scale depends on the size alone, so that nothing moves when a minute passes.
    """

    def __init__(self, face: Face, glyphs: GlyphSet) -> None:
        """Show ``face`` from the beginning."""
        super().__init__(id="countdown", classes=f"-{face.state}")
        self._face = face
        self._glyphs: GlyphSet = glyphs

    def show(self, face: Face, glyphs: GlyphSet) -> None:
        """Show another face; does nothing if it is the same one."""
        if (face, glyphs) == (self._face, self._glyphs):
            return
        if face.state != self._face.state:
            self.remove_class(f"-{self._face.state}")
            self.add_class(f"-{face.state}")
        self._face, self._glyphs = face, glyphs
        self.refresh()

    def render(self) -> Content:
        """Return the drawing for the present size."""
        width, height = self.size
        rows = draw(self._face, width, height, self._glyphs)
        rows += [""] * (height - len(rows))
        # Filled up to a block, so that reversed letters read without colours too.
        return Content("\n".join(f"{row:{width}}"[:width] for row in rows))


def draw(face: Face, width: int, height: int, glyphs: GlyphSet) -> list[str]:
    """Return the rows of a face for a place of ``width`` × ``height`` cells.

    From the top: the state's large mark and word, the figures with their unit, and one line of
    text. Where there is no room for large letters, everything is said in plain text.
    """
    drawing = large.dots(face.large)
    scale = figures_scale(width, height, len(drawing[0]))
    if scale == 0:
        look = LOOKS[face.state]
        return [f"{look.glyph(glyphs)} {face.word.upper()} {face.figures}", face.line]
    ascii_only = glyphs == "ascii"
    state = _state_rows(face, width, height, scale, glyphs)
    figures = large.draw(drawing, scale, ascii_only=ascii_only)
    if face.unit:
        figures = _with_unit(figures, face.unit, max(1, scale // 2), ascii_only)
    spare = height - len(state) - len(figures) - 1
    return [*state, *[""] * (spare > 0), *figures, *[""] * (spare > 1), face.line]


def figures_scale(width: int, height: int, dots: int) -> int:
    """Return the largest scale at which figures ``dots`` wide fit the place; 0 if none does.

    Figures narrower than an hour and its minutes are drawn no larger than those.
    """
    dots = max(dots, len(large.dots(_WIDEST_FIGURES)[0]))
    if width < _LEAST_WIDTH:
        return 0
    room = height - large.height(1) - 1
    fitting = (
        scale
        for scale in range(_MOST_SCALE, 0, -1)
        if dots * scale <= width and large.height(scale) <= room
    )
    return next(fitting, 0)


def _state_rows(face: Face, width: int, height: int, scale: int, glyphs: GlyphSet) -> list[str]:
    look = LOOKS[face.state]
    word_scale = 2 if height >= large.height(2) + large.height(scale) + 3 and scale > 3 else 1
    if glyphs == "ascii" and word_scale == 1:
        return ["", f"{look.plain} {' '.join(face.word.upper())}", "", ""]
    state = large.beside(look.dots, large.dots(face.word.upper()), gap=2)
    if len(state[0]) * word_scale > width:
        state = large.dots(face.word.upper())
    return large.draw(state, word_scale, ascii_only=glyphs == "ascii")


def _with_unit(rows: list[str], unit: str, scale: int, ascii_only: bool) -> list[str]:
    """Return figures with their unit in smaller letters beside their foot."""
    if ascii_only and scale == 1:
        small = [unit]
    else:
        small = large.draw(large.dots(unit), scale, ascii_only=ascii_only)
    above = [""] * (len(rows) - len(small))
    return [f"{row}   {letters}" for row, letters in zip(rows, [*above, *small], strict=True)]
