"""Directions on a circle, and times of the clock as such: 23:50 and 00:10 are neighbours.

Angles are in radians, counted from any zero; times of the clock in minutes of the day. The methods
are those of Zar, Biostatistical Analysis, 5th edition 2010, chapters 26 and 27, as carried by the
tests and pages of the library pycircstat2 (published).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable
from itertools import accumulate, pairwise

from msgspec import Struct

from pottyboard.core.statistics.proportion import CONFIDENCE, normal_quantile

TURN = math.tau
DAY = 1440.0
"""Minutes round the clock; on the two days a year that are longer or shorter, too."""

_NOWHERE = 1e-9
"""A mean vector no longer than this points nowhere: rounding alone makes one so long."""
LIMITS_FROM = 8
"""Directions from which the limits of a mean are good. Source: Zar, section 26.7, as carried by the
pages of pycircstat2 (published)."""
_CONCENTRATED = 0.9
"""Up to this length of the mean vector the one formula for its limits holds, beyond the other."""


class Directions(Struct, frozen=True):
    """What a number of directions have in common.

    ``mean`` is the mean direction in radians from 0 to a turn, None where they cancel out;
    ``length`` that of the mean vector (r): 1 where all are the same, 0 where they cancel out.
    """

    number: int
    mean: float | None
    length: float

    @property
    def deviation(self) -> float:
        """The angular deviation in radians, sqrt(2 (1 - r)): at most 1.41."""
        return math.sqrt(2 * max(0.0, 1 - self.length))

    @property
    def standard_deviation(self) -> float:
        """The circular standard deviation in radians, sqrt(-2 ln r): without bound."""
        return math.sqrt(-2 * math.log(self.length)) if self.length > 0 else math.inf

    def reach(self, confidence: float = CONFIDENCE) -> float | None:
        """Return how far to each side of the mean the true one may lie, in radians.

        None where so few or so scattered directions give the mean no limits. Approximate, and
        too narrow for fewer than :data:`LIMITS_FROM` directions. Raises ValueError for a confidence
        not between 0 and 1.
        """
        chi = normal_quantile(0.5 + _proper(confidence) / 2) ** 2
        n, total = self.number, self.number * self.length
        if self.mean is None or n < 2 or 4 * n <= chi:
            return None
        if self.length <= _CONCENTRATED:
            square = 2 * n * (2 * total**2 - n * chi) / (4 * n - chi)
        else:
            square = n**2 - (n**2 - total**2) * math.exp(chi / n)
        return math.acos(min(1.0, math.sqrt(square) / total)) if square >= 0 else None

    @property
    def rayleigh_z(self) -> float:
        """The statistic of Rayleigh's test, n r²."""
        return self.number * self.length**2

    @property
    def rayleigh_p(self) -> float:
        """The chance of a mean vector this long if no direction is preferred: Rayleigh's test.

        An approximation that is good from five directions on (simulated: at a chance of 0.01 within
        a seventh, and on the safe side further out).
        """
        n, total = self.number, self.number * self.length
        return min(1.0, math.exp(math.sqrt(1 + 4 * n + 4 * (n**2 - total**2)) - (1 + 2 * n)))


def directions(angles: Iterable[float]) -> Directions:
    """Return what these directions, in radians, have in common; raise ValueError for none."""
    angles = list(angles)
    if not angles:
        raise ValueError("no directions: nothing to take the mean of")
    cosine = math.fsum(map(math.cos, angles)) / len(angles)
    sine = math.fsum(map(math.sin, angles)) / len(angles)
    length = math.hypot(cosine, sine)
    mean = None if length <= _NOWHERE else on_circle(math.atan2(sine, cosine))
    return Directions(len(angles), mean, min(1.0, length))


def median_direction(angles: Iterable[float]) -> float | None:
    """Return the median direction in radians: the least far from all of them, on the circle.

    Of an odd number it is one of them, of an even number half way between two neighbours; where
    several are as near, their mean; None where those cancel out. Raises ValueError for none.
    """
    ring = sorted(map(on_circle, angles))
    if not ring:
        raise ValueError("no directions: nothing to take the median of")
    n = len(ring)
    twice = [*ring, *(angle + TURN for angle in ring)]
    between = [(one + other) / 2 for one, other in pairwise(twice[: n + 1])]
    candidates = ring if n % 2 else between
    sums = [0.0, *accumulate(twice)]
    far = [_distance(twice, sums, n, candidate) for candidate in candidates]
    least = min(far)
    nearest = [c for c, away in zip(candidates, far, strict=True) if away - least < 1e-9 * n]
    return directions(nearest).mean


def _distance(twice: list[float], sums: list[float], n: int, at: float) -> float:
    """Return how far all directions are from ``at``, given them sorted twice round, and the sums.

    Those within half a turn ahead count forwards, the rest backwards.
    """
    first = bisect_right(twice, at)
    middle = bisect_right(twice, at + TURN / 2)
    last = first + n
    ahead = sums[middle] - sums[first] - (middle - first) * at
    return ahead + (last - middle) * (at + TURN) - (sums[last] - sums[middle])


def on_circle(angle: float) -> float:
    """Return an angle as one from 0 up to a turn."""
    angle %= TURN
    return 0.0 if angle == TURN else angle  # what is left of a tiny negative one


# --- Times of the clock ---------------------------------------------------------------------------


class ClockTimes(Struct, frozen=True):
    """What a number of clock times have in common, in minutes of the day.

    ``mean`` and ``median`` are None where the times cancel out; ``length`` is r; ``spread`` the
    angular deviation; ``limits`` hold the true mean (95 %; the first may be the later on the clock,
    over midnight), None where the times are too few or too scattered.
    """

    number: int
    mean: float | None
    median: float | None
    length: float
    spread: float
    limits: tuple[float, float] | None


def clock_times(minutes: Iterable[float]) -> ClockTimes:
    """Return what these clock times, in minutes of the day, have in common.

    Raises ValueError for none.
    """
    angles = [clock_angle(minute) for minute in minutes]
    found, median = directions(angles), median_direction(angles)
    reach = found.reach()
    limits = None
    if found.mean is not None and reach is not None:
        limits = clock_minute(found.mean - reach), clock_minute(found.mean + reach)
    return ClockTimes(
        found.number,
        None if found.mean is None else clock_minute(found.mean),
        None if median is None else clock_minute(median),
        found.length,
        found.deviation * DAY / TURN,
        limits,
    )


def clock_angle(minute: float) -> float:
    """Return a minute of the day as an angle."""
    return minute / DAY * TURN


def clock_minute(angle: float) -> float:
    """Return an angle as a minute of the day, from 0 to 1440, to the millionth."""
    return round(angle / TURN * DAY, 6) % DAY


def clock_gap(minute: float, since: float) -> float:
    """Return how much later ``minute`` is than ``since``, the shorter way round: -720 to 720."""
    return (minute - since + DAY / 2) % DAY - DAY / 2


def _proper(confidence: float) -> float:
    if not 0 < confidence < 1:
        raise ValueError(f"a confidence of {confidence} cannot be: give one between 0 and 1")
    return confidence
