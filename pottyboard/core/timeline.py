"""The day's timeline: what was planned beside what was logged, and what is still to come."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from pottyboard.core import figures
from pottyboard.core.days import Day
from pottyboard.core.events import Event
from pottyboard.core.localtime import Minutes, instant_of
from pottyboard.core.reasons import RULE_BY_CODE, Due, Moment, dues
from pottyboard.core.shapes import Slot, SlotKind, SlotStatus

_MOST_AHEAD = 60
"""More breaks than this in one day would be a mistake of ours: a guard against looping."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """Something that the plan expects: a break with its reasons, or a piece of the routine."""

    at: Minutes
    kind: SlotKind
    words: str


def look_ahead(moment: Moment) -> Iterator[Ahead]:
    """Yield what the plan expects from ``moment`` to the end of the day, in order.

    Every break is taken to bring pee and, where a meal asks for it, stool; meals, leaving and
    returning are taken to happen as planned.
    """
    facts, plan, now = moment.facts.copy(), moment.plan, moment.now
    routine = sorted(_routine_ahead(moment), key=lambda ahead: ahead.at)
    for _ in range(_MOST_AHEAD):
        at_moment = replace(moment, facts=facts, now=now)
        standing = sorted(dues(at_moment), key=lambda due: due.at)
        next_at = max(standing[0].at, now)
        if routine and (routine[0].at, routine[0].kind == "bedtime") <= (next_at, False):
            ahead = routine.pop(0)
            now = ahead.at
            if ahead.kind == "meal":
                facts.last_meal, facts.fed = now, (*facts.fed, now)
                facts.meals = (*facts.meals, now)
            elif ahead.kind == "leaving":
                facts.left = now
            elif ahead.kind == "back":
                facts.left, facts.back = None, (now,)
            yield ahead
            continue
        now = next_at
        codes = [due.code for due in standing if due.at <= now + figures.SERVES_WITHIN]
        kind: SlotKind = "night" if codes[0] == "night" else "break"
        if now >= plan.next_up:
            return
        yield Ahead(now, kind, break_words(standing, now))
        to_bed = "bedtime" in codes or now >= plan.bed or at_moment.sleep == "night"
        facts.sleep, facts.slept_from = ("night", now) if to_bed else ("", None)
        facts.last_out = facts.last_success = facts.last_pee = facts.last_active = now
        facts.dry_out, facts.sign, facts.empties = None, None, 0
        if "digestion" in codes:
            facts.meals = ()


def break_words(standing: list[Due], at: Minutes) -> str:
    """Return the titles of the reasons that a break at ``at`` serves."""
    codes = [due.code for due in standing if due.at <= at + figures.SERVES_WITHIN]
    return ", ".join(RULE_BY_CODE[code].title for code in codes)


def _routine_ahead(moment: Moment) -> Iterator[Ahead]:
    plan, now, facts = moment.plan, moment.now, moment.facts
    for meal in plan.meals:
        fed = facts.last_meal is not None and meal - facts.last_meal <= figures.MEAL_MATCH
        if meal > now and not fed:
            yield Ahead(meal, "meal", "meal")
    if plan.absence is not None:
        leave, back = plan.absence
        if leave > now and facts.left is None:
            yield Ahead(leave, "leaving", "leaving")
        if back > now and (leave > now or facts.left is not None):
            yield Ahead(back, "back", "back home")
    if plan.bed > now:
        yield Ahead(plan.bed, "bedtime", "bedtime")


# --- The rows -------------------------------------------------------------------------------------


def timeline(today: Day, moment: Moment) -> tuple[Slot, ...]:
    """Return the rows of today in order: logged entries, missed plans, and what is to come."""
    rows = [*_logged(today), *_missed(today, moment.now), *_coming(moment)]
    return tuple(sorted(rows, key=lambda row: row.at))


def _logged(today: Day) -> Iterator[Slot]:
    planned_break = {id(outing.events[0]): outing.due for outing in today.outings}
    meals = _matched_meals(today)
    first_up = next((e for e in today.events if e.kind == "up"), None)
    for event in today.events:
        due = planned_break.get(id(event))
        if due is not None:
            late = event.t > due.at + figures.LATE
            words = RULE_BY_CODE[due.code].title
            yield _slot(event, "break", "late" if late else "done", due.at, words)
        elif event in meals:
            at = meals[event]
            late = event.t > at + figures.LATE
            yield _slot(event, "meal", "late" if late else "done", at, "meal")
        elif event is first_up and event.t == today.plan.start:
            yield _slot(event, "up", "done", None, "got up")
        else:
            yield _slot(event, "entry", "logged", None, "")


def _slot(
    event: Event, kind: SlotKind, status: SlotStatus, planned: Minutes | None, words: str
) -> Slot:
    at = event.at
    return Slot(at, kind, words, status, None if planned is None else _utc(planned), event)


def _matched_meals(today: Day) -> dict[Event, Minutes]:
    """Return each logged meal that is a planned one, with its planned instant."""
    left = list(today.plan.meals)
    found: dict[Event, Minutes] = {}
    for event in today.events:
        if event.kind != "meal" or not left:
            continue
        nearest = min(left, key=lambda at, t=event.t: abs(at - t))  # type: ignore[misc]
        if abs(nearest - event.t) <= figures.MEAL_MATCH:
            found[event] = nearest
            left.remove(nearest)
    return found


def _missed(today: Day, now: Minutes) -> Iterator[Slot]:
    taken = set(_matched_meals(today).values())
    for meal in today.plan.meals:
        if today.plan.start <= meal <= now and meal not in taken:
            yield Slot(_utc(meal), "meal", "meal", "missed", _utc(meal))


def _coming(moment: Moment) -> Iterator[Slot]:
    first = True
    for ahead in look_ahead(moment):
        at = _utc(ahead.at)
        is_break = ahead.kind in ("break", "night")
        yield Slot(at, ahead.kind, ahead.words, "due" if first and is_break else "planned", at)
        first = first and not is_break


def _utc(at: Minutes) -> datetime:
    return instant_of(at).astimezone(UTC)
