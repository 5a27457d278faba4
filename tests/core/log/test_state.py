"""The running facts: what the log says at an instant, after the entries so far."""

from __future__ import annotations

import pytest

from pottyboard.core.log.state import LogState, for_the_night
from pottyboard.core.model.events import Event
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.core.log.told import facts, minute, today

# --- Sleep ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "said", "night"),
    [
        ("13:00", "", False), ("13:00", "nap", False), ("13:00", "night", True),
        ("22:40", "", True), ("22:40", "nap", False), ("22:40", "night", True),
    ],
)  # fmt: skip
def test_a_dog_settles_for_the_night_as_said_or_by_the_hour(
    clock: str, said: str, night: bool
) -> None:
    page = diary().all_at(*MORNING)
    settled = Event("settled", page.instant(clock), sleep=said)
    assert for_the_night(settled, today(page, "13:00").plan) == night


def slept(page: Diary, at: str, *, told: str = "12:00") -> tuple[str, str | None]:
    """Return the sleep at a clock time, and since when, by a log that ends at ``told``."""
    day, now = today(page, told), minute(page, at)
    since = day.facts.asleep_from(day.plan, now)
    shift = None if since is None else since - minute(page, "00:00")
    clock = None if shift is None else f"{int(shift) // 60:02}:{int(shift) % 60:02}"
    return day.facts.sleep_at(day.plan, now), clock


def test_a_nap_lasts_until_something_shows_that_the_dog_is_awake() -> None:
    page = diary().all_at(*MORNING, "10:00 settled")
    assert slept(page, "11:00") == ("nap", "10:00")
    assert slept(page.all_at("10:30 duty", "10:40 note", "10:50 left"), "11:00") == ("nap", "10:00")
    assert slept(page.at("10:30", "water"), "11:00") == ("", None)
    assert slept(page.at("10:30", "settled"), "11:00") == ("nap", "10:00")


@pytest.mark.parametrize(
    ("last", "awake", "asleep"),
    [
        ("22:25 pee", "22:44", "22:45"),
        ("21:45 pee", "22:44", "22:45"),
        ("21:44 pee", "00:29", "00:30"),
        ("22:45 pee", "22:59", "23:00"),
        ("22:25 nothing", "00:29", "00:30"),
    ],
)
def test_after_bedtime_a_quiet_dog_is_taken_to_sleep(last: str, awake: str, asleep: str) -> None:
    # A quarter of an hour after bedtime and a last outing; without one two hours.
    page = diary().all_at(*MORNING, last)

    def at(clock: str) -> float:
        return minute(page, clock) + (1440 if clock < "12:00" else 0)

    day = today(page, "22:50")
    assert day.facts.sleep_at(day.plan, at(awake)) == ""
    assert day.facts.sleep_at(day.plan, at(asleep)) == "night"
    since = max(minute(page, "22:30"), minute(page, last.split()[0]))
    assert day.facts.asleep_from(day.plan, at(asleep)) == since


def test_a_night_that_was_logged_begins_before_bedtime_too() -> None:
    page = diary().all_at(*MORNING).at("20:00", "settled", sleep="night")
    assert slept(page, "20:30", told="20:30") == ("night", "20:00")
    assert slept(page, "22:40", told="22:40") == ("night", "20:00")


def test_a_night_nobody_ended_does_not_outlast_the_next_morning() -> None:
    page = diary().all_at(*MORNING, "22:20 pee", "22:40 settled")
    first = today(page, "23:59")
    assert first.facts.sleep == "night"
    tomorrow = page.on(2)
    before, after = minute(tomorrow, "05:00"), minute(tomorrow, "06:31")
    assert first.facts.sleep_at(first.plan, before) == "night"
    second = today(tomorrow, "06:31")
    assert second.facts.sleep_at(second.plan, after) == ""


def test_what_was_slept_since_the_last_pee() -> None:
    page = diary().all_at(*MORNING, "10:00 pee", "10:30 settled")
    day = facts(page, "11:15")
    assert day.asleep_in_hold(minute(page, "11:15")) == 45
    woken = page.at("11:15", "water")
    assert facts(woken, "12:00").asleep_in_hold(minute(page, "12:00")) == 45
    again = woken.at("12:00", "settled")
    assert facts(again, "12:30").asleep_in_hold(minute(page, "12:30")) == 75
    assert facts(again.at("12:30", "pee"), "13:00").asleep_in_hold(minute(page, "13:00")) == 0


def test_a_nap_that_nobody_ended_counts_for_three_hours() -> None:
    page = diary().all_at(*MORNING, "10:00 pee", "10:30 settled")
    assert facts(page, "16:00").asleep_in_hold(minute(page, "12:30")) == 120
    assert facts(page, "16:00").asleep_in_hold(minute(page, "16:00")) == 180
    up = page.at("15:00", "up")
    assert facts(up, "16:00").asleep_in_hold(minute(page, "16:00")) == 180
    sleeps_on = page.at("13:30", "settled")
    assert facts(sleeps_on, "16:00").asleep_in_hold(minute(page, "16:00")) == 330


# --- What waits -----------------------------------------------------------------------------------


def test_meals_wait_for_stool_and_are_forgotten_at_an_outing_six_hours_later() -> None:
    page = diary().all_at(*MORNING, "07:00 meal")
    seven = minute(page, "07:00")
    assert facts(page.at("12:59", "pee"), "23:00").waiting_meals == (seven,)
    assert facts(page.at("13:00", "pee"), "23:00").waiting_meals == ()
    assert facts(page.at("07:40", "poop"), "23:00").waiting_meals == ()


# --- Alone ----------------------------------------------------------------------------------------


def test_the_dog_is_alone_until_something_after_the_return_shows_somebody() -> None:
    page = diary(away="08:30-12:00").all_at(*MORNING, "08:30 left")
    left = minute(page, "08:30")
    for entries, alone in (
        ((), True),
        (("10:00 pee",), True),  # a visit stands in
        (("11:59 pee",), True),
        (("12:00 pee",), False),
        (("12:10 note",), True),  # says nothing of the dog
        (("10:00 back",), False),
    ):
        found = facts(page.all_at(*entries), "12:15")
        assert (found.left == left) == alone, entries
    day = today(page, "12:15")
    assert day.facts.alone_from(day.plan, minute(page, "11:59")) == left
    assert day.facts.alone_from(day.plan, minute(page, "12:00")) is None


def test_nobody_is_away_still_from_the_day_before() -> None:
    page = diary().all_at(*MORNING, "20:00 left").on(2)
    assert facts(page.all_at("06:30 up"), "07:00").left is None


# --- Accidents ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "details", "night"),
    [
        ("06:40", {"found": True}, True),
        ("06:40", {"found": False}, False),
        ("06:40", {"found": None}, False),
        ("06:40", {"found": True, "dry": "06:20"}, True),
        ("06:40", {"found": True, "dry": "06:30"}, False),
        ("22:35", {"found": False}, True),
        ("22:25", {"found": True}, False),
    ],
)
def test_an_accident_of_the_night(clock: str, details: dict[str, object], night: bool) -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).at("06:30", "up")
    if clock > "12:00":
        page = page.all_at("06:35 pee")
    found = facts(page.at(clock, "pee-inside", **details), "23:00")
    assert (found.last_night_accident == minute(page, clock)) == night


def test_before_the_first_night_nothing_is_of_the_night() -> None:
    page = diary().at("06:40", "pee-inside", found=True)
    assert facts(page, "07:00").last_night_accident is None


def test_clocks_count_from_their_last_entry() -> None:
    page = diary().all_at("06:30 up", "07:00 pee", "07:10 poop", "07:20 meal", "07:30 water")
    page = page.at("08:00", "pee-inside", found=False)
    assert facts(page, "08:30").since(minute(page, "08:30")) == {
        "pee": 30, "poop": 80, "meal": 70, "water": 60, "out": 80, "accident": 30,
    }  # fmt: skip
    assert set(facts(diary(), "08:30").since(0).values()) == {None}


def test_of_an_empty_log_nothing_is_known() -> None:
    new = LogState()
    assert (new.tries, new.nap_in_hold, new.longest_hold, new.asleep_in_hold(90)) == ((), 0, 0, 0)
    assert not new.night_in_hold
    assert not new.seen_by_vet
    assert (new.waiting_meals, new.dirty, new.mishaps, dict(new.places)) == ((), (), (), {})


def test_a_copy_goes_its_own_way() -> None:
    found = facts(diary().all_at(*MORNING), "07:00")
    other = found.copy()
    assert other == found
    other.tries = (1.0,)
    assert found.tries == ()
