"""The counts of some days and the sentences made of them, on days written for the purpose."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.review.report import ReviewError, review
from pottyboard.core.review.sentence import bare, count, sentence
from pottyboard.core.review.story import chance_of_split
from pottyboard.core.review.tally import tally
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def clear(days: int) -> Diary:
    page = diary()
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(days + 1)


def told(page: Diary, clock: str = "07:00", **asked: int) -> dict[str, str]:
    found = review(page.settings, page.entries, page.instant(clock), **asked)  # type: ignore[arg-type]
    return {said.topic: said.words for said in found.story}


# --- Which days -----------------------------------------------------------------------------------


def test_the_last_two_weeks_or_as_many_as_there_are() -> None:
    page = clear(20)
    now = page.instant("07:00")
    first = page.settings.first_date
    assert review(page.settings, page.entries, now).numbers.first == first + timedelta(days=7)
    assert review(page.settings, page.entries, now, days=100).numbers.first == first
    some = review(page.settings, page.entries, now, first + timedelta(days=2), 3)
    assert (some.numbers.first, some.numbers.days) == (first + timedelta(days=2), 3)
    assert [day.number for day in some.days] == [3, 4, 5]
    assert some.before is None


@pytest.mark.parametrize(("first", "days"), [(-1, 3), (30, 3), (0, 0), (0, 367)])
def test_days_that_are_not_in_the_log(first: int, days: int) -> None:
    page = clear(2)
    with pytest.raises(ReviewError):
        review(
            page.settings, page.entries, page.instant("07:00"),
            page.settings.first_date + timedelta(days=first), days,
        )  # fmt: skip


def test_no_days_cannot_be_counted() -> None:
    page = clear(2)
    start = page.settings.first_date
    with pytest.raises(ValueError, match="no day of the record"):
        tally(page.days("07:00"), start - timedelta(days=9), start - timedelta(days=8))


# --- What is said, and what is not ----------------------------------------------------------------


def test_an_empty_log_says_so() -> None:
    said = told(diary().on(1), "12:00")
    assert said["outings"] == "No outing was logged."
    assert said["accidents"] == "No accident was logged."
    assert said["record"] == "1 day of Bramble: Mon 2 Mar, day 1 at home."
    assert "days" not in said
    assert "nights" not in said
    assert "never an accident" in said["streak"]


def test_what_another_dog_may_have_done_is_neither_counted_nor_denied() -> None:
    page = clear(1).all_at(*MORNING).at("09:00", "pee-inside", found=True, unsure=True)
    said = told(page, "12:00")
    assert said["unsure"].startswith("1 accident that another dog may have had")
    assert said["accidents"] == "No other accident was logged."
    assert said["streak"] == (
        "The streak is 1 clear day, and no accident is known to be Bramble’s."
    )


def test_a_past_window_says_nothing_of_now() -> None:
    page = clear(8)
    found = review(page.settings, page.entries, page.instant("07:00"),
                   page.settings.first_date, 4)  # fmt: skip
    topics = {said.topic for said in found.story}
    assert not topics & {"streak", "bound", "hold"}
    assert {"interval", "longest", "days"} <= topics


def test_seen_found_and_not_said_make_up_all_accidents() -> None:
    page = clear(1).all_at(*MORNING).at("07:10", "pee-inside", found=None)
    page = page.at("07:40", "pee-inside", found=True)
    assert (
        told(page, "12:00")["accidents"] == "2 accidents: 0 seen, 1 found afterwards, 1 not said."
    )


def test_a_night_is_wet_by_an_accident_found_before_the_first_outing() -> None:
    page = clear(2).at("06:25", "pee-inside", found=True).at("06:30", "up").at("06:40", "pee")
    assert told(page, "07:00")["nights"].endswith("1 without an accident.")


def test_an_accident_after_getting_up_is_not_of_the_night() -> None:
    page = clear(2).at("06:30", "up").at("06:45", "pee-inside", found=True, dry="06:35")
    assert told(page, "07:00")["nights"].endswith("2 without an accident.")


def test_absences_and_visits() -> None:
    page = clear(1).all_at(*MORNING, "09:00 left", "10:30 back", "11:00 left", "11:30 visit")
    assert told(page, "12:00")["alone"] == (
        "Left alone 2 times, 1 h 30 in all, 1 h 30 the longest; 1 visit."
    )


# --- Chance ---------------------------------------------------------------------------------------


def test_chance_of_a_split() -> None:
    assert chance_of_split(5, 0) == 2 / 32
    assert chance_of_split(1, 1) == 1.0
    assert chance_of_split(0, 1) == 1.0
    assert chance_of_split(9, 1) == pytest.approx(22 / 1024)


@given(st.integers(0, 400), st.integers(0, 400))
def test_a_more_uneven_split_is_rarer(one: int, other: int) -> None:
    chance = chance_of_split(one, other)
    assert 0 < chance <= 1
    assert chance == chance_of_split(other, one)
    if one >= other > 0:
        assert chance_of_split(one + 1, other - 1) <= chance


# --- A sentence -----------------------------------------------------------------------------------


def test_a_sentence_keeps_only_the_numbers_that_it_states() -> None:
    said = sentence(
        "x", "{dogs} and {name}", count("dogs", 2, "dog"), bare("cats", 3), name="{cats}"
    )
    assert said.words == "2 dogs and {cats}"
    assert [number.name for number in said.numbers] == ["dogs"]
