"""Visits by one helper far enough apart: the best plan of an absence that keeps them so.

The arithmetic of :mod:`~pottyboard.core.away.cover` knows no helper, and most of its plans are far
enough apart by themselves. Where one is not, the best of those that are is searched here, slot by
slot: least time over the limits, then fewest visits, then least money (or money first). With one
helper it is exact; with several, a helper's earlier visits are those of the best way so far.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from operator import add

from msgspec import Struct

from pottyboard.core.away.absence_problem import AbsenceProblem, at_the_door, pose, worth
from pottyboard.core.away.cover import Hole, chosen, cover, fewest, fewest_for_least
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes

_GRID = int(figures.VISIT_GRID)


class Stop(Struct, frozen=True):
    """One visit of a plan: at the minute ``at``, by the opening of that number."""

    at: int
    opening: int


class Spaced(Struct, frozen=True):
    """The best plan of a case whose visits by one helper lie apart, and what it cannot keep."""

    case: AbsenceProblem
    stops: tuple[Stop, ...]
    holes: tuple[Hole, ...] = ()

    @property
    def over(self) -> Minutes:
        """By how many minutes, all in all, the gaps are not kept."""
        return sum(hole.over for hole in self.holes)


class _Way(Struct, frozen=True):
    """A way to the visit ``stop`` from the one before: ``worth`` so far, smaller is better.

    ``at`` is the minute of that visit, ``latest`` the latest one on the way by each person.
    """

    worth: tuple[Minutes, ...]
    at: Minutes = -math.inf
    stop: Stop | None = None
    before: _Way | None = None
    latest: dict[int, int] = {}

    def stops(self) -> tuple[Stop, ...]:
        """Return its visits, in order."""
        if self.stop is None:
            return ()
        return (*(self.before.stops() if self.before else ()), self.stop)


def holes_of(case: AbsenceProblem, marks: Sequence[Minutes]) -> tuple[Hole, ...]:
    """Return which gaps are too long with breaks at ``marks`` (in order) after the last one ahead
    of leaving."""
    all_marks = [case.begin, *marks]
    return cover(all_marks, case.reaches(all_marks), [0] * len(marks), case.back).holes


def are_apart(case: AbsenceProblem, stops: Sequence[Stop]) -> bool:
    """Whether no helper has two visits closer than the least distance."""
    return all(_fits(case, stops[:number], stop) for number, stop in enumerate(stops))


def _fits(case: AbsenceProblem, before: Sequence[Stop], stop: Stop) -> bool:
    who = case.openings[stop.opening].who
    own = (one.at for one in reversed(before) if case.openings[one.opening].who == who)
    return stop.at - next(own, -math.inf) >= figures.VISITS_APART


def stops_at(case: AbsenceProblem, slots: Sequence[int]) -> tuple[Stop, ...]:
    """Return visits at these slots, each by the opening that costs least."""
    problem, who = pose(case)
    opening = dict(zip(problem.slots, who, strict=True))
    return tuple(Stop(slot, opening[slot]) for slot in slots)


def spaced(case: AbsenceProblem, slots: Sequence[int], cheapest: bool) -> Spaced:
    """Return the plan with visits at ``slots``, or the best one where those are not apart."""
    stops = stops_at(case, slots)
    return Spaced(case, stops, pose(case)[0].holes) if are_apart(case, stops) else apart(
        case, cheapest
    )  # fmt: skip


@lru_cache(maxsize=2048)
def best(case: AbsenceProblem, cheapest: bool) -> Spaced:
    """Return the best plan of a case whose visits lie apart."""
    problem, _ = pose(case)
    count = (fewest_for_least(problem) if cheapest else fewest(problem)) or 0
    return spaced(case, chosen(problem, count) or (), cheapest)


def covers(case: AbsenceProblem) -> bool:
    """Whether visits that lie apart can keep every gap of a case."""
    problem, _ = pose(case)
    if problem.over:
        return False
    several = (fewest(problem) or 0) > 1
    one = len({opening.who for opening in case.openings}) == 1
    if several and one and max(case.limit, case.night_limit) < figures.VISITS_APART:
        return False
    return not best(case, cheapest=False).holes


@lru_cache(maxsize=2048)
def apart(case: AbsenceProblem, cheapest: bool) -> Spaced:
    """Search the best plan of a case whose visits lie apart, with the last break as early as it
    costs nothing."""
    found = _searched(case, cheapest)
    latest = at_the_door(case)
    if found.holes and latest != case:
        other = _searched(latest, cheapest)
        if other.over < found.over:
            return other
    return found


def _searched(case: AbsenceProblem, cheapest: bool) -> Spaced:
    stops = list(_stops(case))
    reach = case.reaches([case.begin, *(stop.at for stop in stops)])
    even = _even(case, cheapest)
    ways: list[_Way] = []
    finished = _Way((max(0.0, case.back - reach[0]), 0, 0, 0))
    for number, stop in enumerate(stops):
        own = _own_worth(case, stop, even, cheapest)
        who, at = case.openings[stop.opening].who, stop.at
        latest_own = at - figures.VISITS_APART
        origin: _Way | None = None
        least: tuple[Minutes, ...] = (max(0.0, at - reach[0]), *own)
        for way, until in zip(ways, reach[1:], strict=False):
            if way.at >= at:
                break
            over = way.worth[0] + (at - until if at > until else 0.0)
            if over > least[0] or way.latest.get(who, -math.inf) > latest_own:
                continue
            total = (over, *map(add, way.worth[1:], own))
            if total < least:
                least, origin = total, way
        way = _Way(least, at, stop, origin, {**(origin.latest if origin else {}), who: at})
        ways.append(way)
        over = least[0] + max(0.0, case.back - reach[number + 1])
        ended = (over, *least[1:])
        if ended < finished.worth:
            finished = _Way(ended, at, stop, origin)
    found = finished.stops()
    return Spaced(case, found, holes_of(case, [stop.at for stop in found]))


def _stops(case: AbsenceProblem) -> Iterator[Stop]:
    """Yield every visit that could be, in order of time, the cheapest first."""
    found = []
    for number, opening in enumerate(case.openings):
        first = math.ceil(max(opening.first, opening.notice, case.leave) / _GRID) * _GRID
        last = min(opening.last, case.back - 1)
        found += [(at, opening.price, number) for at in range(first, math.floor(last) + 1, _GRID)]
    yield from (Stop(at, number) for at, _, number in sorted(found))


def _even(case: AbsenceProblem, cheapest: bool) -> float:
    """Return the distance of visits that are spread evenly."""
    count = worth(case, cheapest)[2 if cheapest else 1]
    return (case.back - case.begin) / (count + 1)


def _own_worth(
    case: AbsenceProblem, stop: Stop, even: float, cheapest: bool
) -> tuple[Minutes, ...]:
    """Return what a visit adds: one more, its money, and how far it is from an even spread."""
    price = case.openings[stop.opening].price
    nearest = case.begin + max(1, round((stop.at - case.begin) / even)) * even
    odd = int(figures.VISIT_ROUND) * (stop.at % int(figures.VISIT_ROUND) != 0)
    spread = abs(stop.at - nearest) + odd
    return (price, 1, spread) if cheapest else (1, price, spread)
