"""One day of the record, worked out entry by entry: outings, accidents, holds and the verdict."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from msgspec import Struct

from pottyboard.core.engine.causes import Why, why
from pottyboard.core.engine.circumstances import Circumstances, by_rule, earliest_of
from pottyboard.core.engine.day_summary import DaySummary, Verdict
from pottyboard.core.engine.interval import (
    Evidence,
    Step,
    narrowed,
    opening,
    overruled,
    reopened,
    widened,
)
from pottyboard.core.engine.reasons import first_due
from pottyboard.core.engine.rule_context import Due, RuleContext
from pottyboard.core.estimate.learning import EvidenceSoFar, estimate_of
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.log.state import LogState
from pottyboard.core.log.take_in import take_in
from pottyboard.core.log.waits import Hold, Wait
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, clock_words, count_words, span_words
from pottyboard.core.model.plan import DayPlan
from pottyboard.core.model.settings import Settings


class Outing(Struct, frozen=True, dict=True):
    """One outing: its entries, and the moment just before it. The pad is none."""

    events: tuple[Event, ...]
    context: RuleContext

    @property
    def at(self) -> Minutes:
        """When it began."""
        return self.context.now

    @cached_property
    def due(self) -> Due:
        """The break that was due when it began, worked out only when asked for."""
        return first_due(self.context)

    @cached_property
    def was_late(self) -> bool:
        """Whether it came more than 15 min after it was due by the rule."""
        return self.at > by_rule(self.context).at + figures.LATE


class Accident(Struct, frozen=True, dict=True):
    """One accident, with what the log said just before it and why it happened.

    ``household`` if the break that was due was already late; ``moves`` tells whether it narrows the
    interval: it happened in the plan's care, inside the interval, for no other cause. A night is
    longer than any interval, and an accident found, or not yet said to be seen, may be older than a
    break that came late: neither tells anything. Whether a break was late the times decide, even
    where the household says so.
    """

    circumstances: Circumstances
    why: Why
    moves: bool

    @property
    def event(self) -> Event:
        """Its entry."""
        return self.circumstances.event

    @property
    def household(self) -> bool:
        """Whether it came after a late break, and for no other cause."""
        return self.circumstances.late_by > 0 and not self.why.is_other

    @property
    def is_own(self) -> bool:
        """Whether it is this dog's, as far as anybody knows."""
        return not self.event.unsure


class Day(Struct, frozen=True, dict=True):
    """One day of the record, worked out: what happened, the verdict and the state it leaves.

    ``steps`` are all steps of the interval up to the end of this day; ``evidence`` the clear days
    in a row since the last step, with the awake holds of the last two of them;
    ``evidence_so_far`` what the log has taught up to the end of this day; ``held_back`` why the
    interval had to wait this morning, if it had to; ``round_from`` the number of the day on which
    the present round began.
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
    facts: LogState
    evidence_so_far: EvidenceSoFar
    held_back: str = ""
    round_from: int = 1

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
            accidents=sum(accident.is_own for accident in self.accidents),
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
        return Evidence.of(holds for start, holds in self.clear if start >= self.steps[-1].at)


def awake_holds(holds: Iterable[Hold]) -> tuple[float, ...]:
    """Return the waking minutes of the holds by day that ended outside."""
    return tuple(hold.awake for hold in holds if hold.how == "out" and not hold.night)


class DayAtWork:
    """One day while it is being worked out, entry by entry; more entries may follow later."""

    def __init__(self, settings: Settings, plan: DayPlan, before: Day | None, learn: bool) -> None:
        self.settings, self.plan, self.learn = settings, plan, learn
        self.before = before
        self.taken: tuple[Event, ...] = ()
        self.last: tuple[bool, Day] | None = None
        self.facts = before.facts.copy() if before else LogState()
        self.steps = before.steps if before else (opening(settings.dog, settings.arrived),)
        self.streak = before.streak if before else 0
        self.clear = before.clear if before else ()
        self.round_from = before.round_from if before else 1
        self.outings: list[Outing] = []
        self.accidents: list[Accident] = []
        self.waits: list[Wait] = []
        self.evidence_so_far = before.evidence_so_far.a_day_older() if before else EvidenceSoFar()
        self.estimate = estimate_of(settings.dog, self.evidence_so_far)
        self.held_back = ""
        if before:
            self._widen(before.evidence)

    @property
    def interval(self) -> float:
        return self.steps[-1].after

    def goes_on(self, plan: DayPlan, before: Day | None, events: tuple[Event, ...]) -> bool:
        """Whether the day with these entries is this one with some more."""
        same = self.before is before and self.plan == plan
        return same and self.taken == events[: len(self.taken)]

    def done(self, events: tuple[Event, ...], closed: bool) -> Day:
        """Return the day after all its entries, those already taken in among them."""
        if self.last is not None and self.last[0] is closed and self.taken == events:
            return self.last[1]
        more = events[len(self.taken) :]
        for event in more:
            self._take(event)
        # The very entries that the outings hold, where equal ones were handed in anew.
        events = self.taken = (*self.taken, *more)
        holds = tuple(wait for wait in self.waits if isinstance(wait, Hold))
        verdict, words = self._verdict(events, closed)
        streak, clear = self.streak, self.clear
        if verdict == "clear":
            streak, clear = streak + 1, (*clear, (self.plan.start, awake_holds(holds)))
        elif verdict == "accident":
            streak, clear = 0, ()
        day = Day(
            self.plan, events, tuple(self.outings), tuple(self.accidents), holds,
            verdict, words, streak, clear, self.steps, self.facts.copy(),
            self.evidence_so_far + EvidenceSoFar.of(self.waits), self.held_back, self.round_from,
        )  # fmt: skip
        self.last = closed, day
        return day

    def _take(self, event: Event) -> None:
        row = event.row
        if event.went_out:
            self._take_outing(event)
        elif row.is_accident:
            event = self._take_accident(event)
        elif event.kind == "interval" and event.minutes is not None:
            self._step(
                overruled(self.settings.dog, self.interval, event.minutes, event.by, event.t)
            )
        elif event.kind == "round":
            self._begin_round(event.t)
        self.waits.extend(take_in(self.facts, event, self.plan))
        if row.is_accident:
            self.estimate = estimate_of(
                self.settings.dog, self.evidence_so_far + EvidenceSoFar.of(self.waits)
            )

    def _begin_round(self, at: Minutes) -> None:
        """Start the programme again: the first interval, no streak; what was learned stays."""
        self._step(reopened(self.settings.dog, self.interval, at))
        self.streak, self.clear, self.round_from = 0, (), self.plan.number

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

    def _context(self, at: Minutes, facts: LogState) -> RuleContext:
        estimate = self.estimate if self.learn else None
        return RuleContext(facts, self.plan, self.settings, self.interval, at, estimate)

    def _take_outing(self, event: Event) -> None:
        last = self.facts.last_out
        if self.outings and last is not None and event.t - last <= figures.ONE_OUTING:
            outing = self.outings[-1]
            self.outings[-1] = Outing((*outing.events, event), outing.context)
        else:
            self.outings.append(Outing((event,), self._context(event.t, self.facts.copy())))

    def _take_accident(self, event: Event) -> Event:
        """Work out why it happened; return the entry with that cause, for the facts."""
        context = self._context(event.t, self.facts.copy())
        circumstances = Circumstances(event, context)
        cause = why(circumstances)
        pee, earliest = self.facts.last_pee, earliest_of(event)
        # The interval answers for what happened inside it; that the estimate or a change of the
        # routine would have called earlier does not excuse it.
        inside = (
            pee is not None
            and event.t <= min(by_rule(context).at, pee + self.interval) + figures.LATE
            and earliest is not None
            and not any(outing.was_late for outing in self.outings if outing.at > earliest)
        )
        moves = inside and not cause.spares_interval and not event.unsure
        self.accidents.append(Accident(circumstances, cause, moves))
        if moves and pee is not None:
            clock = clock_words(event.t, self.settings.zone)
            what = "seen" if event.found is False else "found"
            held = f"{span_words(event.t - pee)} after the last pee"
            words = f"an accident {what} at {clock}, {held}"
            self._step(narrowed(self.interval, event.t, words))
        return replace(event, cause=cause.cause) if cause.is_other else event

    def _step(self, step: Step | None) -> None:
        if step is not None:
            self.steps = (*self.steps, step)

    def _verdict(self, events: tuple[Event, ...], closed: bool) -> tuple[Verdict, str]:
        own = [accident for accident in self.accidents if accident.is_own]
        if own:
            return "accident", _count_accidents(own)
        if not closed:
            return "open", "not over yet"
        if self.accidents:
            return "unknown", "an accident that another dog may have had"
        outside = len(self.outings)
        too_little = gap_in(self.settings, self.plan, events, outside)
        if too_little:
            return "unknown", too_little
        return "clear", f"no accident, {outside} outings"


def gap_in(settings: Settings, plan: DayPlan, events: Sequence[Event], outings: int) -> str:
    """Return why a day that is over has too few entries to tell, empty if it has enough."""
    if plan.number == 1 and plan.start > settings.up_on(plan.date):
        return "day of arrival, not a whole day"
    if outings < figures.OUTINGS_FOR_CLEAR_DAY:
        logged = f"only {count_words(outings, 'outing')}" if outings else "no outing"
        return f"{logged} logged: too few to tell"
    silence = _longest_silence(plan, events)
    if silence > figures.SILENCE_TOO_LONG:
        return f"nothing logged for {span_words(silence)} by day: too little to tell"
    return ""


def _longest_silence(plan: DayPlan, events: Sequence[Event]) -> float:
    """Return the longest time by day without an entry, in minutes."""
    marks = [plan.start, *(min(event.t, plan.bed) for event in events), plan.bed]
    return max(after - before for before, after in pairwise(marks))


def _count_accidents(accidents: Sequence[Accident]) -> str:
    number = len(accidents)
    late = sum(accident.household for accident in accidents)
    words = "1 accident" if number == 1 else f"{number} accidents"
    if late:
        words += ", after the break was late" if late == number else f", {late} after a late break"
    return words
