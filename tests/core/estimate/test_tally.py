"""Predicted and had: each dog's own tally corrects its chance, and what is shown stays in order."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from pottyboard.core.estimate.learning import Estimate, EvidenceSoFar, Tally
from pottyboard.core.log.waits import Hold
from pottyboard.core.model import priors
from tests.core.diary import diary

DOG = diary().settings.dog
AT_MOST = 1.11
"""Times: a tally that fades from day to day may turn an ordering round by no more than this."""

Day = tuple[Hold, ...]


def out(minutes: float) -> Hold:
    """Return a hold that ended outside."""
    return Hold(0, minutes, 0, "out")


def seen(minutes: float) -> Hold:
    """Return a hold that ended indoors, seen."""
    return Hold(0, minutes, 0, "seen")


def lived(days: Sequence[Day], each: Callable[[Estimate, Day], None] | None = None) -> Estimate:
    """Return the estimate after these days, learned as the board learns; ask ``each`` morning."""
    evidence = EvidenceSoFar()
    for holds in days:
        evidence = evidence.a_day_older()
        morning = Estimate(DOG, evidence)
        if each is not None:
            each(morning, holds)
        evidence += EvidenceSoFar.of(holds)
        evidence = structs.replace(evidence, tally=evidence.tally + morning.tally_of(holds))
    return Estimate(DOG, evidence)


# --- The factor -----------------------------------------------------------------------------------


def test_a_dog_with_an_empty_log_has_the_factor_of_the_prior() -> None:
    assert Tally().factor == priors.TALLY_HAD / priors.TALLY_PREDICTED


@given(st.floats(0, 50), st.integers(0, 30), st.floats(0, 5))
def test_more_accidents_raise_it_and_more_predicted_ones_lower_it(
    predicted: float, had: int, more: float
) -> None:
    factor = Tally(predicted, had).factor
    assert 0 < factor < math.inf
    assert Tally(predicted, had + 1).factor > factor
    assert Tally(predicted + more, had).factor <= factor


def test_it_is_drawn_to_the_prior_as_days_go_by_without_a_hold() -> None:
    tally = Tally(2, 6)
    for _ in range(200):
        tally = tally.a_day_older()
    assert tally.factor == pytest.approx(Tally().factor, rel=0.05)


def test_what_a_day_brings_counts_by_the_belief_of_its_morning() -> None:
    day = (out(100), out(150), seen(170))
    morning = lived([(out(120),) * 6])
    expected = [-math.log1p(-morning.hold.chance_by(hold.awake)) for hold in day]
    tally = morning.tally_of(day)
    assert tally.predicted == pytest.approx(sum(expected), rel=5e-3)
    assert tally.had == 1


def test_a_night_and_what_says_nothing_of_holding_are_not_counted() -> None:
    marked = structs.replace(seen(90), other_cause=True)
    over_night = structs.replace(out(420), night=True)
    assert Estimate(DOG, EvidenceSoFar()).tally_of([marked, over_night]) == Tally()


# --- Known families -------------------------------------------------------------------------------


def weibull(shape: float, middle: float = 260) -> Callable[[Random], float]:
    """Draw holds by a law of Weibull."""
    return lambda rng: middle * (-math.log(1 - rng.random()) / math.log(2)) ** (1 / shape)


FAMILIES: dict[str, Callable[[Random], float]] = {
    "blunt": weibull(2),
    "middling": weibull(4),
    "sharp": weibull(6),
    "short": weibull(4, 170),
    "log-normal": lambda rng: 260 * rng.lognormvariate(0, 0.3),
}


@pytest.mark.parametrize("family", FAMILIES)
def test_what_is_predicted_comes_true_for_dogs_of_a_known_family(family: str) -> None:
    rng, sums = Random(f"tally {family}"), {"bare": 0.0, "shown": 0.0, "came": 0.0}

    def look(morning: Estimate, holds: Day) -> None:
        if not morning.has_enough:
            return
        tally = morning.tally_of(holds)
        sums["bare"] += tally.predicted
        sums["shown"] += tally.predicted * morning.evidence_so_far.tally.factor
        sums["came"] += tally.had

    for _ in range(8):
        days = []
        for _ in range(12):
            calls = [(rng.uniform(80, 170), FAMILIES[family](rng)) for _ in range(7)]
            days.append(tuple(seen(hold) if hold < call else out(call) for call, hold in calls))
        lived(days, look)
    shown, bare = (abs(math.log(sums["came"] / sums[which])) for which in ("shown", "bare"))
    assert shown < math.log(2)
    assert shown <= max(bare, math.log(1.25))


def test_the_chance_shown_is_the_belief_with_the_factor_on_its_hazard() -> None:
    estimate = lived([(out(130),) * 5, (out(130), seen(140), seen(100))])
    factor = estimate.evidence_so_far.tally.factor
    for held, minutes in ((0, 120), (0, 240), (90, 150)):
        bare = estimate.hold.conditional(held).chance_by(minutes)
        assert estimate.pees_by(minutes, held) == pytest.approx(1 - (1 - bare) ** factor)


# --- What stays in order --------------------------------------------------------------------------

HOLDS = st.builds(
    lambda minutes, indoors: seen(minutes) if indoors else out(minutes),
    st.integers(45, 300),
    st.sampled_from([False] * 5 + [True]),
)
DAYS = st.lists(st.lists(HOLDS, min_size=1, max_size=7).map(tuple), min_size=1, max_size=6)


@settings(max_examples=40)
@given(DAYS, st.integers(0, 5), st.integers(60, 300), st.floats(0.2, 1))
def test_one_more_dry_hold_hardly_raises_the_chance_of_a_shorter_one(
    days: list[Day], place: int, minutes: int, share: float
) -> None:
    place %= len(days)
    more = [*days[:place], (*days[place], out(minutes)), *days[place + 1 :]]
    before, after = (lived(log).pees_by(share * minutes) for log in (days, more))
    assert after <= before * AT_MOST + 1e-9


@settings(max_examples=40)
@given(DAYS, st.integers(0, 5), st.integers(60, 300), st.integers(30, 480))
def test_an_accident_in_place_of_a_dry_hold_never_lowers_the_chance(
    days: list[Day], place: int, minutes: int, by: int
) -> None:
    place %= len(days)
    logs = (
        [*days[:place], (*days[place], one), *days[place + 1 :]]
        for one in (out(minutes), seen(minutes))
    )
    dry, wet = (lived(log).pees_by(by) for log in logs)
    assert wet >= dry / AT_MOST - 1e-9


@settings(max_examples=40)
@given(DAYS, st.floats(0, 300), st.floats(0, 700), st.floats(0, 300))
def test_the_chance_is_one_and_never_falls_while_nobody_goes_out(
    days: list[Day], held: float, by: float, more: float
) -> None:
    estimate = lived(days)
    sooner, later = estimate.pees_by(by, held), estimate.pees_by(by + more, held)
    assert 0 <= sooner <= later + 1e-12
    assert later <= 1


@settings(max_examples=40)
@given(DAYS, st.floats(0.005, 0.3))
def test_the_wait_within_a_limit_ends_where_the_chance_that_is_shown_reaches_it(
    days: list[Day], limit: float
) -> None:
    estimate = lived(days)
    wait = estimate.wait_within(limit)
    assert estimate.pees_by(wait - 2) <= limit <= estimate.pees_by(wait + 2)


@pytest.mark.parametrize(
    "hold",
    [
        out(0), seen(0), out(5000), seen(5000), out(200_000),
        Hold(0, 0, 700, "found", dry=900), Hold(0, 100, 0, "found", dry=100),
    ],
)  # fmt: skip
def test_bad_holds_leave_a_chance_that_can_be_used(hold: Hold) -> None:
    estimate = lived([(hold,) * 6, (out(120),), (hold,)])
    assert 0 < estimate.evidence_so_far.tally.factor < math.inf
    assert all(0 <= estimate.pees_by(minutes) <= 1 for minutes in (0, 1, 60, 600, 1e6))
