"""Turnbull's curve against a published study, worked cases and another program."""

from __future__ import annotations

import math
import random

import pytest
from lifelines.fitters.npmle import npmle

from pottyboard.core.statistics.survival import CensoredTime, turnbull, turnbull_intervals

# Breast retraction, months to it as (L, R], "." for not by then: Finkelstein and Wolfe, Biometrics
# 1985;41:845-854. The data were read in the SAS/STAT sample library, example ICLFTEX2 (published).
RADIATION = """
    45 . | 25 37 | 37 . | 6 10 | 46 . | 0 5 | 0 7 | 26 40 | 18 . | 46 . | 46 . | 24 . | 46 . | 27 34
    36 . | 7 16 | 36 44 | 5 11 | 17 . | 46 . | 19 35 | 7 14 | 36 48 | 17 25 | 37 44 | 37 . | 24 .
    0 8 | 40 . | 32 . | 4 11 | 17 25 | 33 . | 15 . | 46 . | 19 26 | 11 15 | 11 18 | 37 . | 22 .
    38 . | 34 . | 46 . | 5 12 | 36 . | 46 .
"""
RADIATION_AND_CHEMOTHERAPY = """
    8 12 | 0 5 | 30 34 | 0 22 | 5 8 | 13 . | 24 31 | 12 20 | 10 17 | 17 27 | 11 . | 8 21 | 17 23
    33 40 | 4 9 | 24 30 | 31 . | 11 . | 16 24 | 13 39 | 14 19 | 13 . | 19 32 | 4 8 | 11 13 | 34 .
    34 . | 16 20 | 13 . | 30 36 | 18 25 | 16 24 | 18 24 | 17 26 | 35 . | 16 60 | 32 . | 15 22
    35 39 | 23 . | 11 17 | 21 . | 44 48 | 22 32 | 11 20 | 14 17 | 10 35 | 48 .
"""


def read(months: str) -> list[CensoredTime]:
    pairs = [pair.split() for line in months.strip().splitlines() for pair in line.split("|")]
    return [
        CensoredTime(float(low), math.inf if high == "." else float(high)) for low, high in pairs
    ]


def rounded(observations: list[CensoredTime]) -> dict[tuple[float, float], float]:
    return {(m.low, m.high): round(m.mass, 4) for m in turnbull(observations).masses}


def test_radiation_alone() -> None:
    # The masses as printed by Fay and Shaw, J Stat Softw 2010;36(2) (from memory; an independent EM
    # on the data above gives the same eight).
    data = read(RADIATION)
    assert (len(data), sum(not seen.ended for seen in data)) == (46, 25)
    assert rounded(data) == {
        (4, 5): 0.0463,
        (6, 7): 0.0334,
        (7, 8): 0.0887,
        (11, 12): 0.0708,
        (24, 25): 0.0926,
        (33, 34): 0.0818,
        (38, 40): 0.1209,
        (46, 48): 0.4656,
    }


def test_radiation_and_chemotherapy() -> None:
    # Likewise Fay and Shaw 2010 (from memory; the independent EM gives the same eleven). The last
    # stretch exists only because "48 ." reads as more than 48.
    data = read(RADIATION_AND_CHEMOTHERAPY)
    assert (len(data), sum(not seen.ended for seen in data)) == (48, 13)
    assert rounded(data) == {
        (4, 5): 0.0433,
        (5, 8): 0.0433,
        (11, 12): 0.0692,
        (16, 17): 0.1454,
        (18, 19): 0.1411,
        (19, 20): 0.1157,
        (24, 25): 0.0999,
        (30, 31): 0.0709,
        (35, 36): 0.1608,
        (44, 48): 0.0552,
        (48, 60): 0.0552,
    }


def test_what_is_left_after_each_stretch() -> None:
    # Summed from the masses of the radiation arm (calculated).
    left = [round(mass.survival, 4) for mass in turnbull(read(RADIATION)).masses]
    assert left == [0.9537, 0.9203, 0.8316, 0.7609, 0.6682, 0.5864, 0.4656, 0]


def test_log_likelihoods() -> None:
    # By an independent EM run to convergence on the data above (calculated).
    assert turnbull(read(RADIATION)).log_likelihood == pytest.approx(-58.0600, abs=5e-5)
    both = turnbull(read(RADIATION_AND_CHEMOTHERAPY))
    assert both.log_likelihood == pytest.approx(-65.6370, abs=5e-5)


def test_small_case_with_closed_spans() -> None:
    # Turnbull's small case as it stands in lifelines' tests, test_npmle.py, closed spans (read).
    ends = [(1, 7), (8, 8), (8, 10), (7, 16), (7, 14), (37, 44)]
    beyond = [17, 46, 46, 45]
    data = [CensoredTime(*pair) for pair in ends] + [CensoredTime.at_least(low) for low in beyond]
    curve = turnbull(data, closed=True)
    assert [round(mass.mass, 5) for mass in curve.masses] == [0.16667, 0.33333, 0.125, 0.375]
    assert [(m.low, m.high) for m in curve.masses[:3]] == [(7, 7), (8, 8), (37, 44)]
    assert math.isinf(curve.masses[3].high)


def test_innermost_stretches_of_closed_spans() -> None:
    # The worked case in the same file of lifelines' tests (read).
    data = [CensoredTime(*pair) for pair in [(0, 1), (4, 6), (2, 6), (0, 3), (2, 4), (5, 7)]]
    places = [(place.low, place.high) for place in turnbull_intervals(data, closed=True)]
    assert places == [(0, 1), (2, 3), (4, 4), (5, 6)]


@pytest.mark.parametrize("seed", range(6))
def test_agrees_with_lifelines_on_random_logs(seed: int) -> None:
    # lifelines 0.30, whose spans are closed; its EM stops early, so ours may be likelier.
    rng = random.Random(seed)
    data = []
    for _ in range(40):
        hold, check = rng.weibullvariate(20, 2.5), rng.randint(2, 9)
        low = int(hold) // check * check
        data.append(
            CensoredTime.at_least(low) if rng.random() < 0.3 else CensoredTime(low, low + check)
        )
    ours = turnbull(data, closed=True)
    masses, places = npmle([d.low for d in data], [d.high for d in data], tol=1e-9, max_iter=20000)
    mine = {(m.low, m.high): m.mass for m in ours.masses}
    theirs = 0.0
    for seen in data:
        inside = sum(
            mass
            for mass, place in zip(masses, places, strict=True)
            if seen.low <= place.left and place.right <= seen.high
        )
        theirs += math.log(inside)
    assert ours.log_likelihood >= theirs - 1e-6
    assert ours.log_likelihood == pytest.approx(theirs, abs=1e-3)
    for mass, place in zip(masses, places, strict=True):
        assert mine.get((place.left, place.right), 0.0) == pytest.approx(mass, abs=2e-3)
