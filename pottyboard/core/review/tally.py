"""What happened in some days of the record, in numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import pairwise

from msgspec import Struct

from pottyboard.core.engine.days import Accident, Day
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, minutes_of


class Tally(Struct, frozen=True):
    """The days from ``first`` to ``last`` of the record, counted.

    ``clear``, ``unknown``, ``mishaps`` (days with an accident) and ``open`` (today) add up to
    ``days``. ``outings`` went outside, ``fruitful`` of them brought something; ``pad`` counts the
    entries on the pad. ``accidents`` are this dog's own, ``unsure`` those that another may have
    had; ``seen`` and ``found`` are accidents that the log says so of; ``late`` those
    that came after a break was already late by over 15 min; ``by_night`` those from bedtime to
    getting up. ``tardy`` outings began over 15 min after a break was due by the rule. ``nights``
    lie between two days with entries, ``dry`` ones have no accident. ``longest_hold`` is the
    longest by day that ended outside, in waking minutes, on the day ``longest_on``. Of ``absences``
    those that also ended add up to ``alone`` minutes, ``longest_alone`` the longest.
    """

    first: date
    last: date
    days: int
    clear: int
    unknown: int
    mishaps: int
    open: int
    outings: int
    fruitful: int
    tardy: int
    pad: int
    accidents: int
    seen: int
    found: int
    unsure: int
    late: int
    by_night: int
    meals: int
    nights: int
    dry: int
    longest_hold: int
    longest_on: date | None
    absences: int
    alone: int
    longest_alone: int
    visits: int


def tally(days: Sequence[Day], first: date, last: date) -> Tally:
    """Return the count of the ``days`` of the whole record from ``first`` to ``last``.

    Raises ValueError if none of them lies there.
    """
    here = [day for day in days if first <= day.plan.date <= last]
    if not here:
        raise ValueError(f"no day of the record from {first} to {last}")
    verdicts = Counter(day.verdict for day in here)
    outings = [outing for day in here for outing in day.outings]
    everyone = [accident for day in here for accident in day.accidents]
    accidents = [accident for accident in everyone if accident.is_own]
    events = [event for day in here for event in day.events]
    kinds = Counter(event.kind for event in events)
    wet = wet_nights(days)
    nights = _nights(days, first, last)
    longest, on = max(
        ((hold, day.plan.date) for day in here for hold in day.awake_holds),
        default=(0.0, None),
        key=lambda one: one[0],
    )
    lengths = [end - start for start, end in _absences(events) if end is not None]
    return Tally(
        first=here[0].plan.date,
        last=here[-1].plan.date,
        days=len(here),
        clear=verdicts["clear"],
        unknown=verdicts["unknown"],
        mishaps=verdicts["accident"],
        open=verdicts["open"],
        outings=len(outings),
        fruitful=sum(any(e.row.is_success for e in outing.events) for outing in outings),
        tardy=sum(outing.was_late for outing in outings),
        pad=sum(event.on_pad for event in events),
        accidents=len(accidents),
        seen=sum(accident.event.found is False for accident in accidents),
        found=sum(accident.event.found is True for accident in accidents),
        unsure=len(everyone) - len(accidents),
        late=sum(accident.household for accident in accidents),
        by_night=sum(wet[night] for night in nights),
        meals=kinds["meal"],
        nights=len(nights),
        dry=sum(not wet[night] for night in nights),
        longest_hold=int(longest),
        longest_on=on,
        absences=kinds["left"],
        alone=int(sum(lengths)),
        longest_alone=int(max(lengths, default=0)),
        visits=kinds["visit"],
    )


def _nights(days: Sequence[Day], first: date, last: date) -> list[date]:
    """Return the nights that begin in the span and lie between two days with entries."""
    return [
        day.plan.date
        for day, after in pairwise(days)
        if first <= day.plan.date <= last and day.events and after.events
    ]


def wet_nights(days: Iterable[Day]) -> Counter[date]:
    """Return how many accidents each night had, by the date on which it began.

    A night lasts from bedtime to getting up. An accident found before the first outing of a day is
    of the night before, unless the floor was still dry after getting up.
    """
    wet: Counter[date] = Counter()
    before: Day | None = None
    for day in days:
        for accident in day.accidents:
            if not accident.is_own:
                continue
            if accident.event.t >= day.plan.bed:
                wet[day.plan.date] += 1
            elif before is not None and _of_the_night(day, accident):
                wet[before.plan.date] += 1
        before = day
    return wet


def _of_the_night(day: Day, accident: Accident) -> bool:
    event = accident.event
    if not event.found:
        return False
    out = day.outings[0].at if day.outings else float("inf")
    return event.t <= out and (event.dry is None or minutes_of(event.dry) < day.plan.start)


def _absences(events: Iterable[Event]) -> Iterator[tuple[Minutes, Minutes | None]]:
    """Yield when the household left, and when it was back where the log says so."""
    left: Minutes | None = None
    for event in events:
        if event.kind == "left":
            if left is not None:
                yield left, None
            left = event.t
        elif event.kind == "back" and left is not None:
            yield left, event.t
            left = None
    if left is not None:
        yield left, None
