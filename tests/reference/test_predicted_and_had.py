"""How far predictions come true: the tally and its factor, against SciPy and lifelines."""

from __future__ import annotations

import math

import pytest
from lifelines import NelsonAalenFitter
from scipy import stats

from pottyboard.core.estimate.learning import Estimate, EvidenceSoFar, Tally
from pottyboard.core.log.waits import Hold
from pottyboard.core.model import priors
from tests.core.diary import diary


@pytest.mark.parametrize(("predicted", "had"), [(0, 0), (4, 1), (2.5, 6), (30, 11), (0.2, 1)])
def test_the_factor_is_the_mean_of_a_gamma_posterior(predicted: float, had: float) -> None:
    # Counts of accidents are Poisson with the predicted ones as exposure; a gamma prior stays
    # gamma (Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6, from memory). scipy.stats.
    posterior = stats.gamma(
        priors.TALLY_HAD + had, scale=1 / float(priors.TALLY_PREDICTED + predicted)
    )
    assert Tally(predicted, had).factor == pytest.approx(posterior.mean())


def test_over_dogs_of_the_prior_the_factor_is_what_they_really_have() -> None:
    # Drawn by scipy.stats: for dogs with the same tally the mean of their true factors is the one
    # that is used, within what so many draws can say.
    true = stats.gamma(float(priors.TALLY_HAD), scale=1 / float(priors.TALLY_PREDICTED)).rvs(
        20_000, random_state=7
    )
    had = stats.poisson(3 * true).rvs(random_state=8)
    for count in range(5):
        of_those = true[had == count]
        error = of_those.std() / math.sqrt(len(of_those))
        assert Tally(3, count).factor == pytest.approx(of_those.mean(), abs=4 * error)


def test_what_was_predicted_is_the_cumulative_hazard_of_nelson_and_aalen() -> None:
    # Holds at the quantiles of the belief, cut at 300 min; NelsonAalenFitter of lifelines.
    waits = [Hold(0, length, 0, "out") for length in (110, 130, 150, 170, 120, 140)]
    waits += [Hold(0, 160, 0, "seen")]
    estimate = Estimate(diary().settings.dog, EvidenceSoFar.of(waits))
    belief = estimate.hold.conditional()
    times = [belief.latest((place + 0.5) / 500) for place in range(500)]
    ended = [time < 300 for time in times]
    fitted = NelsonAalenFitter().fit([min(time, 300) for time in times], ended)
    for minutes in (90, 150, 210, 270):
        predicted = estimate.tally_of([Hold(0, minutes, 0, "out")]).predicted
        curve = fitted.cumulative_hazard_at_times(minutes).iloc[0]
        assert predicted == pytest.approx(curve, rel=0.03, abs=0.003)
