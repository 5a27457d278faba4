"""The calls that a known dog no longer gets: which, by what record, and who has the last word."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.core.view.situation import Situation
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

QUIET = [entry for entry in CLEAR_DAY if entry not in ("17:30 meal", "17:50 both")]
"""A day without its second meal and the outing that followed."""


def known(*evenings: str, days: int = 4) -> Diary:
    """Return the morning after ``days`` clear days, each with these entries for its evening."""
    page = Diary(diary().settings, learn=True)
    for day in range(1, days + 1):
        page = page.on(day).all_at(*(QUIET if evenings else CLEAR_DAY), *evenings)
    return page.on(days + 1).all_at(*MORNING)


def words(seen: Situation) -> dict[str, str]:
    return {call.code: call.words for call in seen.calls}


EMPTY_AFTER_DINNER = ("17:30 meal", "17:45 nothing")


def test_nothing_is_dropped_before_the_log_knows_the_dog() -> None:
    assert known(days=1).read("07:00").calls == ()
    assert replace(known(), learn=False).read("07:00").calls == ()


def test_a_known_dog_gets_no_break_for_a_meal_a_drink_or_play() -> None:
    seen = known().read("07:00")
    assert [call.code for call in seen.dropped] == ["meal", "drink", "play"]
    assert [call.code for call in seen.calls] == ["meal", "drink", "play", "all"]
    page = known().all_at("07:00 meal", "07:05 water", "07:10 play")
    assert not {"meal", "drink", "play"} & page.dues("07:11").keys()


def test_the_record_of_a_meal_is_told_with_the_break_that_serves_it() -> None:
    seen = known(*EMPTY_AFTER_DINNER).read("12:00")
    meal = next(call for call in seen.calls if call.code == "meal")
    assert (meal.outings, meal.empty) == (8, 4)
    assert meal.words.startswith(
        "No break of its own after meals: 4 of 8 such breaks brought nothing. "
        "After the 17:30 meal 4 of 4 breaks brought nothing: the "
    )
    serving = meal.words.rpartition("the ")[2].partition(" break")[0]
    planned = [seen.settings.clock(slot.at) for slot in seen.timeline if slot.kind == "break"]
    assert serving == next(clock for clock in planned if clock > "17:30")
    assert meal.words.endswith("break serves it.")


def test_a_meal_that_brings_something_is_no_reason_by_itself() -> None:
    seen = known("17:30 meal", "17:45 pee").read("12:00")
    assert words(seen)["meal"] == (
        "No break of its own after meals: the chance of an accident counts it."
    )


def test_two_outings_prove_nothing() -> None:
    drinks = ("15:00 water", "15:20 nothing")
    assert "brought nothing" not in words(known(*drinks, days=2).read("07:00"))["drink"]
    assert "3 of 3 such breaks" in words(known(*drinks, days=3).read("07:00"))["drink"]


def test_the_break_that_serves_a_meal_is_named_once_it_waits() -> None:
    page = known(*EMPTY_AFTER_DINNER).all_at("16:40 pee", "17:30 meal")
    said = [line for line in page.read("17:35").advice if "serves" in line]
    assert len(said) == 1
    assert said[0].endswith("break serves the 17:30 meal too: 4 of 8 such breaks brought nothing")


@pytest.mark.parametrize("code", ["meal", "drink", "play"])
def test_each_call_comes_back_by_its_measure_and_goes_again(code: str) -> None:
    page = known()
    back = page.at("06:45", "routine", measure=f"call-{code}").read("07:00")
    asked = {call.code: call for call in back.calls}
    assert asked[code].called
    assert "as you asked" in asked[code].words
    assert asked[code].measure == f"drop-{code}"
    assert len(back.dropped) == 2
    again = page.at("06:45", "routine", measure=f"call-{code}")
    again = again.at("06:50", "routine", measure=asked[code].measure)
    assert len(again.read("07:00").dropped) == 3


def test_a_call_asked_back_calls() -> None:
    page = known().at("06:45", "routine", measure="call-meal").at("07:00", "meal")
    assert page.dues("07:01")["meal"] == "07:15"
    dropped = page.at("07:02", "routine", measure="drop-meal")
    assert "meal" not in dropped.dues("07:03")


def test_all_the_fixed_reasons_can_be_had_back_and_given_up() -> None:
    page = known().at("06:45", "routine", measure="fixed-reasons").at("07:00", "meal")
    seen = page.read("07:01")
    assert [call.code for call in seen.calls] == ["all"]
    assert seen.calls[0].called
    assert seen.dropped == ()
    assert page.dues("07:01")["meal"] == "07:15"
    back = page.at("07:02", "routine", measure=seen.calls[0].measure)
    assert "meal" not in back.dues("07:03")
    assert len(back.read("07:03").dropped) == 3
