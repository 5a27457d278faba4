"""The one line in which the Day screen shows the gravest warning."""

from __future__ import annotations

from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.widget import Widget

from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.health.health_views import LEVEL_WORDS, LEVELS, Level, Warning
from pottyboard.core.view.situation import Situation

STYLES: Final[dict[Level, str]] = {
    "now": "bold reverse $text-error",
    "today": "bold $text-error",
    "soon": "bold $text-error",
    "ask": "bold $text-warning",
    "watch": "bold",
}
"""How each level looks; each has its sign and its words as well."""


class WarningLine(Widget):
    """Shows the gravest warning that nobody has noted; takes no room while there is none."""

    def __init__(self, situation: Situation, key: str) -> None:
        """Show what stands from the beginning; ``key`` opens the page of warnings."""
        super().__init__(id="warning")
        self._key = key
        self._texts = in_one_line(situation, key)
        self._mark(situation)

    def show(self, situation: Situation) -> None:
        """Show what stands now; does nothing if it is the same."""
        texts = in_one_line(situation, self._key)
        if texts != self._texts:
            self._texts = texts
            self._mark(situation)
            self.refresh()

    def _mark(self, situation: Situation) -> None:
        standing = not_noted(situation)
        for level in LEVELS:
            self.set_class(bool(standing) and standing[0].level == level, f"-{level}")

    def render(self) -> Content:
        """Return the longest text that fits the line whole."""
        width = self.size.width
        fitting = (text for text in self._texts if cell_len(text) <= width)
        return Content(next(fitting, self._texts[-1] if self._texts else ""))


def not_noted(situation: Situation) -> tuple[Warning, ...]:
    """Return the warnings that nobody has noted, the gravest first."""
    return tuple(warning for warning in situation.warnings if warning.noted is None)


def in_one_line(situation: Situation, key: str) -> tuple[str, ...]:
    """Return the gravest warning that nobody has noted, from the longest text to the shortest.

    ``key`` opens the page; a short text says no more than the level and the key. Empty if there is
    none.
    """
    standing = not_noted(situation)
    if not standing:
        return ()
    gravest = standing[0]
    mark = level_sign(gravest.level, situation.settings.board.glyphs)
    more = f" (and {len(standing) - 1} more)" if len(standing) > 1 else ""
    how = f", {key} says why" if key else ""
    words, level = one_line(gravest.words, 300), LEVEL_WORDS[gravest.level]
    lead = words.partition(":")[0]
    texts = (f"{mark} {words}{more}", *(f"{mark} {text}{more}{how}" for text in (lead, level)))
    return (*texts, f"{mark} {level}{how}")


def level_sign(level: Level, glyphs: GlyphSet) -> str:
    """Return the single-cell sign of a level."""
    return sign(f"level-{level}", glyphs)
