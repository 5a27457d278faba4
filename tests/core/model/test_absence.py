"""Who is away when, and when the dog is alone."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.model.absence import absences, away_on
from pottyboard.core.model.localtime import clock_words, minutes_of
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import EVERY_DAY, OwnHours, Settings

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)
MONDAY = date(2026, 3, 2)


def household(**answers: str) -> Settings:
    """Return the settings of a household in Oslo whose dog came early on a Monday."""
    given = {"arrived": "2026-03-02 05:00", "absent-from": "1", "workdays": "mon-fri"}
    given |= {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from(default_answers(NOW, "Europe/Oslo") | given, NOW)


def alone(settings: Settings, day: int = 0, days: int = 1) -> list[str]:
    """Return the times alone that begin on the days from a Monday on, as ``08:30-17:00``."""
    first = MONDAY + timedelta(days=day)
    zone = settings.zone
    return [
        f"{clock_words(a.leave, zone)}-{clock_words(a.back, zone)}"
        for a in absences(settings, first, first + timedelta(days=days - 1))
    ]


# --- When the dog is alone ------------------------------------------------------------------------


def test_the_household_s_hours_hold_on_its_days_from_the_first_day_of_absence() -> None:
    assert alone(household(), 0, 7) == ["08:30-17:00"] * 5
    assert alone(household(absent_from="4"), 0, 7) == ["08:30-17:00"] * 2
    assert alone(household(workdays=""), 0, 7) == []


def test_the_dog_is_alone_only_while_all_are_away() -> None:
    two = household(people="Ana, Ben", own_hours="Ben mon,wed 10:00-18:00; Ben tue 06:00-08:00")
    assert alone(two, 0) == ["10:00-17:00"]
    assert alone(two, 1) == []
    assert alone(two, 3) == []
    three = household(people="Ana, Ben, Cleo", own_hours="Ben mon 10:00-18:00; Cleo home")
    assert alone(three, 0, 7) == []


def test_who_leaves_last_and_who_is_back_first_is_known() -> None:
    two = household(people="Ana, Ben", own_hours="Ben 10:00-18:00")
    (absence,) = absences(two, MONDAY, MONDAY)
    assert (absence.leaves, absence.returns) == ("Ben", "Ana")
    assert absence.minutes == 7 * 60


def test_own_hours_in_two_parts_leave_the_dog_alone_twice() -> None:
    settings = household(people="Ana", own_hours="Ana mon-fri 08:00-11:00; Ana mon-fri 13:00-17:00")
    assert alone(settings, 0) == ["08:00-11:00", "13:00-17:00"]


def test_hours_that_touch_or_overlap_are_one_absence() -> None:
    settings = household(people="Ana", own_hours="Ana mon 08:00-11:00; Ana mon 10:30-12:00")
    assert alone(settings, 0) == ["08:00-12:00"]


@pytest.mark.parametrize(
    ("exceptions", "expected"),
    [
        ("2026-03-03 home", []),
        ("2026-03-02..2026-03-04 home", []),
        ("2026-03-03 12:00-13:00", ["12:00-13:00"]),
        ("2026-03-03 12:00-13:00; 2026-03-03 14:00-15:00", ["12:00-13:00", "14:00-15:00"]),
        ("Ben 2026-03-03 home", []),
        ("Ben 2026-03-03 09:00-10:00", ["09:00-10:00"]),
        ("2026-03-03 home; Ben 2026-03-03 09:00-10:00", []),
        ("2026-03-03 07:00-12:00; Ben 2026-03-03 09:00-10:00", ["09:00-10:00"]),
        ("2026-03-04 home", ["08:30-17:00"]),
    ],
)
def test_an_exception_comes_before_the_week(exceptions: str, expected: list[str]) -> None:
    assert alone(household(people="Ana, Ben", exceptions=exceptions), 1) == expected


def test_an_exception_holds_before_the_first_day_of_absence_and_at_the_weekend() -> None:
    settings = household(absent_from="5", exceptions="2026-03-03 10:00-12:00; 2026-03-07 9-11")
    assert alone(settings, 0, 7) == ["10:00-12:00", "08:30-17:00", "09:00-11:00"]


def test_an_absence_over_midnight_belongs_to_the_day_of_leaving() -> None:
    settings = household(people="Ana, Ben", own_hours="Ana mon 20:00-04:00; Ben tue 02:00-06:00")
    assert alone(settings, 0) == []
    assert alone(settings, 1) == ["02:00-04:00"]
    late = household(workdays="mon", leave="22:00", **{"return": "06:00"})
    assert alone(late, 0, 2) == ["22:00-06:00"]


def test_nobody_leaves_a_dog_that_is_not_there() -> None:
    assert alone(household(arrived="2026-03-02 12:00"), 0, 2) == ["08:30-17:00"]


@pytest.mark.parametrize(
    ("day", "hours"), [(date(2026, 3, 29), 5), (date(2026, 10, 25), 7), (date(2026, 3, 30), 6)]
)
def test_an_absence_over_a_change_of_the_clocks_counts_real_hours(day: date, hours: int) -> None:
    settings = household(exceptions=f"{day} 00:30-06:30")
    (absence,) = absences(settings, day, day)
    assert absence.minutes == hours * 60


@tries(max_examples=100)
@given(st.lists(st.tuples(st.integers(0, 1300), st.integers(10, 1439)), min_size=1, max_size=4))
def test_the_dog_is_alone_exactly_when_every_lane_says_away(spans: list[tuple[int, int]]) -> None:
    people = tuple(f"P{number}" for number in range(len(spans)))
    own = tuple(
        OwnHours(person, EVERY_DAY, clock(start), clock(start + length))
        for person, (start, length) in zip(people, spans, strict=True)
    )
    plain = household()
    settings = replace(plain, home=replace(plain.home, people=people, own_hours=own))
    found = absences(settings, MONDAY + timedelta(days=2), MONDAY + timedelta(days=4))
    start = minutes_of(datetime(2026, 3, 5, tzinfo=UTC))
    for minute in range(0, 1440, 17):
        at = start + minute
        lanes = all(
            any(
                a <= at < b
                for ago in (0, 1, 2)
                for a, b in away_on(settings, person, date(2026, 3, 5) - timedelta(days=ago - 1))
            )
            for person in people
        )
        assert lanes == any(a.leave <= at < a.back for a in found)


def clock(minute: int) -> time:
    return time(minute // 60 % 24, minute % 60)
