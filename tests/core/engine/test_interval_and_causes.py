"""What the likely cause does to the interval, the streak, the day and what is learned."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def morning(*entries: str) -> Diary:
    """Return the third day: out at 06:35, the next break due at 08:35."""
    return diary().on(3).all_at(*MORNING, *entries)


MARKING = {"upright": True, "amount": "small"}


@pytest.mark.parametrize(
    ("entries", "clock", "details", "interval"),
    [
        ((), "08:00", {}, 90),
        ((), "08:00", MARKING, 120),
        ((), "08:00", {**MARKING, "cause": "longer"}, 90),
        ((), "08:00", {**MARKING, "cause": "unknown"}, 90),
        ((), "08:00", {"cause": "marking"}, 120),
        (("07:58 back", "07:59 note"), "08:00", {"amount": "small"}, 120),
        (("07:58 back", "07:59 note"), "08:00", {"amount": "small", "cause": "longer"}, 90),
        (("07:30 settled",), "08:00", {}, 90),
        (("07:30 settled",), "08:00", {"surface": "fabric"}, 120),
        (("07:30 settled",), "08:00", {"surface": "fabric", "cause": "longer"}, 90),
        (("07:30 settled",), "08:00", {"cause": "leak"}, 120),
    ],
)
def test_another_cause_moves_nothing_whether_likely_or_said(
    entries: tuple[str, ...], clock: str, details: dict[str, Any], interval: int
) -> None:
    page = morning(*entries).at(clock, "pee-inside", **details)
    assert page.read(clock).interval.minutes == interval


@pytest.mark.parametrize(
    ("details", "interval"),
    [
        ({"found": None}, 90),
        ({"found": None, "dry": "07:30"}, 90),
        ({"found": True}, 90),
        ({"found": True, "dry": "07:30"}, 90),
        ({"found": False}, 90),
    ],
)
def test_inside_it_narrows_seen_found_or_not_said(details: dict[str, Any], interval: int) -> None:
    page = morning().at("08:00", "pee-inside", **details)
    assert page.read("08:00").interval.minutes == interval
    assert page.read("08:00").days[-1].verdict == "accident"


def test_filled_in_later_it_counts_from_its_own_time() -> None:
    unsaid = morning().at("08:00", "pee-inside", found=None, id="wet")
    assert unsaid.dues("08:10")["hold"] == "09:30"
    filled = unsaid.without("wet").at("08:00", "pee-inside", found=False, id="wet")
    shown = filled.read("12:00").interval
    assert (shown.minutes, filled.clock(shown.last_change.at)) == (90, "08:00")


def test_not_yet_said_is_not_the_household_s_either() -> None:
    page = morning().at("09:30", "pee-inside", found=None)
    assert page.read("09:30").days[-1].words == "1 accident"
    said = morning().at("09:30", "pee-inside", found=False)
    assert said.read("09:30").days[-1].words == "1 accident, after the break was late"


def test_a_likely_other_cause_teaches_nothing_about_holding() -> None:
    before = morning().read("08:10").hold
    marked = morning().at("08:00", "pee-inside", **MARKING).read("08:10").hold
    plain = morning().at("08:00", "pee-inside").read("08:10").hold
    assert (marked.holds, marked.accidents) == (before.holds, before.accidents)
    assert (plain.holds, plain.accidents) == (before.holds + 1, before.accidents + 1)


def test_a_dog_that_leaked_sleeps_on() -> None:
    page = morning().at("07:30", "settled", sleep="nap")
    assert page.at("08:00", "pee-inside", surface="fabric").read("08:01").asleep == "nap"
    awake = page.at("08:00", "pee-inside", surface="wood")
    assert awake.read("08:01").asleep == ""


def test_a_leak_by_night_starts_no_hold_over_for_a_dog_that_is_up() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    wet = page.at("04:00", "pee-inside", surface="fabric")
    assert wet.read("04:10").asleep == "night"
    up = page.at("04:00", "pee-inside").at("04:01", "up")
    assert up.read("04:10").asleep == ""


# --- One verdict ----------------------------------------------------------------------------------


def known_dog() -> Diary:
    """Return a day on which the estimate calls at 08:05, the rule at 09:50."""
    page = diary()
    for day in (2, 3, 4):
        page = page.on(day).all_at(*CLEAR_DAY).at("13:35", "pee-inside").at("15:30", "pee-inside")
    page = page.on(5).at("06:30", "up").at("06:31", "interval", minutes=150)
    return replace(page.all_at("06:35 both", "07:00 meal", "07:20 both"), learn=True)


@pytest.mark.parametrize(
    ("clock", "cause", "household", "interval"),
    [
        ("09:00", "unknown", False, 120),
        ("10:05", "longer", False, 120),
        ("10:06", "late", True, 150),
    ],
)
def test_late_is_late_by_the_rule_whatever_the_estimate_called(
    clock: str, cause: str, household: bool, interval: int
) -> None:
    """Our own choice: one accident is the plan's or the household's, and the same for the day, the
    cause and the interval."""
    page = known_dog()
    assert page.dues("09:00") | {"bedtime": ""} == {
        "model": "08:05", "hold": "09:50", "bedtime": "",
    }  # fmt: skip
    page = page.at(clock, "pee-inside")
    (accident,) = page.days(clock)[-1].accidents
    assert (accident.why.cause, accident.household) == (cause, household)
    assert page.read(clock).interval.minutes == interval
    assert page.read(clock).days[-1].words.endswith("late") == household


def test_what_is_no_matter_of_the_plan_is_not_the_household_s() -> None:
    page = morning().at("09:30", "pee-inside", **MARKING)
    assert page.read("09:30").days[-1].words == "1 accident"


# --- Another dog ----------------------------------------------------------------------------------


def test_an_accident_of_perhaps_another_dog_resets_and_moves_nothing() -> None:
    page = morning().at("08:00", "pee-inside", unsure=True)
    shown, without = page.read("08:10"), morning().at("08:00", "note").read("08:10")
    assert shown.interval == without.interval
    assert shown.since == without.since
    assert shown.next_break == without.next_break
    assert shown.hold == without.hold
    assert [job.code for job in shown.open_jobs] == ["clean", "left-open", "vet"]
    assert (shown.accidents[0].cause, shown.accidents[0].said) == ("unknown", False)
    assert shown.accidents[0].reasoning == "Another dog may have done it."


def test_such_a_day_is_unknown_and_keeps_the_streak() -> None:
    page = diary().on(2).all_at(*CLEAR_DAY).on(3).all_at(*CLEAR_DAY)
    page = page.at("11:00", "pee-inside", unsure=True).on(4).all_at(*CLEAR_DAY)
    shown = page.on(5).read("07:00")
    days = {day.number: day for day in shown.days}
    assert (days[3].verdict, days[3].accidents) == ("unknown", 0)
    assert days[3].words == "an accident that another dog may have had"
    assert shown.streak_days == 2
    own = page.at("10:00", "pee-inside").on(6).read("07:00")
    assert own.streak_days == 0


def test_a_day_with_both_is_the_dog_s_own() -> None:
    page = morning().at("08:00", "pee-inside", unsure=True).at("08:30", "pee-inside")
    day = page.read("09:00").days[-1]
    assert (day.verdict, day.words, day.accidents) == ("accident", "1 accident", 1)


def test_the_open_day_stays_open() -> None:
    page = morning().at("08:00", "pee-inside", unsure=True)
    assert page.read("09:00").days[-1].verdict == "open"
