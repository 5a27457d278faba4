"""What would cover an absence that cannot be covered: the smallest change of each sort.

:func:`advice_of` makes one line of them that somebody can follow.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from msgspec import Struct, structs

from pottyboard.core.away.absence_problem import AbsenceProblem, Opening, at_the_door, worth
from pottyboard.core.away.cover import Hole
from pottyboard.core.away.schedule import Remedy, RemedyCode
from pottyboard.core.away.spacing import best, covers
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, clock_words, span_words
from pottyboard.core.model.settings import Settings

_GRID: Final = int(figures.VISIT_GRID)
_DEAREST: Final = 1 << 30
"""The price of a helper who is still to be found: more than any plan without one."""
_FEW: Final = 2
"""Visits of a further helper that are no more than a favour."""


class Fix(Struct, frozen=True):
    """A change that covers a case: what, by how many ``minutes``, and the new time ``at``.

    ``more`` is what the visits then cost more, in hundredths (None: nobody knows); ``helper`` whose
    hours change, and ``until`` whether it is their end; ``times`` when a further helper is needed.
    Somebody *home* is so from ``at`` for these ``minutes``, or ``once`` in them for a break.
    """

    code: RemedyCode
    minutes: Minutes
    at: Minutes = 0.0
    more: int | None = 0
    helper: int = -1
    until: bool = False
    times: tuple[int, ...] = ()
    once: bool = False


@lru_cache(maxsize=512)
def fixes(case: AbsenceProblem, cheapest: bool) -> tuple[Fix, ...]:
    """Return the changes that would cover a case, smallest first; empty if it is covered."""
    case = at_the_door(case)
    if covers(case):
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
    holes = best(case, cheapest).holes
    return (
        *_best_of_each_helper(priced),
        *_somebody_home(case, holes),
        *_further_helper(case),
        Fix("pad", sum(hole.over for hole in holes)),
    )


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


def _back_earlier(case: AbsenceProblem) -> Iterator[Fix]:
    """Yield the latest return that is covered."""
    at = math.ceil(case.back / _GRID) * _GRID - _GRID
    while at > max(case.leave, case.back - figures.REMEDY_MOST - _GRID):
        if covers(structs.replace(case, back=float(at))):
            yield Fix("back", case.back - at, at)
            return
        at -= _GRID


def _leave_later(case: AbsenceProblem) -> Iterator[Fix]:
    """Yield the earliest leaving that is covered."""
    at = math.floor(case.leave / _GRID) * _GRID + _GRID
    while at < min(case.back, case.leave + figures.REMEDY_MOST + _GRID):
        if covers(structs.replace(case, leave=float(at))):
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
            if not covers(_widened(case, helper, most * _GRID, until=until)):
                continue
            low, high = 1, most
            while low < high:
                middle = (low + high) // 2
                if covers(_widened(case, helper, middle * _GRID, until=until)):
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
    found = best(structs.replace(case, openings=(*case.openings, further)), cheapest=True)
    if found.holes:
        return
    times = tuple(stop.at for stop in found.stops if stop.opening == len(case.openings))
    yield Fix("helper", figures.VISIT_LASTS * len(times), more=None, times=times)


def _somebody_home(case: AbsenceProblem, holes: Sequence[Hole]) -> Iterator[Fix]:
    """Yield when somebody would have to be home: for one break, or from the first to the last."""
    start = math.floor(holes[0].reach / _GRID) * _GRID
    end = math.ceil((holes[-1].until - case.limit) / _GRID) * _GRID
    if len(holes) == 1 and end <= start:
        low, high = max(float(end), holes[0].after + _GRID), min(float(start), holes[0].until)
        yield Fix("home", max(0.0, high - low), low, once=True)
    elif end > start and not case.nights:
        yield Fix("home", float(end - start), float(start))


# --- In words -------------------------------------------------------------------------------------


def remedy_of(fix: Fix, settings: Settings, midnight: Minutes) -> Remedy:
    """Return a change in words; the case counts its times from the instant ``midnight``."""
    more = None if fix.more is None else fix.more / 100
    return Remedy(fix.code, _words(fix, settings, midnight), round(fix.minutes), more)


def advice_of(found: Sequence[Fix], settings: Settings, midnight: Minutes) -> str:
    """Return one line that somebody can follow: other times, somebody to come, or a pad."""

    def words(codes: tuple[RemedyCode, ...]) -> Iterator[str]:
        chosen = next((fix for fix in found if fix.code in codes), None)
        if chosen is not None:
            yield "a pad for now" if chosen.code == "pad" else _words(chosen, settings, midnight)

    few = any(fix.code == "helper" and len(fix.times) <= _FEW for fix in found)
    offers = [
        *words(("back", "leave", "hours")),
        *words(("helper",) if few else ("home",)),
        *words(("pad",)),
    ]
    return ", or ".join(offers)


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
        case "home" if fix.once and not fix.minutes:
            return f"somebody home for a break at {clock(fix.at)}"
        case "home" if fix.once:
            times = f"{clock(fix.at)} and {clock(fix.at + fix.minutes)}"
            return f"somebody home for a break between {times}"
        case "home":
            return f"somebody home from {clock(fix.at)} to {clock(fix.at + fix.minutes)}"
        case "helper":
            return f"one more helper at {' and '.join(clock(at) for at in fix.times)}"
        case _:
            return (
                "a pad as a stop-gap, bed at one end and pad at the other: it teaches that "
                "indoors is allowed, so end it soon"
            )
