"""Kaplan and Meier's curve against a published trial and against another program."""

from __future__ import annotations

import math
import random

import pytest
from lifelines import KaplanMeierFitter

from pottyboard.core.statistics.survival import CensoredTime, kaplan_meier

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


def test_6_mp_arm_to_three_decimals() -> None:
    # Times, numbers at risk, events, survival and standard errors: read in two printed R outputs of
    # this trial (published).
    printed = [
        (6, 21, 3, 0.857, 0.0764),
        (7, 17, 1, 0.807, 0.0869),
        (10, 15, 1, 0.753, 0.0963),
        (13, 12, 1, 0.690, 0.1068),
        (16, 11, 1, 0.627, 0.1141),
        (22, 7, 1, 0.538, 0.1282),
        (23, 6, 1, 0.448, 0.1346),
    ]
    drops = kaplan_meier(read(DRUG)).drops
    assert [(d.time, d.at_risk, d.ended) for d in drops] == [row[:3] for row in printed]
    assert [round(d.survival, 3) for d in drops] == [row[3] for row in printed]
    assert [round(d.error, 4) for d in drops] == [row[4] for row in printed]


def test_6_mp_arm_to_six_decimals() -> None:
    # Worked out from the list above by the product-limit formula (calculated).
    exact = [0.857143, 0.806723, 0.752941, 0.690196, 0.627451, 0.537815, 0.448179]
    assert [round(d.survival, 6) for d in kaplan_meier(read(DRUG)).drops] == exact


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
    drops = kaplan_meier(read(PLACEBO)).drops
    assert {d.time: round(d.survival, 4) for d in drops} == printed


def test_medians() -> None:
    # The first week at which at most half are in remission (calculated from the list above).
    assert kaplan_meier(read(DRUG)).median == 23
    assert kaplan_meier(read(PLACEBO)).median == 8


@pytest.mark.parametrize("seed", range(8))
def test_agrees_with_lifelines_on_random_logs(seed: int) -> None:
    # lifelines 0.30 as a reference implementation. It prints no standard errors; they are taken
    # back out of its 95 % limits, which are symmetric on the log(-log) scale.
    rng = random.Random(seed)
    holds = [round(rng.weibullvariate(200, 2.5)) + 1 for _ in range(120)]
    breaks = [rng.randint(60, 300) for _ in holds]
    times = [min(pair) for pair in zip(holds, breaks, strict=True)]
    gone = [hold <= outing for hold, outing in zip(holds, breaks, strict=True)]
    theirs = KaplanMeierFitter().fit(times, gone)
    limits = theirs.confidence_interval_
    ours = kaplan_meier(
        CensoredTime.exactly(t) if ended else CensoredTime.at_least(t)
        for t, ended in zip(times, gone, strict=True)
    )
    assert len(ours.drops) == len({t for t, ended in zip(times, gone, strict=True) if ended})
    for drop in ours.drops:
        expected = float(theirs.survival_function_at_times(drop.time).iloc[0])
        assert drop.survival == pytest.approx(expected, abs=1e-9)
        if drop.survival > 0:
            low, high = (math.log(-math.log(limit)) for limit in limits.loc[drop.time])
            error = abs(high - low) / 2 / 1.959963984540054 * abs(math.log(expected)) * expected
            assert drop.error == pytest.approx(error, abs=1e-9)
    median = float(theirs.median_survival_time_)
    assert ours.median == (None if math.isinf(median) else median)
