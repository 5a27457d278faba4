"""The Away screen: the days on which everybody is away, what is planned for them, what it costs."""

from __future__ import annotations

from datetime import date, timedelta
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.style import Style

from pottyboard.board.control.actions import shown
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.away_page import page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.board.widgets.static_text import StaticText
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.core.away.overview import AwaySituation, away_situation

_MARGIN: Final = 3
"""What the page leaves free: a blank at either side and the scroll bar."""

_WEEK: Final = timedelta(days=7)
_MOST_WEEKS: Final = 8


class AwayScreen(Screen[None]):
    """One page that scrolls, as things stand; escape, f and q close it, the arrows turn weeks."""

    AUTO_FOCUS = "#away-page"
    CSS_PATH = "../styles/away_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f,q", "leave", "close", show=False),
        Binding("i", "app.report", "visit report", show=False),
        Binding("left", "turn(-1)", "the week before", show=False),
        Binding("right", "turn(1)", "the week after", show=False),
    ]

    def __init__(self, entries: Entries) -> None:
        """Plan ahead from the log of ``entries``."""
        super().__init__()
        self._entries = entries
        self._weeks = 0
        self._away = self._look()

    def _look(self) -> AwaySituation:
        dog_log, now = self._entries.dog_log, self._entries.situation.now
        first: date | None = None
        if self._weeks:
            today = now.astimezone(dog_log.settings.zone).date()
            first = max(today, dog_log.settings.first_date) + self._weeks * _WEEK
        return away_situation(dog_log.settings, dog_log.events, now, first=first)

    def compose(self) -> ComposeResult:
        """Lay out the page, already filled in."""
        yield TopLine(self._title())
        ascii_only = self._entries.dog_log.settings.board.glyphs == "ascii"
        with VerticalScroll(id="away-page", classes="-ascii" if ascii_only else ""):
            yield StaticText(self._page(self.app.size.width), "away")
        yield StaticText(self._keys(), "away-keys")

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new size."""
        self.query_one("#away", StaticText).show(self._page(event.size.width))

    def on_screen_resume(self) -> None:
        """Look again when a report has been saved."""
        self._show()

    def _show(self) -> None:
        self._away = self._look()
        self.query_one(TopLine).show(self._title())
        self.query_one("#away", StaticText).show(self._page(self.size.width))

    def _title(self) -> tuple[str, str]:
        settings, days = self._entries.dog_log.settings, self._away.plan.days
        dot = sign("between", settings.board.glyphs)
        first, last = days[0].date, days[-1].date
        span = f"{first.day} {first:%b} to {last.day} {last:%b}"
        return f"{words.name_of(settings)} {dot} away from home", span

    def _page(self, width: int) -> Content:
        return page(self._away, self._entries.dog_log.settings, width - _MARGIN)

    def _keys(self) -> Content:
        ascii_only = self._entries.dog_log.settings.board.glyphs == "ascii"
        up, down = (shown(key, ascii_only=ascii_only) for key in ("up", "down"))
        left, right = ("left", "right") if ascii_only else ("←", "→")
        keys = (
            ("esc", "back", "screen.leave"),
            ("i", "visit report", "app.report"),
            (left, "week before", "screen.turn(-1)"),
            (right, "after", "screen.turn(1)"),
        )
        pieces = [
            Content.assemble(" ", (key, "bold"), f" {name}").stylize(
                Style.from_meta({"@click": call})
            )
            for key, name, call in keys
        ]
        return Content.assemble(Content("  ").join(pieces), "  ", (f"{up} {down}", "bold"))

    def action_turn(self, step: int) -> None:
        """Go to the week before or after, from this week on."""
        self._weeks = min(max(self._weeks + step, 0), _MOST_WEEKS)
        self._show()
        self.query_one("#away-page", VerticalScroll).scroll_home(animate=False)

    def action_leave(self) -> None:
        """Go back to the day."""
        self.dismiss(None)
