"""Times of the clock as directions: midnight, neighbours across it, and what cancels out."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.statistics.circular import (
    DAY,
    TURN,
    Directions,
    clock_gap,
    clock_minute,
    clock_times,
    directions,
    median_direction,
)

MINUTES = st.floats(0, DAY, exclude_max=True)
RINGS = st.lists(st.floats(0, TURN, exclude_max=True), min_size=1, max_size=30)


def at(*clocks: str) -> list[float]:
    return [int(clock[:2]) * 60.0 + int(clock[3:]) for clock in clocks]


# --- The clock ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clocks", "mean"),
    [
        (("23:50", "00:10"), "00:00"),
        (("23:40", "00:10", "00:10"), "00:00"),
        (("06:30", "07:30"), "07:00"),
        (("22:00", "22:00", "04:00", "04:00"), "01:00"),
    ],
)
def test_the_mean_lies_between_neighbours_on_the_clock(clocks: tuple[str, ...], mean: str) -> None:
    found = clock_times(at(*clocks)).mean
    assert found is not None
    assert abs(clock_gap(found, at(mean)[0])) < 0.05


def test_a_breakfast_that_is_always_the_same() -> None:
    found = clock_times([420.0] * 5)
    assert (found.mean, found.median, found.length, found.spread) == (420, 420, 1, 0)
    assert found.limits == (420, 420)


def test_opposite_times_have_no_mean() -> None:
    found = clock_times(at("06:00", "18:00"))
    assert (found.mean, found.median, found.limits) == (None, None, None)
    assert found.length == pytest.approx(0, abs=1e-12)


def test_few_scattered_times_give_the_mean_no_limits() -> None:
    assert clock_times(at("07:00", "12:00", "22:00")).limits is None
    assert clock_times(at("07:00")).limits is None


def test_limits_may_lie_across_midnight() -> None:
    limits = clock_times(at("23:40", "23:50", "00:00", "00:10", "00:20", "00:05")).limits
    assert limits is not None
    low, high = limits
    assert high < 60 < 1380 < low


def test_the_spread_of_near_times_is_their_standard_deviation_in_minutes() -> None:
    minutes = at("06:50", "07:00", "07:10", "07:20", "06:40")
    plain = math.sqrt(sum((minute - 420) ** 2 for minute in minutes) / 5)
    assert clock_times(minutes).spread == pytest.approx(plain, rel=1e-3)


@pytest.mark.parametrize(
    ("minute", "since", "gap"),
    [(10, 1430, 20), (1430, 10, -20), (720, 720, 0), (0, 719, -719), (450, 420, 30)],
)
def test_a_gap_goes_the_shorter_way_round(minute: float, since: float, gap: float) -> None:
    assert clock_gap(minute, since) == gap


# --- Any directions -------------------------------------------------------------------------------


@given(RINGS, st.floats(-20, 20))
def test_turning_the_circle_turns_the_mean_and_nothing_else(ring: list[float], by: float) -> None:
    still, turned = directions(ring), directions(angle + by for angle in ring)
    assert turned.length == pytest.approx(still.length, abs=1e-9)
    if still.mean is not None and still.length > 1e-3 and turned.mean is not None:
        assert math.cos(turned.mean - still.mean - by) == pytest.approx(1, abs=1e-6)


@given(RINGS)
def test_everything_stays_in_its_bounds(ring: list[float]) -> None:
    found = directions(ring)
    assert 0 <= found.length <= 1
    assert found.mean is None or 0 <= found.mean < TURN
    assert 0 <= found.rayleigh_p <= 1
    assert 0 <= found.deviation <= math.sqrt(2)
    reach = found.reach()
    assert reach is None or 0 <= reach <= TURN / 2


@given(st.lists(st.integers(0, 95), min_size=1, max_size=12, unique=True))
def test_the_median_is_the_least_far_from_all(quarters: list[int]) -> None:
    ring = [quarter * 15 / DAY * TURN for quarter in quarters]

    def away(one: float) -> float:
        return sum(abs(clock_gap(clock_minute(one), clock_minute(angle))) for angle in ring)

    turns = [step * 7.5 / DAY * TURN for step in range(192)]
    totals = [away(turn) for turn in turns]
    median = median_direction(ring)
    if sum(total - min(totals) < 1e-3 for total in totals) == 1:
        assert median is not None
        assert away(median) == pytest.approx(min(totals), abs=1e-3)


def test_one_stray_moves_the_mean_but_not_the_median() -> None:
    found = clock_times(at("07:00", "07:05", "07:05", "07:10", "13:00"))
    assert found.median == 425
    assert found.mean is not None
    assert found.mean > 450


def test_nothing_has_neither_mean_nor_median() -> None:
    for ask in (directions, median_direction, clock_times):
        with pytest.raises(ValueError, match="no directions"):
            ask([])


@given(MINUTES)
def test_a_minute_is_read_back(minute: float) -> None:
    assert abs(clock_gap(clock_minute(minute / DAY * TURN), minute)) < 1e-5


@pytest.mark.parametrize("confidence", [0, 1, -0.5, math.nan])
def test_a_confidence_is_a_chance(confidence: float) -> None:
    with pytest.raises(ValueError, match="confidence"):
        directions([1.0, 1.1]).reach(confidence)


def test_more_confidence_reaches_further() -> None:
    for length in (0.7, 0.95):
        found = Directions(12, 1.0, length)
        reaches = [found.reach(confidence) for confidence in (0.8, 0.95, 0.99)]
        assert None not in reaches
        assert reaches == sorted(reaches)  # type: ignore[type-var]
