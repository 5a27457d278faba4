"""One change for tomorrow after each accident, by its cause.

Where an offer has a ``measure``, taking it changes the routine (see
:mod:`pottyboard.core.log.measures`); the others say what to do, and the plan stays. Sources:
calm greetings and no scolding, Lindell DACVB, Clinician's Brief, February 2017; a break before
leaving, ASPCA adult house-training advice, as carried by medicinenet.com; in arm's reach after
nothing came, We Foster Dogs, House and crate training (all published); the minutes are our own
choice, in ``figures``.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from msgspec import Struct

from pottyboard.core.accidents.accident_views import Offer
from pottyboard.core.engine.causes import meal_before
from pottyboard.core.engine.circumstances import Circumstances
from pottyboard.core.log.measures import Measures
from pottyboard.core.log.places import place_of
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import Minutes, span_words

_GRID: Final = 5
"""A planned time is on full five minutes."""


class OfferCase(Struct, frozen=True):
    """An accident and what stands today: ``narrowed`` whether the interval has shrunk for it."""

    circumstances: Circumstances
    measures: Measures
    narrowed: bool

    @property
    def about(self) -> str:
        """The id of the accident."""
        return self.circumstances.event.id


def offer_for(
    cause: str, circumstances: Circumstances, measures: Measures, *, narrowed: bool = False
) -> Offer:
    """Return the change that an accident suggests, for the cause that holds (``events.CAUSES``).

    ``measures`` are those in force now; ``narrowed`` tells whether the rule has already taken a
    step off the interval for this accident.
    """
    return _BY_CAUSE.get(cause, _unknown)(OfferCase(circumstances, measures, narrowed))


def _say(words: str) -> Callable[[OfferCase], Offer]:
    return lambda case: Offer("", words)


def _late(case: OfferCase) -> Offer:
    c = case.circumstances
    if c.alone_from is not None and c.due.at > c.alone_from:
        return _alone(case)  # nobody was there to go out with it
    if c.due.code == "daily":
        return Offer("", f"Name one person for the daily break at {c.clock(c.due.at)}.")
    if c.due.code == "night":
        return Offer("", f"Set an alarm for {c.clock(c.due.at)}: that break cannot wait.")
    return _daily(case, min(c.due.at, c.at) - figures.LATE, "so that a late one is still in time")


def _longer(case: OfferCase) -> Offer:
    c = case.circumstances
    if c.context.sleep == "night":
        return _by_night(c)
    if case.narrowed:
        return Offer("", "The plan has already shortened the interval: keep to it tomorrow.")
    return _daily(case, (c.earliest or c.at) - figures.DAILY_MARGIN, "before it gets too long")


def _by_night(c: Circumstances) -> Offer:
    """Say when to go out in the next nights: the rule plans a break only in those that are long."""
    at = math.floor(((c.earliest or c.at) - figures.DAILY_MARGIN) / _GRID) * _GRID
    slept = c.facts.slept_from
    if slept is not None and at - slept < priors.NIGHT_LEAST:
        return Offer("", "Out once more as the very last thing, right before the night.")
    alarm = f"In the next nights set an alarm for {c.clock(at)}"
    return Offer("", f"{alarm}, or go at the plan's night break if that comes first.")


def _daily(case: OfferCase, at: Minutes, why: str) -> Offer:
    """Offer a break every day at the clock time of ``at``, or say which one is there already."""
    c, plan = case.circumstances, case.circumstances.context.plan
    minute = math.floor(c.at)
    at = max(math.floor(at / _GRID) * _GRID, minute - figures.DAILY_MOST)
    if not max(plan.start, c.context.settings.up_on(plan.date)) <= at < plan.bed:
        return Offer("", "Go out first thing: the dog wakes with a full bladder.")
    minutes = float(minute - at)
    words = f"A break every day at {c.clock(at)}, {why}."
    if ("earlier", case.about) in case.measures.taken:
        return Offer("earlier", words, minutes, taken=True)
    home, zone = c.context.settings.home, c.context.settings.zone
    for daily in case.measures.daily:
        planned = daily.on(plan.date, home.up, zone)
        if at - figures.SERVES_WITHIN <= planned <= c.at:
            return Offer("", f"The daily break at {c.clock(planned)} covers this: keep to it.")
    return Offer("earlier", words, minutes)


def _meal(case: OfferCase) -> Offer:
    c = case.circumstances
    found = meal_before(c)
    meal = found[0] if found else c.facts.last_meal
    second = found is not None and found[1] - found[0] > figures.AFTER_MEAL
    took = figures.AFTER_MEAL if meal is None else (c.earliest or c.at) - meal
    if second and meal is not None:
        minutes = float(math.floor((c.at - meal - figures.STOOL_SOONER) / _GRID) * _GRID)
        minutes = max(minutes, figures.AFTER_MEAL + _GRID)
        words = f"A second break {span_words(minutes)} after each meal, until poop has come."
        in_force = case.measures.stool
    else:
        least = figures.AFTER_MEAL - figures.SERVES_WITHIN
        minutes = float(math.floor((took - _GRID) / _GRID) * _GRID)
        minutes = max(float(least), min(float(figures.SOONER_AFTER_MEAL), minutes))
        words = f"Out {span_words(minutes)} after each meal, not only at {figures.AFTER_MEAL:g}."
        in_force = case.measures.after_meal
    return Offer("after-meal", words, minutes, taken=in_force is not None and in_force <= minutes)


def _empty(case: OfferCase) -> Offer:
    words = "After nothing came: on the lead beside you, until it does."
    return Offer("watch", words, taken=case.measures.watch is not None)


def _alone(case: OfferCase) -> Offer:
    close = figures.LAST_BREAK_LEAST + figures.SERVES_WITHIN
    words = f"The last break within {span_words(close)} of leaving; a shorter absence, or a visit."
    taken = case.measures.last_break is not None
    return Offer("before-leaving", words, float(figures.LAST_BREAK_LEAST), taken=taken)


def _marking(case: OfferCase) -> Offer:
    place = place_of(case.circumstances.event.place)
    if place is None:
        return Offer("", "Clean with enzyme cleaner, block the way; ask your vet if it goes on.")
    words = f"Block the way to {place.name}, clean it again; ask your vet if it goes on."
    return Offer("block", words, taken=place.key in case.measures.blocked)


def _unknown(case: OfferCase) -> Offer:
    event = case.circumstances.event
    if event.unsure:
        return Offer("", "Keep the dogs apart when nobody looks, and note which one it was.")
    if event.found is None and event.dry is None:
        return Offer("", "Fill in whether it was seen or found, and when the floor was last dry.")
    if event.found and event.dry is None:
        return Offer("", "Look at the floor at each break, and note when it was last dry.")
    return Offer("", "Log meals, drinks, play and signals as they happen: they tell most.")


_BY_CAUSE: Final[dict[str, Callable[[OfferCase], Offer]]] = {
    "marking": _marking,
    "greeting": _say(
        "No break prevents it: greet outside, calmly and low. Never scold: the dog cannot help it."
    ),
    "leak": _say("No change of the routine: tell your vet, with the times from this log."),
    "unwell": _say("Ask your vet: no routine helps an ill dog. Until then offer it more breaks."),
    "woke": _say("Out the moment it stirs, on the lead, before anything else."),
    "sign": _say("Log each signal as you see it, and go out at once."),
    "late": _late,
    "empty": _empty,
    "meal": _meal,
    "drink": _say(
        "Out sooner after each long drink, within 15 min. Never take the water away; if it drinks "
        "much more than usual, ask your vet."
    ),
    "play": _say("Out right before play, stop after 10 min for a break, and out again after it."),
    "alone": _alone,
    "longer": _longer,
    "unknown": _unknown,
}
