"""90 % ranges over resampled dogs: the same dogs for every way, so that differences are paired."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from statistics import fmean
from typing import NamedTuple

RESAMPLED = 400


class Ranged(NamedTuple):
    """A figure with its 90 % range."""

    value: float
    low: float
    high: float

    def words(self, digits: int = 2, sign: str = "") -> str:
        """Return it as ``1.23 (1.10-1.40)``."""
        value, low, high = (f"{one:{sign}.{digits}f}" for one in self)
        return f"{value} ({low}{' ' if sign else '-'}{high})"


def ranged(many: int, statistic: Callable[[Sequence[int]], float]) -> Ranged:
    """Return a statistic of ``many`` dogs, given by their places, with its range."""
    rng = Random(1)
    found = sorted(statistic(rng.choices(range(many), k=many)) for _ in range(RESAMPLED))
    return Ranged(statistic(range(many)), found[RESAMPLED // 20], found[-1 - RESAMPLED // 20])


def mean_of(values: Sequence[float]) -> Ranged:
    """Return the mean of one value for each dog."""
    return ranged(len(values), lambda places: fmean(values[place] for place in places))


def ratio_of(parts: Sequence[float], wholes: Sequence[float]) -> Ranged:
    """Return the ratio of two sums over dogs; 0 where nothing was predicted."""

    def ratio(places: Sequence[int]) -> float:
        whole = sum(wholes[place] for place in places)
        return sum(parts[place] for place in places) / whole if whole else 0.0

    return ranged(len(parts), ratio)
