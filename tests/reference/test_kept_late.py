"""How late breaks are kept, against SciPy."""

from __future__ import annotations

import pytest
from scipy import stats

from pottyboard.core.estimate.lateness import Lateness
from pottyboard.core.model import priors


@pytest.mark.parametrize("late", [[], [4.0], [3.0, 25.0, 8.0, 0.0], [12.0] * 40])
def test_how_late_is_the_mean_of_an_inverse_gamma_posterior(late: list[float]) -> None:
    # Exponential waits under an inverse gamma prior stay inverse gamma (Gelman et al., Bayesian
    # Data Analysis, 3rd ed., section 2.6, from memory). scipy.stats.invgamma.
    weight, before = float(priors.LATE_CALLS), float(priors.KEPT_LATE)
    posterior = stats.invgamma(weight + 1 + len(late), scale=weight * before + sum(late))
    assert Lateness.of([(9, one) for one in late]).usual == pytest.approx(posterior.mean())
