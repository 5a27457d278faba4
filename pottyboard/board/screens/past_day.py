"""One day of the log: its plan beside its entries, any of which can be corrected or deleted."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content
from textual.style import Style

from pottyboard.board.control.actions import BY_ID, bindings, key_words, shown
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens import past_day_text
from pottyboard.board.screens.mending import MendingScreen
from pottyboard.board.text.glyphs import sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.whole_lines import WholeLines
from pottyboard.board.widgets.static_text import StaticText
from pottyboard.board.widgets.timeline import Timeline
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.core.model.describe import describe
from pottyboard.core.review.past_day import day_as_it_ended
from pottyboard.core.view.situation import Situation

_MENDING = frozenset({"earlier", "later", "correct", "delete", "undo"})


class PastDayScreen(MendingScreen):
    """A day as it ended, or today so far; closing it says which day was shown last.

    Up and down select an entry, as on the Day screen; left and right turn the days.
    """

    CSS_PATH: ClassVar = ["../styles/past_day_screen.tcss"]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        *(binding for binding in bindings() if binding.id in _MENDING),
        Binding("escape", "back", "back", show=False),
        Binding("q", "leave", "back", show=False),
        Binding("left", "turn(-1)", "the day before", show=False),
        Binding("right", "turn(1)", "the day after", show=False),
    ]

    def __init__(self, entries: Entries, keymap: Mapping[str, str], day: date) -> None:
        """Show ``day`` of the log of ``entries``."""
        super().__init__(entries, keymap, "past-day")
        self._day = day
        self._view = self._look()

    @property
    def situation(self) -> Situation:
        """The day as it ended."""
        return self._view

    def _look(self) -> Situation:
        dog_log = self.entries.dog_log
        return day_as_it_ended(
            dog_log.settings, dog_log.events, self._day, self.entries.situation.now
        )

    def compose(self) -> ComposeResult:
        """Lay out the day, already filled in."""
        yield TopLine(past_day_text.title(self._view))
        with Container(id="past-body"):
            yield WholeLines(past_day_text.told(self._view), "told")
            yield Timeline(self._view)
        yield StaticText(self._keys(), "past-keys")

    def on_resize(self, event: events.Resize) -> None:
        """Fit the keys."""
        self.query_one("#past-keys", StaticText).show(self._keys())

    def show(self) -> None:
        """Look at the day again, and present it with the selection."""
        self._view = self._look()
        if not self.is_mounted:
            return
        self.query_one(TopLine).show(past_day_text.title(self._view))
        self.query_one("#told", WholeLines).show(past_day_text.told(self._view))
        self.query_one(Timeline).show(self._view, self.chosen)
        self.query_one("#past-keys", StaticText).show(self._keys())

    def _keys(self) -> Content:
        """Return what can be done: with the selected entry, or else on this day."""
        settings, keymap = self._view.settings, self.keymap
        ascii_only = settings.board.glyphs == "ascii"
        event = self.entries.find(self.chosen) if self.chosen else None
        if event is not None:
            correct, delete = (key_words(BY_ID[name], keymap) for name in ("correct", "delete"))
            entry = f"{settings.clock(event.at)} {describe(event, settings)}"
            text = f"{correct} corrects, {delete} deletes: {entry}"
            cut = sign("cut", settings.board.glyphs)
            return Content.styled(f" {one_line(text, max(20, self.size.width - 2), cut)}", "bold")
        up, down = (shown(key, ascii_only=ascii_only) for key in ("up", "down"))
        left, right = ("left", "right") if ascii_only else ("←", "→")
        undo = key_words(BY_ID["undo"], keymap)
        back = Content.assemble(" ", ("esc", "bold"), " back")
        return Content.assemble(
            back.stylize(Style.from_meta({"@click": "screen.leave"})),
            "  ", (f"{up} {down}", "bold"), " select",
            "  ", (f"{left} {right}", "bold"), " other days",
            "  ", (undo, "bold"), " undo",
        )  # fmt: skip

    # --- Doing ------------------------------------------------------------------------------------

    @on(Timeline.Clicked)
    def _choose(self, clicked: Timeline.Clicked) -> None:
        """Select an entry by a click; a second click opens it."""
        if clicked.event_id == self.chosen:
            self.action_correct()
        else:
            self.chosen = clicked.event_id
            self.show()

    def action_turn(self, step: int) -> None:
        """Go to the day before or after, within the log."""
        first, today = self._view.settings.first_date, self.entries.situation.date
        self._day = min(max(self._day + timedelta(days=step), first), today)
        self.chosen = ""
        self.show()

    def action_back(self) -> None:
        """Forget the selection; without one, go back."""
        if self.chosen:
            self.chosen = ""
            self.show()
        else:
            self.action_leave()

    def action_leave(self) -> None:
        """Go back to the page of many days."""
        self.dismiss(self._day)
