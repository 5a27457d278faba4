"""Wilson's interval against published values and against another program."""

from __future__ import annotations

import pytest
from scipy.stats import binomtest

from pottyboard.core.statistics.proportion import wilson


@pytest.mark.parametrize(
    ("count", "trials", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_published_examples(count: int, trials: int, low: float, high: float) -> None:
    # Newcombe, Stat Med 1998;17:857-872, Table I, method 3 (read where several public test suites
    # quote it, and recomputed).
    assert tuple(round(end, 4) for end in wilson(count, trials)) == (low, high)


@pytest.mark.parametrize(
    ("count", "trials", "low", "high"),
    [
        (0, 10, 0, 0.2775),
        (10, 10, 0.7225, 1),
        (5, 10, 0.2366, 0.7634),
        (9, 10, 0.5958, 0.9821),
        (14, 14, 0.7847, 1),
        (0, 14, 0, 0.2153),
    ],
)
def test_small_counts(count: int, trials: int, low: float, high: float) -> None:
    # From Wilson's formula apart from the code (calculated; the first two were also read).
    assert tuple(round(end, 4) for end in wilson(count, trials)) == (low, high)


@pytest.mark.parametrize("confidence", [0.8, 0.9, 0.95, 0.99])
@pytest.mark.parametrize(("count", "trials"), [(0, 3), (2, 7), (40, 300), (299, 300), (56, 56)])
def test_agrees_with_scipy(count: int, trials: int, confidence: float) -> None:
    # scipy 1.14 or later as a reference implementation.
    theirs = binomtest(count, trials).proportion_ci(confidence, method="wilson")
    assert wilson(count, trials, confidence) == pytest.approx((theirs.low, theirs.high), abs=1e-10)
