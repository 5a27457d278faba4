"""Who is away when, and when the dog is alone: all people away at the same time.

A person's weekly hours are the household's, unless they have their own; an exception for a date
comes before both. Absences run over midnight where the return is not after the leaving.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, time, timedelta
from itertools import chain

from msgspec import Struct

from pottyboard.core.model.localtime import Minutes, at_clock, local
from pottyboard.core.model.settings import Settings

Span = tuple[Minutes, Minutes]
"""From an instant to a later one, in epoch minutes."""

_LONGEST_RUN = 2
"""Days before the first one asked for that may still reach into it."""


class Absence(Struct, frozen=True):
    """A time when the dog is alone, in epoch minutes; ``date`` is the local date of leaving.

    ``leaves`` is who goes last and ``returns`` who is back first (empty where nobody is named).
    """

    date: date
    leave: Minutes
    back: Minutes
    leaves: str = ""
    returns: str = ""

    @property
    def minutes(self) -> Minutes:
        """How long the home is empty."""
        return self.back - self.leave


def people_of(settings: Settings) -> tuple[str, ...]:
    """Return the people of the household; one without a name where none are given."""
    return settings.home.people or ("",)


def away_on(settings: Settings, person: str, day: date) -> tuple[Span, ...]:
    """Return when ``person`` is away, for the absences that begin on ``day``, in order."""
    return _merged(
        (
            at_clock(day, leave, settings.zone),
            at_clock(day + timedelta(days=back <= leave), back, settings.zone),
        )
        for leave, back in _hours_on(settings, person, day)
    )


def _hours_on(settings: Settings, person: str, day: date) -> list[tuple[time, time]]:
    """Return the hours of one day: by its exceptions for the person, for all, or by the week."""
    others = [other for other in settings.home.other_days if other.first <= day <= other.last]
    for whose in dict.fromkeys((person, "")):
        meant = [other for other in others if other.person == whose]
        if meant:
            hours = [(other.leave, other.back) for other in meant]
            return (
                []
                if (None, None) in hours
                else [(a, b) for a, b in hours if a is not None and b is not None]
            )
    return _weekly(settings, person, day)


def _weekly(settings: Settings, person: str, day: date) -> list[tuple[time, time]]:
    home, work = settings.home, settings.home.work
    if work is not None and settings.day_number(day) < work.from_day:
        return []
    weekday = day.isoweekday()
    own = [hours for hours in home.own_hours if hours.person == person]
    if own:
        return [(hours.leave, hours.back) for hours in own if weekday in hours.days]
    if work is None or weekday not in work.days:
        return []
    return [(work.leave, work.back)]


def absences(settings: Settings, first: date, last: date) -> tuple[Absence, ...]:
    """Return the times when the dog is alone that begin on the dates ``first`` to ``last``.

    An absence under way when the dog arrived is left out: nobody leaves a dog that is not there.
    """
    people, zone = people_of(settings), settings.zone
    count = (last - first).days + _LONGEST_RUN + 1
    days = [first + timedelta(days=step - _LONGEST_RUN) for step in range(count + 1)]
    away = [
        _merged(chain.from_iterable(away_on(settings, person, day) for day in days))
        for person in people
    ]
    alone = away[0]
    for spans in away[1:]:
        alone = _common(alone, spans)
    found = []
    for leave, back in alone:
        day = local(leave, zone).date()
        if first <= day <= last and leave >= settings.arrived:
            found.append(
                Absence(
                    day, leave, back,
                    _whose(people, away, leave, start=True),
                    _whose(people, away, back, start=False),
                )
            )  # fmt: skip
    return tuple(found)


def _whose(
    people: Sequence[str], away: Sequence[tuple[Span, ...]], at: Minutes, *, start: bool
) -> str:
    """Return who leaves (or returns) at this instant: the first one named, if several."""
    for person, spans in zip(people, away, strict=True):
        if any((span[0] if start else span[1]) == at for span in spans):
            return person
    return ""


def _merged(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Return the spans in order, with those that touch or overlap as one."""
    merged: list[Span] = []
    for start, end in sorted(spans):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        elif end > start:
            merged.append((start, end))
    return tuple(merged)


def _common(one: Sequence[Span], other: Sequence[Span]) -> tuple[Span, ...]:
    """Return where two sequences of spans, each in order and apart, overlap."""
    common, i, j = [], 0, 0
    while i < len(one) and j < len(other):
        start, end = max(one[i][0], other[j][0]), min(one[i][1], other[j][1])
        if start < end:
            common.append((start, end))
        if one[i][1] <= other[j][1]:
            i += 1
        else:
            j += 1
    return tuple(common)
