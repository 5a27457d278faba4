"""Exact tests for small counts against another program: scipy 1.14 or later."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from math import factorial
from typing import Any

import numpy as np
import pytest
from scipy.stats import betabinom, binom, binomtest, kendalltau, norm, permutation_test, theilslopes

from pottyboard.core.statistics.exact_tests import (
    at_least,
    binomial_p,
    kendall_p,
    kendall_s,
    predicted_at_least,
)

Order = np.ndarray[Any, Any]

COUNTS = [(0, 3, 0.2), (2, 7, 0.4), (7, 7, 0.4), (40, 300, 0.1), (299, 300, 0.5), (5, 9, 0.05)]


@pytest.mark.parametrize(
    ("count", "trials", "ones", "others"),
    [
        (0, 3, 8, 32),
        (2, 7, 8, 32),
        (7, 7, 8, 72.5),
        (9, 40, 0.5, 3),
        (12, 30, 13.25, 80),
        (1, 1, 2, 3),
    ],
)
def test_tails_after_what_was_seen(count: int, trials: int, ones: float, others: float) -> None:
    theirs = betabinom.sf(count - 1, trials, ones, others)
    assert predicted_at_least(count, trials, ones, others) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("count", "trials", "ones", "others"), [(4, 3, 1, 1), (-1, 3, 1, 1), (1, 3, 0, 1), (1, 3, 1, 0)]
)
def test_tails_that_cannot_be(count: int, trials: int, ones: float, others: float) -> None:
    with pytest.raises(ValueError, match="cannot be"):
        predicted_at_least(count, trials, ones, others)


@pytest.mark.parametrize(("count", "trials", "share"), COUNTS)
def test_tails(count: int, trials: int, share: float) -> None:
    theirs = binomtest(count, trials, share, alternative="greater").pvalue
    assert at_least(count, trials, share) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(("count", "trials", "share"), COUNTS)
def test_both_sides(count: int, trials: int, share: float) -> None:
    less, more = binom.cdf(count, trials, share), binom.sf(count - 1, trials, share)
    assert binomial_p(count, trials, share) == pytest.approx(min(1, 2 * min(less, more)), rel=1e-9)


@pytest.mark.parametrize(
    "values",
    [
        [420, 431, 428, 440, 445, 439, 451, 460],
        [431, 420, 445, 428, 439, 440, 460, 451, 419, 470, 402, 433],
        [9, 8, 7, 6, 5, 4, 3, 2, 1, 0, 11, 12, 13, 14],
    ],
)
def test_trends(values: list[float]) -> None:
    growth, chance = kendall_s(values)
    days = range(len(values))
    assert growth == pytest.approx(theilslopes(values, days).slope)
    assert chance == pytest.approx(kendalltau(days, values, method="exact").pvalue, rel=1e-9)


TIED = [
    [420, 420, 425, 430, 430, 430, 445],
    [445, 430, 430, 420, 420, 420, 425],
    [420, 425, 420, 425, 420, 425, 425],
    [400, 400, 400, 400, 400, 410, 410],
    [1, 2, 2, 3, 5, 4],
]


@pytest.mark.parametrize("values", TIED)
def test_trends_with_ties_by_all_orders(values: list[float]) -> None:
    earlier, later = np.triu_indices(len(values), 1)

    def score(given: Order, axis: int) -> Order:
        order = np.moveaxis(given, axis, -1)
        total: Order = np.sign(order[..., later] - order[..., earlier]).sum(axis=-1)
        return total

    theirs = permutation_test(
        (values,), score, permutation_type="pairings", n_resamples=np.inf, vectorized=True
    )
    assert kendall_s(values)[1] == pytest.approx(theirs.pvalue, rel=1e-12)


@pytest.mark.parametrize(
    "values",
    [
        [420, 420, 425, 425, 430, 430, 430, 440, 445, 445],
        [420, 425, 421, 425, 425, 430, 428, 433, 425, 440, 441, 430, 445, 450],
        [float(day * 7 % 11 + day // 3) for day in range(56)],
        [float(day // 20) for day in range(56)],
    ],
)
def test_scores_with_ties_scatter_as_the_tie_corrected_normal(values: list[float]) -> None:
    # scipy tells the chance by the normal curve, whose variance is exact with ties.
    theirs = kendalltau(range(len(values)), values, method="asymptotic").pvalue
    groups = tuple(Counter(values).values())
    pairs = [(b > a) - (b < a) for a, b in combinations(values, 2)]
    variance = sum((2 * n - 1) * kendall_p(n, groups) for n in range(1, len(pairs) + 1))
    assert variance == pytest.approx((sum(pairs) / norm.isf(theirs / 2)) ** 2, rel=1e-9)


def test_by_the_normal_curve_ten_tied_values_look_less_sure_than_they_are() -> None:
    # Two orders in 10! / (2! 2! 3! 2!) run one way throughout; the normal curve says 13 times that.
    values = [420, 420, 425, 425, 430, 430, 430, 440, 445, 445]
    exact = kendall_s(values)[1]
    assert exact == pytest.approx(2 * 48 / factorial(10), rel=1e-12)
    theirs = kendalltau(range(10), values, method="asymptotic").pvalue
    assert 12 < theirs / exact < 13
