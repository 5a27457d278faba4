"""Exact tests for small counts, by counting all cases, and the allowance for many questions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations, compress, permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.statistics.exact_tests import (
    as_one_sided,
    at_least,
    binomial_p,
    holm,
    kendall_p,
    kendall_s,
    least_kendall_p,
    tarone_testable,
)

CHANCES = st.lists(st.floats(0, 1) | st.floats(0, 0.05), max_size=12)


@pytest.mark.parametrize("count", range(6))
def test_a_tail_is_the_sum_of_all_cases(count: int) -> None:
    share = Fraction(1, 3)
    total = sum(
        math.prod(share if hit else 1 - share for hit in case)
        for case in product((0, 1), repeat=5)
        if sum(case) >= count
    )
    assert at_least(count, 5, 1 / 3) == pytest.approx(float(total))


def test_the_ends_of_a_tail() -> None:
    assert at_least(0, 9, 0.2) == 1
    assert at_least(1, 9, 0) == 0
    assert at_least(9, 9, 1) == 1
    assert at_least(0, 0, 0.5) == 1


@pytest.mark.parametrize(("count", "trials", "share"), [(-1, 3, 0.5), (4, 3, 0.5), (1, 3, 1.5)])
def test_what_cannot_be_is_refused(count: int, trials: int, share: float) -> None:
    with pytest.raises(ValueError, match="cannot be"):
        at_least(count, trials, share)


def test_uneven_looks_to_both_sides() -> None:
    assert binomial_p(0, 9, 0.3) == pytest.approx(2 * 0.7**9)
    assert binomial_p(9, 9, 0.3) == pytest.approx(2 * 0.3**9)
    assert binomial_p(3, 10, 0.3) == 1


@pytest.mark.parametrize("shares", [(0.5, 0.5), (0.5, 0.3, 0.2), (0.4, 0.35, 0.25), (0.25,) * 4])
@pytest.mark.parametrize("most", [4, 5, 6, 7])
def test_no_mixture_of_kinds_is_one_sided_more_often(shares: tuple[float, ...], most: int) -> None:
    chance = sum(at_least(most, 7, share) for share in shares)
    assert chance <= as_one_sided(most, 7) + 1e-12


def test_half_is_not_one_sided() -> None:
    assert as_one_sided(5, 10) == 1


# --- Trends ---------------------------------------------------------------------------------------


def score_of(order: Sequence[float]) -> int:
    return sum((b > a) - (b < a) for a, b in combinations(order, 2))


@given(st.lists(st.integers(0, 4), min_size=2, max_size=7))
def test_a_trend_counts_all_orders_with_ties_too(values: list[int]) -> None:
    scores = [abs(score_of(order)) for order in permutations(values)]
    as_far = sum(score >= abs(score_of(values)) for score in scores)
    assert kendall_s(values)[1] == pytest.approx(as_far / len(scores), rel=1e-12)
    least = scores.count(max(scores)) / len(scores)
    assert least_kendall_p(values) == pytest.approx(least, rel=1e-12)


def test_a_score_that_cannot_be_is_as_far_as_the_next() -> None:
    assert [kendall_p(score, (1, 1, 1)) for score in (0, 1, 2, 3)] == [1, 1, 1 / 3, 1 / 3]
    assert kendall_p(-3, (1, 1, 1)) == kendall_p(3, (1, 1, 1))
    assert kendall_p(4, (1, 1, 1)) == 0


@pytest.mark.parametrize("values", [[420.0] * 9, [420.0, 425.0], [1.0, 0.0] * 12])
def test_neither_all_alike_nor_to_and_fro_is_a_trend(values: list[float]) -> None:
    assert kendall_s(values)[1] > 0.3


def test_a_breakfast_that_is_ten_minutes_later_each_day() -> None:
    growth, chance = kendall_s([420.0 + 10 * day for day in range(14)])
    assert growth == 10
    assert chance == pytest.approx(2 / math.factorial(14))


def test_one_stray_hardly_moves_the_trend() -> None:
    values = [420.0 + 10 * day for day in range(14)]
    values[5] = 1200
    growth, chance = kendall_s(values)
    assert growth == pytest.approx(10, abs=1)
    assert chance < 1e-4


def test_a_trend_knows_the_days_that_are_missing() -> None:
    growth, _ = kendall_s([420, 430, 470, 500], [1, 2, 6, 9])
    assert growth == pytest.approx(10)


def test_no_trend_in_what_never_changes() -> None:
    assert kendall_s([420.0] * 20) == (0, 1)
    with pytest.raises(ValueError, match="two values"):
        kendall_s([420.0])


# --- Many questions -------------------------------------------------------------------------------


def test_the_allowance_goes_down_step_by_step() -> None:
    assert holm([0.01, 0.04, 0.03, 0.005]) == pytest.approx([0.03, 0.06, 0.06, 0.02])
    assert holm([0.5, 0.6]) == [1, 1]
    assert holm([]) == []


@given(CHANCES)
def test_an_allowance_never_makes_anything_surer(chances: list[float]) -> None:
    bounds = holm(chances)
    assert all(bound >= chance for bound, chance in zip(bounds, chances, strict=True))
    in_order = [bound for _, bound in sorted(zip(chances, bounds, strict=True))]
    assert in_order == sorted(in_order)


def test_what_cannot_be_answered_needs_no_allowance() -> None:
    assert tarone_testable([0.5, 0.001, 0.03, 0.06], 0.05) == [False, True, False, False]
    assert tarone_testable([0.001, 0.02, 0.02], 0.05) == [True, True, False]
    assert tarone_testable([], 0.05) == []


@given(CHANCES)
def test_the_questions_asked_share_the_level(least: list[float]) -> None:
    asked = tarone_testable(least, 0.05)
    questions = sum(asked)
    assert len(asked) == len(least)
    assert all(chance <= 0.05 / questions for chance in compress(least, asked))
    left_out = sorted(chance for chance, ask in zip(least, asked, strict=True) if not ask)
    assert not left_out or left_out[0] > 0.05 / (questions + 1)
