"""Circular statistics against published examples and against another program."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import j0, j1
from scipy.stats import circmean, circstd

from pottyboard.core.statistics.circular import (
    DAY,
    TURN,
    Directions,
    clock_angle,
    clock_gap,
    clock_times,
    directions,
    median_direction,
)

ZAR = [math.radians(angle) for angle in (45, 55, 81, 96, 110, 117, 132, 154)]
"""Zar, Biostatistical Analysis, 5th edition 2010, example 26.4, in degrees: read in the data of the
library pycircstat2 (data/zar/D1.csv); the results below, in its tests, and recalculated."""

FISHER = [
    int(clock[:2]) * 60.0 + int(clock[3:])
    for line in (Path(__file__).parent / "data" / "fisher_b1.txt").read_text("utf-8").splitlines()
    if not line.startswith("#")
    for clock in line.split()
]
"""254 arrival times at an intensive care unit: Fisher, Statistical Analysis of Circular Data, 1993,
data set B1 (read; the file names where)."""


def degrees(angle: float | None) -> float:
    assert angle is not None
    return math.degrees(angle)


# --- Zar's examples -------------------------------------------------------------------------------


def test_mean_and_length() -> None:
    # Example 26.4: 99 degrees, r 0.82522 (read in a second source); 98.988 and 0.825218 recomputed.
    found = directions(ZAR)
    assert round(degrees(found.mean), 3) == 98.988
    assert round(found.length, 6) == 0.825218


def test_deviations() -> None:
    # Example 26.4: 34 and 36 degrees (read in a second source); 33.876 and 35.515 recalculated.
    found = directions(ZAR)
    assert round(math.degrees(found.deviation), 3) == 33.876
    assert round(math.degrees(found.standard_deviation), 3) == 35.515


def test_limits_of_the_mean() -> None:
    # Section 26.7: 68 to 130 degrees (read in a second source); 68.05 and 129.92 from the formula
    # for r up to 0.9 (recalculated).
    found = directions(ZAR)
    reach = degrees(found.reach())
    assert round(degrees(found.mean) - reach, 2) == 68.05
    assert round(degrees(found.mean) + reach, 2) == 129.92


def test_counts_in_twelve_parts() -> None:
    # Example 26.5: 162 degrees, r 0.55064 (read in a second source); the counts in parts of 30
    # degrees, by their middles, are from memory, and give both.
    counts = {45: 6, 75: 9, 105: 13, 135: 15, 165: 22, 195: 17, 225: 12, 255: 8, 285: 3}
    found = directions(math.radians(m) for m, number in counts.items() for _ in range(number))
    assert found.number == 105
    assert round(degrees(found.mean)) == 162
    assert round(found.length, 5) == 0.55064


@pytest.mark.parametrize(("ring", "median"), [(ZAR, 103), (ZAR[1:], 110)])
def test_median(ring: list[float], median: float) -> None:
    # Section 26.6: 103 degrees of the eight, 110 without the first (read in a second source).
    assert degrees(median_direction(ring)) == pytest.approx(median)


def test_rayleigh() -> None:
    # Example 27.1: z 5.448, 0.001 < p < 0.002 (read in a second source); z 5.44787, n r 6.60174
    # and p 0.00185 recalculated.
    found = directions(ZAR)
    assert round(found.rayleigh_z, 5) == 5.44787
    assert round(found.number * found.length, 5) == 6.60174
    assert round(found.rayleigh_p, 5) == 0.00185


def test_three_directions() -> None:
    # 60, 120 and 230 degrees: mean sine 0.322, mean cosine -0.214, r 0.387 (bugsmapsandmath.com,
    # 2017-05-23, read); mean 123.64 degrees (calculated).
    found = directions(math.radians(angle) for angle in (60, 120, 230))
    assert found.mean is not None
    assert round(found.length * math.sin(found.mean), 3) == 0.322
    assert round(found.length * math.cos(found.mean), 3) == -0.214
    assert round(found.length, 3) == 0.387
    assert round(degrees(found.mean), 2) == 123.64


def test_two_hours_round_midnight() -> None:
    # 23:00 and 01:00: midnight, r = cos(15 degrees) (calculated from the formula).
    found = clock_times([23 * 60, 60])
    assert found.mean == 0
    assert round(found.length, 6) == 0.965926


# --- Against scipy --------------------------------------------------------------------------------


def test_arrival_times_agree_with_scipy() -> None:
    # scipy 1.14 or later as a reference implementation, on Fisher's data.
    assert len(FISHER) == 254
    found = clock_times(FISHER)
    assert found.mean == pytest.approx(circmean(FISHER, high=DAY, low=0), abs=1e-5)
    theirs = circstd(FISHER, high=DAY, low=0)
    ours = directions(map(clock_angle, FISHER)).standard_deviation * DAY / TURN
    assert ours == pytest.approx(theirs, abs=1e-9)
    assert found.length == pytest.approx(math.exp(-((theirs / DAY * TURN) ** 2) / 2), abs=1e-12)


@pytest.mark.parametrize("first", [1, 2, 5, 13, 40, 101])
def test_parts_of_the_arrival_times_agree_with_scipy(first: int) -> None:
    part = FISHER[first : 2 * first + 3]
    found = clock_times(part)
    assert found.mean is not None
    assert abs(clock_gap(found.mean, circmean(part, high=DAY, low=0))) < 1e-5


def test_the_median_arrival_is_the_least_far_from_all() -> None:
    median = clock_times(FISHER).median
    assert median is not None
    far = [sum(abs(clock_gap(m, at)) for m in FISHER) for at in np.arange(0, DAY, 0.5)]
    assert sum(abs(clock_gap(m, median)) for m in FISHER) == pytest.approx(min(far))


# --- Rayleigh's test against its exact distribution -----------------------------------------------


def exact_p(n: int, total: float) -> float:
    """Return the chance of a sum of ``n`` random unit vectors longer than ``total``.

    Kluyver's integral of 1905 (from memory), with scipy's Bessel functions and integration.
    """
    inside, _ = quad(lambda t: j1(total * t) * j0(t) ** n, 0, 400, limit=4000)
    return 1 - total * float(inside)


@pytest.mark.parametrize(
    ("n", "share"),
    [(n, share) for n in (5, 6, 8, 12) for share in (0.3, 0.5, 0.6, 0.7)] + [(5, 0.8), (30, 0.4)],
)
def test_rayleigh_agrees_with_the_exact_distribution(n: int, share: float) -> None:
    exact = exact_p(n, n * share)
    ours = Directions(n, 0.0, share).rayleigh_p
    assert ours == pytest.approx(exact, rel=0.16, abs=2e-4)


@pytest.mark.parametrize("kappa", [0.8, 3.0, 30.0])
def test_the_limits_hold_the_true_mean_about_as_often_as_they_say(kappa: float) -> None:
    # Simulated with numpy from von Mises' distribution: twenty directions, 2,000 times.
    random = np.random.default_rng(20)
    held = asked = 0
    for ring in random.vonmises(0, kappa, (2000, 20)):
        found = directions(ring.tolist())
        reach = found.reach()
        if reach is not None and found.mean is not None:
            asked += 1
            held += math.cos(found.mean) >= math.cos(reach)
    assert asked > 1000
    assert 0.93 < held / asked < 0.98
