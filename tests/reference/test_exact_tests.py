"""Exact tests for small counts against another program: scipy 1.14 or later."""

from __future__ import annotations

import pytest
from scipy.stats import binom, binomtest, kendalltau, theilslopes

from pottyboard.core.statistics.exact_tests import at_least, binomial_p, kendall_s

COUNTS = [(0, 3, 0.2), (2, 7, 0.4), (7, 7, 0.4), (40, 300, 0.1), (299, 300, 0.5), (5, 9, 0.05)]


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


def test_ties_only_make_a_trend_less_sure() -> None:
    values = [420, 420, 425, 425, 430, 430, 430, 440, 445, 445]
    theirs = kendalltau(range(10), values, method="asymptotic").pvalue
    assert kendall_s(values)[1] == pytest.approx(theirs, rel=0.9)
