"""The likeliest Weibull curve of a waiting time, with its shape estimated too.

The board itself keeps the shape fixed (:mod:`pottyboard.core.statistics.belief` says why); this fit
shows from a long log, or from simulated dogs, which shape to fix, and lets the model be checked
from outside.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from pottyboard.core.statistics.survival import Observed

MOST_STEPS = 200
LONGEST_STEP = 0.5  # on the logarithms: no step changes the median or the shape by more than half
ARRIVED = 1e-10  # log-likelihood still to gain
MOST_SHAPE = 50.0  # a sharper curve is a step: all accidents at one time
UNSETTLED = "the observations do not settle a curve"
MOST_ERROR = 3.0  # on the logarithms: a number known to a factor of twenty is not known


@dataclass(frozen=True, slots=True)
class Fit:
    """The likeliest median (minutes) and shape, their standard errors, and the log-likelihood."""

    median: float
    shape: float
    median_error: float
    shape_error: float
    log_likelihood: float


@dataclass(frozen=True, slots=True)
class _Slope:
    """The log-likelihood at one point, with both derivatives by log median and log shape."""

    value: float
    by_median: float
    by_shape: float
    median_twice: float
    both: float
    shape_twice: float


def fit(observations: Iterable[Observed]) -> Fit:
    """Return the likeliest Weibull curve by Newton's method, as under a flat prior.

    P(T > t) = 2 ** -((t / median) ** shape); weights count as numbers of observations. Raises
    ValueError where the observations do not settle both numbers: without at least two accidents at
    different times, or when the likeliest curve is a step.
    """
    seen = [one for one in observations if one.weight > 0]
    ended = [one for one in seen if one.ended]
    if len({(one.low, one.high) for one in ended}) < 2:
        raise ValueError("a fit needs two accidents at different times")
    if any(one.exact and one.low <= 0 for one in ended):
        raise ValueError("a fit needs waiting times over zero")
    log_median = math.log(math.fsum((one.low + one.high) / 2 for one in ended) / len(ended))
    log_shape = math.log(2.0)
    here = _slope(seen, log_median, log_shape)
    for _ in range(MOST_STEPS):
        across, up = _newton(here)
        gain = across * here.by_median + up * here.by_shape
        if gain < ARRIVED:
            return _fitted(here, log_median, log_shape)
        share = min(1.0, LONGEST_STEP / max(abs(across), abs(up)))
        there = _slope(seen, log_median + share * across, log_shape + share * up)
        while not there.value > here.value and share > ARRIVED:
            share /= 2
            there = _slope(seen, log_median + share * across, log_shape + share * up)
        log_median, log_shape, here = log_median + share * across, log_shape + share * up, there
        if not -math.log(MOST_SHAPE) < log_shape < math.log(MOST_SHAPE):
            break
    raise ValueError(UNSETTLED)


def _newton(slope: _Slope) -> tuple[float, float]:
    """Return the step to the top, on the least damped curvature that has one."""
    damping = 0.0
    while True:
        a, c = damping - slope.median_twice, damping - slope.shape_twice
        determinant = a * c - slope.both**2
        if a > 0 and determinant > 0:
            across = (c * slope.by_median + slope.both * slope.by_shape) / determinant
            up = (slope.both * slope.by_median + a * slope.by_shape) / determinant
            return across, up
        damping = max(2 * damping, 1e-3 * (abs(a) + abs(c) + abs(slope.both)), 1e-6)


def _fitted(slope: _Slope, log_median: float, log_shape: float) -> Fit:
    """Return the fit at the top, its errors from the observed information.

    Raises ValueError where the top is flat: the likelihood only creeps towards a step.
    """
    determinant = slope.median_twice * slope.shape_twice - slope.both**2
    if determinant > 0 and slope.median_twice < 0:
        across = math.sqrt(-slope.shape_twice / determinant)
        up = math.sqrt(-slope.median_twice / determinant)
        if max(across, up) < MOST_ERROR:
            median, shape = math.exp(log_median), math.exp(log_shape)
            return Fit(median, shape, median * across, shape * up, slope.value)
    raise ValueError(UNSETTLED)


def _slope(observations: Iterable[Observed], log_median: float, log_shape: float) -> _Slope:
    """Return the log-likelihood and its derivatives, each observation in closed form."""
    shape = math.exp(log_shape)
    sums = [0.0] * 6
    for seen in observations:
        hazard, z = _hazard(seen.low, log_median, shape)
        terms = _of_hazard(hazard, z, shape)
        if seen.exact:
            terms = [-term for term in terms]
            terms[0] += log_shape + math.log(hazard) - math.log(seen.low)
            terms[1] -= shape
            terms[2] += 1 + z
            terms[4] -= shape
            terms[5] += z
        elif seen.ended:
            beyond = _of_hazard(*_hazard(seen.high, log_median, shape), shape)
            width = [b - a for a, b in zip(terms, beyond, strict=True)]
            terms = [a + b for a, b in zip([-t for t in terms], _of_span(width), strict=True)]
        else:
            terms = [-term for term in terms]
        for place, term in enumerate(terms):
            sums[place] += seen.weight * term
    return _Slope(*sums)


def _hazard(time: float, log_median: float, shape: float) -> tuple[float, float]:
    """Return the cumulative hazard at ``time`` and z = shape * log(time / median)."""
    if time <= 0:
        return 0.0, 0.0
    # Far beyond any likely curve the hazard is held where its exponential stays finite.
    z = min(shape * (math.log(time) - log_median), 200.0)
    return math.log(2) * math.exp(z), z


def _of_hazard(hazard: float, z: float, shape: float) -> list[float]:
    """Return the cumulative hazard with its derivatives, in the order of :class:`_Slope`."""
    return [
        hazard,
        -shape * hazard,
        z * hazard,
        shape**2 * hazard,
        -shape * hazard * (1 + z),
        z * hazard * (1 + z),
    ]


def _of_span(width: list[float]) -> list[float]:
    """Return log(1 - exp(-width)) with its derivatives, given those of ``width``."""
    value, by_median, by_shape, median_twice, both, shape_twice = width
    slope = 1 / math.expm1(value) if value < 500 else 0.0
    bend = -slope * (1 + slope)
    return [
        math.log(-math.expm1(-value)),
        slope * by_median,
        slope * by_shape,
        slope * median_twice + bend * by_median**2,
        slope * both + bend * by_median * by_shape,
        slope * shape_twice + bend * by_shape**2,
    ]
