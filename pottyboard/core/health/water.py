"""What the dog drank, day by day, from the amounts that the household logs.

Two things carry an amount: a long drink of so many millilitres, and the bowl. A bowl entry with
``ml`` is an emptied bowl filled afresh with so much; ``rest`` is what was left in it before. What
went in less what was left at the next entry was drunk in between. A bowl entry with ``rest`` alone
is a reading: what is left stays in the bowl.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise
from operator import attrgetter
from typing import NamedTuple

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.model.plan import DayPlan, date_at, plan_for
from pottyboard.core.model.settings import Settings

_at = attrgetter("t")


class Drunk(NamedTuple):
    """What was drunk on one day: millilitres, millilitres per kilogram of the dog's weight, and
    whether that is the ``whole`` day.

    It is where measured bowls cover the day from getting up to bedtime; otherwise the amount is
    the least that was drunk.
    """

    ml: float
    per_kg: float
    whole: bool


class Portion(NamedTuple):
    """So much water of one ``day``, known since the entry ``at`` (epoch minutes).

    ``covered`` are the waking minutes of that day over which a bowl was measured.
    """

    day: date
    at: Minutes
    ml: float
    covered: Minutes = 0.0


def intake(settings: Settings, events: Iterable[Event]) -> dict[date, Drunk]:
    """Return what was drunk on each local day that has an amount, by date in order.

    A day runs from one getting up to the next.
    """
    in_order = tuple(sorted(events, key=_at))
    amounts: defaultdict[date, float] = defaultdict(float)
    covered: defaultdict[date, float] = defaultdict(float)
    watery = [event for event in in_order if event.kind in ("water", "bowl")]
    for portion in portions(settings, in_order, watery):
        amounts[portion.day] += portion.ml
        covered[portion.day] += portion.covered
    return {
        day: Drunk(
            amounts[day],
            amounts[day] / settings.dog.weight_kg,
            covered[day] >= _time_at_risk(plan_for(settings, day, in_order)) - figures.BOWL_GAP,
        )
        for day in sorted(amounts)
    }


def portions(
    settings: Settings, events: Sequence[Event], watery: Sequence[Event]
) -> tuple[Portion, ...]:
    """Return every amount of the ``watery`` entries, in the order in which it became known.

    All ``events`` tell the days apart; both are sorted. A drink out of a measured bowl is not
    counted twice: the larger of the two counts.
    """
    if not any(event.ml is not None or event.rest is not None for event in watery):
        return ()
    drinks = [event for event in watery if event.kind == "water" and event.ml is not None]
    found: list[Portion] = []
    for start, end, ml in _measured([event for event in watery if event.kind == "bowl"]):
        within = drinks[bisect_left(drinks, start, key=_at) : bisect_left(drinks, end, key=_at)]
        drinks = [drink for drink in drinks if drink not in within]
        logged = sum(drink.ml or 0.0 for drink in within)
        found.extend(_shared(settings, events, start, end, max(ml, logged)))
    found.extend(
        Portion(_day_of(settings, events, drink.t), drink.t, drink.ml or 0.0) for drink in drinks
    )
    return tuple(sorted(found, key=lambda portion: (portion.at, portion.day)))


def _measured(bowls: Sequence[Event]) -> Iterator[tuple[Minutes, Minutes, float]]:
    """Yield from when to when a bowl stood, and what was drunk from it, where that is known."""
    for bowl, after in pairwise(bowls):
        held = bowl.rest if bowl.ml is None else bowl.ml
        rest, stood = after.rest, after.t - bowl.t
        if held is None or rest is None or rest > held:
            continue
        if 0 < stood <= figures.BOWL_MOST:
            yield bowl.t, after.t, held - rest


def _shared(
    settings: Settings, events: Sequence[Event], start: Minutes, end: Minutes, ml: float
) -> Iterator[Portion]:
    """Yield the share of each day in what was drunk from ``start`` to ``end``.

    It goes by the waking minutes; what stood only over a night belongs to the day before it.
    """
    first, last = _day_of(settings, events, start), _day_of(settings, events, end)
    awake: dict[date, float] = {}
    day = first
    while day <= last:
        plan = plan_for(settings, day, events)
        awake[day] = max(0.0, min(end, plan.bed) - max(start, plan.start))
        day += timedelta(days=1)
    whole = sum(awake.values())
    if not whole:
        yield Portion(first, end, ml)
        return
    for day, minutes in awake.items():
        if minutes:
            yield Portion(day, end, ml * minutes / whole, minutes)


def _day_of(settings: Settings, events: Sequence[Event], at: Minutes) -> date:
    return max(date_at(settings, at, events), settings.first_date)


def _time_at_risk(plan: DayPlan) -> Minutes:
    return plan.bed - plan.start
