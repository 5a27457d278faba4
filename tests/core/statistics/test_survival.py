"""The curves that use no model: what they keep to whatever the log says."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pottyboard.core.statistics.survival import (
    CensoredTime,
    turnbull,
    turnbull_intervals,
)

MINUTES = st.integers(min_value=1, max_value=12).map(float)
DRY = MINUTES.map(CensoredTime.at_least)
SEEN = MINUTES.map(CensoredTime.exactly)
FOUND = st.tuples(st.integers(0, 8), st.integers(1, 6)).map(
    lambda span: CensoredTime(float(span[0]), float(span[0] + span[1]))
)
LOG = st.lists(st.one_of(DRY, SEEN, FOUND), min_size=1, max_size=25)


@pytest.mark.parametrize(
    ("low", "high", "weight"),
    [
        (math.nan, 5, 1),
        (5, math.nan, 1),
        (5, 6, math.nan),
        (-1, 5, 1),
        (6, 5, 1),
        (math.inf, math.inf, 1),
        (5, 6, -0.1),
        (5, 6, 1.1),
    ],
)
def test_refuses_what_no_log_can_say(low: float, high: float, weight: float) -> None:
    with pytest.raises(ValueError, match="not a waiting time"):
        CensoredTime(low, high, weight)


def test_says_what_was_seen() -> None:
    assert CensoredTime.at_least(90) == CensoredTime(90, math.inf)
    assert CensoredTime.exactly(90, 0.5) == CensoredTime(90, 90, 0.5)
    assert [CensoredTime.at_least(9).ended, CensoredTime(3, 9).ended] == [False, True]
    assert [CensoredTime(3, 9).exact, CensoredTime.exactly(9).exact] == [False, True]


def test_an_empty_log_has_a_level_curve() -> None:
    curve = turnbull([])
    assert (curve.survival(500), curve.median, curve.masses) == (1.0, None, ())


def test_a_hold_cut_short_at_a_drop_still_counts_as_waiting() -> None:
    curve = turnbull([CensoredTime.exactly(60), CensoredTime.at_least(60)])
    assert curve.survival(60) == pytest.approx(0.5)
    assert curve.median == (60, 60)


def test_the_curve_steps_down_at_the_drop_and_not_before() -> None:
    curve = turnbull([CensoredTime.exactly(60), CensoredTime.exactly(90)])
    left = [curve.survival(t) for t in (0, 59.9, 60, 89.9, 90, 500)]
    assert left == pytest.approx([1, 1, 0.5, 0.5, 0, 0])


def test_no_median_while_more_than_half_still_wait() -> None:
    curve = turnbull(
        [CensoredTime.exactly(60), CensoredTime.at_least(90), CensoredTime.at_least(95)]
    )
    assert curve.median is None


def test_rounding_does_not_move_the_median() -> None:
    # 23/24 * 22/23 * ... * 12/13 is one half, but a little more in floating point.
    curve = turnbull([CensoredTime.exactly(t) for t in range(1, 25)])
    assert curve.median == (12, 12)


@given(LOG, st.randoms(use_true_random=False), st.booleans())
@settings(max_examples=60, deadline=None)
def test_order_and_repetition_change_nothing(
    log: list[CensoredTime], shuffler: random.Random, closed: bool
) -> None:
    curve = turnbull(log, closed=closed)
    twice = log * 2
    shuffler.shuffle(twice)
    again = turnbull(twice, closed=closed)
    assert again.log_likelihood == pytest.approx(2 * curve.log_likelihood, abs=1e-5)
    assert turnbull_intervals(twice, closed=closed) == turnbull_intervals(log, closed=closed)


@given(LOG, st.data())
@settings(max_examples=80, deadline=None)
def test_no_other_curve_is_likelier(log: list[CensoredTime], data: st.DataObject) -> None:
    places = turnbull_intervals(log)
    raw = [data.draw(st.floats(0.01, 1)) for _ in places]
    other = [share / sum(raw) for share in raw]

    def likelihood(masses: list[float]) -> float:
        total = 0.0
        for seen in log:
            # With the mass put at the end of each stretch, an observation holds it or does not.
            inside = [
                mass
                for place, mass in zip(places, masses, strict=True)
                if seen.low <= place.low
                and place.high <= seen.high
                # An exact time at the open end of a span is outside it.
                and not (place.exact and not seen.exact and place.low == seen.low)
            ]
            total += math.log(sum(inside))
        return total

    curve = turnbull(log)
    assert sum(mass.mass for mass in curve.masses) == pytest.approx(1)
    found = {(mass.low, mass.high): mass.mass for mass in curve.masses}
    own = [found.get((place.low, place.high), 0.0) for place in places]
    assert likelihood(own) == pytest.approx(curve.log_likelihood, abs=1e-6)
    assert likelihood(other) <= curve.log_likelihood + 1e-6


@given(LOG)
@settings(max_examples=40, deadline=None)
def test_the_curve_never_rises(log: list[CensoredTime]) -> None:
    curve = turnbull(log)
    shares = [curve.survival(time / 2) for time in range(40)]
    assert all(0 <= after <= before <= 1 for before, after in pairwise(shares))


def test_weights_count_as_numbers() -> None:
    log = [
        CensoredTime(0, 40, 0.5),
        CensoredTime(0, 40, 0.5),
        CensoredTime(30, 60),
        CensoredTime(50, math.inf),
    ]
    whole = [CensoredTime(0, 40), CensoredTime(30, 60), CensoredTime(50, math.inf)]
    assert turnbull(log).masses == turnbull(whole).masses
    assert turnbull([*log, CensoredTime(200, 201, 0.0)]).masses == turnbull(whole).masses


@pytest.mark.parametrize("weight", [1e-12, 1e-6, 1.0])
def test_a_faint_observation_does_no_harm(weight: float) -> None:
    curve = turnbull(
        [CensoredTime(0, 10, weight), *[CensoredTime(20, 30)] * 50, CensoredTime(25, math.inf)]
    )
    assert math.isfinite(curve.log_likelihood)
    assert sum(mass.mass for mass in curve.masses) == pytest.approx(1, abs=1e-6)


def test_spans_that_touch_meet_only_when_closed() -> None:
    log = [CensoredTime(10, 20), CensoredTime(20, 30)]
    assert [(m.low, m.high, m.mass) for m in turnbull(log, closed=True).masses] == [(20, 20, 1)]
    assert [(m.low, m.high) for m in turnbull(log).masses] == [(10, 20), (20, 30)]


def test_an_exact_time_lies_outside_a_span_that_opens_there() -> None:
    log = [CensoredTime.exactly(20), CensoredTime(20, 30)]
    assert [(m.low, m.high) for m in turnbull(log).masses] == [(20, 20), (20, 30)]
    assert [(m.low, m.high) for m in turnbull(log, closed=True).masses] == [(20, 20)]


def test_the_median_is_the_stretch_that_reaches_one_half() -> None:
    assert turnbull([CensoredTime(0, 30), CensoredTime(40, 70)]).median == (0, 30)
    assert turnbull([CensoredTime(0, 30), *[CensoredTime.at_least(60)] * 2]).median is None


def test_a_long_log_settles_in_few_rounds() -> None:
    rng = random.Random(5)
    log = []
    for _ in range(300):
        hold, check = rng.weibullvariate(240, 3.5), rng.uniform(10, 90)
        begin = hold // check * check
        dry = rng.random() < 0.4
        log.append(CensoredTime(round(hold / 2) if dry else round(begin), round(begin + check)))
    assert turnbull(log).rounds < 150
