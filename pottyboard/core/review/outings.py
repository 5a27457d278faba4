"""How outings, accidents and waits spread over the days and over the hours of the clock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Final

from msgspec import Struct
from pendulum import Timezone

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.days import Day, Outing
from pottyboard.core.model.localtime import Minutes, local, minutes_of
from pottyboard.core.model.settings import Settings

_FIRST: Final = 3
"""The whole days at the beginning that later ones are held against."""

_HOURS: Final = 24


class Counted(Struct, frozen=True):
    """What a day or an hour of the clock held: outings that brought something, outings that
    brought nothing, and accidents that are this dog's own."""

    brought: int
    empty: int
    accidents: int

    @property
    def outings(self) -> int:
        """All outings."""
        return self.brought + self.empty


class Waited(Struct, frozen=True):
    """One wait by day, in waking minutes: on which day, at which share of it (0 at getting up, 1 at
    bedtime), and whether it ended indoors."""

    date: date
    share: float
    minutes: int
    indoors: bool


def by_day(days: Iterable[Day]) -> tuple[Counted, ...]:
    """Return the count of each day, from getting up to getting up."""
    found = []
    for day in days:
        brought = sum(map(_brought, day.outings))
        accidents = sum(accident.is_own for accident in day.accidents)
        found.append(Counted(brought, len(day.outings) - brought, accidents))
    return tuple(found)


def by_hour(days: Iterable[Day], zone: Timezone) -> tuple[Counted, ...]:
    """Return the count of each hour of the local clock, from midnight on.

    On the day that has an hour twice, both count as that one.
    """
    brought, empty, accidents = Counter[int](), Counter[int](), Counter[int]()
    for day in days:
        for outing in day.outings:
            (brought if _brought(outing) else empty)[_hour(outing.at, zone)] += 1
        for accident in day.accidents:
            accidents[_hour(accident.event.t, zone)] += accident.is_own
    return tuple(Counted(brought[hour], empty[hour], accidents[hour]) for hour in range(_HOURS))


def waits_by_day(days: Iterable[Day]) -> tuple[Waited, ...]:
    """Return the waits by day that say something about holding, in order.

    One that the dog chose to end on the pad, or that spans a night, is left out.
    """
    return tuple(
        Waited(
            day.plan.date,
            min(1.0, max(0.0, (hold.ended - day.plan.start) / (day.plan.bed - day.plan.start))),
            round(hold.awake),
            hold.indoors,
        )
        for day in days
        for hold in day.holds
        if hold.tells and not hold.night and hold.how != "pad"
    )


def _brought(outing: Outing) -> bool:
    return any(event.row.is_success for event in outing.events)


def _hour(at: Minutes, zone: Timezone) -> int:
    return local(at, zone).hour


def outings_words(settings: Settings, days: Sequence[DaySummary], now: datetime) -> str:
    """Return today's outings (the last of ``days``) beside a day of the first three whole ones.

    Before its bedtime a day is not held against whole ones: half of it has fewer. Of a day with too
    little logged nothing is known; the day of arrival counts if it was whole.
    """
    *earlier, today = days
    whole = [day for day in earlier if _is_whole(settings, day)][:_FIRST]
    words = f"{today.outings} today"
    if len(whole) < _FIRST:
        return words
    first = round(sum(day.outings for day in whole) / _FIRST)
    words = f"{words}; {first} a day in the first three whole days"
    fewer = first - today.outings
    is_whole = minutes_of(now) >= settings.bed_on(today.date) and today.verdict != "open"
    if not is_whole and fewer >= 0:
        return words
    return f"{words}, {abs(fewer)} {'fewer' if fewer > 0 else 'more'} now" if fewer else words


def _is_whole(settings: Settings, day: DaySummary) -> bool:
    arrived_late = settings.arrived > settings.up_on(settings.first_date)
    return day.verdict in ("clear", "accident") and not (day.number == 1 and arrived_late)
