"""Whether an accident narrows the interval, and where nobody can tell before they have said more.

An accident is judged by the span in which it can have happened: from the last pee that emptied the
bladder, or from when the floor was last seen dry, to when it was seen or found. What lies awake and
wholly inside one interval of that pee narrows it, seen, found or not said. A break that was already
late by the rule makes it the household's; that the estimate would have called earlier excuses
nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from pottyboard.core.engine.causes import Why
from pottyboard.core.engine.circumstances import Circumstances
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, clock_words, minutes_of, span_words

Judgement = Literal["narrows", "asks", "stays"]
"""It narrows the interval, waits for "seen or found?", or says nothing of it."""


def judged(
    c: Circumstances, why: Why, late_outings: Iterable[Minutes], narrowed_today: int
) -> Judgement:
    """Return what an accident does to the interval.

    ``late_outings`` are those of the day that came after a late break; ``narrowed_today`` counts
    the steps that this day has taken already.
    """
    pee = c.facts.last_pee
    if pee is None or _is_spared(c, why) or narrowed_today >= figures.NARROWER_A_DAY:
        return "stays"
    if c.context.sleep == "night" or c.facts.night_in_hold or pee < c.context.plan.start:
        return "stays"  # a night is longer than any interval
    since = _since(c, pee)
    late = c.at > min(c.rule.at, pee + c.context.interval) + figures.LATE
    between = any(since < outing for outing in late_outings)
    if not late and not between and not _slept(c, since):
        return "narrows"
    unsaid = c.event.found is None and c.event.dry is None
    return "asks" if unsaid else "stays"


def _is_spared(c: Circumstances, why: Why) -> bool:
    """Whether it says nothing about how long the dog can wait by day, whenever it happened.

    Where the estimate is in use, stool moves the break after the meal alone.
    """
    estimate, pee = c.context.estimate, c.facts.last_pee
    stool = not c.is_pee and estimate is not None and estimate.has_enough
    same = c.facts.last_accident == pee and pee is not None and c.at - pee <= figures.ONE_OUTING
    return why.spares_interval or c.event.unsure is True or c.is_unwell or stool or same


def _since(c: Circumstances, pee: Minutes) -> Minutes:
    """Return when the span begins in which it can have happened."""
    if c.event.found is False:
        return c.at
    return pee if c.event.dry is None else minutes_of(c.event.dry)


def _slept(c: Circumstances, since: Minutes) -> bool:
    """Whether the dog slept within the span."""
    if c.facts.sleep:
        return c.event.found is not False
    return c.facts.nap_in_hold > 0 and (c.facts.stirred or 0.0) > since


def narrowing_words(c: Circumstances) -> str:
    """Return in words what narrows the interval, and how to take that back where it is not sure."""
    clock, held = clock_words(c.at, c.context.settings.zone), c.at - (c.facts.last_pee or c.at)
    if c.event.found is False:
        return f"an accident seen at {clock}, {span_words(held)} after the last pee"
    what = "found" if c.event.found else "noted"
    return (
        f"an accident {what} at {clock}, at most {span_words(held)} after the last pee; setting "
        "the interval takes it back"
    )
