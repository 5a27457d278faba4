"""The day's timeline: what was planned beside what was logged, and what is still to come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from itertools import takewhile, zip_longest
from typing import TYPE_CHECKING

from msgspec import Struct, structs

from pottyboard.core.away.alone import alone_since, minutes_alone, reports
from pottyboard.core.away.today import ALL_HOME, AwayToday
from pottyboard.core.engine.days import Day
from pottyboard.core.engine.reasons import RULE_BY_CODE, dues, served_by
from pottyboard.core.engine.rule_context import Code, RuleContext
from pottyboard.core.log.state import LogState
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, instant_of, minutes_of, span_words
from pottyboard.core.model.plan import DayPlan
from pottyboard.core.view.situation_views import Slot, SlotKind, SlotStatus

if TYPE_CHECKING:
    from pottyboard.core.away.schedule import Away, Visit

_MOST_AHEAD = 60
"""More breaks than this in one day would be a mistake of ours: a guard against looping."""

_SAME = 1
"""Minutes within which two instants read as one break."""

NOBODY_HOME = "nobody home"
"""How a break begins that falls due while the dog is alone and no visit is planned."""


class Expected(Struct, frozen=True):
    """Something that the plan expects: a break with its reasons, or a piece of the routine."""

    at: Minutes
    kind: SlotKind
    words: str


def look_ahead(context: RuleContext, away: AwayToday = ALL_HOME) -> Iterator[Expected]:
    """Yield what the plan expects from ``context.now`` to the end of the day, in order."""
    return (expected for expected, _ in steps_ahead(context, away))


def steps_ahead(
    context: RuleContext, away: AwayToday = ALL_HOME
) -> Iterator[tuple[Expected, RuleContext]]:
    """Yield what the plan expects, each with how things stand just before it: to be read at once,
    since its facts move on with the next.

    Every break and visit is taken to bring pee and, where a meal asks for it, stool; meals, leaving
    and returning are taken to happen as planned. While the dog is alone and visits are planned,
    they are its breaks.
    """
    facts, plan, now = context.facts.copy(), context.plan, context.now
    routine = sorted(_routine_ahead(context, away), key=lambda ahead: ahead.at)
    visited = away.now_away is not None and bool(away.visits_in(away.now_away))
    for _ in range(_MOST_AHEAD):
        at_context = structs.replace(context, facts=facts, now=now)
        standing = sorted(dues(at_context), key=lambda due: due.at)
        next_at = max(standing[0].at, now)
        coming = routine and (routine[0].at, routine[0].kind == "bedtime") <= (next_at, False)
        if coming or (visited and any(ahead.kind == "back" for ahead in routine)):
            ahead = routine.pop(0)
            now = max(now, ahead.at)
            if ahead.kind == "meal":
                facts.last_meal, facts.fed = now, (*facts.fed, now)
                facts.meals = (*facts.meals, now)
            elif ahead.kind == "leaving":
                facts.left = now
                visited = any(later.kind == "visit" for later in _until_back(routine))
            elif ahead.kind == "back":
                facts.left, facts.back, visited = None, (now,), False
            elif ahead.kind == "visit":
                _bring(facts, now, (due.code for due in standing if due.at <= now))
            yield ahead, at_context
            continue
        now = next_at
        codes = [due.code for due in served_by(at_context, now, standing)]
        kind: SlotKind = "night" if codes[0] == "night" else "break"
        if now >= plan.next_up:
            return
        words = ", ".join(RULE_BY_CODE[code].title for code in codes)
        words = words if facts.left is None else f"{NOBODY_HOME}, {words}"
        yield Expected(now, kind, words), at_context
        to_bed = "bedtime" in codes or now >= plan.bed or at_context.for_the_night
        facts.sleep, facts.slept_from = ("night", now) if to_bed else ("", None)
        _bring(facts, now, codes)


def _bring(facts: LogState, at: Minutes, codes: Iterable[Code]) -> None:
    """Let an outing at ``at``, for the reasons ``codes``, bring what they ask for."""
    facts.last_out = facts.last_success = facts.last_pee = facts.last_active = at
    facts.last_small = facts.dry_out = facts.sign = None
    facts.tries = ()
    if "digestion" in codes:
        facts.meals, facts.last_poop = (), at
    else:
        facts.bare_out = at


def _until_back(routine: list[Expected]) -> Iterator[Expected]:
    return takewhile(lambda ahead: ahead.kind != "back", routine)


def _routine_ahead(context: RuleContext, away: AwayToday) -> Iterator[Expected]:
    plan, now, facts = context.plan, context.now, context.facts
    for meal, words in _meals(plan, away):
        fed = facts.last_meal is not None and meal - facts.last_meal <= figures.MEAL_MATCH
        if meal > now and not fed:
            yield Expected(meal, "meal", words)
    for span in away.alone:
        leave, back = minutes_of(span.start), minutes_of(span.end)
        if leave > now and span is not away.now_away:
            yield Expected(leave, "leaving", "leaving")
        elif back <= now or span is not away.now_away:
            continue  # over, or they stayed
        yield from _visits_ahead(context, away, span)
        yield Expected(back, "back", "came home")
    if plan.bed > now:
        yield Expected(plan.bed, "bedtime", "bedtime")


def _visits_ahead(context: RuleContext, away: AwayToday, span: Away) -> Iterator[Expected]:
    """Yield the visits of a time alone that are to come, and the one that is waited for."""
    for visit in away.visits_in(span):
        awaited = away.watch is not None and away.watch.visit == visit
        at = minutes_of(visit.at)
        if awaited or at > context.now:
            yield Expected(max(at, context.now), "visit", _visit_words(visit))


def _visit_words(visit: Visit) -> str:
    return f"visit by {visit.helper}"


def _meals(plan: DayPlan, away: AwayToday) -> tuple[tuple[Minutes, str], ...]:
    """Return today's meals, moved where an absence asks for it, each with its words."""
    if not away.meals:
        return tuple((meal, "meal") for meal in plan.meals)
    return tuple(
        (minutes_of(meal.at), f"meal, {meal.words}" if meal.words else "meal")
        for meal in away.meals
    )


# --- The rows -------------------------------------------------------------------------------------


def timeline(today: Day, context: RuleContext, away: AwayToday = ALL_HOME) -> tuple[Slot, ...]:
    """Return the rows of today in order: logged entries, missed plans, and what is to come.

    ``away`` holds the visits that are planned for today.
    """
    rows = [
        *_logged(today, away),
        *_missed(today, context.now, away),
        *_coming(context, away),
    ]
    return tuple(sorted(rows, key=lambda row: row.at))


def _logged(today: Day, away: AwayToday) -> Iterator[Slot]:
    planned_break = {id(outing.events[0]): outing.due for outing in today.outings}
    meals = _matched_meals(today, away)
    visits = {id(event): visit for visit, event in _reported_visits(today, away)}
    first_up = next((e for e in today.events if e.kind == "up"), None)
    for event in today.events:
        due, visit = planned_break.get(id(event)), visits.get(id(event))
        if visit is not None:
            yield _beside(event, "visit", minutes_of(visit.at), _visit_words(visit))
        elif due is not None and abs(event.t - due.at) <= figures.PAIRED_WITHIN:
            yield _beside(event, "break", due.at, RULE_BY_CODE[due.code].title)
        elif due is not None:
            if event.t > due.at:
                title, planned = RULE_BY_CODE[due.code].title, _utc(due.at)
                yield Slot(planned, "break", title, "missed", planned)
            yield Slot(event.at, "break", "", "logged", None, event)
        elif event in meals:
            yield _beside(event, "meal", meals[event], "meal")
        elif event is first_up and event.t == today.plan.start:
            yield Slot(event.at, "up", "got up", "done", None, event)
        else:
            yield Slot(event.at, "entry", _entry_words(today, event), "logged", None, event)


def _entry_words(today: Day, event: Event) -> str:
    """Return how long after leaving an accident happened, nothing for other entries."""
    alone = minutes_alone(today.events, event) if event.row.is_accident else None
    return "" if alone is None else f"{span_words(alone)} after leaving"


def _beside(event: Event, kind: SlotKind, planned: Minutes, words: str) -> Slot:
    """Return the row of an entry beside the time that it was planned for."""
    late = event.t > planned + figures.LATE
    return Slot(event.at, kind, words, "late" if late else "done", _utc(planned), event)


def _matched_meals(today: Day, away: AwayToday) -> dict[Event, Minutes]:
    """Return each logged meal that is a planned one, with its planned instant."""
    left = [meal for meal, _ in _meals(today.plan, away)]
    found: dict[Event, Minutes] = {}
    for event in today.events:
        if event.kind != "meal" or not left:
            continue
        nearest = min(left, key=lambda at, t=event.t: abs(at - t))  # type: ignore[misc]
        if abs(nearest - event.t) <= figures.MEAL_MATCH:
            found[event] = nearest
            left.remove(nearest)
    return found


def _reported_visits(today: Day, away: AwayToday) -> Iterator[tuple[Visit, Event]]:
    """Yield each planned visit with the first entry that reports it, if any does."""
    reported: set[int] = set()
    for visit, following in zip_longest(away.visits, away.visits[1:]):
        for event in today.events:
            if id(event) in reported or not reports(event, visit):
                continue
            if following is not None and reports(event, following):
                break
            if event.by == visit.helper or alone_since(today.events, event.at) is not None:
                reported.add(id(event))
                yield visit, event
                break


def _missed(today: Day, now: Minutes, away: AwayToday) -> Iterator[Slot]:
    taken = set(_matched_meals(today, away).values())
    for meal, words in _meals(today.plan, away):
        if today.plan.start <= meal <= now and meal not in taken:
            yield Slot(_utc(meal), "meal", words, "missed", _utc(meal))
    reported = {visit for visit, _ in _reported_visits(today, away)}
    for visit in away.visits:
        awaited = away.watch is not None and away.watch.visit == visit
        if visit in reported or awaited or minutes_of(visit.at) > now:
            continue
        if alone_since(today.events, visit.at) is not None:
            yield Slot(visit.at, "visit", _visit_words(visit), "missed", visit.at)


def _coming(context: RuleContext, away: AwayToday) -> Iterator[Slot]:
    """Yield what is to come; the first break is the one that is called now, where no meal that is
    still to be logged calls one before it."""
    first, called = True, max(min(due.at for due in dues(context)), context.now)
    for ahead in look_ahead(context, away):
        at = ahead.at
        status: SlotStatus = "planned"
        if first and ahead.kind in ("break", "night", "visit"):
            first = False
            if ahead.kind == "visit" or abs(called - at) <= _SAME:
                at, status = at if ahead.kind == "visit" else called, "due"
        yield Slot(_utc(at), ahead.kind, ahead.words, status, _utc(at))


def _utc(at: Minutes) -> datetime:
    return instant_of(at).astimezone(UTC)
