"""The waits that an entry ends: what it says of holding and of digesting."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pottyboard.core.log.state import LogState
from pottyboard.core.log.waits import Digested, Hold, Stool, Wait
from pottyboard.core.model import figures, priors
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, minutes_of
from pottyboard.core.model.plan import DayPlan


def waits_ended_by(facts: LogState, event: Event, plan: DayPlan) -> Iterator[Wait]:
    """Yield the waits that ``event`` ends; ``facts`` stand just before it."""
    resets = event.row.resets
    since = facts.last_small or facts.last_pee
    if since is not None and (event.empties_bladder or event.is_small_pee):
        hold = _hold(facts, event, plan, since)
        if not (hold.how == "out" and hold.length <= figures.ONE_OUTING):
            yield hold
    if "poop" in resets:
        yield from _digested(facts, event)
        yield _stool(facts, event)
    elif "meal" in resets:
        yield from _without_stool(facts)


def _hold(facts: LogState, event: Event, plan: DayPlan, pee: Minutes) -> Hold:
    length = event.t - pee
    asleep = facts.asleep_in_hold(event.t)
    night = facts.night_in_hold or facts.sleep == "night"
    if pee < plan.start:
        night = True
        asleep = max(asleep, min(plan.start, event.t) - max(pee, plan.last_bed))
    asleep = max(0.0, min(asleep, length))
    how: Literal["out", "seen", "found", "pad"] = "pad" if event.on_pad else "out"
    dry, silent = 0.0, facts.silent_from is not None
    if event.row.is_accident:
        how = "seen" if event.found is False else "found"
        if event.dry is not None:
            dry = max(0.0, minutes_of(event.dry) - pee)
        elif silent:
            how, dry = "found", max(0.0, (facts.silent_from or pee) - pee)
    elif silent:
        length = max(0.0, (facts.silent_from or pee) - pee)
        asleep = min(asleep, length)
    # So soon after a pee it is the rest of that one, or something else, and no hold.
    too_soon = event.row.is_accident and length < figures.FLOOR_INTERVAL
    other_cause = too_soon or not event.counts_against_plan
    sign = facts.last_sign or 0.0
    asked = how == "out" and sign > pee and event.t - sign <= figures.SIGN_ENDS_WITHIN
    return Hold(event.t, length - asleep, asleep, how, dry, night, other_cause, asked, silent)


def _bare_before(facts: LogState, event: Event) -> Minutes | None:
    """Return the last outing without stool before a stool; its own outing is none."""
    bare = facts.bare_out
    if bare is not None and event.t - bare <= figures.ONE_OUTING and event.went_out:
        return facts.bare_before
    return bare


def _stool(facts: LogState, event: Event) -> Stool:
    """Return when a stool was ready: on average half way back to the last outing without."""
    span = event.t - (_bare_before(facts, event) or 0.0)
    return Stool(event.t - min(span / 2, priors.STOOL_READY_BEFORE))


def _without_stool(facts: LogState) -> Iterator[Digested]:
    """Yield the meals that no stool has followed for so long that none will."""
    waiting, bare = facts.waiting_meals, facts.bare_out or 0.0
    for meal in facts.meals:
        if meal not in waiting:
            yield Digested(max(0.0, bare - meal))


def _digested(facts: LogState, event: Event) -> Iterator[Digested]:
    """Yield what a stool says about the meals that waited: the last of them brought it."""
    t, bare = event.t, _bare_before(facts, event)
    yield from _without_stool(facts)
    waiting = facts.waiting_meals
    for meal in waiting[:-1]:
        if bare is not None and bare > meal:
            yield Digested(bare - meal)
    for meal in waiting[-1:]:
        since = bare - meal if bare is not None and bare > meal else 0.0
        dry = max(0.0, minutes_of(event.dry) - meal) if event.dry is not None else None
        if event.row.is_accident and event.found is not False and dry is None:
            dry = since
        yield Digested(since, t - meal, event.row.is_accident, dry, event.on_pad)
