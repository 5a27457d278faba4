"""The belief about a waiting time: what must hold for every log, and how well it does."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pottyboard.core.statistics.posterior import (
    FEWER,
    LONGEST,
    MOST_MEDIAN,
    SHAPES,
    CensoredTime,
    ConditionalSurvival,
    Likelihood,
    Posterior,
    Prior,
    posterior_of,
)

PRIOR = Prior(median=270, median_spread=0.35, shape=3.5, shape_spread=0.3)
SLACK = 1e-8  # rounding, and the medians that a conditional survival leaves out

QUICK = settings(max_examples=60, deadline=None)
MINUTES = st.integers(5, 720).map(float)
WEIGHTS = st.sampled_from([1.0, 0.7, 0.3, 0.05])
DRY = st.builds(CensoredTime.at_least, MINUTES, WEIGHTS)
SEEN = st.builds(CensoredTime.exactly, MINUTES, WEIGHTS)
FOUND = st.builds(
    lambda low, more, weight: CensoredTime(low, low + more, weight),
    st.integers(0, 600).map(float),
    st.integers(1, 300).map(float),
    WEIGHTS,
)
LOGS = st.lists(st.one_of(DRY, DRY, SEEN, FOUND), max_size=30)
PRIORS = st.builds(
    Prior,
    st.sampled_from([60.0, 150.0, 270.0, 480.0]),
    st.sampled_from([0.15, 0.35, 0.8, math.inf]),
    st.sampled_from([2.0, 3.5, 5.0]),
    st.sampled_from([0.01, 0.3, math.inf]),
)
WAITED = st.sampled_from([0.0, 30.0, 120.0, 400.0])


def after(log: list[CensoredTime], prior: Prior = PRIOR) -> Posterior:
    return posterior_of(prior, Likelihood.of(log))


def risks(log: list[CensoredTime], prior: Prior, waited: float) -> list[float]:
    chances = after(log, prior).conditional(waited)
    return [chances.chance_by(waited + ahead) for ahead in (1, 15, 60, 120, 240, 600)]


def never_above(lower: list[float], higher: list[float]) -> bool:
    return all(a <= b + SLACK for a, b in zip(lower, higher, strict=True))


# --- What an empty log gives, and what order and addition change ---------------------------------


def test_an_empty_log_gives_the_prior() -> None:
    empty = posterior_of(PRIOR)
    assert empty.logs == posterior_of(PRIOR, Likelihood.of([])).logs
    assert empty.median == pytest.approx(270, rel=1e-3)
    spread = 1.2816 * PRIOR.median_spread  # the normal's 90 % point
    low, high = empty.range80
    assert (low, high) == pytest.approx((270 * math.exp(-spread), 270 * math.exp(spread)), rel=5e-3)


def test_a_hold_of_no_length_says_nothing() -> None:
    assert after([CensoredTime.at_least(0)]).logs == posterior_of(PRIOR).logs


@given(LOGS, PRIORS, st.randoms(use_true_random=False))
@QUICK
def test_order_does_not_matter(
    log: list[CensoredTime], prior: Prior, shuffler: random.Random
) -> None:
    shuffled = log.copy()
    shuffler.shuffle(shuffled)
    assert after(shuffled, prior) == after(log, prior)


@given(LOGS, LOGS)
@QUICK
def test_days_add_up(one: list[CensoredTime], other: list[CensoredTime]) -> None:
    summed = posterior_of(PRIOR, Likelihood.of(one) + Likelihood.of(other))
    whole = after(one + other)
    assert summed.range80 == pytest.approx(whole.range80)
    assert summed.chance_by(180) == pytest.approx(whole.chance_by(180), abs=SLACK)
    assert summed.likelihood.dry == pytest.approx(whole.likelihood.dry)
    assert summed.likelihood.accidents == pytest.approx(whole.likelihood.accidents)


@given(LOGS)
@QUICK
def test_fading_is_the_same_as_lighter_observations(log: list[CensoredTime]) -> None:
    log = [seen for seen in log if seen.weight >= 0.3]
    lighter = [CensoredTime(seen.low, seen.high, seen.weight / 4) for seen in log]
    faded = posterior_of(PRIOR, Likelihood.of(log).scaled(0.25))
    assert faded.range80 == pytest.approx(after(lighter).range80)
    assert faded.chance_by(120) == pytest.approx(after(lighter).chance_by(120), abs=SLACK)


def test_a_year_of_days_stays_small() -> None:
    day = Likelihood.of([*[CensoredTime.at_least(150)] * 5, CensoredTime(60, 120)])
    running = Likelihood()
    for _ in range(365):
        running = running.scaled(0.9) + day
    assert len(running.spans) == 44  # 0.9 ** 43 is the last weight over 0.01
    assert running.dry == pytest.approx(50)


@pytest.mark.parametrize("factor", [-0.1, 1.1, math.nan])
def test_refuses_to_scale_beyond_itself(factor: float) -> None:
    with pytest.raises(ValueError, match="cannot be scaled"):
        Likelihood().scaled(factor)


# --- What never raises and never lowers the risk --------------------------------------------------


@given(LOGS, DRY, PRIORS, WAITED)
@QUICK
def test_one_more_dry_hold_never_raises_the_risk(
    log: list[CensoredTime], hold: CensoredTime, prior: Prior, waited: float
) -> None:
    assert never_above(risks([*log, hold], prior, waited), risks(log, prior, waited))


@given(LOGS, DRY, MINUTES, PRIORS, WAITED)
@QUICK
def test_a_longer_dry_hold_never_raises_the_risk(
    log: list[CensoredTime], hold: CensoredTime, more: float, prior: Prior, waited: float
) -> None:
    longer = CensoredTime.at_least(hold.low + more, hold.weight)
    assert never_above(risks([*log, longer], prior, waited), risks([*log, hold], prior, waited))


@given(LOGS, DRY, PRIORS, WAITED)
@QUICK
def test_an_accident_in_place_of_a_dry_hold_never_lowers_the_risk(
    log: list[CensoredTime], hold: CensoredTime, prior: Prior, waited: float
) -> None:
    accident = CensoredTime.exactly(hold.low, hold.weight)
    assert never_above(risks([*log, hold], prior, waited), risks([*log, accident], prior, waited))


@given(LOGS, MINUTES, MINUTES, WEIGHTS, PRIORS, WAITED)
@QUICK
def test_an_accident_in_the_middle_of_a_dry_hold_never_lowers_the_risk(
    log: list[CensoredTime], before: float, rest: float, weight: float, prior: Prior, waited: float
) -> None:
    whole = [*log, CensoredTime.at_least(before + rest, weight)]
    broken = [*log, CensoredTime.exactly(before, weight), CensoredTime.at_least(rest, weight)]
    assert never_above(risks(whole, prior, waited), risks(broken, prior, waited))


@given(LOGS, FOUND, PRIORS, WAITED)
@QUICK
def test_a_found_accident_never_lowers_the_risk_of_what_was_known_dry(
    log: list[CensoredTime], found: CensoredTime, prior: Prior, waited: float
) -> None:
    with_it = risks([*log, found], prior, waited)
    for dry_until in (found.low, found.high):
        dry = CensoredTime.at_least(dry_until, found.weight)
        assert never_above(risks([*log, dry], prior, waited), with_it)


@given(LOGS, MINUTES, MINUTES, WEIGHTS, PRIORS, WAITED)
@QUICK
def test_an_earlier_accident_never_gives_a_lower_risk(
    log: list[CensoredTime], time: float, more: float, weight: float, prior: Prior, waited: float
) -> None:
    earlier = [*log, CensoredTime.exactly(time, weight)]
    later = [*log, CensoredTime.exactly(time + more, weight)]
    assert never_above(risks(later, prior, waited), risks(earlier, prior, waited))


@given(LOGS, MINUTES, WEIGHTS, PRIORS, WAITED)
@QUICK
def test_an_accident_with_nothing_known_before_never_lowers_the_risk(
    log: list[CensoredTime], found: float, weight: float, prior: Prior, waited: float
) -> None:
    more = [*log, CensoredTime(0, found, weight)]
    assert never_above(risks(log, prior, waited), risks(more, prior, waited))


def test_a_late_accident_from_nowhere_speaks_for_a_longer_hold() -> None:
    # Why the rules above compare with the hold that would have been: after six hours it says that
    # the dog, thought to hold four and a half, held six.
    late = after([CensoredTime.exactly(360)])
    assert late.median > posterior_of(PRIOR).median
    assert late.chance_by(180) < posterior_of(PRIOR).chance_by(180)


def test_letting_dry_holds_judge_the_shape_would_raise_the_risk() -> None:
    # Why a conditional survival leaves the shapes' weights alone. In the full posterior, after
    # early accidents, long dry holds speak for a blunt curve and lift the chance of the first hour.
    log = [CensoredTime.exactly(90)] * 2 + [CensoredTime.at_least(120)] * 10
    longer = [*log, *[CensoredTime.at_least(420)] * 4]
    assert 1 - after(longer).survival(15) > 1 - after(log).survival(15)
    assert after(longer).chance_by(15) < after(log).chance_by(15)


# --- The chances themselves -----------------------------------------------------------------------


@given(LOGS, PRIORS, WAITED)
@QUICK
def test_the_chance_rises_from_nothing_while_the_dog_waits(
    log: list[CensoredTime], prior: Prior, waited: float
) -> None:
    ahead_of_it = after(log, prior).conditional(waited)
    chances = [ahead_of_it.chance_by(waited + ahead) for ahead in (-5, 0, 1, 10, 60, 300, 3000)]
    assert chances[:2] == [0, 0]
    assert all(0 <= before <= later <= 1 for before, later in pairwise(chances))


@given(LOGS, PRIORS, WAITED, st.sampled_from([0.001, 0.02, 0.1, 0.5, 0.9]))
@QUICK
def test_the_latest_time_keeps_the_limit_to_the_second(
    log: list[CensoredTime], prior: Prior, waited: float, limit: float
) -> None:
    posterior = after(log, prior)
    latest = posterior.latest(limit, waited)
    assert latest >= waited
    assert posterior.conditional(waited).chance_by(latest) <= limit
    assert posterior.conditional(waited).chance_by(latest + 1 / 30) > limit


def test_a_limit_of_nothing_leaves_no_time() -> None:
    assert posterior_of(PRIOR).latest(0, 45) == pytest.approx(45, abs=1)
    assert posterior_of(PRIOR).latest(0) == pytest.approx(0, abs=1)


@given(LOGS, MINUTES)
@QUICK
def test_under_one_shape_the_chances_chain(log: list[CensoredTime], waited: float) -> None:
    # Over several shapes they need not: having waited does not judge the shapes either.
    posterior = after(log, Prior(270, 0.35, SHAPES[3], 0.001))
    still = 1 - posterior.chance_by(waited)
    assume(still > 1e-6)
    for ahead in (10, 60, 240):
        gone = 1 - (1 - posterior.chance_by(waited + ahead)) / still
        assert posterior.conditional(waited).chance_by(waited + ahead) == pytest.approx(
            gone, abs=1e-4
        )


def test_the_longer_the_wait_so_far_the_likelier_the_next_half_hour() -> None:
    sharp = Prior(240, 0.05, 5, 0.01)
    chances = [
        posterior_of(sharp).conditional(waited).chance_by(waited + 30)
        for waited in (0, 90, 180, 270)
    ]
    assert chances == sorted(chances)
    assert chances[0] < 0.001 < 0.3 < chances[-1]


def test_more_holds_narrow_the_range() -> None:
    log = [CensoredTime.at_least(150), CensoredTime.exactly(170), CensoredTime.at_least(140)]
    ranges = [after(log * times).range80 for times in (0, 2, 6, 20)]
    widths = [math.log(high / low) for low, high in ranges]
    assert widths == sorted(widths, reverse=True)


@given(LOGS, PRIORS)
@QUICK
def test_the_curve_falls_from_one(log: list[CensoredTime], prior: Prior) -> None:
    posterior = after(log, prior)
    shares = [posterior.survival(time) for time in (0, 5, 60, 240, 900, 4000)]
    assert shares[0] == 1
    assert all(0 <= later <= before for before, later in pairwise(shares))


# --- Bad logs -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "log",
    [
        [CensoredTime.at_least(3000)] * 20,
        [CensoredTime.exactly(9000)] * 20,
        [CensoredTime.exactly(0)] * 400,
        [CensoredTime(0, 0.5)] * 400,
        [CensoredTime(0, 5000)] * 40,
        [CensoredTime(1439, 1e12)] * 40,
        [CensoredTime(100, 100 + 1e-12)] * 40,
        [CensoredTime.exactly(1)] * 200 + [CensoredTime.at_least(1440)] * 200,
        [CensoredTime.exactly(200)] * 5000,
        [CensoredTime.at_least(200, 0.0), CensoredTime.exactly(3, 0.0), CensoredTime(1, 9, 0.0)],
    ],
)
@pytest.mark.parametrize("prior", [PRIOR, Prior(15, 0.001, SHAPES[-1], 1e-9)])
def test_no_log_gives_anything_but_numbers(log: list[CensoredTime], prior: Prior) -> None:
    posterior = after(log, prior)
    low, high = posterior.range80
    assert 14 < low <= posterior.median <= high <= 1.1 * MOST_MEDIAN
    for waited in (0.0, 300.0, 5000.0, math.inf):
        chances = posterior.conditional(waited)
        for time in (-5.0, 0.0, 1.0, 700.0, 1e9, math.inf):
            assert 0 <= chances.chance_by(time) <= 1
        for limit in (0.0, 1e-9, 0.5, 1 - 1e-9):
            assert math.isfinite(chances.latest(limit))
    for time in (0.0, 1e9, math.inf):
        assert 0 <= posterior.survival(time) <= 1


def test_waits_over_a_day_are_cut_to_a_day_and_counted() -> None:
    likelihood = Likelihood.of(
        [CensoredTime.at_least(2000), CensoredTime.exactly(1500), CensoredTime(1600, 1700)]
    )
    assert (likelihood.cut, likelihood.dry, likelihood.accidents) == (3, 3, 0)
    assert likelihood.waited == Likelihood.of([CensoredTime.at_least(LONGEST)] * 3).waited
    assert (likelihood + likelihood).cut == 6


def test_found_accidents_alone_leave_a_wide_range() -> None:
    low, high = after([CensoredTime(0, 400)] * 12).range80
    assert high / low > 1.6


def test_refuses_a_time_that_is_not_a_number() -> None:
    posterior = posterior_of(PRIOR)
    for ask in (posterior.chance_by, posterior.survival, posterior.conditional):
        with pytest.raises(ValueError, match="not a number"):
            ask(math.nan)


@pytest.mark.parametrize("share", [-0.01, 1.0, math.nan])
def test_refuses_a_share_that_cannot_be(share: float) -> None:
    posterior = posterior_of(PRIOR)
    for ask in (posterior.latest, posterior.median_at):
        with pytest.raises(ValueError, match="a share must be"):
            ask(share)


@pytest.mark.parametrize(
    "numbers",
    [
        (5, 0.3, 3.5, 0.3),
        (4000, 0.3, 3.5, 0.3),
        (math.nan, 0.3, 3.5, 0.3),
        (240, 0, 3.5, 0.3),
        (240, math.nan, 3.5, 0.3),
        (240, 0.3, 0.9, 0.3),
        (240, 0.3, 12, 0.3),
        (240, 0.3, 3.5, 0),
        (240, 0.3, math.nan, 0.3),
    ],
)
def test_refuses_a_prior_off_the_grid(numbers: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="to begin with"):
        Prior(*numbers)


# --- Recovery: does the range hold the truth as often as it says? ---------------------------------


def simulated(rng: random.Random, hold: float, shape: float, outings: int) -> list[CensoredTime]:
    """Return a log of a dog with that median hold, let out every two to three hours."""
    log = []
    for _ in range(outings):
        wait = hold * math.log2(1 / (1 - rng.random())) ** (1 / shape)
        outing, last_look = rng.uniform(120, 180), rng.uniform(20, 60)
        if wait > outing:
            log.append(CensoredTime.at_least(outing))
        elif rng.random() < 0.5:
            log.append(CensoredTime.exactly(wait))
        else:
            dry = wait // last_look * last_look
            log.append(CensoredTime(dry, dry + last_look))
    return log


def share_covered(shape_spread: float, outings: int, logs: int) -> float:
    """Return how often the 80 % range holds the truth, over dogs drawn from the prior."""
    rng = random.Random(20)
    covered = 0
    for _ in range(logs):
        hold = PRIOR.median * math.exp(rng.gauss(0, PRIOR.median_spread))
        shape = max(1.0, PRIOR.shape * math.exp(rng.gauss(0, shape_spread)))
        low, high = after(simulated(rng, hold, shape, outings)).range80
        covered += low <= hold <= high
    return covered / logs


def test_the_range_holds_the_truth_in_four_of_five_logs() -> None:
    assert 0.75 <= share_covered(PRIOR.shape_spread, outings=70, logs=500) <= 0.85


@pytest.mark.parametrize("outings", [10, 250])
def test_it_does_so_with_few_holds_and_with_many(outings: int) -> None:
    assert 0.73 <= share_covered(PRIOR.shape_spread, outings, logs=200) <= 0.87


# --- Fewer medians --------------------------------------------------------------------------------


def hazard(chances: ConditionalSurvival) -> float:
    """Return the sum of the hazards of a day of holds, as the tally takes it."""
    return math.fsum(-math.log1p(-chances.chance_by(wait)) for wait in (40, 75, 120, 150, 190, 260))


def test_fewer_medians_give_the_same_sum_over_a_day() -> None:
    draw = random.Random(5)
    for _ in range(40):
        log = [CensoredTime(float(draw.randint(30, 240))) for _ in range(draw.randint(0, 120))]
        log += [CensoredTime.exactly(draw.randint(60, 300)) for _ in range(draw.randint(0, 6))]
        posterior = after(log, Prior(draw.choice([150.0, 270.0, 400.0]), 0.35, 4.0, 0.6))
        short = hazard(posterior.conditional(least=1e-5, steps=FEWER))
        assert short == pytest.approx(hazard(posterior.conditional()), rel=0.005)
