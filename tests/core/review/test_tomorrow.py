"""Tomorrow: what the evening says of it is what the morning finds, if the night is dry."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from pottyboard.core.model import priors
from pottyboard.core.model.localtime import instant_of
from pottyboard.core.review.tomorrow import RowChange, Tomorrow, compared, tomorrow
from pottyboard.core.view.situation import situation
from pottyboard.core.view.situation_views import Slot, SlotKind
from pottyboard.store.samples import Sample, read_sample, sample_names
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def look(page: Diary, clock: str) -> Tomorrow:
    """Return tomorrow as seen at a clock time of the diary's present day."""
    return tomorrow(page.settings, page.entries, page.instant(clock))


def rows(page: Diary, ahead: Tomorrow, *kinds: str) -> list[str]:
    """Return the rows of these kinds of tomorrow's plan, with how they change."""
    clock = page.settings.clock
    return [
        f"{clock(row.slot.at)} {row.slot.kind} {row.change}"
        + (f" {clock(row.before)}" if row.before else "")
        for row in ahead.rows
        if not kinds or row.slot.kind in kinds
    ]


def clear_days(days: int, **settings: Any) -> Diary:
    """Return so many clear days, with holds near the interval of 2 h."""
    page = diary(**settings)
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page


# --- The interval ---------------------------------------------------------------------------------


def test_after_two_clear_days_it_widens_and_the_reason_is_that_of_the_rule() -> None:
    page = clear_days(2)
    ahead = look(page, "23:00")
    assert (ahead.interval, ahead.before) == (150, 120)
    assert ahead.words.startswith("Breaks 30 min further apart: 2 clear days in a row, and")
    assert not ahead.expected
    assert (ahead.today.verdict, ahead.streak) == ("clear", 2)


def test_after_one_clear_day_it_stays_and_says_what_is_missing() -> None:
    ahead = look(clear_days(1), "23:00")
    assert (ahead.interval, ahead.before) == (120, 120)
    assert ahead.words == "The next step still needs 1 more clear day."


def test_after_an_accident_within_the_interval_it_is_narrower() -> None:
    page = clear_days(1).on(2).all_at(*MORNING, "07:00 meal", "07:20 poop")
    page = page.at("08:05", "pee-inside", found=False, place="hall")
    ahead = look(page, "08:10")
    assert (ahead.interval, ahead.before) == (90, 120)
    assert (
        ahead.words
        == "Breaks 30 min closer together: an accident seen at 08:05, 1 h 30 after the last pee."
    )


def test_what_the_household_set_is_the_reason() -> None:
    page = clear_days(1).on(2).all_at(*MORNING).at("09:00", "interval", minutes=60, by="Mina")
    ahead = look(page, "09:05")
    assert (ahead.interval, ahead.words) == (60, "1 h: set by Mina.")


def test_at_the_top_it_says_so() -> None:
    page = clear_days(1).at("09:00", "interval", minutes=210).on(2).all_at(*MORNING)
    assert look(page, "09:05").words == "3 h 30 is the longest in these two weeks."


def test_where_the_estimate_holds_it_back_that_is_the_reason(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sample = read_sample("fern")
    evening = sample.settings.bed_on(sample.settings.first_date + timedelta(days=11)) + 60
    monkeypatch.setattr(priors, "HOLD_BACK", 0.1)
    ahead = tomorrow(sample.settings, sample.events, instant_of(evening))
    assert ahead.number == 13
    assert ahead.interval == ahead.before
    assert re.fullmatch(
        r"It stays as it is: 1 h 30 has to wait, by its own log: an accident in \d+ of 100 such "
        r"waits\.",
        ahead.words,
    )


@pytest.mark.parametrize("clock", ["12:00", "18:00", "22:35"])
def test_the_rest_of_today_is_taken_to_go_to_plan(clock: str) -> None:
    whole = clear_days(2)
    now = whole.instant(clock)
    sofar = replace(whole, entries=tuple(event for event in whole.entries if event.at <= now))
    ahead = look(sofar, clock)
    assert (ahead.interval, ahead.today.verdict) == (150, "clear")
    assert ahead.expected == (clock != "22:35")


def test_too_little_logged_today_widens_nothing() -> None:
    page = clear_days(1).on(2).all_at(*MORNING, "22:20 pee", "22:40 settled")
    ahead = look(page, "23:00")
    assert (ahead.interval, ahead.today.verdict) == (120, "unknown")


@pytest.mark.parametrize("name", sample_names())
def test_the_morning_finds_what_the_evening_said(name: str) -> None:
    sample: Sample = read_sample(name)
    settings, checked = sample.settings, 0
    for number in range((sample.last_date - settings.first_date).days):
        day = settings.first_date + timedelta(days=number)
        evening = settings.bed_on(day) + 60
        up = settings.up_on(day + timedelta(days=1))
        if any(evening <= event.t <= up and event.kind not in ("up", "note", "duty")
               for event in sample.events):  # fmt: skip
            continue
        ahead = tomorrow(settings, sample.events, instant_of(evening))
        morning = situation(settings, sample.events, instant_of(up))
        if morning.date != ahead.date:  # the dog slept in: the morning has not come
            continue
        assert ahead.interval == morning.interval.minutes, day
        assert ahead.streak == morning.streak_days, day
        assert ahead.today == morning.days[-2], day
        checked += 1
    assert checked or name == "wren"


# --- The plan -------------------------------------------------------------------------------------


def slots(*clocks: str, day: int = 1, kind: SlotKind = "break") -> list[Slot]:
    """Return planned rows of one kind at these clock times of a day."""
    page = diary().on(day)
    return [Slot(page.instant(clock), kind, "hold", "planned") for clock in clocks]


@pytest.mark.parametrize(
    ("today", "ahead", "told"),
    [
        ("08:00 10:00", "08:00 10:00", "08:00 same, 10:00 same"),
        ("08:00 10:00", "08:09 10:10", "08:09 same, 10:10 moved 10:00"),
        ("08:00 10:00 12:00", "08:00 10:30", "08:00 same, 10:30 moved 10:00, 12:00 gone"),
        ("08:00", "08:00 08:50", "08:00 same, 08:50 new"),
        ("08:00", "10:00", "08:00 gone, 10:00 new"),
        ("", "08:00", "08:00 new"),
        ("08:00", "", "08:00 gone"),
        ("23:50", "00:10", "00:10 moved 23:50"),
    ],
)
def test_rows_are_matched_so_that_least_moves(today: str, ahead: str, told: str) -> None:
    page = diary()
    later = slots(*ahead.split(), day=2)
    found = compared(later, slots(*today.split()), page.settings)
    clock = page.settings.clock
    words = (
        f"{clock(row.slot.at)} {row.change}" + (f" {clock(row.before)}" if row.before else "")
        for row in found
    )
    assert ", ".join(words) == told


def test_what_nobody_has_logged_yet_teaches_nothing() -> None:
    # Our own choice: an outing that is only planned is no evidence of a dog that holds.
    page = clear_days(1).on(2).all_at(*MORNING, "07:00 meal", "07:20 poop")
    seen = page.read("08:00").hold
    assert seen.holds < priors.HOLDS_TO_KNOW
    ahead = look(page, "08:00")
    assert ahead.expected
    assert "07:15 break same" in rows(page, ahead, "break")  # the fixed reason of the meal
    assert not [row for row in ahead.rows if row.slot.words.startswith("own log")]


def test_few_waits_call_no_break_of_tomorrow_by_those_that_are_still_to_come() -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "07:20 poop", "08:35 pee")
    assert not page.read("09:00").hold.knows
    assert not [row for row in look(page, "09:00").rows if "own log" in row.slot.words]


def test_a_meal_never_continues_a_break() -> None:
    found = compared(slots("08:00", kind="meal", day=2), slots("08:00"), diary().settings)
    assert sorted(row.change for row in found) == ["gone", "new"]


def test_a_wider_interval_moves_breaks() -> None:
    page = clear_days(2)
    changes = {row.change for row in look(page, "23:00").rows if row.slot.kind == "break"}
    assert "moved" in changes
    assert "same" in changes


def test_the_first_working_day_brings_leaving_and_coming_back() -> None:
    page = diary(away="09:00-12:00", away_from=3)
    page = page.all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY)
    ahead = look(page, "23:00")
    assert rows(page, ahead, "leaving", "back") == ["09:00 leaving new", "12:00 back new"]


def test_the_last_working_day_leaves_them_out() -> None:
    page = diary(away="09:00-12:00", away_on=(1, 2))
    page = page.all_at(*MORNING).on(2).all_at(*MORNING)
    ahead = look(page, "23:00")
    assert rows(page, ahead, "leaving", "back") == ["09:00 leaving gone", "12:00 back gone"]


def test_after_the_day_of_arrival_nothing_counts_as_changed() -> None:
    page = diary(arrived="15:00").all_at("15:05 pee", "17:30 meal", "17:50 both")
    ahead = look(page, "22:00")
    assert not ahead.compared
    changes: set[RowChange] = {row.change for row in ahead.rows}
    assert changes == {"same"}


def test_the_rows_come_by_the_clock_and_hold_the_plan_of_the_morning() -> None:
    page = clear_days(2)
    ahead = look(page, "23:00")
    clocks = [page.settings.clock(row.slot.at) for row in ahead.rows]
    assert clocks == sorted(clocks)
    morning = situation(page.settings, page.entries, instant_of(page.settings.up_on(ahead.date)))
    planned = [slot.at for slot in morning.timeline if slot.kind != "night"]
    assert [row.slot.at for row in ahead.rows if row.change != "gone"] == planned


def test_the_first_nights_have_a_planned_break_of_their_own() -> None:
    page = diary(kg=6).all_at(*CLEAR_DAY)
    ahead = look(page, "23:00")
    assert [page.settings.clock(slot.at) for slot in ahead.tonight] == ["04:30"]
    assert "night" not in {row.slot.kind for row in ahead.rows}


@pytest.mark.parametrize(("day", "hours"), [("2026-03-28", 23), ("2026-10-24", 25)])
def test_a_change_of_the_clocks_changes_no_row(day: str, hours: int) -> None:
    page = diary(on=date.fromisoformat(day), arrived="06:30")
    page = replace(page, settings=replace(page.settings, dog=replace(
        page.settings.dog, arrived=page.settings.dog.arrived - timedelta(days=2))))  # fmt: skip
    page = page.all_at(*MORNING, "22:20 pee", "22:40 settled")
    ahead = look(page, "23:00")
    ups = [page.settings.up_on(ahead.date), page.settings.up_on(ahead.date - timedelta(days=1))]
    assert ups[0] - ups[1] == hours * 60
    assert {row.change for row in ahead.rows} == {"same"}
