"""How regular the times of the day are, and which of them drift."""

from __future__ import annotations

import pytest

from pottyboard.core.patterns.routine_times import (
    TimeKept,
    drift_questions,
    regularity,
    regularity_told,
    times_kept,
)
from tests.core.diary import CLEAR_DAY, Diary, diary


def kept(page: Diary, clock: str = "23:30") -> dict[str, TimeKept]:
    days = page.days(clock)
    return {one.code: one for one in times_kept(page.settings, days, range(len(days)))}


def some_days(number: int, meals: str = "07:00,17:30", *extra: str) -> Diary:
    page = diary(meals=meals, arrived="02:00")
    for day in range(1, number + 1):
        page = page.on(day).all_at(*sorted((*CLEAR_DAY, *extra)))
    return page


def on(*minutes: float, first: int = 1) -> TimeKept:
    return TimeKept("meal-1", "Breakfast", 420.0, tuple(enumerate(minutes, first)))


def test_every_time_of_the_day_is_kept_once() -> None:
    found = kept(some_days(3))
    assert {code: [round(minute) for minute in one.minutes] for code, one in found.items()} == {
        "up": [390] * 3,
        "first": [395] * 3,
        "meal-1": [420] * 3,
        "meal-2": [1050] * 3,
        "last": [1350] * 2,
        "bedtime": [1360] * 2,
    }
    assert found["meal-1"].words == "Breakfast"
    assert found["meal-2"].words == "Dinner"
    assert found["meal-1"].planned == 420


def test_a_meal_is_the_planned_one_that_it_is_nearest_to() -> None:
    found = kept(some_days(2, "07:00,12:30,17:30", "10:00 meal", "13:40 meal"))
    assert found["meal-1"].minutes == (420.0, 420.0)
    assert found["meal-2"].minutes == (820.0, 820.0)
    assert found["meal-2"].words == "The 12:30 meal"


def test_nobody_got_up_on_the_day_of_arrival() -> None:
    page = diary(arrived="11:00").all_at("11:05 pee", "17:30 meal", "22:30 settled")
    found = kept(page.on(2).all_at("06:30 up", "06:40 pee"), "08:00")
    assert found["up"].minutes == (390.0,)
    assert found["first"].minutes == (400.0,)


def test_a_dog_that_was_there_before_got_up_on_the_day_of_arrival_too() -> None:
    assert kept(diary(arrived="05:00").all_at("06:32 up", "06:35 pee"))["up"].minutes == (392.0,)
    assert "up" not in kept(diary(arrived="11:00").all_at("11:30 settled", "12:30 up"))


@pytest.mark.parametrize(
    ("entries", "minutes"),
    [
        (["08:10 pee"], None),
        (["07:00 duty", "08:22 up", "08:25 pee"], (502.0,)),
        (["07:00 duty", "08:25 pee", "08:30 up"], None),
    ],
)
def test_only_an_entry_that_says_so_tells_when_the_dog_got_up(
    entries: list[str], minutes: tuple[float, ...] | None
) -> None:
    found = kept(diary(arrived="15:00").on(2).all_at(*entries), "20:00").get("up")
    assert (found and found.minutes) == minutes


def test_an_evening_that_is_not_over_has_no_last_break() -> None:
    assert "last" not in kept(some_days(1))


def test_few_days_say_nothing() -> None:
    assert regularity(on(420, 421, 419, 420)) is None
    assert list(drift_questions(on(420, 430, 440, 450))) == []


def test_a_regular_breakfast() -> None:
    one = on(415, 418, 420, 421, 421, 425, 426, 454)
    usual = regularity(one)
    assert usual is not None
    assert (usual.days, usual.median) == (8, 421)
    assert usual.mean == pytest.approx(425, abs=0.01)
    assert usual.r > 0.998
    told = regularity_told(one, usual)
    assert told.words == "Breakfast: 07:05 on average, within 15 min of that on 7 of 8 days."
    assert told.sure == "in the long run probably 06:56 to 07:14"


def test_times_that_cancel_out_have_no_regularity() -> None:
    assert regularity(on(0, 360, 720, 1080, 0, 360, 720, 1080)) is None


def test_five_days_give_a_count_alone() -> None:
    one = on(420, 421, 419, 420, 440)
    usual = regularity(one)
    assert usual is not None
    told = regularity_told(one, usual)
    assert (told.count, told.of) == (4, 5)
    assert told.sure == "a count; the days are too few to say more"


def test_scattered_times_say_so() -> None:
    one = on(0, 300, 700, 800, 1300, 0, 300, 700)
    usual = regularity(one)
    assert usual is not None
    assert usual.limits is None
    assert "too scattered" in regularity_told(one, usual).sure


def test_a_drift_over_midnight() -> None:
    ((question, usual),) = drift_questions(on(*(((1400 + 10 * day) % 1440) for day in range(10))))
    assert usual.drift == pytest.approx(10)
    assert question.by_chance < 1e-5
    assert question.words == "Breakfast drifts: about 10 min a day, some 90 min later over 10 days."


def test_a_drift_to_earlier() -> None:
    ((question, usual),) = drift_questions(on(*(420 - 4 * day for day in range(12))))
    assert usual.drift == pytest.approx(-4)
    assert question.words.endswith("some 44 min earlier over 12 days.")
    assert question.matters
