"""The fortnight: fourteen days side by side, any of which can be opened."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.control.actions import shown
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.base import PageKey, PageScreen
from pottyboard.board.screens.fortnight_page import page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.core.model.localtime import date_words
from pottyboard.core.review.fortnight import DAYS, Fortnight, fortnight


class FortnightScreen(PageScreen):
    """A row for each day, one of them chosen; enter opens it, escape, F and q close the page."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("F", "leave", "close", show=False),
        Binding("up", "move(-1)", "the day before", show=False),
        Binding("down", "move(1)", "the day after", show=False),
        Binding("pageup,left", "turn(-1)", "fourteen days earlier", show=False),
        Binding("pagedown,right", "turn(1)", "fourteen days later", show=False),
        Binding("home", "go(-1)", "the first day", show=False),
        Binding("end", "go(1)", "today", show=False),
        Binding("enter", "open", "open the day", show=False),
    ]

    def __init__(self, entries: Entries, keymap: Mapping[str, str]) -> None:
        """Look back over the log of ``entries``, from today; ``keymap`` is that of the board."""
        super().__init__(entries)
        self._keymap = keymap
        self._last: date | None = None
        self._view = self._look()
        self._chosen = self._view.today

    def _look(self) -> Fortnight:
        dog_log = self.entries.dog_log
        return fortnight(dog_log.settings, dog_log.events, self.situation.now, self._last)

    def ends(self) -> tuple[str, ...]:
        """Return the dog and which days are shown."""
        days, dot = self._view.days, sign("between", self.glyphs)
        title = f"{words.name_of(self.situation.settings)} {dot} fortnight"
        numbers = f"days {days[0].summary.number} to {days[-1].summary.number}"
        return f"{title} {dot} {numbers}", date_words(days[0].date, days[-1].date), title

    def page(self, width: int, height: int) -> Content:
        """Return the days as rows of clock time."""
        return page(self._view, self._chosen, width, height, self.glyphs)

    def in_view(self) -> tuple[int, int]:
        """Return the row of the chosen day."""
        row = 1 + max(0, (self._chosen - self._view.days[0].date).days)
        return row, row

    def hints(self) -> Iterator[PageKey]:
        """Yield the ways to move."""
        ascii_only = self.glyphs == "ascii"
        up, down = (shown(key, ascii_only=ascii_only) for key in ("up", "down"))
        yield PageKey(f"{up} {down}", "choose a day")
        yield PageKey("enter", "open it", "screen.open")
        if self._view.has_earlier:
            yield PageKey("pageup", "earlier", "screen.turn(-1)")
        if self._view.has_later:
            yield PageKey("pagedown", "later", "screen.turn(1)")

    def on_screen_resume(self) -> None:
        """Look again: an entry may have been mended."""
        self._view = self._look()
        super().on_screen_resume()

    # --- Moving -----------------------------------------------------------------------------------

    def action_move(self, step: int) -> None:
        """Choose the day before or after; past the first or last row, the days move on."""
        self._choose(self._chosen + timedelta(days=step))

    def action_turn(self, step: int) -> None:
        """Go fourteen days back or on."""
        self._choose(self._chosen + timedelta(days=step * DAYS), step * DAYS)

    def action_go(self, end: int) -> None:
        """Go to the first day of the log, or to today."""
        self._choose(self._view.first if end < 0 else self._view.today)

    def _choose(self, day: date, turned: int = 0) -> None:
        view = self._view
        self._chosen = min(max(day, view.first), view.today)
        last = view.days[-1].date + timedelta(days=turned)
        if turned == 0 and self._chosen < view.days[0].date:
            last = self._chosen + timedelta(days=DAYS - 1)
        self._last = max(last, self._chosen)
        self._view = self._look()
        self.show()

    def action_open(self) -> None:
        """Open the chosen day."""
        from pottyboard.board.screens.past_day import PastDayScreen

        def closed(day: date | None) -> None:
            if day is not None:
                self._choose(day)

        self.app.push_screen(PastDayScreen(self.entries, self._keymap, self._chosen), closed)
