"""The day's timeline: logged beside planned, what was missed, and what is still to come."""

from __future__ import annotations

from itertools import pairwise

import pytest
from msgspec.structs import replace

from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.view.timeline import NOBODY_HOME
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def row(page: Diary, clock: str, kind: str) -> tuple[str, str, str | None, str]:
    """Return (clock time, status, planned clock time, words) of the first row of that entry."""
    for slot in page.read(clock).timeline:
        if slot.event is not None and slot.event.kind == kind:
            planned = None if slot.planned is None else page.clock(slot.planned)
            return page.clock(slot.at), slot.status, planned, slot.words
    raise AssertionError(f"no row for {kind}")


def breaks(page: Diary, clock: str) -> list[str]:
    """Return the clock times of the breaks still to come."""
    return [at for at, kind, _ in page.planned(clock) if kind in ("break", "night")]


# --- What was logged ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pee", "status"), [("08:20", "done"), ("08:35", "done"), ("08:50", "done"), ("08:51", "late")]
)
def test_a_break_stands_beside_its_plan(pee: str, status: str) -> None:
    page = diary().on(3).all_at("06:30 up", "06:35 pee").at(pee, "both")
    assert row(page, "12:00", "both") == (pee, status, "08:35", "since pee")


@pytest.mark.parametrize(
    ("fed", "status", "planned"),
    [
        ("06:50", "done", "07:00"),
        ("07:15", "done", "07:00"),
        ("07:16", "late", "07:00"),
        ("08:30", "late", "07:00"),
        ("08:31", "logged", None),
    ],
)
def test_a_meal_stands_beside_its_plan(fed: str, status: str, planned: str | None) -> None:
    page = diary().on(3).all_at(*MORNING).at(fed, "meal")
    assert row(page, "12:00", "meal")[:3] == (fed, status, planned)


def test_a_meal_nobody_logged_is_missed() -> None:
    page = diary().on(3).all_at(*MORNING)
    missed = [s for s in page.read("08:00").timeline if s.status == "missed"]
    assert [(page.clock(s.at), s.kind) for s in missed] == [("07:00", "meal")]
    assert not [s for s in page.read("06:59").timeline if s.status == "missed"]
    fed = page.at("08:10", "meal")
    assert not [s for s in fed.read("08:30").timeline if s.status == "missed"]


def test_meals_before_the_arrival_are_not_missed() -> None:
    page = diary(arrived="15:00")
    assert not [s for s in page.read("16:00").timeline if s.status == "missed"]


def test_other_entries_are_shown_as_they_came() -> None:
    page = diary().on(3).all_at(*MORNING, "09:00 note", "09:10 pee-inside", "09:12 cleaned")
    assert row(page, "12:00", "up") == ("06:30", "done", None, "got up")
    for kind, clock in (("note", "09:00"), ("pee-inside", "09:10"), ("cleaned", "09:12")):
        assert row(page, "12:00", kind) == (clock, "logged", None, "")


def test_the_second_entry_of_one_outing_is_no_break_of_its_own() -> None:
    page = diary().on(3).all_at("06:30 up", "07:35 pee", "07:40 poop")
    assert row(page, "12:00", "pee")[1] == "late"
    assert row(page, "12:00", "poop")[1] == "logged"


def test_rows_stand_in_order_and_every_entry_of_the_day_once() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY)
    for clock in ("06:30", "12:00", "22:50"):
        slots = page.read(clock).timeline
        assert [slot.at for slot in slots] == sorted(slot.at for slot in slots)
        shown = [slot.event for slot in slots if slot.event is not None]
        assert shown == [e for e in page.entries if e.at <= page.instant(clock)]


def test_yesterday_is_not_shown() -> None:
    page = diary().on(2).all_at(*CLEAR_DAY).on(3)
    assert not [s for s in page.read("06:30").timeline if s.event is not None]


# --- What is to come ------------------------------------------------------------------------------


def test_the_plan_of_a_whole_day() -> None:
    assert diary().planned("06:30") == [
        ("06:30", "break", "since pee"),
        ("07:00", "meal", "meal"),
        ("07:15", "break", "meal"),
        ("08:15", "break", "poop time"),
        ("10:15", "break", "since pee"),
        ("12:15", "break", "since pee"),
        ("14:15", "break", "since pee"),
        ("16:15", "break", "since pee"),
        ("17:30", "meal", "meal"),
        ("17:45", "break", "meal"),
        ("18:45", "break", "poop time"),
        ("20:45", "break", "since pee"),
        ("22:30", "break", "last thing"),
        ("22:30", "bedtime", "bedtime"),
    ]


def test_the_first_row_to_come_is_the_next_break() -> None:
    page = diary().on(3).all_at(*MORNING)
    due = [s for s in page.read("07:05").timeline if s.status == "due"]
    assert [(page.clock(s.at), s.words) for s in due] == [("08:35", "since pee")]
    page = page.at("07:10", "sign")
    assert breaks(page, "07:10")[0] == "07:10"


def test_a_late_break_is_planned_for_now() -> None:
    page = diary().on(3).all_at(*MORNING)
    assert breaks(page, "09:10")[0] == "09:10"


def test_a_working_day() -> None:
    page = diary(30, away="08:30-17:00").on(3).all_at(*MORNING)
    kinds = [(at, kind) for at, kind, _ in page.planned("07:00") if "08" <= at <= "17:01"]
    assert kinds == [
        ("08:15", "break"),
        ("08:30", "leaving"),
        ("10:15", "break"),
        ("12:15", "break"),
        ("14:15", "break"),
        ("16:15", "break"),
        ("17:00", "back"),
        ("17:00", "break"),
    ]
    assert not [k for _, k, _ in page.planned("12:00") if k in ("leaving", "back")], "they stayed"
    gone = page.at("08:20", "pee").at("08:30", "left")
    assert [at for at, kind, _ in gone.planned("12:00") if kind == "back"] == ["17:00"]


def test_the_night_break_is_on_the_plan() -> None:
    planned = [(at, kind) for at, kind, _ in diary(6).planned("21:00")]
    assert planned[-3:] == [
        ("22:30", "break"),
        ("22:30", "bedtime"),
        ("2026-03-03 04:30", "night"),
    ]


@pytest.mark.parametrize("entry", [None, "sign", "pee", "up", "nothing", "pee-inside"])
def test_the_plan_ends_with_the_night(entry: str | None) -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    if entry is not None:
        page = page.at("02:00", entry)
    planned = page.planned("02:10")
    assert len(planned) <= 2
    assert all(at < "06:30" for at, _, _ in planned)


def test_a_morning_that_nobody_logged_still_plans_the_day() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    planned = page.planned("06:50")
    assert planned[0] == ("06:50", "break", "since pee, got up")
    assert planned[-1] == ("22:30", "bedtime", "bedtime")
    assert len(breaks(page, "06:50")) == 11


def test_planned_breaks_keep_the_interval_apart() -> None:
    page = diary().on(3).all_at(*MORNING).at("06:40", "interval", minutes=60)
    times = breaks(page, "06:41")
    minutes = [int(at[:2]) * 60 + int(at[3:]) for at in times]
    gaps = [after - before for before, after in pairwise(minutes)]
    assert max(gaps) == 60
    assert min(gaps) > 10


def test_the_estimate_expects_of_each_break_to_come_what_it_brings() -> None:
    page = replace(diary().all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY).on(3), learn=True)
    moved = page.at("06:30", "up").all_at("06:35 both", "07:00 meal", "07:20 poop")
    ahead = [minutes_of(slot.at) for slot in moved.read("08:00").timeline
             if slot.kind == "break" and slot.status in ("due", "planned")]  # fmt: skip
    gaps = [later - sooner for sooner, later in pairwise(ahead)]
    # Without that, it would ask every 45 min from the first break on that brings no stool.
    assert sum(gap > 90 for gap in gaps) >= 4


def test_a_break_while_nobody_is_home_says_so() -> None:
    page = diary(8, away="08:30-17:00").on(3).all_at(*MORNING)
    alone = [slot for slot in page.read("07:30").timeline if slot.words.startswith(NOBODY_HOME)]
    clocks = [page.settings.clock(slot.at) for slot in alone]
    assert clocks
    assert all("08:30" < clock < "17:00" for clock in clocks)
    home = diary(8).on(3).all_at(*MORNING).read("07:30").timeline
    assert not any(NOBODY_HOME in slot.words for slot in home)
