"""When stool comes indoors: it becomes ready, and is then held for a while.

Two things make stool ready: a meal, some time after it (or not at all: not every meal brings one),
and the hours at which this dog goes anyway, as its earlier days show. The more days there are, the
more its hours count. An outing without stool says that none was ready, or that the dog forgot it
outside: what was ready and missed has been held for a while already, and comes soon. Asleep a dog
holds stool for much longer than awake, so that a nap counts for a share of its minutes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
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
_MISSED_WITHIN: Final = 120
"""Minutes before an outing within which stool was ready that it may have missed."""
_LONGEST: Final = 2 * _DAY
"""Minutes without an outing after which the hours tell nothing more."""
_COARSE: Final = 1e-3
"""Medians that weigh less are left out of a curve."""
_SLICE: Final = 15
"""Minutes of the clock that share one rate."""
_RARE: Final = 1e-7
"""Stools a minute that are too few to be counted: over a whole day one in seven thousand."""

Sleeps = Sequence[tuple[Minutes, Minutes]]
"""From when to when a dog has slept, in epoch minutes."""


def asleep_within(sleeps: Sleeps, start: Minutes, end: Minutes) -> float:
    """Return how many of the minutes from ``start`` to ``end`` were slept."""
    asleep = 0.0
    for slept, woke in sleeps:
        if woke > start and slept < end:
            asleep += min(end, woke) - max(start, slept)
    return asleep


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
        sleeps: Sleeps = (),
    ) -> float:
        """Return the chance that stool has come indoors by ``at``, in epoch minutes.

        ``meals`` are those that wait, each with the last outing without stool since; ``since`` is
        the last outing, waking or stool, ``stool`` the last stool.
        """
        none = 1.0
        for meal, bare in meals:
            none *= 1 - self.after_meal(meal, bare, at, sleeps)
        days = self.hours.days
        share = days / (days + priors.HOURS_TRUSTED_AFTER)
        by_hours = 1 - self.by_hours(since, stool, at, sleeps) if share else 1.0
        return 1 - math.pow(none, 1 - share) * math.pow(by_hours, share)

    def after_meal(self, meal: Minutes, bare: Minutes, at: Minutes, sleeps: Sleeps = ()) -> float:
        """Return the chance that a meal's stool comes indoors by ``at``, after an outing at
        ``bare`` (the meal itself: none) that brought no stool."""
        last = meal + _LAST
        bare = min(bare, last)
        at = min(max(at, bare), last)
        came = kept = 0.0
        for middle, share in self._ready_within(meal, meal, bare):
            gone = self._gives_way(middle, bare, sleeps)
            kept += share * (1 - gone)
            came += share * (self._gives_way(middle, at, sleeps) - gone)
        came, kept = priors.STOOL_MISSED * came, priors.STOOL_MISSED * kept
        for middle, share in self._ready_within(meal, bare, at):
            came += share * self._gives_way(middle, at, sleeps)
        later = 1 - self._becomes_ready.height(bare - meal)
        return self.some * came / (1 - self.some + self.some * (later + kept))

    def _ready_within(
        self, meal: Minutes, start: Minutes, end: Minutes
    ) -> Iterator[tuple[Minutes, float]]:
        """Yield the middle of each step from ``start`` to ``end``, and the share of the stools
        after ``meal`` that become ready within it."""
        ready = self._becomes_ready
        by_start = ready.height(start - meal)
        while start < end:
            step = min(start + _GRID, end)
            by_step = ready.height(step - meal)
            yield (start + step) / 2, by_step - by_start
            start, by_start = step, by_step

    def by_hours(
        self, since: Minutes, stool: Minutes | None, at: Minutes, sleeps: Sleeps = ()
    ) -> float:
        """Return the chance that stool comes indoors between ``since`` and ``at``, by the dog's
        hours.

        Soon after a ``stool`` there is little for the next one. All that became ready since counts,
        slice by slice of the clock, so that the chance never falls while nobody goes out; what two
        days without an outing would add is left out. Of what was ready before ``since`` counts what
        may have been missed.
        """
        at = min(max(at, since), since + _LONGEST)
        expected, start = 0.0, since - _MISSED_WITHIN
        if stool is not None:
            start = max(start, min(stool, since))
        while start < at:
            end = min((start // _SLICE + 1) * _SLICE, at)
            if start < since:
                end = min(end, since)
            middle = (start + end) / 2
            rate = self._rate(int(middle % _DAY // _SLICE))
            if rate > _RARE:
                if stool is not None:
                    rate *= 1 - math.exp(min(0.0, stool - middle) / priors.STOOLS_APART)
                gone = self._gives_way(middle, at, sleeps)
                if start < since:
                    gone = priors.STOOL_MISSED * (gone - self._gives_way(middle, since, sleeps))
                expected += rate * (end - start) * gone
            start = end
        return 1 - math.exp(-expected)

    def _gives_way(self, ready: Minutes, at: Minutes, sleeps: Sleeps) -> float:
        """Return the chance that stool that was ``ready`` is not held up to ``at``."""
        held = at - ready - (1 - priors.STOOL_SLEEP_SHARE) * asleep_within(sleeps, ready, at)
        return self._given_way.height(held)

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
