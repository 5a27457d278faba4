"""One absence as the planner sees it: plain numbers, the same for all days that are alike.

Every time is in minutes since the local midnight before leaving, as the clock shows it (an absence
over a change of the clocks counts on in real minutes), so that equal days give equal cases.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from functools import lru_cache

from msgspec import Struct, structs

from pottyboard.core.away.cover import Cover, chosen, cover, fewest, fewest_for_least, price_of
from pottyboard.core.engine.interval import night_hold
from pottyboard.core.model import figures
from pottyboard.core.model.absence import Absence, Span
from pottyboard.core.model.localtime import Minutes, at_clock, local, minutes_of
from pottyboard.core.model.settings import Settings

_GRID = int(figures.VISIT_GRID)


class Opening(Struct, frozen=True):
    """When one helper can come: a visit can begin from ``first`` to ``last``.

    ``helper`` is the place in the household's list, ``same`` the first place there of that name
    (``helper`` itself if negative); ``notice`` the earliest begin that the least notice leaves;
    ``price`` in hundredths.
    """

    helper: int
    first: Minutes
    last: Minutes
    lasts: Minutes
    price: int
    notice: Minutes = -math.inf
    same: int = -1

    @property
    def who(self) -> int:
        """The one person behind all openings of a name."""
        return self.helper if self.same < 0 else self.same


class AbsenceProblem(Struct, frozen=True):
    """One absence: the last break ``ahead`` of leaving, the limits, and who could come when.

    ``limit`` is the longest gap awake and ``night_limit`` the longest asleep; a gap over both is
    counted in shares of each. ``meal`` is the window in which a break has to follow a meal.
    """

    leave: Minutes
    back: Minutes
    limit: Minutes
    openings: tuple[Opening, ...]
    meal: Span | None = None
    nights: tuple[Span, ...] = ()
    night_limit: Minutes = float(figures.NIGHT_HOLD)
    ahead: Minutes = float(figures.BEFORE_LEAVING)

    @property
    def begin(self) -> Minutes:
        """The last break before leaving."""
        return self.leave - self.ahead

    @property
    def middle(self) -> Span | None:
        """The window around the middle in which a long absence by day needs a visit."""
        if self.back - self.leave < figures.LONG_AWAY or self.nights:
            return None
        middle = (self.leave + self.back) / 2
        return middle - figures.NEAR_MIDDLE, middle + figures.NEAR_MIDDLE

    def holds_until(self, at: Minutes) -> Minutes:
        """Return until when the dog can be expected to hold after a break at ``at``."""
        left = 1.0
        for start, end in self.nights:
            for until, limit in ((start, self.limit), (end, self.night_limit)):
                if at >= until:
                    continue
                if at + left * limit <= until:
                    return round(at + left * limit, 6)
                left -= (until - at) / limit
                at = until
        return round(at + left * self.limit, 6)

    def reaches(self, marks: Sequence[Minutes]) -> list[Minutes]:
        """Return when the next break has to have come after one at each of ``marks`` (in order)."""
        if self.nights:
            reaches = [self.holds_until(mark) for mark in marks]
        else:
            reaches = [mark + self.limit for mark in marks]
        for window in (self.meal, self.middle):
            if window is not None:
                before = bisect_left(marks, window[0])
                reaches[:before] = [min(reach, window[1]) for reach in reaches[:before]]
        return reaches


@lru_cache(maxsize=2048)
def pose(case: AbsenceProblem) -> tuple[Cover, tuple[int, ...]]:
    """Return the problem of a case, and for each of its slots the opening that costs least."""
    start = math.ceil(case.leave / _GRID)
    stop = math.ceil(case.back / _GRID)
    best: list[int] = [-1] * max(0, stop - start)
    dearest_first = sorted(
        range(len(case.openings)), key=lambda n: (case.openings[n].price, n), reverse=True
    )
    for number in dearest_first:
        opening = case.openings[number]
        low = max(start, math.ceil(max(opening.first, opening.notice) / _GRID)) - start
        high = min(stop - 1, math.floor(opening.last / _GRID)) - start
        if low <= high:
            best[low : high + 1] = [number] * (high + 1 - low)
    who = tuple(number for number in best if number >= 0)
    slots = [(start + step) * _GRID for step, number in enumerate(best) if number >= 0]
    prices = [case.openings[number].price for number in who]
    marks = [case.begin, *slots]
    return cover(marks, case.reaches(marks), prices, case.back), who


@lru_cache(maxsize=2048)
def worth(case: AbsenceProblem, cheapest: bool) -> tuple[Minutes, int, int]:
    """Return what the best plan of a case comes to: minutes over, visits, money in hundredths.

    With ``cheapest``, money comes before visits.
    """
    problem, _ = pose(case)
    count = (fewest_for_least(problem) if cheapest else fewest(problem)) or 0
    money = price_of(problem, chosen(problem, count) or ())
    return (problem.over, money, count) if cheapest else (problem.over, count, money)


def at_the_door(case: AbsenceProblem) -> AbsenceProblem:
    """Return the case with the last break as late as it can be."""
    return structs.replace(case, ahead=float(figures.LAST_BREAK_LEAST))


@lru_cache(maxsize=2048)
def best_timed(case: AbsenceProblem, cheapest: bool) -> AbsenceProblem:
    """Return the case with the last break as long ahead of leaving as costs nothing."""
    latest = at_the_door(case)
    best = worth(latest, cheapest)
    ahead = float(figures.BEFORE_LEAVING)
    while ahead > latest.ahead:
        earlier = structs.replace(case, ahead=ahead)
        if worth(earlier, cheapest) == best:
            return earlier
        ahead -= _GRID
    return latest


def midnight_of(settings: Settings, absence: Absence) -> Minutes:
    """Return the instant that a case counts from: the clock time of leaving ago."""
    wall = local(absence.leave, settings.zone)
    return absence.leave - wall.hour * 60 - wall.minute


def case_of(
    settings: Settings, absence: Absence, limit: Minutes, meal: Span | None, now: datetime
) -> AbsenceProblem:
    """Return the case of one absence; ``limit`` is the longest time alone awake in minutes.

    A helper's notice counts from ``now``, but an absence under way is seen as it was on leaving.
    """
    midnight = midnight_of(settings, absence)
    return AbsenceProblem(
        leave=absence.leave - midnight,
        back=absence.back - midnight,
        limit=limit,
        openings=tuple(_openings(settings, absence, midnight, now)),
        meal=None if meal is None else (meal[0] - midnight, meal[1] - midnight),
        nights=tuple(_nights(settings, absence, midnight)),
        night_limit=float(night_hold(settings.dog)),
    )


def _openings(
    settings: Settings, absence: Absence, midnight: Minutes, now: datetime
) -> Iterator[Opening]:
    asked = min(minutes_of(now), absence.leave)
    zone, names = settings.zone, [helper.name for helper in settings.home.helpers]
    day, last_day = absence.date, local(absence.back, zone).date()
    while day <= last_day:
        for number, helper in enumerate(settings.home.helpers):
            if day.isoweekday() not in helper.days:
                continue
            last = at_clock(day, helper.end, zone) - helper.lasts
            first = at_clock(day, helper.start, zone)
            if last < absence.leave or first >= absence.back:
                continue
            notice = asked + helper.notice - midnight
            if first - midnight >= notice:
                notice = -math.inf
            yield Opening(
                number, first - midnight, last - midnight, helper.lasts,
                round(helper.cost * 100), notice, names.index(helper.name),
            )  # fmt: skip
        day += timedelta(days=1)


def _nights(settings: Settings, absence: Absence, midnight: Minutes) -> Iterator[Span]:
    day = absence.date - timedelta(days=1)
    while True:
        bed, up = settings.bed_on(day), settings.up_on(day + timedelta(days=1))
        if bed >= absence.back:
            return
        if up > absence.leave - figures.BEFORE_LEAVING:
            yield bed - midnight, up - midnight
        day += timedelta(days=1)
