"""What a change of the routine does to the breaks: one more, or one earlier, never later."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pottyboard.core.model import figures
from pottyboard.core.model.events import MEASURES, Event
from pottyboard.core.view.situation import situation
from tests.core.diary import MORNING, Diary, diary
from tests.core.test_properties import logs

WET = "wet"


def taken(measure: str, minutes: float | None = None, *, away: str = "") -> Diary:
    """Return the fourth morning, with a change taken the evening before (accident at 10:00)."""
    page = diary(away=away).on(3).all_at(*MORNING, "08:35 pee")
    page = page.at("10:00", "pee-inside", id=WET, cause="late", place="hall")
    page = page.at("20:00", "routine", measure=measure, minutes=minutes, about=WET, id="change")
    return page.on(4).all_at("06:30 up", "06:35 both")


def rows(page: Diary, clock: str) -> list[tuple[str, str]]:
    """Return the breaks to come as (clock time, words)."""
    return [(at, words) for at, kind, words in page.planned(clock) if kind == "break"]


# --- A break every day at one time ----------------------------------------------------------------


def test_a_daily_break_is_due_and_planned_at_its_clock_time() -> None:
    page = taken("earlier", 120)
    assert page.dues("07:00")["daily"] == "08:00"
    assert rows(page, "07:00")[:2] == [
        ("08:00", "daily break, since pee"),
        ("09:30", "since pee"),
    ]
    assert rows(taken("earlier", 135), "07:00")[:2] == [
        ("07:45", "daily break"),
        ("09:15", "since pee"),
    ]
    assert page.read("07:55").next_break.reasons[0].words == (
        "every day at this time, since an accident"
    )
    assert taken("earlier").dues("07:00")["daily"] == "09:30", "half an hour before by default"


def test_it_comes_back_every_day_and_goes_with_its_entry() -> None:
    page = taken("earlier", 120)
    for day in (4, 5, 11):
        assert page.on(day).all_at("06:30 up", "06:35 both").dues("07:00")["daily"] == "08:00"
    assert "daily" not in page.without("change").dues("07:00")
    assert "daily" not in page.without(WET).dues("07:00"), "and with the accident"


def test_it_begins_after_it_was_decided() -> None:
    page = diary().on(3).all_at(*MORNING).at("08:00", "pee-inside", id=WET)
    page = page.at("08:10", "routine", measure="earlier", minutes=30, about=WET)
    assert "daily" not in page.dues("08:10"), "07:30 has passed today"
    assert page.on(4).all_at("06:30 up").dues("06:31")["daily"] == "07:30"
    late = diary().on(2).at("21:00", "pee-inside", id=WET).on(3).all_at(*MORNING)
    late = late.at("08:10", "routine", measure="earlier", minutes=30, about=WET)
    assert late.dues("08:10")["daily"] == "20:30", "already today, where it is still to come"


@pytest.mark.parametrize(
    ("outing", "due"), [("07:49 pee", True), ("07:50 pee", False), ("08:20 nothing", False)]
)
def test_any_outing_from_ten_minutes_before_serves_it(outing: str, due: bool) -> None:
    page = taken("earlier", 120).all_at(outing)
    assert ("daily" in page.dues("08:30")) == due


def test_missed_it_stays_due_until_somebody_goes_out() -> None:
    page = taken("earlier", 150).at("06:50", "pee")
    assert page.dues("08:30")["daily"] == "07:30"
    assert page.read("08:30").next_break.state == "late"


def test_it_keeps_its_local_time_over_a_change_of_the_clocks() -> None:
    page = diary(on=date(2026, 3, 27)).on(1).all_at(*MORNING).at("10:00", "pee-inside", id=WET)
    page = page.at("20:00", "routine", measure="earlier", minutes=30, about=WET)
    for day in (2, 3, 4):
        assert page.on(day).all_at("06:30 up").dues("06:40")["daily"] == "09:30"


def test_outside_the_waking_day_it_asks_nothing() -> None:
    page = diary().on(2).at("06:40", "pee-inside", id=WET).on(3).all_at(*MORNING)
    page = page.at("07:00", "routine", measure="earlier", minutes=60, about=WET)
    assert "daily" not in page.on(4).all_at("06:30 up").dues("06:31")


def test_a_bed_time_past_midnight_belongs_to_its_day() -> None:
    page = diary(bed="01:30").on(2).all_at(*MORNING).on(3).at("00:40", "pee-inside", id=WET)
    page = page.all_at(*MORNING).at("07:00", "routine", measure="earlier", minutes=30, about=WET)
    page = page.at("23:00", "pee")
    assert page.dues("23:10")["daily"] == "2026-03-05 00:10"


# --- After meals, before leaving, in arm's reach --------------------------------------------------


@pytest.mark.parametrize(
    ("minutes", "due"),
    [(10, "07:10"), (None, "07:10"), (5, "07:05"), (1, "07:05"), (15, "07:15")],
)
def test_a_break_sooner_after_meals(minutes: float | None, due: str) -> None:
    page = taken("after-meal", minutes).at("07:00", "meal")
    assert page.dues("07:00")["meal"] == due
    assert page.read("07:00").next_break.reasons[0].words == "after the meal at 07:00"


@pytest.mark.parametrize(("outing", "due"), [("07:04", "07:15"), ("07:05", None)])
def test_an_outing_too_soon_for_the_rule_leaves_its_break(outing: str, due: str | None) -> None:
    page = taken("after-meal", 10).at("07:00", "meal").at(outing, "nothing")
    assert page.dues("07:06").get("meal") == due


def test_a_second_break_after_meals_is_sooner_and_the_usual_one_stays() -> None:
    page = taken("after-meal", 40).at("07:00", "meal").at("07:16", "pee")
    assert page.dues("07:20")["digestion"] == "07:40"
    assert "sooner after a meal (07:00)" in next(
        r.words for r in page.read("07:20").next_break.reasons if r.code == "digestion"
    )
    assert page.at("07:40", "pee").dues("07:45")["digestion"] == "08:15"
    assert "digestion" not in page.at("07:40", "both").dues("07:45")


def test_the_last_break_closer_to_leaving() -> None:
    page = taken("before-leaving", 5, away="08:30-11:00")
    assert page.dues("07:00")["leaving"] == "08:15", "never later than by the rule"
    assert page.at("08:06", "pee").dues("08:10")["leaving"] == "08:25"
    assert "leaving" not in taken("watch", away="08:30-11:00").at("08:06", "pee").dues("08:10")
    assert page.at("08:15", "pee").dues("08:16").get("leaving") != "08:25"
    words = page.at("08:06", "pee").read("08:10").next_break.reasons
    assert "before leaving at 08:30" in [reason.words for reason in words]


def test_in_arm_s_reach_is_said_once_nothing_came() -> None:
    plain = taken("block").at("08:40", "nothing").read("08:41").advice
    watched = taken("watch").at("08:40", "nothing").read("08:41").advice
    assert any("tethered beside you, crated with you in the room" in line for line in plain)
    assert any("on the lead beside you, as agreed" in line for line in watched)
    assert not any("on the lead" in line for line in taken("watch").read("07:00").advice)


# --- Nothing twice --------------------------------------------------------------------------------


@pytest.mark.parametrize("measure", MEASURES)
def test_the_same_taken_twice_changes_nothing_more(measure: str) -> None:
    page = taken(measure, 20, away="12:00-14:00")
    twice = page.at("07:00", "routine", measure=measure, minutes=60, about=WET)
    once = page.at("07:00", "note")
    for clock in ("07:01", "09:50", "11:50"):
        assert twice.dues(clock) == once.dues(clock)
        assert twice.planned(clock) == once.planned(clock)


def test_of_two_times_after_meals_the_sooner_holds() -> None:
    for first, second in ((10, 6), (6, 10)):
        page = taken("after-meal", first).at("06:40", "routine", measure="after-meal",
                                             minutes=second)  # fmt: skip
        assert page.at("07:00", "meal").dues("07:00")["meal"] == "07:06"


def test_two_daily_breaks_at_about_one_time_are_one_outing() -> None:
    page = taken("earlier", 120).on(3).at("10:05", "pee-inside", id="too").on(4)
    page = page.at("06:50", "routine", measure="earlier", minutes=120, about="too")
    assert page.dues("07:00")["daily"] == "08:00"
    assert [at for at, words in rows(page, "07:00") if "daily" in words] == ["08:00"]
    assert "daily" not in page.at("08:00", "pee").dues("08:30")


def test_a_change_about_nothing_known_does_nothing_where_it_needs_the_accident() -> None:
    for measure in ("earlier", "block"):
        page = diary().on(3).all_at(*MORNING).at("07:00", "routine", measure=measure, about="gone")
        plain = diary().on(3).all_at(*MORNING).at("07:00", "note")
        assert page.on(4).dues("09:00") == plain.on(4).dues("09:00")


def test_taken_in_the_minute_of_the_accident() -> None:
    """Whatever their ids, the change follows the accident that it is about."""
    for first, second in (("a", "b"), ("b", "a")):
        page = diary().on(3).all_at(*MORNING).at("10:00", "pee-inside", id=first)
        page = page.at("10:00", "routine", measure="earlier", minutes=30, about=first, id=second)
        assert page.on(4).all_at("06:30 up", "06:35 both").dues("07:00")["daily"] == "09:30"


# --- The rule stays in command --------------------------------------------------------------------


def test_a_daily_break_that_was_missed_does_not_excuse_the_interval() -> None:
    page = taken("earlier", 180)
    assert page.dues("06:40")["daily"] == "07:00"
    wet = page.at("08:00", "pee-inside").read("08:00")
    assert wet.interval.last_change.cause == "narrower"
    assert wet.accidents[0].cause == "longer", "late is late by the rule, for cause and interval"
    assert "break due at 07:00 (daily break)" in wet.accidents[0].facts


@settings(max_examples=60)
@given(logs(), st.data())
def test_no_change_makes_a_break_later(log: Any, data: st.DataObject) -> None:
    household, entries, now = log
    entries = tuple(event for event in entries if event.kind != "routine")
    at = household.dog.arrived + timedelta(minutes=data.draw(st.integers(0, 4 * 1440)))
    accidents = [event.id for event in entries if event.row.is_accident]
    change = Event(
        "routine", at, id="zz",
        measure=data.draw(st.sampled_from(MEASURES)),
        minutes=data.draw(st.sampled_from([None, 1.0, 10.0, 30.0, 45.0, 120.0, 1440.0])),
        about=data.draw(st.sampled_from(["", *accidents])),
    )  # fmt: skip
    note = Event("note", at, id="zz")
    learn = data.draw(st.booleans())
    with_it = situation(household, (*entries, change), now, learn=learn)
    without = situation(household, (*entries, note), now, learn=learn)
    assert with_it.interval == without.interval
    if with_it.watch is None:
        assert with_it.next_break.at <= without.next_break.at


@settings(max_examples=60)
@given(logs())
def test_an_account_is_there_for_every_accident_and_never_narrows_on_another_cause(
    log: Any,
) -> None:
    household, entries, now = log
    seen = situation(household, entries, now)
    since = now - timedelta(days=float(figures.REPEAT_WITHIN))
    inside = sorted(
        (e for e in entries if e.row.is_accident and since <= e.at <= now), key=lambda e: e.at
    )
    assert sorted(account.event.id for account in seen.accidents) == sorted(e.id for e in inside)
    narrower = {change.at for change in seen.interval.changes if change.cause == "narrower"}
    for account in seen.accidents:
        assert account.reasoning.endswith(".")
        assert account.words
        assert account.facts
        assert account.offer is not None
        assert account.offer.measure in ("", *MEASURES)
        assert account.said == bool(account.event.cause)
        others = [e for e in inside if e.at == account.event.at]
        if account.cause in ("marking", "greeting", "leak") and len(others) == 1:
            assert account.event.at not in narrower
        if account.event.found is not False and account.event.dry is None and len(others) == 1:
            assert account.event.at not in narrower
