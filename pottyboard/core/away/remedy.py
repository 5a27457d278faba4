"""What would cover an absence that cannot be covered: the smallest change of each sort."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from msgspec import Struct, structs

from pottyboard.core.away.absence_problem import AbsenceProblem, Opening, at_the_door, pose, worth
from pottyboard.core.away.cover import chosen, fewest_for_least
from pottyboard.core.away.schedule import Remedy, RemedyCode
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, clock_words, span_words
from pottyboard.core.model.settings import Settings

_GRID: Final = int(figures.VISIT_GRID)
_DEAREST: Final = 1 << 30
"""The price of a helper who is still to be found: more than any plan without one."""


class Fix(Struct, frozen=True):
    """A change that covers a case: what, by how many ``minutes``, and the new time ``at``.

    ``more`` is what the visits then cost more, in hundredths (None: nobody knows); ``helper`` whose
    hours change, and ``until`` whether it is their end; ``times`` when a further helper is needed.
    """

    code: RemedyCode
    minutes: Minutes
    at: Minutes = 0.0
    more: int | None = 0
    helper: int = -1
    until: bool = False
    times: tuple[int, ...] = ()


@lru_cache(maxsize=512)
def fixes(case: AbsenceProblem, cheapest: bool) -> tuple[Fix, ...]:
    """Return the changes that would cover a case, smallest first; empty if it is covered."""
    case = at_the_door(case)
    if _covers(case):
        return ()
    now = _money(case, cheapest)
    found = [
        *_back_earlier(case),
        *_leave_later(case),
        *_longer_hours(case),
    ]
    priced = [
        structs.replace(fix, more=_money(_changed(case, fix), cheapest) - now)
        for fix in found
        if fix.minutes <= figures.REMEDY_MOST
    ]
    priced.sort(key=lambda fix: (fix.minutes, fix.more))
    return (*_best_of_each_helper(priced), *_further_helper(case), Fix("pad", pose(case)[0].over))


def _changed(case: AbsenceProblem, fix: Fix) -> AbsenceProblem:
    """Return the case after a change of times."""
    if fix.code == "back":
        return structs.replace(case, back=fix.at)
    if fix.code == "leave":
        return structs.replace(case, leave=fix.at)
    return _widened(case, fix.helper, fix.minutes, until=fix.until)


def _money(case: AbsenceProblem, cheapest: bool) -> int:
    _, second, third = worth(case, cheapest)
    return second if cheapest else third


def _covers(case: AbsenceProblem) -> bool:
    return not pose(case)[0].over


def _back_earlier(case: AbsenceProblem) -> Iterator[Fix]:
    """Yield the latest return that is covered: at most as far as the first hole's reach."""
    at = pose(case)[0].holes[0].reach // _GRID * _GRID
    while at > max(case.leave, case.back - figures.REMEDY_MOST - _GRID):
        if _covers(structs.replace(case, back=at)):
            yield Fix("back", case.back - at, at)
            return
        at -= _GRID


def _leave_later(case: AbsenceProblem) -> Iterator[Fix]:
    """Yield the earliest leaving that is covered: its last break has to reach over all holes."""
    at = case.leave + 1
    if not case.nights:
        at = max(at, pose(case)[0].holes[-1].until - case.limit + case.ahead)
    at = -(-at // _GRID) * _GRID
    while at < min(case.back, case.leave + figures.REMEDY_MOST + _GRID):
        if _covers(structs.replace(case, leave=at)):
            yield Fix("leave", at - case.leave, at)
            return
        at += _GRID


def _widened(case: AbsenceProblem, helper: int, by: Minutes, *, until: bool) -> AbsenceProblem:
    openings = tuple(
        opening
        if opening.helper != helper
        else structs.replace(opening, last=opening.last + by)
        if until
        else structs.replace(opening, first=opening.first - by)
        for opening in case.openings
    )
    return structs.replace(case, openings=openings)


def _longer_hours(case: AbsenceProblem) -> Iterator[Fix]:
    """Yield the smallest widening of each helper's hours, at either end, that covers."""
    most = int(figures.REMEDY_MOST) // _GRID
    for helper in dict.fromkeys(opening.helper for opening in case.openings):
        mine = [opening for opening in case.openings if opening.helper == helper]
        for until in (False, True):
            if not _covers(_widened(case, helper, most * _GRID, until=until)):
                continue
            low, high = 1, most
            while low < high:
                middle = (low + high) // 2
                if _covers(_widened(case, helper, middle * _GRID, until=until)):
                    high = middle
                else:
                    low = middle + 1
            by = low * _GRID
            at = mine[-1].last + mine[-1].lasts + by if until else mine[0].first - by
            yield Fix("hours", by, at, helper=helper, until=until)


def _best_of_each_helper(priced: list[Fix]) -> Iterator[Fix]:
    seen: set[int] = set()
    for fix in priced:
        if fix.code != "hours" or fix.helper not in seen:
            yield fix
        if fix.code == "hours":
            seen.add(fix.helper)


def _further_helper(case: AbsenceProblem) -> Iterator[Fix]:
    """Yield when a further helper would have to come, as seldom as can be."""
    further = Opening(-1, case.leave, case.back, float(figures.VISIT_LASTS), _DEAREST)
    problem, who = pose(structs.replace(case, openings=(*case.openings, further)))
    if problem.over:
        return
    visits = chosen(problem, fewest_for_least(problem) or 0) or ()
    opening = dict(zip(problem.slots, who, strict=True))
    times = tuple(slot for slot in visits if opening[slot] == len(case.openings))
    yield Fix("helper", figures.VISIT_LASTS * len(times), more=None, times=times)


# --- In words -------------------------------------------------------------------------------------


def remedy_of(fix: Fix, settings: Settings, midnight: Minutes) -> Remedy:
    """Return a change in words; the case counts its times from the instant ``midnight``."""
    more = None if fix.more is None else fix.more / 100
    return Remedy(fix.code, _words(fix, settings, midnight), round(fix.minutes), more)


def _words(fix: Fix, settings: Settings, midnight: Minutes) -> str:
    def clock(at: Minutes) -> str:
        return clock_words(midnight + at, settings.zone)

    helpers = settings.home.helpers
    by = span_words(fix.minutes)
    match fix.code:
        case "back":
            return f"be back by {clock(fix.at)}, {by} earlier"
        case "leave":
            return f"leave at {clock(fix.at)}, {by} later"
        case "hours" if fix.until:
            return f"{helpers[fix.helper].name} until {clock(fix.at)}, {by} longer"
        case "hours":
            return f"{helpers[fix.helper].name} from {clock(fix.at)}, {by} earlier"
        case "helper":
            return f"one more helper at {' and '.join(clock(at) for at in fix.times)}"
        case _:
            return (
                "a pad as a stop-gap, bed at one end and pad at the other: it teaches that "
                "indoors is allowed, so end it soon"
            )
