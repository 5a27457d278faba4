"""What a count says about a rate: the ends, the order, and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.statistics.proportion import (
    bound_after_none,
    wilson,
)

TRIALS = st.integers(min_value=1, max_value=5000)


def test_no_trials_say_nothing() -> None:
    assert bound_after_none(0) == 1
    assert wilson(0, 0) == (0, 1)


def test_eleven_clean_holds_still_allow_a_quarter() -> None:
    assert round(100 * bound_after_none(11)) == 24


@given(TRIALS)
def test_more_trials_lower_the_bound(trials: int) -> None:
    bound = bound_after_none(trials)
    assert 0 < bound_after_none(trials + 1) < bound <= min(1, 3 / trials)
    assert (1 - bound) ** trials == pytest.approx(0.05)


@given(st.floats(0.5, 0.999), TRIALS)
def test_more_confidence_raises_the_bound(confidence: float, trials: int) -> None:
    assert bound_after_none(trials, confidence) < bound_after_none(trials, 0.9999)


@given(TRIALS, st.data())
def test_the_range_holds_the_share_and_mirrors(trials: int, data: st.DataObject) -> None:
    count = data.draw(st.integers(0, trials))
    low, high = wilson(count, trials)
    assert 0 <= low <= count / trials <= high <= 1
    assert wilson(trials - count, trials) == pytest.approx((1 - high, 1 - low), abs=1e-12)


@pytest.mark.parametrize("bad", [-1, math.nan, math.inf])
def test_refuses_impossible_trials(bad: float) -> None:
    with pytest.raises(ValueError, match="cannot be"):
        bound_after_none(bad)
    with pytest.raises(ValueError, match="cannot be"):
        wilson(0, bad)


@pytest.mark.parametrize("confidence", [0, 1, -0.5, 1.5, math.nan])
def test_refuses_an_impossible_confidence(confidence: float) -> None:
    with pytest.raises(ValueError, match="cannot be"):
        bound_after_none(10, confidence)
    with pytest.raises(ValueError, match="cannot be"):
        wilson(1, 10, confidence)


@pytest.mark.parametrize("count", [-1, 11, math.nan])
def test_refuses_a_count_outside_the_trials(count: float) -> None:
    with pytest.raises(ValueError, match="no count in 10"):
        wilson(count, 10)
