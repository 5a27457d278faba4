"""The evening page: how the day went, and what tomorrow will be like."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.control.actions import shown
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.base import PageKey, PageScreen
from pottyboard.board.screens.evening_page import page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.core.review.closing import Closing, closing


class EveningScreen(PageScreen):
    """One page that scrolls, as things stood when it was opened; escape, E and q close it."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("E", "leave", "close", show=False)]

    def __init__(self, entries: Entries) -> None:
        """Close the day of ``entries``."""
        super().__init__(entries)
        self._evening = self._look()

    def _look(self) -> Closing:
        dog_log = self.entries.dog_log
        return closing(dog_log.settings, dog_log.events, self.situation.now)

    def on_screen_resume(self) -> None:
        """Look again: what lay over the page may have changed something."""
        self._evening = self._look()
        super().on_screen_resume()

    def ends(self) -> tuple[str, ...]:
        """Return the dog, what the page is about, and the day."""
        name, day = words.name_of(self.situation.settings), self._evening.date
        dot = sign("between", self.glyphs)
        date = f"{day:%a} {day.day} {day:%b}"
        return f"{name} {dot} how today went", date, f"{name} {dot} today"

    def page(self, width: int, height: int) -> Content:
        """Return the day at its close."""
        return page(self._evening, width, height)

    def hints(self) -> Iterator[PageKey]:
        """Yield the ways on."""
        ascii_only = self.glyphs == "ascii"
        up, down = (shown(key, ascii_only=ascii_only) for key in ("up", "down"))
        yield PageKey(f"{up} {down}", "scroll")
