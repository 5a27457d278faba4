"""The close of a day: what was kept of the plan, in numbers that are counted by another route."""

from __future__ import annotations

import math
from datetime import timedelta
from itertools import pairwise
from typing import Any

import pytest
from msgspec.structs import replace

from pottyboard.core.engine.history import History
from pottyboard.core.model.localtime import instant_of, minutes_of
from pottyboard.core.review.closing import Closing, Habit, closing, suggestions
from pottyboard.core.view.situation import situation
from pottyboard.store.samples import read_sample, sample_names
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def close(page: Diary, clock: str = "23:00") -> Closing:
    """Return the closing at a clock time of the diary's present day."""
    return closing(page.settings, page.entries, page.instant(clock))


def days(number: int, **settings: Any) -> Diary:
    """Return so many clear days."""
    page = diary(**settings)
    for day in range(1, number + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page


def kept(page: Diary, found: Closing, kind: str = "break") -> list[str]:
    """Return what became of each planned thing of one kind."""
    return [
        f"{page.settings.clock(row.planned)} {row.outcome}" + (f" {row.late}" if row.late else "")
        for row in found.kept
        if row.kind == kind
    ]


def habit(found: Closing, name: str) -> Habit:
    """Return the first habit of this name."""
    return next(habit for habit in found.habits if habit.name == name)


# --- Against the plan -----------------------------------------------------------------------------


def test_each_break_was_on_time_or_late_by_so_much() -> None:
    page = diary().on(3).all_at("06:30 up", "06:35 pee", "08:50 pee", "11:06 pee", "13:05 pee")
    found = close(page, "13:10")
    assert kept(page, found) == [
        "06:30 on time", "08:35 on time", "10:50 late 16", "13:06 on time",
    ]  # fmt: skip
    assert (found.on_time, found.breaks) == (3, 4)


def test_a_break_that_an_accident_forestalled_was_missed() -> None:
    page = diary().on(3).all_at(*MORNING).at("09:30", "pee-inside", found=False, place="hall")
    found = close(page.at("09:40", "pee"), "10:00")
    assert "08:35 missed" in kept(page, found)
    assert (found.working, found.lead) == (
        "mixed", "Mixed: 1 accident, and the break was already late.",
    )  # fmt: skip


def test_the_last_thing_that_never_came_was_missed() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY[:-3])
    assert kept(page, close(page, "23:00"))[-1].endswith("missed")
    still_due = close(page, "22:10")
    due = situation(page.settings, page.entries, page.instant("22:10")).next_break
    assert kept(page, still_due)[-1] == f"{page.settings.clock(due.at)} late {-due.minutes}"
    assert still_due.kept[-1].at is None
    assert still_due.lead.startswith("So far")


def test_a_lone_dog_waits_for_its_visit_and_no_break_of_that_time_is_late() -> None:
    page = diary(away="08:30-15:00").on(3).all_at("06:30 up", "06:35 pee", "07:00 meal")
    page = page.all_at("08:20 pee", "08:30 left", "11:50 visit", "11:52 pee", "15:00 back")
    found = close(page.all_at("15:02 pee"), "15:10")
    assert not [row for row in kept(page, found) if "08:30" < row < "14:59"]


def test_meals_are_on_time_late_or_missed_and_count_as_no_break() -> None:
    page = diary().on(3).all_at("06:30 up", "06:35 both", "07:20 meal")
    found = close(page, "18:00")
    assert kept(page, found, "meal") == ["07:00 late 20", "17:30 missed"]
    assert found.breaks == len(kept(page, found))


def test_before_anything_is_logged_it_says_so_and_suggests_nothing() -> None:
    found = close(diary(vet="done"), "06:31")
    assert (found.kept, found.holds, found.indoors) == ((), (), ())
    assert (found.on_time, found.breaks, found.before) == (0, 0, (0, 0))
    assert found.suggestion is None
    assert found.lead.startswith(("So far", "Too early"))


def test_entries_later_than_now_are_not_seen() -> None:
    whole = days(3)
    now = whole.on(2).instant("14:00")
    sofar = [event for event in whole.entries if event.at <= now]
    assert closing(whole.settings, whole.entries, now) == closing(whole.settings, sofar, now)


# --- Holds and habits -----------------------------------------------------------------------------


def test_holds_are_those_between_two_pees_by_day() -> None:
    found = close(days(1))
    pees = [
        minutes_of(event.at)
        for event in days(1).entries
        if event.kind in ("pee", "both") and event.row.is_outing
    ]
    assert found.holds == tuple(round(b - a) for a, b in pairwise(pees))
    assert found.near == sum(hold >= 100 for hold in found.holds)


def test_a_routine_time_stands_beside_the_plan_and_the_days_before() -> None:
    page = diary()
    for day, meal in enumerate(("07:00", "07:10", "07:20", "07:30"), start=1):
        page = page.on(day).all_at(*MORNING, f"{meal} meal")
    found = habit(close(page, "12:00"), "meal")
    assert (found.planned, found.today, found.days, found.off) == (420, 450, 3, 30)
    assert found.usual == pytest.approx(430)
    assert found.spread == pytest.approx(math.sqrt(200 / 3), rel=1e-3)  # 0, 10, 20 about 10


def test_what_was_planned_before_the_dog_came_is_not_still_to_come() -> None:
    page = diary(arrived="12:00").at("12:04", "pee").at("12:48", "meal")
    found = close(page, "15:00")
    assert [habit.name for habit in found.habits] == ["meal", "last thing"]
    second = page.on(2).at("06:40", "up")
    assert [habit.name for habit in close(second, "08:00").habits][:2] == ["got up", "meal"]


@pytest.mark.parametrize(
    ("entries", "got_up", "first", "told"),
    [
        (["06:40 up", "06:45 pee"], 400, None, "06:40"),
        (["08:10 pee"], None, 490, "first entry 08:10"),
        (["08:10 pee", "08:30 settled", "09:30 up"], None, 490, "first entry 08:10"),
        (["07:00 duty", "08:22 up", "08:25 pee"], 502, None, "08:22"),
        (["07:00 duty", "08:22 meal"], None, 502, "first entry 08:22"),
        (["07:00 duty"], None, None, "not logged"),
        (["13:00 pee"], None, None, "not logged"),
        ([], None, None, "not logged"),
    ],
)
def test_only_who_says_so_got_up(
    entries: list[str], got_up: int | None, first: int | None, told: str
) -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).all_at(*entries)
    found = habit(close(page, "20:00"), "got up")
    assert (found.today, found.first, found.told) == (got_up, first, told)
    assert habit(close(page, "06:35"), "got up").told == "not yet"


@pytest.mark.parametrize("arrived", ["06:30", "05:00", "00:30"])
def test_a_dog_that_was_there_before_getting_up_got_up_on_day_1(arrived: str) -> None:
    page = diary(arrived=arrived).all_at("06:32 up", "06:35 both")
    assert habit(close(page, "20:00"), "got up").told == "06:32"
    walked = diary(arrived="05:00").all_at("05:10 pee", "05:20 settled", "06:32 up", "06:35 pee")
    assert habit(close(walked, "20:00"), "got up").told == "06:32"


def test_a_waking_on_the_afternoon_of_arrival_is_no_getting_up() -> None:
    page = diary(arrived="12:00").all_at("12:30 settled", "13:30 up", "13:32 pee")
    page = page.on(2).all_at(*MORNING).on(3).all_at(*MORNING)
    assert habit(close(page, "08:00"), "got up").days == 1


def test_times_about_midnight_are_neighbours() -> None:
    page = diary(bed="00:00", meals="")
    for day, clock in enumerate(("23:50", "00:10", "23:55"), start=1):
        page = page.on(day).all_at("06:30 up", "06:35 pee", "12:00 pee")
        page = page.on(day + (clock < "12:00")).at(clock, "pee")
    found = habit(closing(page.settings, page.entries, page.on(4).instant("00:20")), "last thing")
    assert (found.planned, found.today) == (0, 1435)
    assert found.off == -5
    assert found.usual is not None
    assert min(found.usual, 1440 - found.usual) < 0.01
    assert found.spread == pytest.approx(10, rel=1e-3)


def test_one_earlier_day_is_no_habit() -> None:
    found = habit(close(days(2)), "meal")
    assert (found.usual, found.spread, found.days) == (None, None, 1)


# --- Whether it works -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "lead"),
    [(1, "A clear day."), (2, "2 clear days in a row."),
     (5, "5 clear days in a row.")],
)  # fmt: skip
def test_clear_days_work(number: int, lead: str) -> None:
    found = close(days(number))
    assert (found.working, found.lead) == ("yes", lead)


def test_before_the_evening_it_is_so_far() -> None:
    found = close(days(2).on(3).all_at(*MORNING, "08:35 pee", "10:35 pee"), "12:00")
    assert (found.working, found.lead) == (
        "so far", "So far no accident today, after 2 clear days.",
    )  # fmt: skip


def test_the_day_of_arrival_is_too_early_to_tell() -> None:
    found = close(diary(arrived="15:00").all_at("15:05 pee", "17:50 both", "20:00 pee"), "22:30")
    assert found.working == "unknown"
    assert found.lead == "Too early to tell: day of arrival, not a whole day."


def test_too_few_entries_cannot_tell() -> None:
    found = close(days(1).on(2).all_at(*MORNING), "22:40")
    assert found.working == "unknown"
    assert found.lead.startswith("Cannot tell: ")


def test_an_accident_in_time_does_not_work_yet() -> None:
    page = days(1).on(2).all_at(*MORNING).at("07:10", "pee-inside", found=False)
    assert (close(page, "09:00").working, close(page, "09:00").lead) == (
        "no", "Not yet: 1 accident today.",
    )  # fmt: skip


def test_what_another_dog_may_have_done_is_not_held_against_this_one() -> None:
    page = days(1).on(2).all_at(*CLEAR_DAY).at("14:00", "pee-inside", found=True, unsure=True)
    found = close(page)
    assert found.working == "unknown"
    assert found.lead == "Cannot tell: an accident that another dog may have had."


def test_fewer_accidents_than_before_are_getting_better() -> None:
    page = diary()
    for day in range(1, 7):
        page = page.on(day).all_at(*MORNING)
        for clock in ("07:05", "07:15")[: 2 if day < 4 else day % 2]:
            page = page.at(clock, "pee-inside", found=False)
    page = page.at("07:20", "pee-inside", found=False)
    found = close(page, "09:00")
    assert (found.working, found.lead) == (
        "mixed", "Fewer: 2 accidents in 3 days, 6 in the 3 before.",
    )  # fmt: skip


def test_the_news_are_the_interval_and_who_comes_or_goes() -> None:
    page = days(2)
    board = replace(page.settings.board, risk="careful")
    found = close(replace(page, settings=replace(page.settings, board=board)))
    called = sum(row.change != "gone" and row.slot.words.startswith("own log")
                 for row in found.tomorrow.rows)  # fmt: skip
    assert called > 1
    assert found.news == (
        f"Tomorrow: 2 h 30 between breaks, 30 min more, {called} of them earlier because of this "
        "dog's own log."
    )
    assert close(days(1)).news.startswith("Tomorrow: still 2 h between breaks")
    page = diary(away="09:00-12:00", away_from=3).all_at(*CLEAR_DAY).on(2).all_at(*MORNING)
    assert close(page).news.endswith("; alone from 09:00.")
    page = diary(away="09:00-12:00", away_on=(1, 2)).all_at(*CLEAR_DAY).on(2).all_at(*MORNING)
    assert close(page).news.endswith("; somebody is home all day.")


# --- One suggestion -------------------------------------------------------------------------------


def suggested(page: Diary, clock: str = "23:00") -> tuple[str, str]:
    """Return where the suggestion comes from, and what it says."""
    found = close(page, clock).suggestion
    return ("", "") if found is None else (found.code, found.words)


def _all_suggestions(page: Diary, clock: str) -> list[tuple[str, str]]:
    """Return every suggestion that could be made, the most useful first."""
    found, now = close(page, clock), page.instant(clock)
    view = situation(page.settings, page.entries, now)
    today = History.of(page.settings, page.entries, minutes_of(now)).today
    outside = [row for row in found.kept if row.kind != "meal"]
    made = suggestions(view, today, outside, found.accounts, found.habits)
    return [(suggestion.code, suggestion.words) for suggestion in made]


def test_late_breaks_are_worth_a_word_from_two_and_a_fifth_on() -> None:
    page = diary(vet="done").on(3).all_at("06:30 up", "06:35 pee", "09:05 pee", "11:40 pee")
    code, words = suggested(page, "11:45")
    assert (code, words) == (
        "late",
        "2 of 3 breaks came late, by up to 35 min: go out while the board still says soon.",
    )


def test_a_missed_break_is_told_beside_the_late_ones() -> None:
    page = diary(vet="done").on(3).all_at("06:30 up", "06:35 pee", "09:05 pee", "11:40 pee")
    seen = page.at("14:30", "pee-inside", found=False, cause="unknown").at("14:40", "pee")
    view = close(seen, "14:45")
    told = [row.outcome for row in view.kept if row.kind == "break"]
    assert told.count("missed") == 1
    late = next(words for code, words in _all_suggestions(seen, "14:45") if code == "late")
    assert late.startswith(f"{told.count('late')} of {len(told)} breaks came late, by up to ")
    assert ", and 1 not at all: go out" in late


def test_the_plan_of_the_pad_is_for_today_and_no_word_for_the_evening() -> None:
    page = diary(vet="done").on(2).all_at("06:30 up", "06:35 pee")
    home = replace(page.settings.home, pads=True)
    page = replace(page, settings=replace(page.settings, home=home))
    assert suggested(page, "06:50")[0] == "pad"
    assert suggested(page, "22:00")[0] != "pad"


def test_hours_without_an_entry_are_worth_a_word() -> None:
    page = diary(vet="done").on(3).all_at("06:30 up", "06:35 pee")
    code, words = suggested(
        page.all_at("12:00 pee", "13:50 pee", "15:45 pee", "17:40 pee"), "18:00"
    )
    assert code == "unlogged"
    assert words.startswith("Nothing is logged from 06:35 to 12:00: ")


def test_the_vet_check_is_asked_for_from_the_second_day_on() -> None:
    assert suggested(diary().all_at(*MORNING), "06:50") == ("", "")
    assert suggested(days(1).on(2).all_at(*MORNING), "06:50")[0] == "vet"
    assert suggested(days(1, vet="booked").on(2).all_at(*MORNING), "06:50") == ("", "")


def test_breaks_that_all_come_early_widen_nothing_and_that_is_said() -> None:
    page = diary(vet="done")
    for day in (1, 2):
        page = page.on(day).at("06:30", "up")
        for hour in range(7, 23):
            page = page.at(f"{hour:02}:00", "both" if hour in (7, 18) else "pee")
        page = page.all_at("22:20 pee", "22:30 settled")
    code, words = suggested(page)
    assert code == "evidence"
    assert "only waits of at least 1 h 40 let breaks move further apart" in words


def test_a_meal_that_wanders_is_worth_a_word() -> None:
    page = diary(vet="done", meals="07:00,17:30")
    for day, clock in enumerate(("16:05", "18:55", "16:10", "18:50", "17:30"), start=1):
        entries = [entry for entry in CLEAR_DAY if entry != "17:30 meal"]
        page = page.on(day).all_at(*entries, f"{clock} meal")
    code, words = suggested(page.on(6).all_at(*MORNING), "06:50")
    assert (code, words) == (
        "routine",
        "Try to keep the 17:30 meal at the same time: it moved by about 1 h 13.",
    )


def test_an_accidents_offer_comes_before_all_that() -> None:
    page = days(1).on(2).all_at(*MORNING, "08:10 nothing")
    page = page.at("08:20", "pee-inside", found=False, alone=False, place="hall")
    found = close(page, "09:00")
    assert [account.event for account in found.accounts] == list(found.indoors)
    offer = found.accounts[0].offer
    assert offer is not None
    assert suggested(page, "09:00") == ("offer", offer.words)
    taken = page.at("08:30", "routine", measure=offer.measure, minutes=offer.minutes,
                    about=found.indoors[0].id)  # fmt: skip
    assert suggested(taken, "09:00")[0] != "offer"


# --- The samples ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sample_names())
def test_every_number_of_a_sample_is_counted_by_another_route(name: str) -> None:
    sample = read_sample(name)
    settings = sample.settings
    for number in range((sample.last_date - settings.first_date).days):
        day = settings.first_date + timedelta(days=number)
        now = instant_of(settings.bed_on(day) + 45)
        found, view = closing(settings, sample.events, now), situation(settings, sample.events, now)
        rows = [slot.event for slot in view.timeline if slot.event is not None]
        assert len(found.indoors) == sum(event.row.is_accident for event in rows)
        assert found.holds == found.day.holds
        late = sum(row.late > 15 for row in found.kept if row.kind != "meal")
        missed = sum(row.outcome == "missed" for row in found.kept if row.kind != "meal")
        assert found.on_time == found.breaks - late - missed
        meals = sum(event.kind == "meal" for event in rows)
        fed = sum(row.at is not None for row in found.kept if row.kind == "meal")
        assert fed <= meals
        assert fed + sum(row.at is None for row in found.kept if row.kind == "meal") <= 2
        words = " ".join((found.lead, found.news, found.tomorrow.words))
        assert words.count("None") == 0


def test_of_a_long_log_only_the_last_days_count() -> None:
    page = days(60)
    found = close(page)
    assert found.lead == "60 clear days in a row."
    assert habit(found, "meal").days == 14
    assert found.before[1] == 7 * (found.breaks)


def test_an_odd_day_is_closed_like_any_other() -> None:
    page = diary(vet="done")
    shifted = replace(page.settings, dog=replace(page.settings.dog, arrived=page.instant("06:30")))
    assert close(replace(page, settings=shifted).all_at(*CLEAR_DAY)).working == "yes"
