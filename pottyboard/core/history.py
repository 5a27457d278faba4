"""The days so far, one after the other: facts, holds, verdicts and the interval's steps.

A day depends only on the day before and its own entries, so :class:`History` keeps the days it has
worked out and redoes those that an entry touches. A log of a year then costs as little at each new
entry as a log of two weeks.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from itertools import pairwise
from operator import attrgetter
from typing import ClassVar

from pottyboard.core import figures
from pottyboard.core.events import Event
from pottyboard.core.facts import Digested, Facts, Hold
from pottyboard.core.interval import (
    Evidence,
    Step,
    narrowed,
    opening,
    overruled,
    widened,
)
from pottyboard.core.learning import Lessons, estimate_of
from pottyboard.core.localtime import Minutes, clock_words, minutes_of, span_words
from pottyboard.core.plan import DayPlan, date_at, plan_for
from pottyboard.core.reasons import Due, Moment, first_due
from pottyboard.core.risk import limit_of
from pottyboard.core.settings import Settings
from pottyboard.core.shapes import DaySummary, Verdict

_at = attrgetter("t")


def _order(event: Event) -> tuple[Minutes, bool, datetime, str, str]:
    """Return the place of an entry in the log; at one instant, by when it was typed.

    A cleaning follows its accident in any case.
    """
    return event.t, event.kind == "cleaned", event.logged or event.at, event.id, event.kind


@dataclass(frozen=True)
class Outing:
    """One outing: its entries, and the moment just before it."""

    events: tuple[Event, ...]
    moment: Moment

    @property
    def at(self) -> Minutes:
        """When it began."""
        return self.moment.now

    @cached_property
    def due(self) -> Due:
        """The break that was due when it began, worked out only when asked for."""
        return first_due(self.moment)

    @property
    def was_late(self) -> bool:
        """Whether it came more than 15 min after it was due."""
        return self.at > self.due.at + figures.LATE


@dataclass(frozen=True, slots=True)
class Accident:
    """One accident, with the break that was due: ``household`` if that was already late.

    ``moves`` tells whether it narrows the interval: it happened in the plan's care, inside the
    interval. A night is longer than any interval, and an accident found may be older than a break
    that came late: neither tells anything.
    """

    event: Event
    due: Due
    household: bool
    moves: bool


@dataclass(frozen=True)
class Day:
    """One day of the record, worked out: what happened, the verdict and the state it leaves.

    ``steps`` are all steps of the interval up to the end of this day; ``evidence`` the clear days
    in a row since the last step, with the awake holds of the last two of them; ``lessons`` what the
    log has taught up to the end of this day; ``held_back`` why the interval had to wait this
    morning, if it had to.
    """

    plan: DayPlan
    events: tuple[Event, ...]
    outings: tuple[Outing, ...]
    accidents: tuple[Accident, ...]
    holds: tuple[Hold, ...]
    verdict: Verdict
    words: str
    streak: int
    clear: tuple[tuple[Minutes, tuple[float, ...]], ...]
    steps: tuple[Step, ...]
    facts: Facts
    lessons: Lessons
    held_back: str = ""

    @property
    def awake_holds(self) -> tuple[float, ...]:
        """The holds by day that ended outside, in waking minutes."""
        return awake_holds(self.holds)

    @cached_property
    def summary(self) -> DaySummary:
        """The day as the views show it."""
        return DaySummary(
            date=self.plan.date,
            number=self.plan.number,
            verdict=self.verdict,
            words=self.words,
            outings=len(self.outings),
            accidents=len(self.accidents),
            holds=tuple(round(hold) for hold in self.awake_holds),
            interval=round(self.interval),
        )

    @property
    def interval(self) -> float:
        """The interval in force at the end of this day, in minutes."""
        return self.steps[-1].after

    @property
    def evidence(self) -> Evidence:
        """What the clear days since the last step of the interval show."""
        since = [holds for start, holds in self.clear if start >= self.steps[-1].at]
        last = since[-int(figures.CLEAR_DAYS_TO_WIDEN) :]
        return Evidence(len(since), tuple(hold for holds in last for hold in holds))


def awake_holds(holds: Iterable[Hold]) -> tuple[float, ...]:
    """Return the waking minutes of the holds by day that ended outside."""
    return tuple(hold.awake for hold in holds if hold.how == "out" and not hold.night)


class History:
    """The days from the arrival to an instant, for one household and one log."""

    __slots__ = ("days", "events", "learn", "settings")

    def __init__(
        self,
        settings: Settings,
        events: tuple[Event, ...],
        learn: bool = True,
        known: Iterable[Day] = (),
    ) -> None:
        """Hold the sorted ``events``; ``known`` are the days that are already worked out.

        With ``learn`` false only the rule decides, without the estimate.
        """
        self.settings = settings
        self.events = events
        self.learn = learn
        self.days: list[Day] = list(known)

    _last: ClassVar[tuple[tuple[Event, ...], History] | None] = None
    """The last history worked out, so that a log that only grew costs only what is new."""

    @classmethod
    def of(
        cls, settings: Settings, events: Iterable[Event], now: Minutes, learn: bool = True
    ) -> History:
        """Return the history of ``events`` up to ``now``, building on the last one where it can."""
        given = tuple(events)
        last = cls._last[1] if cls._last else None
        if cls._last is None or last is None or last.settings != settings or last.learn != learn:
            history = cls(settings, tuple(sorted(given, key=_order)), learn)
        elif cls._last[0] == given:
            history = cls._last[1]
        else:
            before = cls._last[0]
            if given[: len(before)] == before and len(given) - len(before) < 50:
                grown = list(last.events)
                for event in given[len(before) :]:
                    insort(grown, event, key=_order)
                in_order = tuple(grown)
            else:
                in_order = tuple(sorted(given, key=_order))
            history = cls(settings, in_order, learn, last.untouched_by(in_order))
        cls._last = (given, history)
        return history.until(now)

    def untouched_by(self, events: tuple[Event, ...]) -> list[Day]:
        """Return the days worked out here that hold for ``events`` too (sorted)."""
        same = _common(self.events, events)
        changed = min((e[same].t for e in (self.events, events) if same < len(e)), default=None)
        if changed is None:
            return self.days
        return [day for day in self.days if day.plan.next_up + figures.UP_LATEST < changed]

    def until(self, now: Minutes) -> History:
        """Return the history as it stood at ``now``: entries after it are not seen."""
        events = self.events
        if events and events[-1].t > now:
            events = events[: bisect_left(events, now + 1e-6, key=_at)]
        today = max(date_at(self.settings, now, events), self.settings.first_date)
        fresh = History(self.settings, events, self.learn, self._settled(now, today))
        fresh._work_out(today)
        settled = fresh._settled(now, today)
        if len(settled) > len(self.days):
            self.days = settled
        return fresh

    def _settled(self, now: Minutes, today: date) -> list[Day]:
        """Return the days before ``today`` that no entry later than ``now`` can touch."""
        number = bisect_left(self.days, now - figures.UP_LATEST, key=lambda day: day.plan.next_up)
        return self.days[: min(number, (today - self.settings.first_date).days)]

    @property
    def today(self) -> Day:
        """The day that the instant belongs to, still open."""
        return self.days[-1]

    def _work_out(self, today: date) -> None:
        """Work out the days that are missing, up to ``today``."""
        settings = self.settings
        day = settings.first_date + timedelta(days=len(self.days))
        plan = plan_for(settings, day, self.events)
        while day <= today:
            following = plan_for(settings, day + timedelta(days=1), self.events)
            end = following.start if day < today else float("inf")
            low = bisect_left(self.events, plan.start, key=_at) if self.days else 0
            high = bisect_left(self.events, end, key=_at)
            before = self.days[-1] if self.days else None
            self.days.append(
                _DayAtWork(settings, plan, before, self.learn).done(
                    self.events[low:high], day < today
                )
            )
            day, plan = day + timedelta(days=1), following


def _common(one: Sequence[Event], other: Sequence[Event]) -> int:
    """Return the length of the common beginning of two sequences."""
    low, high = 0, min(len(one), len(other))
    if one[:high] == other[:high]:
        return high
    while low < high:
        middle = (low + high + 1) // 2
        if one[low:middle] == other[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low


class _DayAtWork:
    """One day while it is being worked out, entry by entry."""

    def __init__(self, settings: Settings, plan: DayPlan, before: Day | None, learn: bool) -> None:
        self.settings, self.plan, self.learn = settings, plan, learn
        self.facts = before.facts.copy() if before else Facts()
        self.steps = before.steps if before else (opening(settings.dog, settings.arrived),)
        self.streak = before.streak if before else 0
        self.clear = before.clear if before else ()
        self.outings: list[Outing] = []
        self.accidents: list[Accident] = []
        self.waits: list[Hold | Digested] = []
        self.lessons = before.lessons.a_day_older() if before else Lessons()
        self.estimate = estimate_of(settings.dog, self.lessons)
        self.held_back = ""
        if before:
            self._widen(before.evidence)

    @property
    def interval(self) -> float:
        return self.steps[-1].after

    def done(self, events: tuple[Event, ...], closed: bool) -> Day:
        """Return the day after all its entries."""
        for event in events:
            self._take(event)
        holds = tuple(wait for wait in self.waits if isinstance(wait, Hold))
        verdict, words = self._verdict(events, closed)
        if verdict == "clear":
            self.streak += 1
            self.clear = (*self.clear, (self.plan.start, awake_holds(holds)))
        elif self.accidents:
            self.streak, self.clear = 0, ()
        return Day(
            self.plan, events, tuple(self.outings), tuple(self.accidents), holds,
            verdict, words, self.streak, self.clear, self.steps, self.facts,
            self.lessons + Lessons.of(self.waits), self.held_back,
        )  # fmt: skip

    def _take(self, event: Event) -> None:
        row = event.row
        if row.is_outing:
            self._take_outing(event)
        elif row.is_accident:
            self._take_accident(event)
        elif event.kind == "interval" and event.minutes is not None:
            self._step(
                overruled(self.settings.dog, self.interval, event.minutes, event.by, event.t)
            )
        self.waits.extend(self.facts.feed(event, self.plan))
        if row.is_accident:
            self.estimate = estimate_of(self.settings.dog, self.lessons + Lessons.of(self.waits))

    def _widen(self, evidence: Evidence) -> None:
        """Widen the interval this morning, unless the estimate holds it back."""
        step = widened(self.settings.dog, self.interval, evidence, self.plan.start)
        if step is None:
            return
        if self.learn:
            chance = self.estimate.pees_by(step.after)
            if chance > figures.HOLD_BACK * limit_of(self.settings):
                self.held_back = (
                    f"the estimate holds {span_words(step.after)} back: "
                    f"an accident in {chance:.0%} of such holds"
                )
                return
        self._step(step)

    def _moment(self, at: Minutes, facts: Facts) -> Moment:
        estimate = self.estimate if self.learn else None
        return Moment(facts, self.plan, self.settings, self.interval, at, estimate)

    def _take_outing(self, event: Event) -> None:
        last = self.facts.last_out
        if self.outings and last is not None and event.t - last <= figures.ONE_OUTING:
            outing = self.outings[-1]
            self.outings[-1] = Outing((*outing.events, event), outing.moment)
        else:
            self.outings.append(Outing((event,), self._moment(event.t, self.facts.copy())))

    def _take_accident(self, event: Event) -> None:
        due = first_due(self._moment(event.t, self.facts))
        late_from = due.at + figures.LATE
        pee = self.facts.last_pee
        inside = event.t <= late_from
        inside = inside and (pee is None or event.t <= pee + self.interval + figures.LATE)
        household = event.t > late_from
        if event.found:
            dry = minutes_of(event.dry) if event.dry is not None else 0.0
            household = dry > late_from
            since_dry = (outing for outing in self.outings if outing.at > dry)
            inside = inside and dry > 0.0 and not any(outing.was_late for outing in since_dry)
        moves = event.counts_against_plan and inside
        self.accidents.append(Accident(event, due, household, moves))
        if moves:
            clock = clock_words(event.t, self.settings.zone)
            what = "found" if event.found else "seen"
            since = self.facts.last_pee
            held = "" if since is None else f", {span_words(event.t - since)} after the last pee"
            self._step(narrowed(self.interval, event.t, f"an accident {what} at {clock}{held}"))

    def _step(self, step: Step | None) -> None:
        if step is not None:
            self.steps = (*self.steps, step)

    def _verdict(self, events: tuple[Event, ...], closed: bool) -> tuple[Verdict, str]:
        if self.accidents:
            return "accident", _count_accidents(self.accidents)
        if not closed:
            return "open", "not over yet"
        plan = self.plan
        if plan.number == 1 and plan.start > self.settings.up_on(plan.date):
            return "unknown", "day of arrival, not a whole day"
        outside = sum(not outing.events[0].on_pad for outing in self.outings)
        if outside < figures.OUTINGS_FOR_CLEAR_DAY:
            return "unknown", f"only {outside} outings logged: too few to tell"
        silence = self._longest_silence(events)
        if silence > figures.SILENCE_TOO_LONG:
            return "unknown", f"nothing logged for {span_words(silence)} by day: too little to tell"
        return "clear", f"no accident, {outside} outings"

    def _longest_silence(self, events: tuple[Event, ...]) -> float:
        """Return the longest time by day without an entry, in minutes."""
        bed = self.plan.bed
        marks = [self.plan.start, *(min(event.t, bed) for event in events), bed]
        return max(after - before for before, after in pairwise(marks))


def _count_accidents(accidents: Sequence[Accident]) -> str:
    number = len(accidents)
    late = sum(accident.household for accident in accidents)
    words = "1 accident" if number == 1 else f"{number} accidents"
    if late:
        words += ", after the break was late" if late == number else f", {late} after a late break"
    return words
