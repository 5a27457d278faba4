"""The Day screen: when the next break is due, why, and what the day looked like so far."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
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
from pottyboard.board.control.windows import HEIGHTS, LEAST, ROOMY_FROM, WIDTHS, class_for
from pottyboard.board.dialogs.entry_keys import EntryKeys
from pottyboard.board.keys.actions import BY_ID
from pottyboard.board.keys.bindings import bindings
from pottyboard.board.keys.keymap import key_words, keys_of
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
from pottyboard.core.model import figures
from pottyboard.core.view.situation import Situation

_NIGHT: Final = "-night"
_TO_CLEAN: Final = "-to-clean"

_BEAT: Final = 2.0
"""Seconds from one look at clock and log to the next; every minute begins with one."""

_DETAILS: Final = (": enzyme", ": no longer each")
"""With what begins the part of an open job that gives way where there is little room."""

_FORGET_AFTER: Final = timedelta(minutes=2)
"""Digits and a selection that were left standing go, or they would fall on the next entry."""


def _looks(now: Situation) -> set[str]:
    """Return the classes that a situation gives to the screen."""
    if now.asleep == "night" and words.face(now).state == "asleep":
        return {_NIGHT}
    return {_TO_CLEAN} if any(job.code == "clean" for job in now.open_jobs) else set()


class DayScreen(EditableScreen[None]):
    """Presents the situation; every number on it comes from there."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings()]

    class Looked(Message):
        """The screen has looked at clock and log."""

    def __init__(self, entries: Entries, size: Size, others: OtherDogs, ringer: Ringer) -> None:
        """Present the situation of ``entries``, laid out for ``size`` from the first paint on.

        ``others`` are the other dogs of the home; ``ringer`` rings for them all.
        """
        # Classes from the beginning: each one that comes later styles the whole screen anew.
        sizes = (class_for(size.width, WIDTHS), class_for(size.height, HEIGHTS))
        super().__init__(entries, "day", " ".join((*sizes, *_looks(entries.situation))))
        self.others = others
        self._ringer = ringer
        self._keys = EntryKeys(self)
        self._touched = entries.situation.now
        self._warned = ""

    def compose(self) -> ComposeResult:
        """Lay out the board, already filled in."""
        now, compact = self.situation, self._is_compact
        yield Static(id="too-small")
        with Container(id="board"):
            yield TopLine(words.title(now), self._right_ends())
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
        self._keys.typed.clear()
        self.chosen = ""

    # --- Keys -------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Collect digits: the time of the next entry."""
        if event.character is not None and event.character in "0123456789":
            event.stop()
            self._keys.typed.type(event.character)
            self.show()

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

    def action_shorten(self) -> None:
        """Take back one digit."""
        self._keys.typed.shorten()
        self.show()

    def action_clear(self) -> None:
        """Forget the digits, then the selection, then who was on the way."""
        if not self._keys.typed.is_empty:
            self._keys.typed.clear()
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
        for look in (_NIGHT, _TO_CLEAN):
            self.set_class(look in looks, look)
        self.query_one(TopLine).show(words.title(now), self._right_ends())
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
        said = self._ringer.clocks.of(self.dog).said(now)
        heard = (Piece((Content.styled(said, "bold"),), 0),) if said else ()
        return (*heard, *why(now), *answers(now, keymap), *offers(now, keymap))

    def _jobs(self) -> tuple[Piece, ...]:
        return jobs(self.situation, self._is_compact, key_words(BY_ID["answer"], self.keymap))

    @property
    def _is_compact(self) -> bool:
        return self.size.height < ROOMY_FROM


# --- The page ------------------------------------------------------------------------------------


def why(situation: Situation) -> tuple[Piece, ...]:
    """Return advice for right now, the reasons for the next break, and how sure the board is.

    The first reason takes its room first, then advice, the other reasons and the rest in order.
    Where a pad is used, what to do about it today comes last.
    """
    glyphs = situation.settings.board.glyphs
    advice = words.marked(words.advice(situation), "advice", glyphs)
    first, *others = words.reasons(situation)
    shorter = dict.fromkeys(words.confidence_forms(situation))
    pieces = [
        *(Piece((Content.styled(line, "bold"),), 1) for line in advice),
        Piece((Content.assemble(("Why: ", "dim"), first),), 0),
        *(Piece((Content(f"     {other}"),), 2) for other in others),
        Piece(tuple(Content.styled(f"How sure: {text}", "dim") for text in shorter), 3),
    ]
    if then := words.then(situation):
        pieces.append(Piece((Content.styled(f"Then {then}", "dim"),), 4))
    if pad := words.pad(situation):
        pieces.append(Piece(tuple(Content(text) for text in pad), 5))
    if situation.reminder:
        pieces.append(Piece((Content.styled(situation.reminder, "dim"),), 3))
    return tuple(pieces)


def answers(situation: Situation, keymap: Mapping[str, str]) -> tuple[Piece, ...]:
    """Return the keys that answer whether the dog was out, where the log has long been silent."""
    if situation.silent_since is None:
        return ()
    pee, at = (key_words(BY_ID[name], keymap) for name in ("pee", "at"))
    keys = " ".join(key_words(BY_ID[name], keymap) for name in ("pee", "poop", "both", "nothing"))
    at = at.partition(" or ")[0]
    forms = (
        f"{keys} answer: {pee} now, 90 {pee} 90 minutes ago, 1130 {at} {pee} at 11:30",
        f"{keys} answer: 90 {pee}, or 1130 {at} {pee}",
    )
    return (Piece(tuple(Content.styled(text, "bold") for text in forms), 3),)


def offers(situation: Situation, keymap: Mapping[str, str]) -> tuple[Piece, ...]:
    """Return the pages that are worth opening now: from the last thing on, how today went; from
    the end of the two weeks on, what comes after them."""
    worth = {
        "evening": situation.is_evening,
        "ahead": situation.round_day >= figures.OFFERED_FROM,
    }
    said = (
        f"{key_words(BY_ID[name], keymap)}: {BY_ID[name].words}"
        for name, is_worth in worth.items()
        if is_worth and keys_of(BY_ID[name], keymap)
    )
    return tuple(
        Piece((Content.styled(words, "dim"),), 3 + rank) for rank, words in enumerate(said)
    )


def since(situation: Situation, compact: bool) -> Content:
    """Return how long ago everything was: one line each, or side by side if ``compact``."""
    rows = words.since(situation)
    if compact:
        return Content("\n").join(
            Content(" ").join(_pair(what, ago, 6, 7) for what, ago in rows[start : start + 3])
            for start in (0, 3)
        )
    lines = [_title("Since the last")]
    lines += [_pair(what, ago, 8, 9) for what, ago in rows]
    return Content("\n").join(lines)


def _pair(what: str, ago: str, left: int, right: int) -> Content:
    return Content.assemble((f"{what:{left}} ", "dim"), (f"{ago:<{right}}", "bold"))


def progress(situation: Situation, compact: bool) -> tuple[Piece, ...]:
    """Return the streak, the interval, what is missing to widen it and why it is what it is."""
    if compact:
        short = f"{words.streak(situation)}, a break every {words.interval_now(situation)}"
        return (Piece((Content(short),), 0),)
    interval = Content.assemble(("A break ", "dim"), words.interval(situation))
    pieces = [
        Piece((_title("How it goes"),), 0),
        Piece((Content.styled(words.dog_log(situation), "bold"),), 1),
        Piece((interval, Content(f"A break every {words.interval_now(situation)}")), 3),
        Piece(tuple(Content.styled(text, "dim") for text in words.last_change(situation)), 4),
    ]
    if missing := words.missing(situation):
        pieces.append(Piece((Content(missing),), 2))
    return tuple(pieces)


def jobs(situation: Situation, compact: bool, answer: str) -> tuple[Piece, ...]:
    """Return the open jobs, in ever shorter forms; if ``compact`` the first alone and in short.

    ``answer`` is the key for the open questions of an accident.
    """
    lines = words.marked(words.jobs(situation, answer), "job", situation.settings.board.glyphs)
    if not lines:
        return ()
    if compact:
        hidden = any(job.is_question for job in situation.open_jobs[1:])
        return (Piece((Content(_in_short(lines, answer if hidden else "")),), 0),)
    plain = [_plain(line) for line in lines]
    fewer = ([*plain[:shown], _more(len(plain) - shown)] for shown in range(len(plain) - 1, 0, -1))
    forms = tuple(Content("\n".join(form)) for form in (lines, plain, *fewer))
    return (Piece((Content("Open jobs"),), 0), Piece(forms, 1))


def _plain(job: str) -> str:
    """Return a job without what its page says too."""
    return next((head for end in _DETAILS if (head := job.rpartition(end)[0])), job)


def _more(number: int) -> str:
    """Return how many jobs are not shown, for want of room."""
    return f"  and {number} more"


def _in_short(jobs: list[str], answer: str = "") -> str:
    """Return the first job without its details, which stand on the page of places.

    ``answer`` is the key for a question among the others.
    """
    first = jobs[0].rpartition(" (")[0] or jobs[0].rpartition(": ")[0] or jobs[0]
    more = f", {len(jobs) - 1} more" if len(jobs) > 1 else ""
    return f"{first}{more}{f', {answer} answers' if answer else ''}"


def too_small(situation: Situation, width: int, height: int, least: tuple[int, int]) -> Content:
    """Return what a window shows that is too small for the board."""
    face = words.face(situation)
    mark = sign("between", situation.settings.board.glyphs)
    text = (
        f"{face.word.upper()} {face.figures} {mark} {face.line}\n\n"
        f"This window is {width}×{height}: the board needs {least[0]}×{least[1]}. Make it larger."
    )
    return Content(text)


def _title(text: str) -> Content:
    return Content.styled(text, "bold dim")
