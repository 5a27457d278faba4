"""A break that is due stays due since the same instant until somebody goes out with the dog.

Source: our own rules; an entry that serves no break, a meal, a drink, a sign, a note, proves
nothing of the hours before it.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pottyboard.core.model.events import Event
from pottyboard.core.situation import situation
from tests.core.coherence import SERVES_NO_BREAK, put_off
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.core.made_logs import AUTUMN, LOGS, SPRING
from tests.core.test_hard_days import TABLE

ROWS = {hard.id: hard for hard in TABLE if not hard.red}


@cache
def page_of(name: str) -> Diary:
    """Return a made log, or that of a hard day."""
    return LOGS[name] if name in LOGS else ROWS[name].page()


@settings(max_examples=300, deadline=None)
@given(
    name=st.sampled_from([*LOGS, *ROWS]),
    part=st.floats(0, 1),
    kind=st.sampled_from(SERVES_NO_BREAK),
    ago=st.sampled_from([0, 0, 0, 3, 10, 30, 120]),
)
@example(name="under-4-kg", part=0.7, kind="meal", ago=0)
@example(name="a-sign-in-a-nap", part=0.55, kind="water", ago=0)
@example(name="night-break-of-a-small-dog", part=0.63, kind="sign", ago=0)
@example(name="a-nap-left-alone", part=0.12, kind="back", ago=0)
def test_an_entry_that_serves_no_break_puts_none_off(
    name: str, part: float, kind: str, ago: int
) -> None:
    page = page_of(name)
    if not page.entries:
        return
    first = min(page.settings.dog.arrived, *(event.at for event in page.entries))
    last = max(event.at for event in page.entries) + timedelta(hours=30)
    now = first + timedelta(minutes=round(part * ((last - first).total_seconds() // 60)))
    known = tuple(event for event in page.entries if event.at <= now)
    added = Event(kind, max(first, now - timedelta(minutes=ago)), id="added")
    before = situation(page.settings, known, now, learn=page.learn)
    after = situation(page.settings, (*known, added), now, learn=page.learn)
    assert [*put_off(before, after)] == []


# --- The morning ----------------------------------------------------------------------------------


def morning(on: date | None = None) -> Diary:
    """Return the third morning of a dog of which nothing is logged since the night."""
    opened = diary() if on is None else diary(on=on)
    return opened.all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY).on(3)


@pytest.mark.parametrize("kind", ["meal", "water", "play", "sign", "visit", "note", "duty"])
@pytest.mark.parametrize("night", [True, False])
def test_the_break_of_the_morning_stays_late(kind: str, *, night: bool) -> None:
    page = morning() if night else Diary(morning().settings, morning().entries[:-1]).on(3)
    assert page.read("08:22").next_break.minutes == -112
    seen = page.at("08:22", kind).read("08:22").next_break
    assert (page.clock(seen.at), seen.minutes, seen.state) == ("06:30", -112, "late")


def test_who_says_that_the_dog_got_up_just_now_is_believed() -> None:
    page = morning()
    assert page.at("08:22", "up").dues("08:22")["up"] == "08:22"
    assert page.at("08:22", "up").read("08:22").next_break.minutes == 0
    assert page.all_at("07:00 duty", "08:22 up").read("08:22").next_break.minutes == 0
    unlogged = Diary(page.settings, page.entries[:-1]).on(3)
    assert unlogged.all_at("07:00 note", "08:22 up").read("08:22").next_break.minutes == 0
    ate = page.all_at("08:20 meal", "08:22 up").read("08:22").next_break
    assert page.clock(ate.at) == "06:30", "it was up already"


@pytest.mark.parametrize("day", [SPRING, AUTUMN])
def test_the_morning_after_the_clocks_change(day: date) -> None:
    page = diary(on=day)
    for number in range(1, 7):
        page = page.on(number).all_at(*CLEAR_DAY)
    late = page.on(7).at("08:22", "meal").read("08:22").next_break
    assert (page.on(7).clock(late.at), late.minutes) == ("06:30", -112)


def test_on_the_day_of_arrival_it_stays_due_since_the_arrival() -> None:
    page = diary(arrived="15:00")
    assert page.clock(page.read("15:40").next_break.at) == "15:00"
    assert page.clock(page.at("15:40", "meal").read("15:40").next_break.at) == "15:00"


def test_an_outing_serves_the_morning_however_late() -> None:
    page = morning().at("08:22", "pee")
    assert page.clock(page.read("08:23").next_break.at) == "10:52"
    rows = [row for row in page.read("08:23").timeline if row.status == "missed"]
    assert [page.clock(row.at) for row in rows if row.kind == "break"] == ["06:30"]


def test_a_household_that_gets_up_late_and_logs_outings_alone_has_clear_days_too() -> None:
    late = ("08:10 pee", "08:30 meal", *CLEAR_DAY[4:])
    said = ("08:10 up", *late)
    page, told = diary().all_at(*CLEAR_DAY), diary().all_at(*CLEAR_DAY)
    for day in (2, 3, 4, 5):
        page, told = page.on(day).all_at(*late), told.on(day).all_at(*said)
    seen, heard = page.on(6).read("07:00"), told.on(6).read("07:00")
    assert [day.verdict for day in seen.days][1:5] == ["clear"] * 4
    assert [day.verdict for day in heard.days][1:5] == ["clear"] * 4
    assert seen.interval.minutes == heard.interval.minutes
    assert seen.streak_days == heard.streak_days


def test_a_morning_without_an_entry_is_asked_about_unless_the_dog_slept_on() -> None:
    """Our own rule: over 4 h awake without a single entry leave a day unknown."""
    rest = ("12:30 pee", "14:20 pee", "16:15 pee", "17:50 both", "19:45 pee", "22:30 pee")
    silent = morning().at("10:40", "pee").all_at(*rest).on(4).read("07:00")
    assert (silent.days[2].verdict, silent.days[2].words[:22]) == (
        "unknown",
        "nothing logged for 4 h",
    )
    slept = morning().all_at("10:38 up", "10:40 pee", *rest).on(4).read("07:00")
    assert slept.days[2].verdict == "clear"


# --- The night ------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["sign", "water", "visit", "note"])
def test_a_break_of_the_night_that_nobody_kept_is_as_late_as_it_was(kind: str) -> None:
    page = diary(kg=8).all_at(*CLEAR_DAY).on(2)
    assert page.clock(page.read("05:00").next_break.at) == "04:30", "6 h after the last pee"
    seen = page.at("05:00", kind).read("05:01").next_break
    assert (page.clock(seen.at), seen.state) == ("04:30", "late")
    out = page.at("05:00", kind).at("05:05", "pee").read("05:06").next_break
    assert page.clock(out.at) == "07:05", "an outing so late begins the day"


def test_an_outing_after_midnight_belongs_to_yesterday_and_leaves_the_morning() -> None:
    page = morning().at("00:30", "pee")
    assert page.read("00:40").day == 2
    assert page.at("08:22", "meal").read("08:22").next_break.minutes == -112


# --- By day ---------------------------------------------------------------------------------------


def test_a_sign_that_nobody_answered_still_asks_when_a_night_that_was_taken_for_one_ends() -> None:
    page = diary().on(2).all_at(*MORNING, "20:00 pee", "21:00 sign").on(3)
    assert page.on(2).clock(page.read("02:00").next_break.at) == "21:00"
    assert page.on(2).clock(page.at("02:00", "water").read("02:01").next_break.at) == "21:00"


def test_what_fell_due_while_nobody_was_home_is_late_still_when_they_come_home() -> None:
    page = diary().on(2).all_at(*MORNING, "07:50 left").at("08:00", "settled", sleep="nap")
    assert page.clock(page.read("11:00").next_break.at) == "08:35"
    assert page.clock(page.at("11:00", "back").read("11:00").next_break.at) == "08:35"
    back = page.all_at("08:40 back", "08:50 meal")
    assert page.clock(back.read("08:51").next_break.at) == "08:35"
    left = diary().on(2).all_at(*MORNING).at("08:30", "settled", sleep="nap").at("08:40", "left")
    assert left.clock(left.read("11:00").next_break.at) == "08:35"
    assert left.clock(left.at("11:00", "back").read("11:00").next_break.at) == "08:35"


def test_a_nap_after_coming_home_is_let_be() -> None:
    page = diary().on(2).all_at(*MORNING, "07:50 left", "08:10 back", "08:12 nothing")
    page = page.at("08:20", "settled", sleep="nap").at("09:10", "up")
    assert page.read("09:00").next_break.state == "asleep"
    assert page.dues("09:10")["hold"] == "09:10"
