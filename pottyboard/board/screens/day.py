"""The Day screen: when the next break is due, why, and what the day looked like so far."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Final

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Container, Horizontal, Vertical
from textual.content import Content
from textual.geometry import Size

from pottyboard.board.control.actions import BY_ID, key_words
from pottyboard.board.control.alerts import Alerts
from pottyboard.board.control.clock import Pulse
from pottyboard.board.control.entries import Entries
from pottyboard.board.control.other_dogs import OtherDogs, soonest
from pottyboard.board.screens import day_text
from pottyboard.board.screens.entry import EntryScreen
from pottyboard.board.text import words
from pottyboard.board.text.whole_lines import Piece, WholeLines
from pottyboard.board.widgets.countdown import Countdown
from pottyboard.board.widgets.key_line import KeyBar
from pottyboard.board.widgets.risk_curve import RiskCurve
from pottyboard.board.widgets.static_text import StaticText
from pottyboard.board.widgets.timeline import Timeline
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.board.widgets.warning_line import WarningLine
from pottyboard.core.model.describe import describe
from pottyboard.core.model.localtime import span_words
from pottyboard.store import StoreError

LEAST: Final = (60, 20)
"""Columns and rows that the board needs."""

_ROOMY_FROM: Final = 36
"""From this height on, the panels write one line for each figure."""

_WIDTHS: Final = [
    (0, "-too-narrow"),
    (LEAST[0], "-w60"),
    (80, "-w80"),
    (120, "-w120"),
    (180, "-w180"),
]
_HEIGHTS: Final = [
    (0, "-too-low"),
    (LEAST[1], "-h20"),
    (24, "-h24"),
    (_ROOMY_FROM, "-h36"),
    (52, "-h52"),
]

_FORGET_AFTER: Final = timedelta(minutes=2)
"""Digits and a selection that were left standing go, or they would fall on the next entry."""


def _class_for(cells: int, breakpoints: list[tuple[int, str]]) -> str:
    """Return the class that the breakpoints give to a length of ``cells``."""
    return [name for least, name in breakpoints if least <= cells][-1]


class DayScreen(EntryScreen):
    """Presents the situation; every number on it comes from there."""

    HORIZONTAL_BREAKPOINTS = _WIDTHS
    VERTICAL_BREAKPOINTS = _HEIGHTS

    def __init__(
        self, entries: Entries, keymap: Mapping[str, str], size: Size, others: OtherDogs
    ) -> None:
        """Present the situation of ``entries``, laid out for ``size`` from the first paint on.

        ``others`` are the other dogs of the home, whose next break is named in the top line.
        """
        super().__init__(entries, keymap)
        self.add_class(_class_for(size.width, _WIDTHS), _class_for(size.height, _HEIGHTS))
        self._others = others
        self._alerts = Alerts()
        self._pulse = Pulse(self._beat)
        self._touched = entries.situation.now
        self._warned = ""

    def compose(self) -> ComposeResult:
        """Lay out the board, already filled in."""
        now, compact = self.situation, self._is_compact
        yield StaticText(Content(""), "too-small")
        with Container(id="board"):
            yield TopLine(words.title(now), self._right_ends())
            with Horizontal(id="body"):
                with Vertical(id="left"):
                    yield Countdown(words.face(now), now.settings.board.glyphs)
                    yield WarningLine(now, key_words(BY_ID["warnings"], self.keymap))
                    yield WholeLines(self._why(), "why")
                    with Container(id="figures"):
                        yield StaticText(day_text.since(now, compact), "since")
                        yield WholeLines(day_text.progress(now, compact), "progress")
                    yield WholeLines(day_text.jobs(now, compact), "jobs")
                with Vertical(id="right"):
                    yield Timeline(now)
                    yield RiskCurve(now)
            yield KeyBar(self.keymap)

    # --- Time -------------------------------------------------------------------------------------

    def on_mount(self) -> None:
        """Start the one timer."""
        self._pulse.start()

    def on_unmount(self) -> None:
        """Stop the timer."""
        self._pulse.stop()

    def on_screen_resume(self) -> None:
        """Look at once when a dialog or another screen has closed: it may have saved something."""
        self.show()
        self._beat()

    def _beat(self) -> None:
        if self.entries.is_stale():
            self.call_later(self.tick)

    def tick(self) -> None:
        """Work the situation out anew, show it, and ring if a break has fallen due.

        The pulse goes on under a dialog or the help, so that a break that falls due meanwhile is
        heard.
        """
        try:
            now = self.entries.look().now
        except StoreError as error:
            self._warn(str(error))
            return
        if now - self._touched > _FORGET_AFTER:
            self.ago = self.chosen = ""
        self._others.look()
        for other in self._others.fallen_due:
            self.app.bell()
            self.app.notify(words.break_rung(other), markup=False)
        self.show()

    def turn_to(self, entries: Entries, others: OtherDogs) -> None:
        """Present another dog."""
        self.entries, self._others, self._alerts = entries, others, Alerts()
        self.ago = self.chosen = ""
        self._just = None
        self.tick()

    def _warn(self, words: str) -> None:
        """Say once that the log can't be read; the board keeps what it has shown."""
        if words != self._warned:
            self._warned = words
            self.say(words, wrong=True)

    @on(events.Key)
    def _touch(self) -> None:
        self._touched = self.entries.now()

    @on(Timeline.Clicked)
    def _choose(self, clicked: Timeline.Clicked) -> None:
        """Select an entry by a click; a second click opens it."""
        self._touched = self.entries.now()
        if clicked.event_id == self.chosen:
            self.action_correct()
        else:
            self.chosen = clicked.event_id
            self.show()

    # --- Showing ----------------------------------------------------------------------------------

    def on_resize(self, event: events.Resize) -> None:
        """Fill the panels for the new size."""
        self.show()

    def show(self) -> None:
        """Present the situation; what has not changed is not painted again."""
        now, size = self.situation, self.size
        if not self.is_mounted:
            return
        if self._alerts.rings(now):
            self.app.bell()
        face = words.face(now)
        night = face.state == "asleep" and now.asleep == "night"
        self.set_class(night, "-night")
        to_clean = any(job.code == "clean" for job in now.open_jobs)
        self.set_class(to_clean and not night, "-to-clean")
        compact = self._is_compact
        self.query_one(TopLine).show(words.title(now), self._right_ends())
        self.query_one(Countdown).show(face, now.settings.board.glyphs)
        self.query_one(WarningLine).show(now)
        self.query_one("#why", WholeLines).show(self._why())
        self._panel("since").show(day_text.since(now, compact))
        self.query_one("#progress", WholeLines).show(day_text.progress(now, compact))
        self.query_one("#jobs", WholeLines).show(day_text.jobs(now, compact))
        self._panel("too-small").show(day_text.too_small(now, size.width, size.height, LEAST))
        self.query_one(Timeline).show(now, self.chosen)
        self.query_one(RiskCurve).show(now)
        self.query_one(KeyBar).prompt(self._prompt())

    def _right_ends(self) -> tuple[str, ...]:
        glances = self._others.glances
        return words.with_other(words.title(self.situation), soonest(glances), len(glances) - 1)

    def _why(self) -> tuple[Piece, ...]:
        now = self.situation
        return (*day_text.why(now), *day_text.offers(now, self.keymap))

    @property
    def _is_compact(self) -> bool:
        return self.size.height < _ROOMY_FROM

    def _panel(self, name: str) -> StaticText:
        return self.query_one(f"#{name}", StaticText)

    def _prompt(self) -> str:
        """Return what stands in place of the keys while minutes are typed or an entry is chosen."""
        if self.is_too_long_ago:
            return "more than 24 h ago: esc clears, backspace takes a digit back"
        if self.ago:
            minutes = int(self.ago)
            span = f", {span_words(minutes)}" if minutes >= 60 else ""
            return f"{minutes} min{span} ago: now the letter (esc clears)"
        event = self.entries.find(self.chosen) if self.chosen else None
        if event is None:
            return ""
        settings = self.situation.settings
        correct, delete = (key_words(BY_ID[name], self.keymap) for name in ("correct", "delete"))
        entry = f"{settings.clock(event.at)} {describe(event, settings)}"
        return f"{correct} corrects, {delete} deletes: {entry}"
