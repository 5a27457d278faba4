"""The Hold screen: how long this dog can wait, what that rests on, and how it has moved."""

from __future__ import annotations

from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.style import Style

from pottyboard.board.control.actions import shown
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.hold_page import page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.board.widgets.static_text import StaticText
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.core.view.hold_report import hold_report

_MARGINS: Final = Size(3, 2)
"""What the page leaves free: a blank at either side and the scroll bar; the first and last line."""


class HoldScreen(Screen[None]):
    """One page that scrolls, as things stood when it was opened; escape, h and q close it."""

    AUTO_FOCUS = "#hold-page"
    CSS_PATH = "../styles/hold_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,h,q", "leave", "close", show=False),
    ]

    def __init__(self, entries: Entries) -> None:
        """Study the log of ``entries``."""
        super().__init__()
        dog_log, self._situation = entries.dog_log, entries.situation
        self._study = hold_report(dog_log.settings, dog_log.events, self._situation.now)

    def compose(self) -> ComposeResult:
        """Lay out the page, already filled in."""
        now = self._situation
        dot = sign("between", now.settings.board.glyphs)
        title = f"{words.name_of(now.settings)} {dot} how long the dog can hold"
        yield TopLine((title, f"day {now.day}"))
        with VerticalScroll(id="hold-page"):
            yield StaticText(self._page(self.app.size), "hold")
        yield StaticText(self._keys(), "hold-keys")

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new size."""
        self.query_one("#hold", StaticText).show(self._page(event.size))

    def _page(self, size: Size) -> Content:
        now = self._situation
        width, height = size.width - _MARGINS.width, size.height - _MARGINS.height
        return page(self._study, now.interval.minutes, width, height, now.settings.board.glyphs)

    def _keys(self) -> Content:
        ascii_only = self._situation.settings.board.glyphs == "ascii"
        up, down = (shown(key, ascii_only=ascii_only) for key in ("up", "down"))
        close = Style.from_meta({"@click": "screen.leave"})
        back = Content.assemble(" ", ("esc", "bold"), " back ").stylize(close)
        return Content.assemble(back, "  ", (f"{up} {down}", "bold"), " scroll")

    def action_leave(self) -> None:
        """Go back to the day."""
        self.dismiss(None)
