"""Waits and breaks as counts: pee to pee, meal to stool, and how punctual the breaks were."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import quantiles

from pottyboard.core.engine.days import Day
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import span_words
from pottyboard.core.patterns.pattern_views import Pattern
from pottyboard.core.statistics.proportion import wilson


def waits_told(days: Sequence[Day], near: range, events: Sequence[Event]) -> Iterator[Pattern]:
    """Yield the waits and the punctuality on the days of ``near``, whose entries are ``events``."""
    pees = [
        hold.length
        for index in near
        for hold in days[index].holds
        if not (hold.night or hold.silent)
        and figures.ONE_OUTING < hold.length <= figures.SILENCE_TOO_LONG
    ]
    if len(pees) >= figures.WAITS_TO_TELL:
        words = f"Pee to pee by day: {_middle(pees, 'waits')}."
        sure = "counted from the breaks that were given; the dog may wait longer"
        yield Pattern("pee", words, sure, len(pees), len(pees))
    stools = list(_meal_to_stool(events))
    if len(stools) >= figures.WAITS_TO_TELL:
        words = f"Meal to poop: {_middle(stools, 'stools')}."
        sure = "counted; it may have been ready before somebody went out"
        yield Pattern("stool", words, sure, len(stools), len(stools))
    breaks = [outing for index in near for outing in days[index].outings]
    if len(breaks) >= figures.BREAKS_TO_TELL:
        late, n = sum(outing.was_late for outing in breaks), len(breaks)
        share = wilson(late, n)
        words = f"{late} of {n} breaks came over {figures.LATE:g} min late by the rule."
        yield Pattern("late", words, in_the_long_run(share), late, n, share=share)


def in_the_long_run(share: tuple[float, float]) -> str:
    """Return the range of a share in words."""
    low, high = (round(100 * one) for one in share)
    return f"in the long run probably {low} to {high} in 100"


def _meal_to_stool(events: Sequence[Event]) -> Iterator[float]:
    """Yield the minutes from the last meal to the first stool after it, within six hours.

    A stool only found tells no time.
    """
    meal: float | None = None
    for event in events:
        if event.kind == "meal":
            meal = event.t
        elif "poop" in event.row.resets:
            known = not event.row.is_accident or event.found is False
            if meal is not None and known and event.t - meal < figures.DIGESTION_FORGOTTEN:
                yield event.t - meal
            meal = None


def _middle(minutes: Sequence[float], noun: str) -> str:
    """Return the middle half, the median and the whole range of some waits in words."""
    low, middle, high = quantiles(minutes, n=4, method="inclusive")
    return (
        f"mostly {span_words(low)} to {span_words(high)}, {span_words(middle)} in the middle "
        f"({len(minutes)} {noun}, from {span_words(min(minutes))} to {span_words(max(minutes))})"
    )
