"""Curves of a waiting time drawn from the log alone, with no model behind them.

A waiting time is often seen only in part: the dog went out in time ("holds at least"), or a wet
floor was found ("some time between"). Turnbull's curve takes all of them together; without spans it
is Kaplan and Meier's. Times are minutes here, but any one unit will do.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate, pairwise
from typing import Self

from msgspec import Struct

HALF = 0.5 + 1e-9  # rounding must not move a median
ROUNDS_MOST = 500
SURPLUS_LEFT = 1e-8  # of one unit of log-likelihood, for each observation
MASS_LEAST = 1e-9  # a smaller one is rounding, not mass
SHARE_LEAST = 1e-6  # of a convex-minorant step; below it the plain step stands
TINY = 1e-12  # a chance that rounding took to nothing


class CensoredTime(Struct, frozen=True):
    """What one stretch of the log says about a waiting time T, in minutes.

    ``high`` infinite: T is more than ``low``. ``low == high``: T is exactly that. Otherwise T lies
    in (low, high]. ``weight`` from 0 to 1 lets older days count less. Raises ValueError for NaN, an
    infinite or negative ``low``, ``high`` under ``low``, or a weight out of range.
    """

    low: float
    high: float = math.inf
    weight: float = 1.0

    def __post_init__(self) -> None:
        """Refuse what no log can say; NaN fails every comparison and is refused with it."""
        if not (0 <= self.low <= self.high and self.low < math.inf and 0 <= self.weight <= 1):
            raise ValueError(f"not a waiting time: {self}")

    @classmethod
    def at_least(cls, low: float, weight: float = 1.0) -> Self:
        """Return "longer than ``low``": it went out in time."""
        return cls(low, math.inf, weight)

    @classmethod
    def exactly(cls, time: float, weight: float = 1.0) -> Self:
        """Return "at ``time``": somebody saw it."""
        return cls(time, time, weight)

    @property
    def exact(self) -> bool:
        """Say whether the waiting time itself was seen."""
        return self.low == self.high

    @property
    def ended(self) -> bool:
        """Say whether the wait came to its end: seen, or known to lie in a span."""
        return self.high < math.inf


class TurnbullInterval(Struct, frozen=True):
    """A stretch (low, high] in which Turnbull's curve drops by ``mass``, to ``survival``.

    Where in the stretch it drops cannot be known. ``low == high`` is an exact time; under the
    closed convention ``low`` itself belongs to the stretch.
    """

    low: float
    high: float
    mass: float
    survival: float


class Turnbull(Struct, frozen=True):
    """Turnbull's curve: its masses, earliest first, the log-likelihood and the rounds it took."""

    masses: tuple[TurnbullInterval, ...]
    log_likelihood: float
    rounds: int

    def survival(self, time: float) -> float:
        """Return the share still waiting after ``time``, the highest that the data allow."""
        passed = bisect_right(self.masses, time, key=lambda mass: mass.high)
        return self.masses[passed - 1].survival if passed else 1.0

    @property
    def median(self) -> tuple[float, float] | None:
        """Return the stretch in which the curve comes down to a half or less, None if never."""
        half = (mass for mass in self.masses if mass.survival <= HALF)
        reached = next(half, None)
        return None if reached is None or math.isinf(reached.high) else (reached.low, reached.high)


# Where an end of a span lies: its value, then whether it lies just after it, then low before high.
_End = tuple[float, bool, bool]


def _ends(seen: CensoredTime, *, closed: bool) -> tuple[_End, _End]:
    """Return both ends of a span in the order in which Turnbull's construction walks them."""
    just_after = not (closed or seen.exact)
    return (seen.low, just_after, False), (seen.high, False, True)


def turnbull_intervals(
    observations: Iterable[CensoredTime], *, closed: bool = False
) -> tuple[CensoredTime, ...]:
    """Return the stretches that can carry mass: a low end followed at once by a high end.

    Source: Turnbull, J R Stat Soc B 1976;38:290-295 (from memory).
    """
    ends = {end for seen in observations for end in _ends(seen, closed=closed)}
    return tuple(
        CensoredTime(low[0], high[0])
        for low, high in pairwise(sorted(ends))
        if not low[2] and high[2]
    )


def turnbull(observations: Iterable[CensoredTime], *, closed: bool = False) -> Turnbull:
    """Return the most likely curve from exact times, spans and holds cut short together.

    Spans are (low, high], or [low, high] when ``closed``. Self-consistency steps alternate with
    convex-minorant steps until no shift of mass can raise the log-likelihood by more than
    ``SURPLUS_LEFT`` an observation. Weights count as numbers of observations. Source: Turnbull,
    J R Stat Soc B 1976;38:290-295 (from memory).
    """
    counted: dict[CensoredTime, float] = defaultdict(float)
    for seen in observations:
        if seen.weight > 0:
            counted[CensoredTime(seen.low, seen.high)] += seen.weight
    stretches = turnbull_intervals(counted, closed=closed)
    if not stretches:
        return Turnbull((), 0.0, 0)
    reach = _reach(counted, stretches, closed=closed)
    masses = [1 / len(stretches)] * len(stretches)
    surplus, rounds = _surplus(masses, reach), 0
    while max(surplus) > 1 + SURPLUS_LEFT and rounds < ROUNDS_MOST:
        step = [mass * wanted for mass, wanted in zip(masses, surplus, strict=True)]
        masses = _pooled(step, reach)
        surplus, rounds = _surplus(masses, reach), rounds + 1
    left = reversed(tuple(accumulate(reversed((*masses[1:], 0.0)))))
    return Turnbull(
        tuple(
            TurnbullInterval(place.low, place.high, mass, after)
            for place, mass, after in zip(stretches, masses, left, strict=True)
            if mass > MASS_LEAST
        ),
        _likelihood(_running(masses), reach),
        rounds,
    )


_Reach = tuple[tuple[int, int, float], ...]


def _reach(
    counted: Mapping[CensoredTime, float], stretches: Sequence[CensoredTime], *, closed: bool
) -> _Reach:
    """Return for each observation the stretches inside it, as a range of indices, and its weight.

    Stretches never overlap, so those inside one observation are neighbours.
    """
    lows, highs = zip(*(_ends(stretch, closed=closed) for stretch in stretches), strict=True)
    return tuple(
        (bisect_left(lows, low), bisect_right(highs, high), weight)
        for seen, weight in counted.items()
        for low, high in (_ends(seen, closed=closed),)
    )


def _running(masses: Sequence[float]) -> list[float]:
    """Return the mass below each stretch and, last, all of it: exactly one."""
    return [0.0, *accumulate(masses[:-1]), 1.0]


def _chances(below: Sequence[float], reach: _Reach) -> list[float]:
    """Return the chance of each observation: the mass inside it, a difference of running sums."""
    return [below[last] - below[first] for first, last, _ in reach]


def _likelihood(below: Sequence[float], reach: _Reach) -> float:
    """Return the log-likelihood of running sums, minus infinity where one cannot be."""
    chances = _chances(below, reach)
    if min(chances) <= 0:
        return -math.inf
    return math.fsum(w * math.log(c) for c, (_, _, w) in zip(chances, reach, strict=True))


def _surplus(masses: Sequence[float], reach: _Reach) -> list[float]:
    """Return how much each stretch is wanted, relative to the mass that it has.

    One self-consistency step multiplies each mass by its surplus. At the most likely curve none is
    wanted more than once over, and the log-likelihood lies no further from its top than the largest
    surplus less one, times the weight of all observations.
    """
    chances = _chances(_running(masses), reach)
    turns = [0.0] * (len(masses) + 1)
    for chance, (first, last, weight) in zip(chances, reach, strict=True):
        turns[first] += weight / max(chance, TINY)
        turns[last] -= weight / max(chance, TINY)
    total = math.fsum(weight for _, _, weight in reach)
    return [wanted / total for wanted in accumulate(turns[:-1])]


def _pooled(masses: Sequence[float], reach: _Reach) -> list[float]:
    """Return the masses after one convex-minorant step, taken as far as it raises the likelihood.

    A Newton step for the running sums with the curvature's diagonal alone, made to rise again by
    pooling neighbours; unlike self-consistency it can end a mass or revive it at once. Source:
    Wellner and Zhan, J Am Stat Assoc 1997;92:945-959 (from memory).
    """
    below = _running(masses)
    slope, bend = [0.0] * len(below), [TINY] * len(below)
    for chance, (first, last, weight) in zip(_chances(below, reach), reach, strict=True):
        pull = weight / max(chance, TINY)
        slope[last] += pull
        slope[first] -= pull
        bend[last] += pull * pull / weight
        bend[first] += pull * pull / weight
    wanted = [b + s / c for b, s, c in zip(below, slope, bend, strict=True)][1:-1]
    target = [0.0, *(min(1.0, max(0.0, at)) for at in _rising(wanted, bend[1:-1])), 1.0]
    start, share = _likelihood(below, reach), 1.0
    while share > SHARE_LEAST:
        moved = [b + share * (t - b) for b, t in zip(below, target, strict=True)]
        if _likelihood(moved, reach) > start:
            return [max(0.0, after - before) for before, after in pairwise(moved)]
        share /= 2
    return list(masses)


def _rising(values: Sequence[float], weights: Sequence[float]) -> list[float]:
    """Return the closest values that never fall, by pooling neighbours that do."""
    pools: list[tuple[float, float, int]] = []
    for place, wanted in enumerate(values):
        level, weight, size = wanted, weights[place], 1
        while pools and pools[-1][0] >= level:
            before, heavier, more = pools.pop()
            level = (before * heavier + level * weight) / (heavier + weight)
            weight, size = weight + heavier, size + more
        pools.append((level, weight, size))
    return [level for level, _, size in pools for _ in range(size)]
