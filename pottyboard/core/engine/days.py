"""One day of the record, worked out entry by entry: outings, accidents, holds and the verdict."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from msgspec import Struct, structs

from pottyboard.core.engine.causes import Why, why
from pottyboard.core.engine.circumstances import Circumstances, by_rule
from pottyboard.core.engine.day_summary import DaySummary, Verdict
from pottyboard.core.engine.interval import (
    Evidence,
    Step,
    narrowed,
    opening,
    overruled,
    recovered,
    reopened,
    rested,
    widened,
)
from pottyboard.core.engine.narrowing import Judgement, judged, narrowing_words
from pottyboard.core.engine.reasons import clock_due, first_due
from pottyboard.core.engine.rule_context import Due, RuleContext
from pottyboard.core.engine.silence import Silence, silence_until, without_pee
from pottyboard.core.estimate.lateness import Lateness
from pottyboard.core.estimate.learning import EvidenceSoFar, estimate_of
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.log.state import LogState
from pottyboard.core.log.take_in import take_in
from pottyboard.core.log.waits import Hold, Wait
from pottyboard.core.model import figures, priors
from pottyboard.core.model.events import ILLNESS, Event
from pottyboard.core.model.localtime import Minutes, clock_words, count_words, local, span_words
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

    ``household`` if the break that was due was already late; ``judgement`` tells what it does to
    the interval (see :mod:`~pottyboard.core.engine.narrowing`). Whether a break was late the times
    decide, even where the household says so.
    """

    circumstances: Circumstances
    why: Why
    judgement: Judgement

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
    the present round began. ``set_aside`` is the interval (minutes) that comes back when the dog is
    well again; ``silences`` are the stretches of which the log says too little.
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
    set_aside: float | None = None
    silences: tuple[Silence, ...] = ()

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

    def __init__(
        self,
        settings: Settings,
        plan: DayPlan,
        before: Day | None,
        learn: bool,
        ill: tuple[Minutes, ...] = (),
    ) -> None:
        """Begin the day after ``before``; ``ill`` are the signs of illness of the days around."""
        self.settings, self.plan, self.learn = settings, plan, learn
        self.before = before
        self.taken: tuple[Event, ...] = ()
        self.last: tuple[tuple[bool, tuple[Minutes, ...]], Day] | None = None
        self.facts = before.facts.copy() if before else LogState()
        self.steps = before.steps if before else (opening(settings.dog, settings.arrived),)
        self.streak = before.streak if before else 0
        self.clear = before.clear if before else ()
        self.round_from = before.round_from if before else 1
        self.outings: list[Outing] = []
        self.accidents: list[Accident] = []
        self.waits: list[Wait] = []
        self.answers: list[tuple[int, float]] = []
        self.evidence_so_far = before.evidence_so_far.a_day_older() if before else EvidenceSoFar()
        self.estimate = self.morning = estimate_of(settings.dog, self.evidence_so_far)
        self.held_back = ""
        self.ill, self.silences = ill, list[Silence]()
        self.set_aside = before.set_aside if before else None
        if before and self.set_aside is not None:
            self._recover(before)
        elif before:
            self._widen(before.evidence)

    @property
    def interval(self) -> float:
        return self.steps[-1].after

    def goes_on(
        self,
        plan: DayPlan,
        before: Day | None,
        events: tuple[Event, ...],
        ill: tuple[Minutes, ...],
    ) -> bool:
        """Whether the day with these entries is this one with some more."""
        same = self.before is before and self.plan == plan and self.ill == ill
        return same and self.taken == events[: len(self.taken)]

    def done(
        self, events: tuple[Event, ...], closed: bool, answers: tuple[Minutes, ...] = ()
    ) -> Day:
        """Return the day after all its entries, those already taken in among them.

        ``answers`` are when the household said that nothing happened in a silence.
        """
        asked = closed, answers
        if self.last is not None and self.last[0] == asked and self.taken == events:
            return self.last[1]
        more = events[len(self.taken) :]
        for event in more:
            self._take(event)
        # The very entries that the outings hold, where equal ones were handed in anew.
        events = self.taken = (*self.taken, *more)
        holds = tuple(wait for wait in self.waits if isinstance(wait, Hold))
        silences = tuple(self._silences(holds, closed))
        left_open = [one for one in silences if not one.is_answered(answers)]
        verdict, words = self._verdict(left_open, closed)
        streak, clear = self.streak, self.clear
        if verdict == "clear":
            proving = tuple(hold.awake for hold in holds if hold.proves)
            streak, clear = streak + 1, (*clear, (self.plan.start, proving))
        elif verdict == "accident":
            streak, clear = 0, ()
        day = Day(
            self.plan, events, tuple(self.outings), tuple(self.accidents), holds,
            verdict, words, streak, clear, self.steps, self.facts.copy(),
            self._learned(holds), self.held_back, self.round_from,
            self.set_aside, tuple(left_open),
        )  # fmt: skip
        self.last = asked, day
        return day

    def _silences(self, holds: Iterable[Hold], closed: bool) -> Iterator[Silence]:
        """Yield the silences so far; that to bedtime once the day is over."""
        yield from self.silences
        if closed:
            last = silence_until(self.facts, self.plan, self.plan.bed, self.interval)
            yield from () if last is None else (last,)
        for hold in holds:
            long = without_pee(hold, self.interval)
            yield from () if long is None else (long,)

    def _learned(self, holds: tuple[Hold, ...]) -> EvidenceSoFar:
        """Return what the log has taught up to here; how far it came true counts from tomorrow."""
        learned = self.evidence_so_far + EvidenceSoFar.of(self.waits)
        if not self.learn:
            return learned
        return structs.replace(
            learned,
            tally=learned.tally + self.morning.tally_of(holds),
            lateness=learned.lateness + Lateness.of(self.answers),
        )

    def _take(self, event: Event) -> None:
        row = event.row
        silence = silence_until(self.facts, self.plan, event.t, self.interval)
        if silence is not None:
            self.silences.append(silence)
            self.facts.silent_from = self.facts.silent_from or silence.start
        if event.went_out:
            self._take_outing(event)
        elif row.is_accident:
            event = self._take_accident(event)
        elif event.kind == "health" and event.finding in ILLNESS:
            self._rest(event.t)
        elif event.kind == "interval" and event.minutes is not None:
            self.set_aside = None
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
        self.set_aside = None

    def _rest(self, at: Minutes) -> None:
        """Take the interval back to the start while a symptom of illness stands."""
        noted = clock_words(at, self.settings.zone)
        step = rested(self.settings.dog, self.interval, at, noted)
        if step is not None:
            self.set_aside = max(step.before, self.set_aside or 0.0)
            self._step(step)

    def _recover(self, before: Day) -> None:
        """Bring the interval back after a clear day without a symptom of illness."""
        ill = any(before.plan.start <= at < self.plan.start for at in self.ill)
        if before.verdict == "clear" and not ill and self.set_aside is not None:
            self._step(recovered(self.interval, self.set_aside, self.plan.start))
            self.set_aside = None

    def _widen(self, evidence: Evidence) -> None:
        """Widen the interval this morning, unless the estimate holds it back."""
        step = widened(self.settings.dog, self.interval, evidence, self.plan.start)
        if step is None:
            return
        if self.learn:
            chance = self.estimate.pees_by(step.after)
            if chance > priors.HOLD_BACK * limit_of(self.settings):
                self.held_back = (
                    f"{span_words(step.after)} has to wait, by its own log: "
                    f"an accident in {100 * chance:.0f} of 100 such waits"
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
            outing = Outing((event,), self._context(event.t, self.facts.copy()))
            self.outings.append(outing)
            self._take_answer(outing.context)

    def _take_answer(self, context: RuleContext) -> None:
        """Note how late an outing answers the break that a clock had called, if one had."""
        if not self.learn or context.sleep == "night" or not self.outings[1:]:
            return
        due = clock_due(context)
        if due is not None and due <= context.now:
            self.answers.append((local(due, self.settings.zone).hour, context.now - due))

    def _take_accident(self, event: Event) -> Event:
        """Work out why it happened; return the entry with that cause, for the facts."""
        context = self._context(event.t, self.facts.copy())
        later = (at for at in self.ill if event.t < at <= event.t + figures.UNWELL_WITHIN)
        circumstances = Circumstances(event, context, min(later, default=None))
        cause = why(circumstances)
        late = (outing.at for outing in self.outings if outing.was_late)
        narrower = sum(s.cause == "narrower" and s.at >= self.plan.start for s in self.steps)
        judgement = judged(circumstances, cause, late, narrower)
        self.accidents.append(Accident(circumstances, cause, judgement))
        if judgement == "narrows":
            step = narrowed(self.interval, event.t, narrowing_words(circumstances))
            if step is not None and self.set_aside is not None:
                self.set_aside += step.after - step.before
            self._step(step)
        return replace(event, cause=cause.cause) if cause.is_other else event

    def _step(self, step: Step | None) -> None:
        if step is not None:
            self.steps = (*self.steps, step)

    def _verdict(self, left_open: Sequence[Silence], closed: bool) -> tuple[Verdict, str]:
        own = [accident for accident in self.accidents if accident.is_own]
        if own:
            return "accident", _count_accidents(own)
        if not closed:
            return "open", "not over yet"
        if self.accidents:
            return "unknown", "an accident that another dog may have had"
        outside = len(self.outings)
        too_little = gap_in(self.settings, self.plan, outside, left_open)
        if too_little:
            return "unknown", too_little
        return "clear", f"no accident, {outside} outings"


def gap_in(settings: Settings, plan: DayPlan, outings: int, left_open: Sequence[Silence]) -> str:
    """Return why a day that is over has too few entries to tell, empty if it has enough."""
    if plan.number == 1 and plan.start > settings.up_on(plan.date):
        return "day of arrival, not a whole day"
    if outings < figures.OUTINGS_FOR_CLEAR_DAY:
        logged = f"only {count_words(outings, 'outing')}" if outings else "no outing"
        return f"{logged} logged: too few to tell"
    return max(left_open, key=lambda one: one.length).words if left_open else ""


def _count_accidents(accidents: Sequence[Accident]) -> str:
    number = len(accidents)
    late = sum(accident.household for accident in accidents)
    words = "1 accident" if number == 1 else f"{number} accidents"
    if late:
        words += ", after the break was late" if late == number else f", {late} after a late break"
    return words
