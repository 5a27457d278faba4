"""How late a household keeps its breaks: learned by the hour, within reason, from any log."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.estimate.lateness import HOURS, NO_LATENESS, Lateness
from pottyboard.core.model import priors
from tests.core.diary import Diary, diary

ANSWERS = st.lists(st.tuples(st.integers(0, HOURS - 1), st.floats(0, 600)), max_size=60)


def of(page: Diary, clock: str) -> Lateness:
    """Return what the log teaches of the household up to a clock time."""
    return replace(page, learn=True).days(clock)[-1].evidence_so_far.lateness


# --- What answers say -----------------------------------------------------------------------------


def test_a_household_is_like_most_before_its_log_speaks() -> None:
    assert {NO_LATENESS.at(hour) for hour in range(HOURS)} == {priors.KEPT_LATE}


def test_the_hour_is_learned_and_the_others_follow_the_day() -> None:
    prompt, late = [(hour, 2.0) for hour in (8, 10, 12, 14)], [(18, 22.0)]
    lateness = Lateness.of([*prompt, *late] * 10)
    assert lateness.at(18) > 1.5 * lateness.usual
    assert lateness.at(10) < lateness.usual
    assert 15 < lateness.at(18) < 22
    assert lateness.at(4) == pytest.approx(lateness.usual)


def test_an_hour_tells_something_of_the_hours_beside_it_over_midnight_too() -> None:
    lateness = Lateness.of([(0, 24.0)] * 4 + [(12, 1.0)] * 12)
    assert lateness.at(0) > lateness.at(23) > lateness.at(22)
    assert lateness.at(23) == lateness.at(1)


@pytest.mark.parametrize("truth", [1.0, 6.0, 14.0, 22.0])
def test_a_household_that_is_always_so_late_is_found_out(truth: float) -> None:
    lateness = Lateness.of([(hour, truth) for hour in range(7, 22)] * 12)
    assert lateness.at(15) == pytest.approx(truth, abs=1.0)


@given(ANSWERS, st.integers(0, HOURS - 1))
def test_it_stays_within_reason(answers: list[tuple[int, float]], hour: int) -> None:
    assert 0 <= Lateness.of(answers).at(hour) <= priors.LATE_MOST


@given(ANSWERS, st.integers(0, HOURS - 1), st.floats(0, 60), st.floats(0, 60))
def test_a_later_answer_never_makes_it_less(
    answers: list[tuple[int, float]], hour: int, one: float, other: float
) -> None:
    sooner, later = sorted((one, other))
    less, more = (Lateness.of([*answers, (hour, late)]) for late in (sooner, later))
    assert all(less.at(at) <= more.at(at) + 1e-9 for at in range(HOURS))


def test_one_outing_forgotten_for_hours_counts_as_an_hour() -> None:
    assert Lateness.of([(9, 600.0)]) == Lateness.of([(9, float(priors.LATE_COUNTED))])


def test_older_days_count_less() -> None:
    then, now = Lateness.of([(9, 20.0)] * 20), Lateness.of([(9, 2.0)] * 20)
    for _ in range(20):
        then = then.a_day_older()
    assert (then + now).at(9) < (Lateness.of([(9, 20.0)] * 20) + now).at(9)


# --- What the log says ----------------------------------------------------------------------------


def every(page: Diary, hours: float, day: int) -> Diary:
    """Return the page with a day of pees so many hours apart, from 06:30 on."""
    page, minutes = page.on(day).at("06:30", "up"), 390.0
    while minutes < 21 * 60:
        page = page.at(f"{int(minutes // 60):02}:{int(minutes % 60):02}", "pee")
        minutes += 60 * hours
    return page


def test_an_outing_after_the_interval_is_so_much_late() -> None:
    late, prompt = (of(every(diary(), hours, 1), "21:30") for hours in (2.25, 2.0))
    assert late.usual > priors.KEPT_LATE > prompt.usual
    answered = [late.late[hour] / late.calls[hour] for hour in range(HOURS) if late.calls[hour]]
    assert answered == [pytest.approx(15)] * len(answered)


def test_an_outing_before_anything_was_due_says_nothing() -> None:
    assert of(every(diary(), 1.25, 1), "21:30").calls == NO_LATENESS.calls


def test_neither_the_first_outing_of_a_day_nor_a_sign_says_how_late_it_is() -> None:
    page = diary().on(1).at("06:30", "up").at("07:10", "pee").at("09:25", "sign").at("09:40", "pee")
    assert of(page, "10:00").calls == NO_LATENESS.calls


def test_a_day_that_is_worked_out_in_steps_says_the_same() -> None:
    page = every(every(diary(), 2.25, 1), 2.25, 2)
    whole = of(page, "21:30")
    of(replace(page, entries=page.entries[:-3]), "16:00")
    assert of(page, "21:30") == whole


def test_the_rule_alone_learns_nothing() -> None:
    page = every(diary(), 2.25, 1)
    assert page.days("21:30")[-1].evidence_so_far.lateness == NO_LATENESS
