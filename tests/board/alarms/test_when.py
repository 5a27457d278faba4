"""When it rings: tables of minutes, and what never happens."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.board.alarms.when import Alarm, AlarmClocks
from pottyboard.core.engine.reasons import CLOCKS_OF_THE_DAY, RULES
from pottyboard.core.model.alarms import Alarms, read_quiet
from pottyboard.core.model.settings import Board
from pottyboard.core.view.situation import Situation
from tests.core.diary import Diary, diary

DIARY = diary(meals="07:00").all_at("06:30 up", "07:00 meal", "07:20 poop", "09:05 pee")
"""A morning after which the break is due at 11:05, late from 11:21 on, and nothing else before."""


def clocks(first: str, last: str) -> list[str]:
    """Return the minutes from ``first`` to ``last``, both included."""
    begin, end = (int(clock[:2]) * 60 + int(clock[3:]) for clock in (first, last))
    return [f"{minute // 60:02}:{minute % 60:02}" for minute in range(begin, end + 1)]


ANSWERS: dict[str, Callable[[Alarm, datetime], Alarm]] = {
    "": lambda alarm, now: alarm,
    "going": Alarm.on_the_way,
    "more": Alarm.later,
    "stays": lambda alarm, now: alarm.stays(),
}


def heard(
    page: Diary, first: str, last: str, *said: str, alarms: Alarms | None = None, day: int = 0
) -> str:
    """Return the minutes at which it rings, as ``11:05 11:21``.

    ``said`` are answers such as ``11:22 going`` and entries such as ``11:30 pee``; ``day`` is the
    day of the round, where it is another one.
    """
    if alarms is not None:
        page = replace(page, settings=replace(page.settings, board=Board(alarms=alarms)))
    alarm, rung, left = Alarm(), [], sorted(said)
    for clock in clocks(first, last):
        while left and left[0].startswith(clock):
            word = left.pop(0)[6:]
            now = page.instant(clock)
            if word in ANSWERS:
                alarm = ANSWERS[word](alarm, now)
            else:
                page = page.at(clock, word, logged=clock)
        view = page.read(clock)
        alarm, rings = alarm.look(replace(view, round_day=day) if day else view)
        if rings:
            rung.append(clock)
    return " ".join(rung)


EVERY_FIVE = "11:05 11:21 11:26 11:31 11:36"


@pytest.mark.parametrize(
    ("begins", "ends", "said", "rings"),
    [
        ("10:00", "11:40", [], EVERY_FIVE),
        ("11:05", "11:40", [], "11:21 11:26 11:31 11:36"),
        ("11:30", "11:40", [], "11:35 11:40"),
        ("10:00", "11:40", ["11:04 pee"], ""),
        ("10:00", "11:40", ["11:06 pee"], "11:05"),
        ("10:00", "13:06", ["11:23 pee"], "11:05 11:21"),
        ("10:00", "13:24", ["11:23 pee"], "11:05 11:21 13:23"),
        ("10:00", "11:40", ["11:22 going"], "11:05 11:21 11:32 11:37"),
        ("10:00", "11:40", ["11:22 going", "11:30 pee"], "11:05 11:21"),
        ("10:00", "11:40", ["11:22 going", "11:24 pee-inside"], "11:05 11:21"),
        ("10:00", "11:40", ["11:22 going", "11:30 water"], "11:05 11:21 11:32 11:37"),
        ("10:00", "11:40", ["11:22 going", "11:31 going"], "11:05 11:21"),
        ("10:00", "11:40", ["11:22 going", "11:24 stays"], "11:05 11:21 11:26 11:31 11:36"),
        ("10:00", "11:30", ["10:58 going"], "11:08 11:21 11:26"),
        ("10:00", "11:30", ["11:07 going"], "11:05 11:17 11:22 11:27"),
        ("10:00", "11:30", ["11:06 more"], "11:05 11:11 11:21 11:26"),
        ("10:00", "11:35", ["11:23 more"], "11:05 11:21 11:28 11:33"),
        ("10:00", "11:35", ["11:23 more", "11:27 more"], "11:05 11:21 11:32"),
        ("10:00", "11:35", ["10:30 more"], "11:05 11:21 11:26 11:31"),
        ("10:00", "11:35", ["11:22 going", "11:25 more"], "11:05 11:21 11:30 11:35"),
        ("10:00", "11:35", ["11:22 more", "11:23 going"], "11:05 11:21 11:33"),
    ],
)
def test_a_break_rings_when_due_and_when_late_and_again(
    begins: str, ends: str, said: list[str], rings: str
) -> None:
    assert heard(DIARY, begins, ends, *said) == rings


@pytest.mark.parametrize(
    ("alarms", "day", "rings"),
    [
        (Alarms(), 14, EVERY_FIVE),
        (Alarms(), 15, "11:05 11:35"),
        (Alarms(again=False), 1, "11:05 11:21"),
        (Alarms(again=False), 15, "11:05"),
        (Alarms(bell=False), 1, EVERY_FIVE),
        (Alarms(quiet=read_quiet("11:00-11:30")), 1, "11:30 11:35 11:40"),
        (Alarms(quiet=read_quiet("22:30-11:10")), 1, "11:10 11:21 11:26 11:31 11:36"),
        (Alarms(quiet=read_quiet("22:30-07:00")), 1, EVERY_FIVE),
    ],
)
def test_what_the_household_has_chosen(alarms: Alarms, day: int, rings: str) -> None:
    assert heard(DIARY, "10:00", "11:40", alarms=alarms, day=day) == rings


def test_the_first_try_when_late_and_not_heard_when_due_rings_at_once() -> None:
    page, alarm = DIARY, Alarm().look(DIARY.read("10:00"))[0]
    assert alarm.look(page.read("11:30"))[1], "the laptop slept from 10:00 to 11:30"


@pytest.mark.parametrize(
    ("away", "rings"), [("", ""), ("12:00-14:00", "11:45 12:01")], ids=["home", "leaving"]
)
def test_a_dog_asleep_by_day_is_woken_for_leaving_alone(away: str, rings: str) -> None:
    page = diary(away=away).all_at("06:30 up", "10:30 pee", "11:00 settled")
    assert heard(page.at("11:10", "meal").at("11:11", "settled"), "11:00", "12:02") == rings


def test_in_the_quiet_hours_the_last_thing_rings() -> None:
    evening = diary(8).all_at("06:30 up", "19:30 pee", "20:40 meal")
    quiet = Alarms(quiet=read_quiet("21:00-23:59"))
    assert heard(evening, "20:30", "21:20") == "20:55 21:11 21:16"
    assert heard(evening, "20:30", "22:35", alarms=quiet) == "20:55 22:30 22:35"


def test_in_the_quiet_hours_the_night_break_rings() -> None:
    night = diary(5).all_at("06:30 up", "20:30 pee", "22:20 both", "22:35 settled")
    due = night.read("23:00").next_break
    assert due.reasons[0].code == "night"
    planned = night.on(2).clock(due.at)
    quiet = Alarms(quiet=read_quiet("22:30-08:00"))
    assert heard(night.on(2), "00:30", planned, alarms=quiet) == planned


def test_in_the_quiet_hours_leaving_rings() -> None:
    leaving = diary(away="08:00-12:00").all_at("06:30 up", "06:35 pee", "07:00 meal", "07:10 poop")
    quiet = Alarms(quiet=read_quiet("22:00-09:00"))
    assert heard(leaving, "07:10", "07:46", alarms=quiet) == "07:45"


def test_a_clock_that_was_set_back_does_not_silence_it() -> None:
    alarm = Alarm().look(DIARY.read("10:00"))[0]
    alarm, rings = alarm.look(DIARY.read("11:30"))
    assert rings
    assert alarm.on_the_way(DIARY.instant("11:30")).look(DIARY.read("11:22"))[1]


@pytest.mark.parametrize(
    ("answer", "clock", "words"),
    [
        ("", "11:22", ""),
        ("going", "11:22", "On the way since 11:22: log what came."),
        ("going", "11:31", "On the way since 11:22: log what came."),
        ("going", "11:32", "On the way since 11:22, nothing logged yet: what came?"),
        ("going", "12:21", "On the way since 11:22, nothing logged yet: what came?"),
        ("going", "12:22", ""),
        ("more", "11:22", "Rings again at 11:27."),
        ("more", "11:27", ""),
        ("going stays", "11:23", ""),
    ],
)
def test_it_says_who_is_on_the_way(answer: str, clock: str, words: str) -> None:
    now = DIARY.instant("11:22")
    alarm = Alarm().look(DIARY.read("11:22"))[0]
    for word in answer.split():
        alarm = ANSWERS[word](alarm, now)
    view = DIARY.read(clock)
    assert alarm.look(view)[0].said(view) == words


def test_the_alarms_of_two_dogs_do_not_mix() -> None:
    clocks_ = AlarmClocks()
    early, late = DIARY.read("10:00"), DIARY.read("11:30")
    assert not clocks_.rings("bramble", early)
    assert not clocks_.rings("wren", early)
    assert clocks_.rings("bramble", late)
    clocks_.on_the_way(["wren"], late.now)
    assert not clocks_.rings("wren", late)
    assert clocks_.of("bramble").said(late) == ""
    clocks_.stays(["wren"])
    assert clocks_.rings("wren", late)


# --- What holds for every day -----------------------------------------------------------------

BASE = DIARY.read("10:00")
STATES = ("rest", "soon", "due", "late", "watching", "asleep", "alone")
CODES = (*(rule.code for rule in RULES), "visit", "return")


def at(minute: float, state: str, code: str = "hold", asleep: str = "") -> Situation:
    """Return a situation so many minutes after 10:00, in this state for this reason."""
    now = BASE.now + timedelta(minutes=minute)
    reason = replace(BASE.next_break.reasons[0], code=code, at=now - timedelta(minutes=1))
    due = replace(BASE.next_break, state=state, reasons=(reason,))
    return replace(BASE, now=now, next_break=due, asleep=asleep)


LOOKS = st.tuples(
    st.sampled_from([0.0, 0.2, 1.0, 2.0, 7.0]),
    st.sampled_from(STATES),
    st.sampled_from(CODES),
    st.sampled_from(["", "nap", "night"]),
    st.sampled_from(["", "", "", "going", "more", "stays"]),
)
"""Minutes since the last look, what is seen, and what somebody answers before it."""


def played(looks: list[tuple[float, str, str, str, str]]) -> tuple[Alarm, list[datetime], float]:
    """Let an alarm see all this; return it, when it rang, and the minute that it is."""
    alarm, rung, minute = Alarm(), [], 0.0
    for gap, state, code, asleep, answer in looks:
        minute += gap
        view = at(minute, state, code, asleep)
        alarm, rings = ANSWERS[answer](alarm, view.now).look(view)
        if rings:
            assert state in ("due", "late")
            assert not (asleep and code in CLOCKS_OF_THE_DAY), "never wakes a dog for a clock"
            rung.append(view.now)
    return alarm, rung, minute


@given(st.lists(LOOKS, max_size=60))
def test_it_never_rings_twice_within_five_minutes_nor_wakes_a_dog_for_a_clock(
    looks: list[tuple[float, str, str, str, str]],
) -> None:
    rung = played(looks)[1]
    gaps = [after - before for before, after in pairwise(rung)]
    assert all(gap >= timedelta(minutes=5) for gap in gaps)


@given(st.lists(LOOKS, max_size=30), st.sampled_from([1, 20]), st.sampled_from([1.0, 2.0, 4.0]))
def test_it_is_never_silent_through_an_hour_late(
    looks: list[tuple[float, str, str, str, str]], day: int, step: float
) -> None:
    alarm, _, minute = played(looks)
    rang = False
    for more in range(1, int(60 / step) + 1):
        view = replace(at(minute + more * step, "late"), round_day=day)
        alarm, rings = alarm.look(view)
        rang |= rings
    assert rang


@given(
    st.lists(
        st.tuples(st.integers(60, 230), st.sampled_from(["meal", "water", "play", "nothing"])),
        max_size=4,
    ),
    st.integers(30, 200),
)
@settings(max_examples=8)
def test_a_nap_is_not_disturbed_by_anything_that_went_before(
    before: list[tuple[int, str]], pee: int
) -> None:
    # Settled at 12:00: it sleeps for 3 h, or twice the interval from its last pee, undisturbed.
    entries = sorted([(pee, "pee"), *before])
    page = diary(meals="07:00").at("06:30", "up")
    for minute, kind in entries:
        clock = 8 * 60 + minute
        page = page.at(f"{clock // 60:02}:{clock % 60:02}", kind)
    page = page.at("12:00", "settled")
    ends = min(15 * 60, max(12 * 60, 8 * 60 + pee + 2 * 120))
    last = f"{(ends - 1) // 60:02}:{(ends - 1) % 60:02}"
    rung = heard(page, "11:55", last).split()
    assert [clock for clock in rung if clock >= "12:00"] == []
