"""The belief against another program and against closed forms."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from lifelines import WeibullFitter
from scipy.stats import gamma

from pottyboard.core.statistics.posterior import SHAPES, Likelihood, Prior, posterior_of
from pottyboard.core.statistics.survival import CensoredTime


def simulated(seed: int, waits: int) -> list[CensoredTime]:
    """Return waits with a median of four hours: some cut short, the others found in a span."""
    rng = random.Random(seed)
    log = []
    for _ in range(waits):
        wait = 240 * math.log2(1 / (1 - rng.random())) ** (1 / 3.2)
        outing, look = rng.uniform(120, 300), rng.uniform(20, 80)
        low = wait // look * look
        log.append(
            CensoredTime.at_least(outing) if wait > outing else CensoredTime(low, low + look)
        )
    return log


def error_of_median(fitted: WeibullFitter) -> float:
    """Return the standard error of the fit's median, by the delta rule."""
    scale, shape = fitted.lambda_, fitted.rho_
    median = scale * math.log(2) ** (1 / shape)
    slope = np.array([median / scale, -median * math.log(math.log(2)) / shape**2])
    return math.sqrt(
        slope
        @ fitted.variance_matrix_.loc[["lambda_", "rho_"], ["lambda_", "rho_"]].to_numpy()
        @ slope
    )


@pytest.mark.parametrize("seed", range(4))
def test_a_flat_belief_agrees_with_lifelines(seed: int) -> None:
    # With nothing believed beforehand and much data the belief's middle is the likeliest median,
    # and its 80 % range is that of a normal with the fit's standard error.
    log = simulated(seed, 400)
    theirs = WeibullFitter().fit_interval_censoring(
        np.array([seen.low for seen in log]), np.array([seen.high for seen in log])
    )
    posterior = posterior_of(Prior(100, math.inf, 3.5, math.inf), Likelihood.of(log))
    error = error_of_median(theirs)
    assert abs(posterior.median - theirs.median_survival_time_) < 0.5 * error
    low, high = posterior.range80
    assert (high - low) / (2 * 1.2816) == pytest.approx(error, rel=0.35)


@pytest.mark.parametrize("accidents", [6, 12, 30])
@pytest.mark.parametrize("place", [0, 3, 6])
def test_under_one_shape_a_flat_belief_is_the_conjugate_gamma(accidents: int, place: int) -> None:
    # ln 2 / median**shape is the rate of an exponential in time**shape. A flat logarithm is its
    # conjugate prior, the posterior Gamma(accidents, sum of time**shape), and the chance of lasting
    # past t is (sum / (sum + t**shape)) ** accidents: standard conjugate algebra (calculated; the
    # gamma's quantiles by scipy).
    rng, shape = random.Random(accidents), SHAPES[place]
    log = [CensoredTime.exactly(rng.uniform(150, 350)) for _ in range(accidents)]
    log += [CensoredTime.at_least(rng.uniform(100, 200)) for _ in range(2 * accidents)]
    powers = math.fsum(seen.low**shape for seen in log)
    posterior = posterior_of(Prior(200, math.inf, shape, 1e-3), Likelihood.of(log))
    for time in (30, 120, 240, 500):
        lasting = (powers / (powers + time**shape)) ** accidents
        assert posterior.chance_by(time) == pytest.approx(1 - lasting, abs=3e-4)
        assert posterior.survival(time) == pytest.approx(lasting, abs=3e-4)
    for share in (0.1, 0.5, 0.9):
        rate = gamma.isf(share, accidents, scale=1 / powers)
        assert posterior.median_at(share) == pytest.approx(
            (math.log(2) / rate) ** (1 / shape), rel=0.01
        )
