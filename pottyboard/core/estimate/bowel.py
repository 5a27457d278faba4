"""When stool comes indoors: it becomes ready, and is then held for a while.

An outing without stool says that none was ready, so right after it the chance is small and rises
again with what may have become ready since. Two things make stool ready: a meal, some time after
it (or not at all: not every meal brings one), and the hours at which this dog goes anyway, as its
earlier days show. The more days there are, the more its hours count.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cached_property
from typing import Final

from msgspec import Struct

from pottyboard.core.model import priors
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.statistics.posterior import ConditionalSurvival, Posterior

_DAY: Final = 1440
_GRID: Final = 20
"""Minutes between the points of a curve; straight lines join them."""
_LAST: Final = 480
"""Minutes after a meal up to which its curves are worked out."""
_LONGEST: Final = 2 * _DAY
"""Minutes without an outing after which the hours tell nothing more."""
_COARSE: Final = 1e-3
"""Medians that weigh less are left out of a curve."""
_SLICE: Final = 15
"""Minutes of the clock that share one rate."""


class Hours(Struct, frozen=True):
    """The hours at which stool was ready on earlier days, and how much those days weigh.

    ``seen`` holds an instant (epoch minutes) and a weight for each stool; ``days`` is the weight of
    all days together. What is older weighs less.
    """

    seen: tuple[tuple[Minutes, float], ...] = ()
    days: float = 0.0

    def __add__(self, other: Hours) -> Hours:
        """Return both together."""
        return Hours(self.seen + other.seen, self.days + other.days)

    def a_day_older(self, keep: float) -> Hours:
        """Return the same after one more day, every weight times ``keep``."""
        seen = ((at, weight * keep) for at, weight in self.seen)
        kept = tuple((at, weight) for at, weight in seen if weight >= priors.HOURS_FORGOTTEN)
        return Hours(kept, (self.days + 1) * keep)


NO_HOURS: Final = Hours()


class Bowel(Struct, frozen=True, dict=True):
    """One dog's bowel: when a meal's stool is ``ready``, how long it is held, and its hours.

    ``some`` is the share of meals that bring a stool.
    """

    ready: Posterior
    stool_hold: Posterior
    some: float
    hours: Hours

    def comes_by(
        self,
        meals: Iterable[tuple[Minutes, Minutes]],
        since: Minutes,
        stool: Minutes | None,
        at: Minutes,
    ) -> float:
        """Return the chance that stool has come indoors by ``at``, in epoch minutes.

        ``meals`` are those that wait, each with the last instant at which none was ready; ``since``
        is the last instant at which none was ready by the clock, ``stool`` the last stool.
        """
        none = 1.0
        for meal, bare in meals:
            none *= 1 - self.after_meal(max(0.0, bare - meal), at - meal)
        days = self.hours.days
        share = days / (days + priors.HOURS_TRUSTED_AFTER)
        by_hours = 1 - self.by_hours(since, stool, at) if share else 1.0
        return 1 - math.pow(none, 1 - share) * math.pow(by_hours, share)

    def after_meal(self, bare: float, by: float) -> float:
        """Return the chance that a meal's stool comes indoors ``by`` minutes after it.

        None was ready ``bare`` minutes after it.
        """
        bare, by = min(bare, _LAST), min(by, _LAST)
        ready, gone = self._becomes_ready, self._given_way
        left, start, chance = 1 - ready.height(bare), bare, 0.0
        still = 1 - self.some + self.some * left
        while start < by:
            end = min(start + _GRID, by)
            after = 1 - ready.height(end)
            chance += (left - after) * gone.height(by - (start + end) / 2)
            left, start = after, end
        return self.some * chance / still

    def by_hours(self, since: Minutes, stool: Minutes | None, at: Minutes) -> float:
        """Return the chance that stool comes indoors by ``at`` that became ready after ``since``,
        by the dog's hours.

        Soon after a ``stool`` there is little for the next one. All that became ready since counts,
        slice by slice of the clock, so that the chance never falls while nobody goes out; what two
        days without an outing would add is left out.
        """
        at = min(at, since + _LONGEST)
        expected, start = 0.0, since
        while start < at:
            end = min((start // _SLICE + 1) * _SLICE, at)
            middle = (start + end) / 2
            rate = self._rate(int(middle % _DAY // _SLICE))
            if stool is not None:
                rate *= 1 - math.exp((stool - middle) / priors.STOOLS_APART)
            expected += rate * (end - start) * self._given_way.height(at - middle)
            start = end
        return 1 - math.exp(-expected)

    def _rate(self, place: int) -> float:
        """Return how many stools become ready in a minute, in that slice of the day."""
        known = self._rates.get(place)
        if known is None:
            width, seen = priors.HOURS_WIDTH, self.hours.seen
            level = 1 / (width * math.sqrt(2 * math.pi) * max(1.0, self.hours.days))
            middle, half = place * _SLICE + _SLICE // 2, _DAY / 2
            bells = [
                weight * math.exp(-0.5 * (((middle - at + half) % _DAY - half) / width) ** 2)
                for at, weight in seen
            ]
            known = self._rates[place] = level * sum(bells)
        return known

    @cached_property
    def _rates(self) -> dict[int, float]:
        """The rates that were asked for."""
        return {}

    @cached_property
    def _becomes_ready(self) -> _Curve:
        return _Curve(self.ready.conditional(least=_COARSE))

    @cached_property
    def _given_way(self) -> _Curve:
        return _Curve(self.stool_hold.conditional(least=_COARSE))


class _Curve:
    """The chance that a wait has ended, by straight lines between points worked out when asked."""

    __slots__ = ("_chances", "_known")

    def __init__(self, chances: ConditionalSurvival) -> None:
        self._chances = chances
        self._known: dict[int, float] = {}

    def height(self, minutes: float) -> float:
        """Return the chance by ``minutes``, those past the last point counted as it."""
        place = min(minutes, _LAST) / _GRID
        low = min(int(place), _LAST // _GRID - 1)
        start = self._at(low)
        return start + (self._at(low + 1) - start) * (place - low)

    def _at(self, place: int) -> float:
        chance = self._known.get(place)
        if chance is None:
            chance = self._known[place] = self._chances.chance_by(place * _GRID)
        return chance
