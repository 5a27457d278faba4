"""Time: whose day an entry belongs to, days of 23 and 25 hours, late and disordered entries."""

from __future__ import annotations

from datetime import date
from itertools import permutations

import pytest
from msgspec.structs import replace

from pottyboard.core.model.localtime import instant_of
from pottyboard.core.view.situation import situation
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def belongs_to(page: Diary, clock: str) -> dict[str, int]:
    """Return for each entry (as "day clock kind") the number of the day that it belongs to."""
    found = {}
    for day in page.days(clock):
        for event in day.events:
            wall = event.at.astimezone(page.settings.zone)
            number = page.settings.day_number(wall.date())
            found[f"{number} {wall:%H:%M} {event.kind}"] = day.plan.number
    return found


# --- A day belongs to the date on which the dog got up --------------------------------------------


def test_an_outing_after_midnight_belongs_to_yesterday() -> None:
    page = diary().on(3).all_at(*MORNING, "22:30 pee").on(4).at("00:30", "pee")
    assert belongs_to(page, "00:31")["4 00:30 pee"] == 3
    seen = page.read("00:31")
    assert (seen.day, seen.date) == (3, date(2026, 3, 4))
    assert belongs_to(page.at("06:30", "up"), "08:00")["4 00:30 pee"] == 3


def test_the_day_turns_when_the_dog_gets_up_not_at_midnight() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    assert page.read("06:29").day == 3
    assert page.read("06:30").day == 4, "at the planned time, when nobody has logged it"
    early = page.at("05:10", "up")
    assert (early.read("05:09").day, early.read("05:10").day) == (3, 4)


@pytest.mark.parametrize(
    ("entries", "start"),
    [
        ([], "06:30"),
        (["06:10 up"], "06:10"),
        (["08:40 up"], "08:40"),
        (["03:30 up"], "03:30"),
        (["03:29 up"], "06:30"),
        (["11:30 up"], "11:30"),
        (["11:31 up"], "06:30"),
        (["05:00 pee"], "05:00"),
        (["04:59 pee"], "06:30"),
        (["05:20 meal"], "05:20"),
        (["05:40 play"], "06:30"),
        (["06:50 sign", "07:20 pee"], "06:30"),
        (["06:50 pee-inside", "07:20 pee"], "06:30"),
        (["08:22 meal", "08:40 up"], "06:30"),
        (["08:22 note"], "06:30"),
        (["04:10 up", "04:15 pee", "04:20 settled"], "06:30"),
        (["05:10 up", "05:15 pee", "05:20 settled"], "06:30"),
        (["05:10 pee", "05:20 settled", "06:40 up"], "06:40"),
        (["03:00 pee", "09:00 pee"], "06:30"),
        (["03:00 pee", "09:00 up", "09:02 pee"], "09:00"),
        (["14:00 pee"], "06:30"),
    ],
)
def test_where_the_day_begins(entries: list[str], start: str) -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4).all_at(*entries)
    assert page.clock(instant_of(page.days("20:00")[-1].plan.start)) == start


def test_an_early_nap_after_getting_up_does_not_undo_it() -> None:
    page = diary().on(4).all_at("05:10 up", "05:15 pee").at("06:00", "settled", sleep="nap")
    assert page.read("06:10").day == 4


def test_an_accident_before_the_first_outing_belongs_to_the_new_day() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    page = page.at("06:40", "pee-inside", found=True).at("06:45", "pee")
    days = page.read("07:00").days
    assert [(day.number, day.verdict) for day in days[-2:]] == [(3, "clear"), (4, "accident")]


def test_an_accident_in_the_night_belongs_to_the_day_before() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4).at("03:00", "pee-inside").at("06:30", "up")
    days = page.read("07:00").days
    assert [(day.number, day.verdict) for day in days[-2:]] == [(3, "accident"), (4, "open")]


def test_a_bedtime_after_midnight() -> None:
    page = diary(bed="00:45", up="07:30").on(3).all_at("07:30 up", "07:35 both")
    assert page.on(4).dues("00:10")["bedtime"] == "00:45"
    page = page.on(4).all_at("00:40 pee", "00:50 settled")
    assert page.read("01:00").day == 3
    assert page.dues("01:00") == {"up": "07:30"}
    assert page.read("07:31").day == 4


def test_days_are_numbered_from_the_arrival() -> None:
    page = diary(arrived="15:00")
    numbers = [page.on(day).read("18:00").day for day in (1, 2, 14, 15, 40)]
    assert numbers == [1, 2, 14, 15, 40]


def test_before_the_arrival_it_is_day_1() -> None:
    page = diary(arrived="15:00")
    early = page.read("11:00")
    assert (early.day, early.next_break.state, early.next_break.minutes) == (1, "rest", 240)


@pytest.mark.parametrize("entries", [[], ["01:10 settled"], ["01:05 pee", "01:10 settled"]])
def test_an_arrival_in_the_middle_of_the_night_waits_for_the_morning(entries: list[str]) -> None:
    page = diary(arrived="01:00").all_at(*entries)
    assert page.read("03:00").day == 1
    assert page.read("03:00").next_break.minutes == 210
    assert page.read("06:40").next_break.state == "due"
    assert page.read("06:40").day == 1
    early = page.at("05:10", "up")
    assert early.read("05:10").next_break.state == "due"


# --- Nights that nobody logs ----------------------------------------------------------------------


def test_after_the_last_outing_the_night_begins() -> None:
    page = diary().on(3).all_at(*MORNING, "22:25 pee")
    assert page.read("22:29").asleep == ""
    for clock in ("22:30", "22:44", "22:45"):
        assert page.read(clock).asleep == "night"
        assert page.read(clock).next_break.state == "asleep"
        assert set(page.dues(clock)) == {"up"}
    assert page.on(4).dues("05:00") == {"up": "06:30"}
    assert page.at("22:32", "play").read("22:46").asleep == "", "and not while it plays"


def test_without_a_last_outing_it_takes_longer() -> None:
    page = diary().on(3).all_at(*MORNING, "21:00 pee")
    assert page.read("23:00").next_break.state == "late"
    assert page.on(4).read("00:29").asleep == ""
    assert page.on(4).read("00:30").asleep == "night"


def test_a_dry_last_outing_keeps_it_awake() -> None:
    page = diary().on(3).all_at(*MORNING, "20:30 pee", "22:25 nothing")
    assert page.dues("22:41")["retry"] == "22:40"
    assert page.read("23:00").asleep == ""


def test_an_evening_nap_runs_on_into_the_night() -> None:
    page = diary().on(3).all_at(*MORNING, "20:30 pee", "21:30 settled")
    assert page.read("21:40").asleep == "nap"
    assert page.read("22:31").next_break.state == "due", "the last outing is still to come"
    assert page.on(4).read("01:00").asleep == "night"


def test_settling_near_bedtime_is_for_the_night() -> None:
    page = diary().on(3).all_at(*MORNING, "20:00 pee", "21:50 pee")
    assert page.at("21:44", "settled").read("21:45").asleep == "nap"
    assert page.at("21:55", "settled").read("21:56").asleep == "night"
    assert page.at("21:55", "settled", sleep="nap").read("21:56").asleep == "nap"
    assert page.at("13:00", "settled", sleep="night").read("13:01").asleep == "night"


def test_a_night_waking_without_settling_again_falls_quiet_again() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4).all_at("02:00 up", "02:05 pee")
    for clock in ("02:06", "02:20", "05:00"):
        assert page.read(clock).asleep == "night"
        assert page.dues(clock) == {"up": "06:30"}


def test_a_logged_night_is_over_when_the_morning_has_come() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    assert page.read("06:31").asleep == ""
    assert page.dues("06:31") == {"up": "06:30", "hold": "06:30", "bedtime": "22:30"}


@pytest.mark.parametrize("settled", [True, False])
def test_three_days_without_an_entry(settled: bool) -> None:
    page = diary().on(3).all_at(*CLEAR_DAY[: None if settled else -1]).on(7)
    night = page.read("04:00")
    assert (night.day, night.next_break.state) == (6, "asleep")
    morning = page.read("06:40")
    assert (morning.day, morning.next_break.state, morning.next_break.minutes) == (7, "due", -10)
    assert [day.verdict for day in morning.days[3:]] == ["unknown", "unknown", "unknown", "open"]
    assert morning.streak_days == 1


def test_an_absence_that_nobody_ended_ends_by_itself() -> None:
    page = diary(away="08:30-17:00").on(3).all_at(*MORNING, "08:20 pee", "08:30 left")
    page = page.all_at("12:00 pee")
    assert page.read("12:30").alone_since is not None, "a visit is not a return"
    assert page.at("17:05", "pee").read("17:06").alone_since is None
    assert page.on(4).at("06:30", "up").read("06:31").alone_since is None
    unplanned = diary().on(3).all_at(*MORNING, "08:30 left", "19:00 pee")
    assert unplanned.read("19:01").alone_since is not None
    assert unplanned.on(4).at("06:30", "up").read("06:31").alone_since is None


def test_alone_is_counted_from_the_last_visit() -> None:
    page = diary(30).on(3).all_at(*MORNING, "08:30 left")
    assert any("Alone for 4 h 01" in words for words in page.read("12:31").advice)
    page = page.at("12:00", "pee")
    assert not any("Alone" in words for words in page.read("12:31").advice)
    assert any("Alone for 4 h 05" in words for words in page.read("16:05").advice)


# --- Days of 23 and 25 hours ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("zone", "day_before", "night"),
    [
        ("Europe/Oslo", date(2026, 3, 28), 7 * 60),
        ("Europe/Oslo", date(2026, 10, 24), 9 * 60),
        ("America/New_York", date(2026, 3, 7), 7 * 60),
        ("America/New_York", date(2026, 10, 31), 9 * 60),
        ("Australia/Sydney", date(2026, 4, 4), 9 * 60),
        ("Australia/Sydney", date(2026, 10, 3), 7 * 60),
        ("Australia/Lord_Howe", date(2026, 4, 4), 8 * 60 + 30),
        ("America/Phoenix", date(2026, 3, 7), 8 * 60),
    ],
)
def test_the_night_of_a_clock_change(zone: str, day_before: date, night: int) -> None:
    page = diary(zone=zone, on=day_before).all_at(*MORNING, "22:30 pee", "22:30 settled")
    asleep = page.read("22:30")
    up = next(r for r in (*asleep.next_break.reasons, *asleep.next_break.later) if r.code == "up")
    assert page.on(2).clock(up.at) == "06:30"
    assert (up.at - asleep.now).total_seconds() / 60 == night
    assert page.on(2).read("06:30").since["pee"] == night
    assert page.on(2).read("06:30").day == 2


def test_only_the_long_night_gets_a_break() -> None:
    spring = diary(on=date(2026, 3, 28)).all_at(*MORNING, "22:30 pee", "22:35 settled").on(2)
    assert "night" not in spring.dues("01:00")
    autumn = diary(on=date(2026, 10, 24)).all_at(*MORNING, "22:30 pee", "22:35 settled").on(2)
    assert autumn.dues("01:00")["night"] == "05:30"


@pytest.mark.parametrize("first_day", [date(2026, 3, 28), date(2026, 10, 24)])
def test_a_day_of_a_clock_change_counts_as_a_whole_day(first_day: date) -> None:
    page = diary(on=first_day)
    for day in (1, 2, 3):
        page = page.on(day).all_at(*CLEAR_DAY)
    seen = page.on(4).read("07:00")
    assert [day.verdict for day in seen.days] == ["clear", "clear", "clear", "open"]
    assert [day.number for day in seen.days] == [1, 2, 3, 4]
    assert seen.interval.minutes == 150
    assert page.clock(page.read("12:00").interval.last_change.at) == "06:30"


def test_meals_keep_their_clock_times_over_a_clock_change() -> None:
    page = diary(on=date(2026, 3, 28))
    for day in (1, 2, 3):
        meals = [row for row in page.on(day).read("06:31").timeline if row.kind == "meal"]
        assert [page.on(day).clock(row.at) for row in meals] == ["07:00", "17:30"]


def test_a_hold_over_a_repeated_hour_is_counted_in_real_minutes() -> None:
    # In Oslo the clocks go from 03:00 back to 02:00 on 25 October 2026.
    page = diary(on=date(2026, 10, 24), up="00:30", bed="20:00", meals="05:00").on(2)
    page = page.all_at("00:30 up", "01:30 pee")
    assert page.dues("01:31")["hold"] == "02:30"
    due = page.read("01:31").next_break
    assert due.minutes == 119
    assert due.at.isoformat() == "2026-10-25T01:30:00+00:00", "the second 02:30"


# --- Late and disordered entries, wrong clocks ----------------------------------------------------


def test_entries_in_any_order_give_the_same_day() -> None:
    page = diary().on(3).all_at("06:35 both", "08:20 nothing", "08:33 pee", "10:00 pee-inside")
    seen = {
        str(situation(page.settings, entries, page.instant("10:05")))
        for entries in permutations(page.entries)
    }
    assert len(seen) == 1


def test_an_entry_written_down_late_changes_what_follows() -> None:
    page = diary().on(3).all_at(*MORNING)
    assert page.read("09:30").next_break.state == "late"
    late = page.at("08:30", "pee", logged="09:31")
    assert late.dues("09:31")["hold"] == "10:30"


def test_a_late_entry_undoes_a_narrowing_that_rested_on_its_absence() -> None:
    page = diary().on(3).all_at(*MORNING).at("08:30", "pee-inside")
    assert page.read("12:00").interval.minutes == 90
    page = page.at("06:50", "interval", minutes=60, logged="12:01")
    assert page.read("12:01").interval.minutes == 60, "the break was due at 07:35, so it was late"


def test_a_late_entry_days_back_changes_the_streak() -> None:
    page = diary()
    for day in (1, 2, 3):
        page = page.on(day).all_at(*CLEAR_DAY)
    assert page.on(4).read("12:00").streak_days == 3
    page = page.on(2).at("15:00", "pee-inside").on(4)
    assert page.read("12:00").streak_days == 1


def test_entries_still_to_come_are_not_seen() -> None:
    page = diary().on(3).all_at(*MORNING, "08:00 pee-inside", "09:00 pee")
    seen = page.read("07:00")
    assert seen.interval.minutes == 120
    assert seen.since["accident"] is None
    assert [event.kind for event in seen.recent] == ["both", "up"]


def test_a_clock_that_was_put_back_shows_the_earlier_situation() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY)
    evening, morning = page.read("22:00"), page.read("07:05")
    assert page.read("22:00") == evening
    assert morning.next_break.reasons[0].code == "meal"


def test_seconds_between_entries_do_not_matter() -> None:
    page = diary().on(3).all_at("06:30:40 up", "06:35:10 pee", "06:35:50 poop")
    assert page.read("06:36:20").since["pee"] == 1
    assert page.read("08:35:10").next_break.state == "due"


def test_a_changed_routine_is_read_anew() -> None:
    page = diary().on(3).all_at(*MORNING)
    assert page.dues("07:00")["bedtime"] == "22:30"
    home = replace(page.settings.home, bed=page.settings.home.bed.replace(hour=21))
    earlier = replace(page, settings=replace(page.settings, home=home))
    assert earlier.dues("07:00")["bedtime"] == "21:30"
    assert page.dues("07:00")["bedtime"] == "22:30"


def test_two_entries_at_one_instant_stand_in_the_order_in_which_they_were_typed() -> None:
    page = diary().on(3).all_at(*MORNING)
    for first, second in (("a", "b"), ("b", "a")):
        nap = page.at("13:00", "pee", id=first, logged="13:01")
        nap = nap.at("13:00", "settled", id=second, logged="13:02")
        assert nap.read("13:05").asleep == "nap"
        woken = page.at("13:00", "settled", id=first, logged="13:01")
        woken = woken.at("13:00", "up", id=second, logged="13:02")
        assert woken.read("13:05").asleep == ""
