"""The interval: where it starts, what widens and narrows it, and what the days count for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import pottyboard
from pottyboard.core.engine.interval import (
    Evidence,
    after_clear_days,
    missing,
    narrowed,
    overruled,
    start_interval,
    top_interval,
    widened,
)
from pottyboard.core.model.permitted import household_limit
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

SHORT_DAY = (
    "06:30 up", "06:35 both", "08:00 pee", "09:30 pee", "11:00 pee", "12:30 pee", "14:00 pee",
    "15:30 pee", "17:00 pee", "18:30 pee", "20:00 pee", "21:30 pee", "22:30 pee", "22:40 settled",
)  # fmt: skip
"""A clear day whose holds all stay under 1 h 40."""

FEW_ENTRIES = ("06:30 up", "06:35 both", "12:00 pee", "19:00 pee", "22:40 settled")
"""A day with three outings: too few to tell."""


def two_clear_days(day: tuple[str, ...] = CLEAR_DAY, **dog: Any) -> Diary:
    """Return the diary after two days like ``day``, turned to the third."""
    return diary(**dog).on(1).all_at(*day).on(2).all_at(*day).on(3)


def day_of_holds(*holds: int) -> tuple[str, ...]:
    """Return a clear day with these holds in minutes first, and then holds of at most 1 h 15."""
    clock, entries = 6 * 60 + 35, ["06:30 up"]
    for hold in (*holds, *[75] * 15):
        entries.append(f"{clock // 60:02}:{clock % 60:02} pee")
        clock += hold
    return (*(entry for entry in entries if entry < "22:30"), "22:30 pee", "22:40 settled")


def after_accident(clock: str, **details: Any) -> int:
    """Return the interval after one accident on a third morning that began at 06:35 with 2 h."""
    page = diary().on(3).all_at(*MORNING).at(clock, "pee-inside", **details)
    return page.read("12:00").interval.minutes


# --- Where it starts and how far it goes ----------------------------------------------------------


@pytest.mark.parametrize(
    ("dog", "start", "top", "limit"),
    [
        ({"kg": 5}, 120, 180, 240),
        ({"kg": 15}, 120, 210, 240),
        ({"kg": 30}, 120, 240, 240),
        ({"kg": 5, "age": "senior"}, 90, 150, 240),
        ({"kg": 15, "age": "senior"}, 90, 180, 240),
        ({"kg": 30, "age": "senior"}, 90, 210, 240),
        ({"kg": 5, "prone": True}, 90, 120, 150),
        ({"kg": 30, "prone": True}, 90, 120, 150),
        ({"kg": 30, "prone": True, "age": "senior"}, 90, 90, 150),
        ({"kg": 15, "age": "young"}, 120, 210, 240),
        ({"kg": 3.9}, 90, 180, 240),
        ({"kg": 4}, 120, 180, 240),
        ({"kg": 15, "conditions": frozenset({"water-medicine"})}, 90, 210, 240),
    ],
)
def test_the_ends_of_the_range(dog: dict[str, Any], start: int, top: int, limit: int) -> None:
    page = diary(**dog)
    assert start_interval(page.settings.dog) == start
    assert top_interval(page.settings.dog) == top
    assert household_limit(page.settings.dog) == limit
    shown = page.read("07:00").interval
    assert (shown.minutes, shown.start, shown.top) == (start, start, top)
    assert shown.last_change.cause == "start"


@pytest.mark.parametrize(("kg", "top"), [(9.99, 180), (10, 210), (19.99, 210), (20, 240)])
def test_small_medium_and_large_by_weight(kg: float, top: int) -> None:
    assert top_interval(diary(kg).settings.dog) == top


# --- Widening -------------------------------------------------------------------------------------


def test_two_clear_days_with_evidence_widen_by_half_an_hour() -> None:
    page = two_clear_days()
    assert page.read("06:29").interval.minutes == 120
    morning = page.read("06:30").interval
    assert morning.minutes == 150
    assert morning.last_change.cause == "wider"
    assert page.clock(morning.last_change.at) == "06:30"
    assert morning.last_change.words.startswith(
        "Breaks 30 min further apart: 2 clear days in a row, and "
    )


def test_it_widens_when_the_day_really_begins() -> None:
    page = two_clear_days().at("05:50", "up")
    assert page.clock(page.read("05:50").interval.last_change.at) == "05:50"


def test_one_clear_day_is_not_enough() -> None:
    page = diary().on(2).all_at(*CLEAR_DAY).on(3)
    shown = page.read("12:00").interval
    assert shown.minutes == 120
    assert shown.missing == ("1 more clear day",)


def test_clear_days_at_shorter_gaps_prove_nothing() -> None:
    shown = two_clear_days(SHORT_DAY).read("12:00").interval
    assert shown.minutes == 120
    assert shown.missing == ("3 more waits of at least 1 h 40",)


@pytest.mark.parametrize(
    ("holds", "wider"),
    [
        ([(120, 120), ()], False),
        ([(120,), (120,)], False),
        ([(120, 120), (120,)], True),
        ([(), (120, 120, 120)], True),
        ([(100, 100), (100,)], True),
        ([(99, 100), (100,)], False),
        ([(240,), (150, 150)], True),
        ([(241,), (150, 150)], False),
    ],
)
def test_three_holds_near_the_interval_are_needed(
    holds: list[tuple[int, ...]], wider: bool
) -> None:
    page = diary().on(1).all_at(*day_of_holds(*holds[0]))
    page = page.on(2).all_at(*day_of_holds(*holds[1])).on(3)
    assert (page.read("06:30").interval.minutes == 150) is wider


def test_a_hold_over_a_night_is_no_evidence() -> None:
    unlogged = tuple(entry for entry in SHORT_DAY if entry.split()[1] not in ("up", "settled"))
    for day in (SHORT_DAY, unlogged):
        page = two_clear_days(day).at("06:35", "pee")
        assert max(hold for day in page.read("12:00").days for hold in day.holds) == 90


def test_the_waking_part_of_a_night_s_hold_is_no_evidence_either() -> None:
    day = (*SHORT_DAY[:-3], "22:30 nothing", "22:40 settled")
    page = two_clear_days(day).all_at("06:30 up", "06:35 pee")
    assert max(hold for day in page.read("12:00").days for hold in day.holds) == 90


def test_an_accident_ends_a_hold_that_is_no_evidence() -> None:
    page = diary().on(3).all_at(*MORNING, "08:00 pee-inside", "09:00 pee")
    assert page.read("09:00").days[-1].holds == (60,)


def test_the_steps_need_two_clear_days_each() -> None:
    page, by_morning = diary(kg=30), {}
    for day in range(1, 9):
        page = page.on(day)
        by_morning[day] = page.read("06:31").interval.minutes
        interval = by_morning[day]
        clock, entries = 6 * 60 + 35, ["06:30 up"]
        while clock < 22 * 60 + 30:
            entries.append(f"{clock // 60:02}:{clock % 60:02} both")
            clock += interval
        page = page.all_at(*entries, "22:30 pee", "22:40 settled")
    assert by_morning == {1: 120, 2: 120, 3: 150, 4: 150, 5: 180, 6: 180, 7: 210, 8: 210}


def test_it_stops_at_the_top() -> None:
    page = two_clear_days(prone=True).all_at(*CLEAR_DAY).on(4).all_at(*CLEAR_DAY).on(5)
    for day in (5, 6, 7):
        page = page.on(day).all_at(*CLEAR_DAY)
    shown = page.on(8).read("12:00").interval
    assert (shown.minutes, shown.at_top, shown.missing) == (120, True, ())


def test_an_unknown_day_between_neither_counts_nor_breaks() -> None:
    page = diary().on(1).all_at(*CLEAR_DAY).on(2).all_at(*FEW_ENTRIES).on(3)
    assert page.read("12:00").interval.minutes == 120
    page = page.all_at(*CLEAR_DAY).on(4)
    assert page.read("12:00").interval.minutes == 150


def test_an_accident_between_breaks_the_row() -> None:
    page = diary().on(1).all_at(*CLEAR_DAY)
    page = page.on(2).all_at(*CLEAR_DAY).at("12:00", "pee-inside", cause="marking")
    page = page.on(3).all_at(*CLEAR_DAY).on(4)
    assert page.read("12:00").interval.minutes == 120


@pytest.mark.parametrize(
    ("days", "holds", "needs"),
    [
        (0, (), ("2 more clear days", "3 more waits of at least 1 h 40")),
        (1, (100, 119), ("1 more clear day", "1 more wait of at least 1 h 40")),
        (2, (100, 101, 99), ("1 more wait of at least 1 h 40",)),
        (2, (100, 120, 240), ()),
    ],
)
def test_what_is_still_missing(days: int, holds: tuple[float, ...], needs: tuple[str, ...]) -> None:
    dog = diary().settings.dog
    evidence = Evidence(days, holds)
    assert missing(dog, 120, evidence) == needs
    assert (widened(dog, 120, evidence, 0) is None) == bool(needs)


def test_the_last_step_stops_short_at_the_top() -> None:
    step = widened(diary().settings.dog, 200, Evidence(2, (200, 200, 200)), 0)
    assert step is not None
    assert step.after == 210


# --- Narrowing ------------------------------------------------------------------------------------


def test_an_accident_inside_the_interval_narrows_at_once() -> None:
    page = diary().on(3).all_at(*MORNING).at("08:00", "pee-inside")
    assert page.read("07:59").interval.minutes == 120
    shown = page.read("08:00").interval
    assert shown.minutes == 90
    assert shown.last_change.cause == "narrower"
    assert shown.last_change.words == (
        "Breaks 30 min closer together: an accident seen at 08:00, 1 h 25 after the last pee."
    )
    assert page.dues("08:00")["hold"] == "09:30"
    assert page.on(4).read("12:00").interval.minutes == 90, "and it stays so"


@pytest.mark.parametrize("kind", ["pee-inside", "poop-inside"])
def test_both_kinds_of_accident_narrow(kind: str) -> None:
    page = diary().on(3).all_at(*MORNING).at("08:00", kind)
    assert page.read("08:00").interval.minutes == 90


@pytest.mark.parametrize(
    ("clock", "interval"), [("08:35", 90), ("08:50", 90), ("08:51", 120), ("11:00", 120)]
)
def test_after_a_late_break_it_is_the_household_s(clock: str, interval: int) -> None:
    assert after_accident(clock) == interval


def test_a_break_late_for_another_reason_is_the_household_s_too() -> None:
    page = diary().on(3).all_at(*MORNING, "07:00 meal").at("07:31", "poop-inside")
    assert page.read("08:00").interval.minutes == 120
    assert page.read("08:00").days[-1].words == "1 accident, after the break was late"


@pytest.mark.parametrize(
    ("clock", "dry", "interval"),
    [
        ("08:00", "07:00", 90),
        ("08:50", "07:00", 90),
        ("08:51", "07:00", 120),
        ("08:00", None, 90),
    ],
)
def test_found_counts_only_if_the_whole_span_was_inside(
    clock: str, dry: str | None, interval: int
) -> None:
    assert after_accident(clock, found=True, dry=dry) == interval


@pytest.mark.parametrize(("dry", "interval"), [("08:45", 120), ("08:52", 120), ("09:00", 90)])
def test_a_span_that_reaches_back_into_a_late_break_is_not_inside(dry: str, interval: int) -> None:
    page = diary().on(3).all_at(*MORNING, "08:55 pee")
    page = page.at("09:30", "pee-inside", found=True, dry=dry)
    assert page.read("09:30").interval.minutes == interval


def test_only_a_known_late_break_is_named() -> None:
    page = diary().on(3).all_at(*MORNING)
    unknown = page.at("08:00", "pee-inside", found=True)
    assert unknown.read("09:00").days[-1].words == "1 accident"
    perhaps = page.at("09:30", "pee-inside", found=True, dry="08:00")
    assert perhaps.read("10:00").days[-1].words == "1 accident"
    late = page.at("09:30", "pee-inside", found=True, dry="08:55")
    assert late.read("10:00").days[-1].words == "1 accident, after the break was late"
    both = page.at("08:00", "pee-inside").at("11:00", "pee-inside")
    assert both.read("11:00").days[-1].words == "2 accidents, 1 after a late break"


@pytest.mark.parametrize("cause", ["marking", "greeting", "leak"])
def test_another_cause_does_not_move_it(cause: str) -> None:
    assert after_accident("08:00", cause=cause) == 120


def test_a_night_is_longer_than_any_interval() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4).at("04:00", "pee-inside")
    assert page.read("12:00").interval.minutes == 120
    found = diary().on(3).all_at(*CLEAR_DAY).on(4).at("06:30", "up")
    found = found.on(4).at("06:32", "pee-inside", found=True, dry="00:10")
    assert found.read("12:00").interval.minutes == 120


def test_a_dog_that_held_on_through_dry_outings_did_not_fail_the_interval() -> None:
    tries = [f"{clock} nothing" for clock in ("08:35", "08:50", "09:05", "09:20")]
    page = diary().on(3).all_at(*MORNING, *tries, "10:00 pee-inside")
    assert page.read("10:00").interval.minutes == 120


def test_accidents_narrow_down_to_the_floor() -> None:
    page = diary().on(3).all_at("06:30 up", "06:35 both")
    widths = []
    for day, clocks in ((1, ("07:00", "07:20", "07:40")), (2, ("07:00", "07:20"))):
        page = page.on(day).all_at(*MORNING)
        for clock in clocks:
            page = page.at(clock, "pee-inside")
            widths.append(page.read(clock).interval.minutes)
    assert widths == [90, 60, 60, 45, 45], "at most twice a day, and never under the floor"
    assert [change.after for change in page.read("09:00").interval.changes] == [120, 90, 60, 45]


def test_narrowing_takes_two_new_clear_days_to_widen_again() -> None:
    page = two_clear_days().all_at("06:30 up", "06:35 both", "08:00 pee-inside")
    assert page.read("09:00").interval.minutes == 120
    for day in (4, 5):
        page = page.on(day).all_at(*CLEAR_DAY)
        assert page.read("12:00").interval.minutes == 120
    assert page.on(6).read("12:00").interval.minutes == 150


def test_an_accident_before_the_first_pee_says_nothing_about_the_interval() -> None:
    page = diary(arrived="14:00").at("14:10", "pee-inside")
    assert page.read("14:10").interval.minutes == 120


def test_at_the_floor_there_is_no_step() -> None:
    assert narrowed(45, 0, "an accident") is None
    step = narrowed(60, 0, "an accident")
    assert step is not None
    assert (step.after, step.words) == (45, "Breaks 15 min closer together: an accident.")


# --- The household overrules ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("prone", "wanted", "after"),
    [
        (False, 100, 100), (False, 240, 240), (False, 300, 240), (False, 10, 45),
        (True, 150, 150), (True, 200, 150),
    ],
)  # fmt: skip
def test_the_household_sets_it_within_limits(prone: bool, wanted: int, after: int) -> None:
    page = diary(prone=prone).on(3).all_at(*MORNING)
    page = page.at("07:00", "interval", minutes=wanted, by="Mina")
    change = page.read("07:00").interval.last_change
    assert (change.after, change.cause) == (after, "household")
    assert change.words.startswith(f"{after // 60} h" if after >= 60 else f"{after} min")
    assert "set by Mina" in change.words
    assert ("was asked" in change.words) == (wanted != after)


def test_an_overrule_above_the_top_stays_until_an_accident() -> None:
    page = diary(5).on(3).all_at(*MORNING).at("07:00", "interval", minutes=220)
    assert page.read("07:01").interval.at_top
    page = page.on(4).all_at(*CLEAR_DAY).on(5).all_at(*CLEAR_DAY).on(6)
    assert page.read("07:00").interval.minutes == 220
    page = page.all_at(*MORNING, "08:00 pee-inside")
    assert page.read("08:00").interval.minutes == 190


def test_nobody_s_name_is_needed() -> None:
    assert overruled(diary().settings.dog, 120, 90, "", 0).words == "1 h 30: set by the household."


def test_every_change_is_kept_with_its_reason() -> None:
    page = two_clear_days().all_at(*MORNING, "08:00 pee-inside")
    page = page.at("09:00", "interval", minutes=100, by="Otto")
    changes = page.read("10:00").interval.changes
    assert [(c.before, c.after, c.cause) for c in changes] == [
        (120, 120, "start"),
        (120, 150, "wider"),
        (150, 120, "narrower"),
        (120, 100, "household"),
    ]
    assert all(change.words.endswith(".") for change in changes)


def test_the_interval_in_force_at_an_instant() -> None:
    page = two_clear_days().all_at(*MORNING, "08:00 pee-inside")
    asked = ("06:00", "06:30", "08:00")
    assert [page.read(clock).interval.minutes for clock in asked] == [120, 150, 120]


# --- Clear days and the streak --------------------------------------------------------------------


def verdict(*entries: str, **details: Any) -> tuple[str, str]:
    """Return the verdict on a third day with these entries, read the next noon."""
    page = diary(**details).on(3).all_at(*entries).on(4)
    day = next(day for day in page.read("12:00").days if day.number == 3)
    return day.verdict, day.words


def test_a_whole_day_without_an_accident_is_clear() -> None:
    assert verdict(*CLEAR_DAY) == ("clear", "no accident, 11 outings")


def test_four_outings_are_enough_and_three_are_not() -> None:
    four = ("06:30 up", "06:35 pee", "10:30 pee", "12:00 meal", "14:30 pee", "18:00 nothing",
            "19:00 play", "22:30 note")  # fmt: skip
    assert verdict(*four, "18:30 pee")[0] == "clear"
    assert verdict(*four[:4], *four[5:]) == ("unknown", "only 3 outings logged: too few to tell")
    assert verdict(*four[:2])[1] == "only 1 outing logged: too few to tell"
    assert verdict(four[0])[1] == "no outing logged: too few to tell"


def test_pee_and_poop_on_one_outing_count_once() -> None:
    day = ("06:30 up", "06:35 pee", "06:40 poop", "12:00 pee", "12:02 poop", "18:00 pee")
    assert verdict(*day)[0] == "unknown"


def test_the_pad_is_not_an_outing_for_the_count() -> None:
    page = diary().on(3).all_at("06:30 up", "06:35 pee", "12:00 pee", "22:30 pee")
    page = page.at("17:00", "pee", place="pad").on(4)
    assert page.read("12:00").days[-2].verdict == "unknown"


def test_a_day_with_a_long_silence_is_unknown() -> None:
    day = ("06:30 up", "06:35 pee", "07:00 pee", "07:30 pee", "08:00 pee", "22:30 pee")
    assert verdict(*day)[0] == "unknown"
    assert "nothing logged for 14 h 30" in verdict(*day)[1]
    four_hours = ("06:30 up", "06:35 pee", "10:30 pee", "14:30 pee", "18:30 pee", "22:30 pee")
    assert verdict(*four_hours)[0] == "clear"
    assert verdict(*four_hours[:3], "14:31 pee", *four_hours[4:])[0] == "unknown"


def test_an_accident_of_any_cause_ends_a_clear_day() -> None:
    for kind in ("pee-inside", "poop-inside"):
        assert verdict(*CLEAR_DAY, f"12:00 {kind}") == ("accident", "1 accident")
    page = diary().on(3).all_at(*CLEAR_DAY).at("12:00", "pee-inside", cause="greeting").on(4)
    assert page.read("12:00").days[-2].verdict == "accident"


def test_today_is_open_until_the_next_morning() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY)
    assert page.read("23:59").days[-1].verdict == "open"
    assert page.on(4).read("06:29").days[-1].verdict == "open"
    assert page.on(4).read("06:30").days[-2].verdict == "clear"


def test_the_day_of_arrival_counts_only_if_it_was_whole() -> None:
    whole = diary(arrived="06:30").on(1).all_at(*CLEAR_DAY).on(2).read("12:00")
    assert (whole.days[0].verdict, whole.streak_days) == ("clear", 1)
    entries = [entry for entry in CLEAR_DAY if entry >= "11"]
    part = diary(arrived="11:00").on(1).all_at(*entries).on(2).read("12:00")
    assert (part.days[0].verdict, part.streak_days) == ("unknown", 0)
    assert part.days[0].words == "day of arrival, not a whole day"


def test_the_streak_counts_clear_days_over_unknown_ones() -> None:
    page = diary().on(1).all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY)
    assert page.on(3).read("12:00").streak_days == 2
    page = page.on(3).all_at(*FEW_ENTRIES).on(4).all_at(*CLEAR_DAY).on(5)
    assert page.read("12:00").streak_days == 3


def test_an_accident_ends_the_streak_at_once() -> None:
    page = two_clear_days().all_at(*MORNING, "08:00 pee-inside")
    assert page.read("07:59").streak_days == 2
    assert page.read("08:00").streak_days == 0
    assert page.read("09:30").since["accident"] == 90
    assert page.on(4).read("08:00").since["accident"] == 24 * 60


def test_never_an_accident_is_unknown_and_not_zero() -> None:
    assert two_clear_days().read("12:00").since["accident"] is None


def test_fourteen_clear_days_are_not_called_house_trained() -> None:
    page = diary()
    for day in range(1, 15):
        page = page.on(day).all_at(*CLEAR_DAY)
        assert ("do not make a house-trained dog" in page.read("12:00").reminder) is (day == 14)
    page = page.on(15)
    assert page.read("12:00").streak_days == 14
    assert "do not make a house-trained dog" in page.read("06:45").reminder
    assert page.read("12:00").reminder == ""


# --- The rule stands in one place -----------------------------------------------------------------


def test_no_other_module_restates_when_the_interval_widens() -> None:
    package = Path(pottyboard.__file__).parent
    numbers = ("CLEAR_DAYS_TO_WIDEN", "HOLDS_TO_WIDEN", "HOLD_NEAR_INTERVAL")
    users = {
        path.relative_to(package).as_posix()
        for path in package.rglob("*.py")
        if any(f"figures.{number}" in path.read_text("utf-8") for number in numbers)
    }
    assert users == {"core/engine/interval.py"}


@pytest.mark.parametrize(
    ("clear_days", "coming", "interval"),
    [(0, 0, 120), (0, 1, 120), (1, 1, 150), (0, 4, 180), (0, 5, 180), (1, 30, 210)],
)
def test_a_step_for_every_two_clear_days_to_come(
    clear_days: int, coming: int, interval: int
) -> None:
    evidence = Evidence(clear_days, (120.0,) * 3)
    assert after_clear_days(diary().settings.dog, 120, evidence, coming) == interval
