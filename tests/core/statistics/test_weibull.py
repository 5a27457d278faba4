"""The likeliest Weibull curve: its own slope, its ordering, and what is refused."""

from __future__ import annotations

import math
import random

import pytest

from pottyboard.core.statistics.survival import Observed
from pottyboard.core.statistics.weibull import Fit, fit

LOG = [
    Observed.exactly(150),
    Observed.exactly(210, 0.5),
    Observed(0, 90),
    Observed(120, 260),
    Observed(90, 5000),
    *[Observed.at_least(minutes) for minutes in (100, 140, 180, 180, 240)],
]


def log_likelihood(log: list[Observed], median: float, shape: float) -> float:
    """Return the log-likelihood written out plainly."""

    def survival(time: float) -> float:
        return 0.0 if math.isinf(time) else 2.0 ** -((time / median) ** shape)

    total = 0.0
    for seen in log:
        if seen.exact:
            rate = math.log(2) * shape / median * (seen.low / median) ** (shape - 1)
            total += seen.weight * math.log(rate * survival(seen.low))
        else:
            total += seen.weight * math.log(survival(seen.low) - survival(seen.high))
    return total


def test_it_stands_on_the_top() -> None:
    found = fit(LOG)
    assert found.log_likelihood == pytest.approx(log_likelihood(LOG, found.median, found.shape))
    for stretch in (0.999, 1.001):
        assert log_likelihood(LOG, found.median * stretch, found.shape) < found.log_likelihood
        assert log_likelihood(LOG, found.median, found.shape * stretch) < found.log_likelihood


def test_the_errors_are_those_of_the_curvature() -> None:
    found, step = fit(LOG), 1e-4

    def at(across: int, up: int) -> float:
        median = found.median * math.exp(across * step)
        return log_likelihood(LOG, median, found.shape * math.exp(up * step))

    across = (at(1, 0) - 2 * at(0, 0) + at(-1, 0)) / step**2
    up = (at(0, 1) - 2 * at(0, 0) + at(0, -1)) / step**2
    both = (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * step**2)
    determinant = across * up - both**2
    assert found.median_error == pytest.approx(
        found.median * math.sqrt(-up / determinant), rel=1e-4
    )
    assert found.shape_error == pytest.approx(
        found.shape * math.sqrt(-across / determinant), rel=1e-4
    )


def test_order_and_repetition() -> None:
    once, twice = fit(LOG), fit([*reversed(LOG), *LOG])
    assert twice.median == pytest.approx(once.median, rel=1e-6)
    assert twice.median_error == pytest.approx(once.median_error / math.sqrt(2), rel=1e-4)


@pytest.mark.parametrize("shape", [0.7, 1.0, 3.5, 7.0])
def test_finds_the_curve_that_made_the_log(shape: float) -> None:
    rng = random.Random(4)
    log = []
    for _ in range(1500):
        wait = 240 * math.log2(1 / (1 - rng.random())) ** (1 / shape)
        outing = rng.uniform(60, 400)
        log.append(Observed.exactly(wait) if wait < outing else Observed.at_least(outing))
    found = fit(log)
    assert abs(found.median - 240) < 3 * found.median_error
    assert abs(found.shape - shape) < 3 * found.shape_error


@pytest.mark.parametrize(
    ("log", "words"),
    [
        ([], "two accidents"),
        ([Observed.at_least(90)] * 9, "two accidents"),
        ([Observed.exactly(90)] * 9, "two accidents"),
        ([Observed.exactly(90), Observed.exactly(80, 0.0)], "two accidents"),
        ([Observed.exactly(0), Observed.exactly(80)], "over zero"),
        ([Observed(0, 500), Observed(0, 600)], "do not settle"),
        ([Observed(100, 200), Observed(90, 210)], "do not settle"),
        ([Observed.exactly(100), Observed.exactly(100.5)], "do not settle"),
    ],
)
def test_refuses_a_log_that_settles_nothing(log: list[Observed], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        fit(log)


def test_a_far_start_still_arrives() -> None:
    log = [Observed.exactly(time) for time in (1, 10, 100, 1000, 1e5)] * 5
    found = fit([*log, Observed.at_least(1e6)])
    assert isinstance(found, Fit)
    assert 0 < found.shape < 1


def test_a_step_too_far_is_shortened() -> None:
    # A full step from the start would lose likelihood here.
    log = [Observed.exactly(1154), Observed.exactly(2231), Observed(4618, 77863)]
    found = fit(log)
    for stretch in (0.99, 1.01):
        assert log_likelihood(log, found.median * stretch, found.shape) < found.log_likelihood
        assert log_likelihood(log, found.median, found.shape * stretch) < found.log_likelihood
