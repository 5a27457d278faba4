"""A page on which one thing is chosen: the arrows go from one to the next, and u takes back."""

from __future__ import annotations

from typing import ClassVar, NamedTuple

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content

from pottyboard.board.control.actions import shown
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.base import PageKey, PageScreen


class Written(NamedTuple):
    """A page that is written: its ``lines``, and the first and the last ``row`` of the chosen."""

    lines: list[Content]
    row: int = 0
    last: int = 0


class ChosenPage(PageScreen):
    """Keeps what is chosen in view; the subclass writes the page and says how many there are."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "choose(-1)", "the one before", show=False),
        Binding("down", "choose(1)", "the one after", show=False),
        Binding("pageup", "turn(-1)", "page up", show=False),
        Binding("pagedown,space", "turn(1)", "page down", show=False),
        Binding("u", "undo", "take back", show=False),
    ]

    def __init__(self, entries: Entries) -> None:
        """Begin with the first."""
        super().__init__(entries)
        self.at = 0
        self._row = self._last = 0

    def count(self) -> int:
        """Return how many there are to choose from."""
        raise NotImplementedError

    def write(self, width: int, height: int) -> Written:
        """Return the page for a window with room for ``width`` × ``height`` cells."""
        raise NotImplementedError

    def page(self, width: int, height: int) -> Content:
        """Return the page, and remember where the chosen one stands."""
        self.at = min(self.at, max(0, self.count() - 1))
        lines, self._row, self._last = self.write(width, height)
        return Content("\n").join(lines)

    def in_view(self) -> tuple[int, int]:
        """Return the rows of the chosen one; the whole top of the page with the first."""
        return (0 if self.at == 0 else self._row), self._last

    @property
    def undoes(self) -> str:
        """What is said after a change."""
        return "u takes it back."

    def arrows(self) -> PageKey:
        """Return the hint for the arrows."""
        keys = " ".join(shown(key, ascii_only=self.glyphs == "ascii") for key in ("up", "down"))
        return PageKey(keys, "others")

    def action_choose(self, step: int) -> None:
        """Go to the one before or after."""
        self.at = min(max(self.at + step, 0), max(0, self.count() - 1))
        self.show()

    def action_turn(self, step: int) -> None:
        """Scroll by a window."""
        page = self.query_one("#page", VerticalScroll)
        page.scroll_relative(y=step * page.scrollable_content_region.height, animate=False)

    def action_undo(self) -> None:
        """Take back the last change."""
        self.change(self.entries.undo)
