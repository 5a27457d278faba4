"""Turnbull's curve where no time is only known as a span: then it is Kaplan and Meier's.

It is held against a published trial and against another program's product limit.
"""

from __future__ import annotations

import math
import random

import pytest
from lifelines import KaplanMeierFitter

from pottyboard.core.statistics.survival import CensoredTime, turnbull

# Freireich et al., Blood 1963;21:699-716, used by Gehan 1965 and Cox 1972: weeks in remission, +
# for still in remission. The list is from memory; it matches the numbers at risk that were read in
# two printed R outputs.
DRUG = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"
PLACEBO = "1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23"


def read(weeks: str) -> list[CensoredTime]:
    return [
        CensoredTime.at_least(float(week[:-1]))
        if week.endswith("+")
        else CensoredTime.exactly(float(week))
        for week in weeks.split()
    ]


def drops(weeks: str) -> dict[float, float]:
    """Return what is left after each drop of the curve, by its week."""
    masses = turnbull(read(weeks)).masses
    return {one.high: one.survival for one in masses if one.high < math.inf}


def test_6_mp_arm_to_three_decimals() -> None:
    # Times and survival: read in two printed R outputs of this trial (published).
    printed = {6: 0.857, 7: 0.807, 10: 0.753, 13: 0.690, 16: 0.627, 22: 0.538, 23: 0.448}
    assert {week: round(left, 3) for week, left in drops(DRUG).items()} == printed


def test_6_mp_arm_to_six_decimals() -> None:
    # Worked out from the list above by the product-limit formula (calculated).
    exact = [0.857143, 0.806723, 0.752941, 0.690196, 0.627451, 0.537815, 0.448179]
    assert list(drops(DRUG).values()) == pytest.approx(exact, abs=1e-6)


def test_placebo_arm_without_censoring_is_the_plain_share() -> None:
    # The first five values were read in a printed R output (published); the others are one less the
    # share of the 21 patients who had relapsed (calculated).
    printed = {
        1: 0.9048,
        2: 0.8095,
        3: 0.7619,
        4: 0.6667,
        5: 0.5714,
        8: 0.3810,
        11: 0.2857,
        12: 0.1905,
        15: 0.1429,
        17: 0.0952,
        22: 0.0476,
        23: 0.0,
    }
    assert {week: round(left, 4) for week, left in drops(PLACEBO).items()} == printed


def test_medians() -> None:
    # The first week at which at most half are in remission (calculated from the list above).
    assert turnbull(read(DRUG)).median == (23, 23)
    assert turnbull(read(PLACEBO)).median == (8, 8)


@pytest.mark.parametrize("seed", range(8))
def test_agrees_with_lifelines_on_random_logs(seed: int) -> None:
    # lifelines 0.30 as a reference implementation of the product limit.
    rng = random.Random(seed)
    holds = [round(rng.weibullvariate(200, 2.5)) + 1 for _ in range(120)]
    breaks = [rng.randint(60, 300) for _ in holds]
    times = [min(pair) for pair in zip(holds, breaks, strict=True)]
    gone = [hold <= outing for hold, outing in zip(holds, breaks, strict=True)]
    theirs = KaplanMeierFitter().fit(times, gone)
    ours = turnbull(
        CensoredTime.exactly(t) if ended else CensoredTime.at_least(t)
        for t, ended in zip(times, gone, strict=True)
    )
    ended = sorted({t for t, over in zip(times, gone, strict=True) if over})
    assert [one.high for one in ours.masses if one.high < math.inf] == ended
    for time in ended:
        expected = float(theirs.survival_function_at_times(time).iloc[0])
        assert ours.survival(time) == pytest.approx(expected, abs=1e-6)
    median = float(theirs.median_survival_time_)
    assert ours.median == (None if math.isinf(median) else (median, median))
