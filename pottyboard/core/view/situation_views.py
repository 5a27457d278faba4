"""The shape of what a view shows: one frozen value, the situation, and its parts.

:func:`pottyboard.core.view.situation.situation` makes it; nothing here computes.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.accidents.accident_views import Account, PadPlan
from pottyboard.core.away.alone import Watch
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.interval import StepCause
from pottyboard.core.engine.rule_context import Code
from pottyboard.core.health.health_views import Warning
from pottyboard.core.log.places import Spot
from pottyboard.core.model import figures
from pottyboard.core.model.events import Clock, Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.settings import Settings

State = Literal["rest", "soon", "due", "late", "watching", "asleep", "alone"]
"""*rest* over 15 min to go, *soon* 15 or less, *due* 0 to 15 late, *late* over 15 late; *watching*
after an outing that brought nothing although the dog was due, until the next try; *asleep* for the
night or a nap, *alone* while nobody is home (these three give way to *due* and *late*)."""

SlotKind = Literal["break", "meal", "up", "bedtime", "night", "leaving", "back", "visit", "entry"]
SlotStatus = Literal["done", "late", "due", "planned", "missed", "logged"]


class Reason(Struct, frozen=True):
    """One reason for a break: due ``at`` (UTC), in words for people.

    A lone dog waits for a *visit*, or for the *return* of the household.
    """

    code: Code | Literal["visit", "return"]
    at: datetime
    words: str


class NextBreak(Struct, frozen=True):
    """The next break: ``minutes`` to go (negative when late) and why.

    ``reasons`` are those that this break serves, the one that calls it first; ``later`` those that
    come after. A lone dog's next break is the visit that it waits for.
    """

    at: datetime
    minutes: int
    state: State
    reasons: tuple[Reason, ...]
    later: tuple[Reason, ...] = ()


class Change(Struct, frozen=True):
    """A change of the interval (minutes) with its reason in one sentence."""

    at: datetime
    before: int
    after: int
    cause: StepCause
    words: str


class Interval(Struct, frozen=True):
    """Today's interval in minutes, its range, how it came about and what is missing to widen it.

    ``missing`` is empty when nothing is missing: then it widens at the start of the next day, or
    stands at the ``top`` (``at_top``).
    """

    minutes: int
    start: int
    top: int
    changes: tuple[Change, ...]
    missing: tuple[str, ...]
    at_top: bool

    @property
    def last_change(self) -> Change:
        """The change that set the present interval (the start, if none followed)."""
        return self.changes[-1]


class Slot(Struct, frozen=True):
    """One row of the day's timeline: what was planned beside what was logged.

    ``at`` places the row; ``planned`` is the planned instant, if any; ``event`` the entry, if any.
    ``words`` say why a break was or is planned. ``status`` is *done*, *late* (done, over 15 min
    after its time), *due* (the next break), *planned* (still to come), *missed* (planned, never
    logged) or *logged* (unplanned).
    """

    at: datetime
    kind: SlotKind
    words: str
    status: SlotStatus
    planned: datetime | None = None
    event: Event | None = None


class Job(Struct, frozen=True):
    """Something open that stays on the board until it is ticked off.

    ``about`` is the ``id`` of the entry that it comes from, if any; ``steps`` what to do, in order;
    ``name`` tells a spot from the others where there is little room. A question is ticked off by an
    answer: an entry of one of the kinds ``answers``, about the same, or a change of the routine,
    one of ``measures``.
    """

    code: Literal[
        "clean",
        "left-open",
        "nap",
        "silence",
        "seen-or-found",
        "same-one",
        "known",
        "vet",
        "young",
        "young",
        "set-up",
    ]
    words: str
    since: datetime
    about: str = ""
    steps: tuple[str, ...] = ()
    name: str = ""
    answers: tuple[str, ...] = ()
    measures: tuple[str, ...] = ()

    @property
    def is_question(self) -> bool:
        """Whether an answer ticks it off."""
        return bool(self.answers or self.measures) or self.code == "left-open"


class HoldEstimate(Struct, frozen=True):
    """What the log has taught about the hold awake, in minutes.

    Half of the waits end by ``median_minutes`` if nobody goes out, and eight in ten within
    ``range80``: by the chance that calls the breaks, as everything else here, and None where that
    is past half as long again as the longest dry hold. ``holds`` and
    ``accidents`` count what stands behind it; ``knows`` is false while that is too little to act
    on. ``words`` say it in one line, ``brief`` without what is only estimated, ``proof`` how far
    the dry holds carry and ``night`` what it has held asleep (both empty where the log says
    nothing). ``shown`` are the minutes that ``times`` dry holds reached; by ``safe`` minutes 97 of
    100 waits are still dry, as an estimate.
    """

    median_minutes: int | None
    range80: tuple[int | None, int | None]
    holds: int
    accidents: int
    knows: bool
    words: str
    proof: str
    night: str = ""
    brief: str = ""
    shown: int = 0
    times: int = 0
    safe: int = 0


class RiskEstimate(Struct, frozen=True):
    """The chance that something happens indoors if nobody goes out, counted from the last outing.

    ``now``, ``at_due`` (the next break) and ``limit`` (the household's) are chances from 0 to 1;
    ``curve`` the chance by each of the coming instants. ``over_from`` is when the chance passes the
    limit, where that is before the break; None where it is not, and once the break is due.
    """

    now: float
    at_due: float
    limit: float
    curve: tuple[tuple[datetime, float], ...]
    over_from: datetime | None = None


class WatchWindow(Struct, frozen=True):
    """From when to keep the dog in sight before the next break, in words with its own signs."""

    since: datetime
    words: str


class FixedCall(Struct, frozen=True):
    """A fixed reason of the first days, now that the log knows the dog: whether it calls a break.

    ``code`` is that of the reason, or *all* for all of them at once, by which the household puts
    off that its log calls. Of ``outings`` that followed such an entry in time ``empty`` brought
    nothing; ``words`` say what stands and why, ``change`` what turning it would bring.
    """

    code: str
    called: bool
    words: str
    change: str
    outings: int = 0
    empty: int = 0

    @property
    def measure(self) -> str:
        """The change of the routine (``events.CALL_MEASURES``) that turns it."""
        if self.code == ALL_CALLS:
            return "own-log" if self.called else "fixed-reasons"
        return f"{'drop' if self.called else 'call'}-{self.code}"


ALL_CALLS: Final = "all"
"""The code of all fixed reasons at once."""


DRY_OF_100: Final = (97, 90, 50)
"""Of 100 waits, the numbers of dry ones of which each day says by when."""


class HoldDay(Struct, frozen=True):
    """What was believed of the hold at the end of one day.

    ``dry_until`` are the waking minutes up to which as many of 100 waits stay dry as DRY_OF_100
    says, in its order; ``knows`` is false while that was little more than a guess.
    """

    number: int
    dry_until: tuple[int, int, int]
    knows: bool = True


class HoldReport(Struct, frozen=True):
    """The hold awake, drawn: each curve gives the share of holds that last past ``minutes``.

    ``log`` is the curve from the log alone, with no model (Turnbull's, which is Kaplan and Meier's
    where no accident was only found); None past the last of its data. ``posterior`` is the
    estimate, the chance that calls the breaks; ``prior`` what it was before day 1. ``accidents``
    and ``longest`` are waking minutes: the holds that ended indoors, and the longest that did not.
    ``limit`` is the chance of an accident that the household accepts. Nothing is said in numbers of
    more than ``told_to`` minutes: half as long again as the longest dry hold of late. ``calling``
    says in words what follows for the breaks.
    """

    minutes: tuple[int, ...]
    log: tuple[float | None, ...]
    posterior: tuple[float, ...]
    prior: tuple[float, ...]
    accidents: tuple[int, ...]
    longest: tuple[int, ...]
    days: tuple[HoldDay, ...]
    estimate: HoldEstimate
    limit: float
    told_to: int
    calling: str = ""


class Situation(Struct, frozen=True):
    """Everything that a view shows, at ``now``.

    ``since`` holds minutes since the last of each clock, None where unknown. ``timeline`` is today
    in order; ``recent`` the last entries, newest first. ``advice`` are short sentences for right
    now. ``confidence`` says in words how sure the board is. ``days`` are the days so far. ``hold``
    is what the log has taught; ``risk`` is None at night, before the first pee, and where only the
    rule is asked. ``watch`` is what a dog left alone waits for, None while somebody is home.
    ``accidents`` are those of the last two weeks, newest first; ``spots`` the rooms and spots that
    had one; ``warnings`` those that stand, the gravest first; ``pad`` the plan for the pad.
    ``round_day`` is the number of the day within the present round of the programme; ``reminder``
    what may be read once a day. ``watch_window`` says from when to keep the dog in sight before the
    next break; ``calls`` are the fixed reasons and whether they still call a break, empty while the
    log does not know the dog.
    """

    now: datetime
    date: date
    day: int
    settings: Settings
    next_break: NextBreak
    since: Mapping[Clock, int | None]
    timeline: tuple[Slot, ...]
    interval: Interval
    streak_days: int
    days: tuple[DaySummary, ...]
    open_jobs: tuple[Job, ...]
    recent: tuple[Event, ...]
    advice: tuple[str, ...]
    confidence: str
    hold: HoldEstimate
    risk: RiskEstimate | None
    on_duty: str
    asleep: Literal["", "nap", "night"]
    alone_since: datetime | None
    watch: Watch | None = None
    accidents: tuple[Account, ...] = ()
    spots: tuple[Spot, ...] = ()
    warnings: tuple[Warning, ...] = ()
    pad: PadPlan | None = None
    round_day: int = 1
    reminder: str = ""
    watch_window: WatchWindow | None = None
    calls: tuple[FixedCall, ...] = ()
    silent_since: datetime | None = None

    @property
    def dropped(self) -> tuple[FixedCall, ...]:
        """The fixed reasons that call no break of their own any more."""
        return tuple(call for call in self.calls if not call.called and call.code != ALL_CALLS)

    @property
    def is_past(self) -> bool:
        """Whether this is a day of the past as it ended: the days known go on after it."""
        return bool(self.days) and self.days[-1].date > self.date

    @property
    def is_evening(self) -> bool:
        """Whether it is time for the last thing, or later."""
        bed = self.settings.bed_on(self.date)
        return minutes_of(self.now) >= bed - figures.LAST_THING_FROM

    @property
    def is_first_evening(self) -> bool:
        """Whether the first night is near, or has come."""
        bed = self.settings.bed_on(self.date)
        return self.day == 1 and minutes_of(self.now) >= bed - figures.FIRST_EVENING_FROM

    @property
    def break_after(self) -> Slot | None:
        """The break, night break or visit planned after the next one; None if today has no more."""
        return next(
            (
                slot
                for slot in self.timeline
                if slot.status == "planned"
                and slot.kind in ("break", "night", "visit")
                and slot.at > self.next_break.at
            ),
            None,
        )

    @property
    def sooner(self) -> Slot | None:
        """The break that the plan of the day holds before the next one: what calls it, such as a
        meal, is still to be logged. None where there is none."""
        slots = (slot for slot in self.timeline if slot.kind in ("break", "night", "visit"))
        first = next((slot for slot in slots if slot.status in ("due", "planned")), None)
        return first if first is not None and first.status == "planned" else None

    @property
    def then(self) -> str:
        """What the plan holds beside the next break: one that is sooner as soon as a meal is
        logged, else the one after, such as ``then 13:00 (since pee)``; empty without either."""
        clock, sooner = self.settings.clock, self.sooner
        if sooner is not None:
            ahead = (s for s in self.timeline if s.kind == "meal" and self.now < s.at < sooner.at)
            meal = next(ahead, None)
            why = f"({sooner.words})" if meal is None else f"after the meal of {clock(meal.at)}"
            return f"sooner, at {clock(sooner.at)}, {why}"
        after, later = self.break_after, self.next_break.later
        if after is not None:
            return f"then {clock(after.at)} ({after.words})"
        return f"then {clock(later[0].at)}: {later[0].words}" if later else ""
