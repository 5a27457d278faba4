"""The Day screen: when the next break is due, why, and what the day looked like so far."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import timedelta
from typing import ClassVar, Final

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Horizontal, Vertical
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widgets import Static

from pottyboard.board.alarms.ringer import Ringer
from pottyboard.board.control.entries import Entries
from pottyboard.board.control.other_dogs import OtherDogs, soonest
from pottyboard.board.control.typed import TypedTime
from pottyboard.board.control.windows import HEIGHTS, LEAST, ROOMY_FROM, WIDTHS, class_for
from pottyboard.board.dialogs.entry_keys import EntryKeys
from pottyboard.board.keys.actions import BY_ID
from pottyboard.board.keys.bindings import bindings
from pottyboard.board.keys.keymap import key_words
from pottyboard.board.panels.calls import answers, night, offers, too_small, why
from pottyboard.board.panels.tallies import jobs, progress, since
from pottyboard.board.screens.editable import EditableScreen
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.board.widgets.countdown import Countdown
from pottyboard.board.widgets.key_line import KeyLine, footer_keys
from pottyboard.board.widgets.risk_curve import RiskCurve
from pottyboard.board.widgets.timeline import Timeline
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.board.widgets.warning_line import WarningLine
from pottyboard.board.widgets.whole_lines import Piece, WholeLines
from pottyboard.core.view.situation import Situation

_NIGHT: Final = "-night"
_STIRRED: Final = "-stirred"
_TO_DO: Final = "-to-do"

_BEAT: Final = 2.0
"""Seconds from one look at clock and log to the next; every minute begins with one."""

_FORGET_AFTER: Final = timedelta(minutes=2)
"""Digits and a selection that were left standing go, or they would fall on the next entry."""


def _is_dark(now: Situation) -> bool:
    return now.asleep == "night" and words.face(now).state == "asleep"


def _looks(now: Situation) -> set[str]:
    """Return the classes that a situation gives to the screen."""
    if _is_dark(now):
        return {_NIGHT, _STIRRED} if now.advice else {_NIGHT}
    return {_TO_DO} if any(job.code in ("clean", "set-up") for job in now.open_jobs) else set()


class DayScreen(EditableScreen[None]):
    """Presents the situation; every number on it comes from there."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings()]

    class Looked(Message):
        """The screen has looked at clock and log."""

    def __init__(
        self, entries: Entries, size: Size, others: OtherDogs, ringer: Ringer, mark: str = ""
    ) -> None:
        """Present the situation of ``entries``, laid out for ``size`` from the first paint on.

        ``others`` are the other dogs of the home; ``ringer`` rings for them all. A ``mark`` in the
        top line says that it is no real board.
        """
        # Classes from the beginning: each one that comes later styles the whole screen anew.
        sizes = (class_for(size.width, WIDTHS), class_for(size.height, HEIGHTS))
        super().__init__(entries, "day", " ".join((*sizes, *_looks(entries.situation))))
        self.others = others
        self._ringer = ringer
        self._mark = mark
        self._keys = EntryKeys(self)
        self._touched = entries.situation.now
        self._warned = ""

    def compose(self) -> ComposeResult:
        """Lay out the board, already filled in."""
        now, compact = self.situation, self._is_compact
        yield Static(id="too-small")
        with Container(id="board"):
            yield TopLine(words.title(now, self._mark), self._right_ends())
            with Horizontal(id="body"):
                with Vertical(id="left"):
                    yield Countdown(words.face(now), now.settings.board.glyphs)
                    yield WarningLine(now, key_words(BY_ID["warnings"], self.keymap))
                    yield WholeLines(self._why(), "why")
                    with Container(id="figures"):
                        yield Static(since(now, compact), id="since")
                        yield WholeLines(progress(now, compact), "progress")
                    yield WholeLines(self._jobs(), "jobs")
                with Vertical(id="right"):
                    yield Timeline(now)
                    yield RiskCurve(now)
            yield KeyLine(footer_keys(self.keymap))

    # --- Time -------------------------------------------------------------------------------------

    def on_mount(self) -> None:
        """Start the one timer, in step with the wall clock."""
        self._pulse = self.set_timer(_BEAT - time.time() % _BEAT, self._begin)

    def _begin(self) -> None:
        self._pulse = self.set_interval(_BEAT, self._beat)
        self._beat()

    def on_screen_resume(self) -> None:
        """Look at once when a dialog or another screen has closed: it may have saved something."""
        self.show()
        self._beat()

    def _beat(self) -> None:
        """Look whether anything has happened, under a dialog or another screen too."""
        self.follow()
        if self.entries.is_stale():
            self.tick()
        self.post_message(self.Looked())

    def tick(self) -> None:
        """Work the situation out anew, show it, and ring if a break has fallen due."""
        now = self.entries.look().now
        self._warn(self.entries.trouble)
        if now - self._touched > _FORGET_AFTER:
            self._forget()
        self.others.look()
        for other in self.others.fallen_due:
            self._ringer.ring(other)
            self.app.notify(words.break_rung(other), markup=False)
        self.show()

    def turn_to(self, entries: Entries, others: OtherDogs) -> None:
        """Present another dog."""
        self.entries, self.others = entries, others
        self._forget()
        self._keys.forget()
        self.tick()

    def _warn(self, words: str) -> None:
        """Say once that the log can't be read; the board keeps what it has shown."""
        if words and words != self._warned:
            self.say(words, wrong=True)
        self._warned = words

    @on(events.Key)
    @on(Timeline.Clicked)
    def _touch(self) -> None:
        self._touched = self.entries.now()

    def _forget(self) -> None:
        """Forget the digits and the selection."""
        self.typed.clear()
        self.chosen = ""

    # --- Keys -------------------------------------------------------------------------------------

    @property
    def typed(self) -> TypedTime:
        """The digits before a letter."""
        return self._keys.typed

    def change(self, work: Callable[[], str], *, can_undo: bool = True) -> None:
        """Do ``work`` as above; the next letter is no slip of the finger."""
        self._keys.forget()
        super().change(work, can_undo=can_undo)

    def action_log(self, kind: str) -> None:
        """Log one entry, now or at the typed time."""
        self._keys.log(kind)

    def action_ask(self, name: str) -> None:
        """Log an entry that asks a question first."""
        self._keys.ask(name)

    def action_at_clock(self) -> None:
        """Let the digits be a clock time."""
        self._keys.at_clock()

    def action_clear(self) -> None:
        """Forget the digits, then the selection, then who was on the way."""
        if not self.typed.is_empty:
            self.typed.clear()
        elif self.chosen:
            self.chosen = ""
        else:
            self._ringer.answer("stays", self.dog, self.situation, self.others.called)
        self.show()

    @property
    def dog(self) -> str:
        """The name of the dog's folder."""
        return self.entries.dog_log.folder.name

    # --- Showing ----------------------------------------------------------------------------------

    def on_resize(self, event: events.Resize) -> None:
        """Fill the panels for the new size."""
        self.show()

    def show(self) -> None:
        """Present the situation; what has not changed is not painted again."""
        now, size = self.situation, self.size
        if not self.is_mounted:
            return
        self._ringer.look(self.dog, now, self.others.first_of(now))
        looks, compact = _looks(now), self._is_compact
        for look in (_NIGHT, _STIRRED, _TO_DO):
            self.set_class(look in looks, look)
        self.query_one(TopLine).show(words.title(now, self._mark), self._right_ends())
        self.query_one(Countdown).show(words.face(now), now.settings.board.glyphs)
        self.query_one(WarningLine).show(now)
        self.query_one("#why", WholeLines).show(self._why())
        self.query_one("#since", Static).update(since(now, compact), layout=False)
        self.query_one("#progress", WholeLines).show(progress(now, compact))
        self.query_one("#jobs", WholeLines).show(self._jobs())
        small = too_small(now, size.width, size.height, LEAST)
        self.query_one("#too-small", Static).update(small, layout=False)
        self.query_one(Timeline).show(now, self.chosen)
        self.query_one(RiskCurve).show(now)
        cut = sign("cut", self.glyphs)
        self.query_one(KeyLine).show(
            footer_keys(self.keymap), self._keys.prompt or self.chosen_words, cut
        )

    def _right_ends(self) -> tuple[str, ...]:
        glances = self.others.glances
        title = words.title(self.situation)
        ends = words.with_other(title, soonest(glances), len(glances) - 1)
        return words.with_state(ends, self.entries.state, self.glyphs)

    def _why(self) -> tuple[Piece, ...]:
        now, keymap = self.situation, self.keymap
        if _is_dark(now):
            return night(now, keymap)
        said = self._ringer.clocks.of(self.dog).said(now)
        heard = (Piece((Content.styled(said, "bold"),), 0),) if said else ()
        return (*heard, *why(now), *answers(now, keymap), *offers(now, keymap))

    def _jobs(self) -> tuple[Piece, ...]:
        answer, setup = (key_words(BY_ID[name], self.keymap) for name in ("answer", "setup"))
        return jobs(self.situation, self._is_compact, answer, setup)

    @property
    def _is_compact(self) -> bool:
        return self.size.height < ROOMY_FROM
