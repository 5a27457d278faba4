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
from pottyboard.core.model.questions import (
    answers_from,
    default_answers,
    problems_in,
    settings_from,
)
from pottyboard.core.model.rota import (
    helpers_words,
    other_days_words,
    own_hours_words,
    read_helpers,
    read_other_days,
    read_own_hours,
)
from pottyboard.core.model.settings import EVERY_DAY, Helper, OtherDays, OwnHours, Settings

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


# --- As people write it ---------------------------------------------------------------------------

NAMES = st.sampled_from(["Ana", "Ben", "Mina Q", "Aunt Sunny", "Mo", "Per Åge", "Otto 2"])
CLOCKS = st.integers(0, 1439).map(clock)
DAYS = st.frozensets(st.integers(1, 7), min_size=1)
DATES = st.dates(date(2026, 1, 1), date(2027, 1, 1))


@st.composite
def own_hours(draw: st.DrawFn) -> OwnHours:
    leave, back = draw(st.lists(CLOCKS, min_size=2, max_size=2, unique=True))
    return OwnHours(draw(NAMES), draw(DAYS), leave, back)


@st.composite
def other_days(draw: st.DrawFn) -> OtherDays:
    first = draw(DATES)
    last = first + timedelta(days=draw(st.integers(0, 5)))
    person = draw(st.one_of(st.just(""), NAMES))
    if draw(st.booleans()):
        return OtherDays(first, last, person)
    return OtherDays(
        first, last, person, *draw(st.lists(CLOCKS, min_size=2, max_size=2, unique=True))
    )


@st.composite
def helpers(draw: st.DrawFn) -> Helper:
    start = draw(st.integers(0, 1200))
    return Helper(
        draw(NAMES), clock(start), clock(start + draw(st.integers(60, 230))),
        cost=draw(st.integers(0, 999_999)) / 100,
        notice=float(draw(st.sampled_from([0, 5, 60, 90, 1440, 2880, 20160]))),
        lasts=float(draw(st.integers(5, 60))),
        days=draw(DAYS),
    )  # fmt: skip


@given(st.lists(own_hours(), max_size=4, unique=True))
def test_own_hours_read_back(own: list[OwnHours]) -> None:
    assert read_own_hours(own_hours_words(own)) == tuple(own)


@given(st.lists(other_days(), max_size=4, unique=True))
def test_exceptions_read_back(others: list[OtherDays]) -> None:
    assert read_other_days(other_days_words(others)) == tuple(others)


@given(st.lists(helpers(), max_size=4, unique=True))
def test_helpers_read_back(given_helpers: list[Helper]) -> None:
    assert read_helpers(helpers_words(given_helpers)) == tuple(given_helpers)


def test_all_answers_read_back() -> None:
    settings = household(
        people="Ana, Ben, Cleo",
        own_hours="Ben mon-fri 09:00-13:00; Ben sat,sun 10:00-11:00; Cleo home",
        exceptions="2026-03-05 home; Ben 2026-03-06..2026-03-08 10:00-12:00",
        helpers="Mina 11:00-15:00 12.50 mon-fri 30min notice 24h; Otto 9-18",
        arranged="2026-03-09",
        visits="cheapest",
    )
    answers = answers_from(settings)
    assert settings_from(answers, NOW) == settings
    assert answers["helpers"] == (
        "Mina 11:00-15:00 12.5 mon-fri 30min notice 24h; Otto 09:00-18:00 0"
    )
    assert "\n" not in "".join(answers.values())


def test_a_helper_is_read_loosely() -> None:
    mina = Helper("Mina", time(11), time(15), 12.5, 1440, 30, frozenset(range(1, 6)))
    for text in (
        "Mina 11:00-15:00 12.50 mon-fri 30min notice 24h",
        " Mina  11 – 15  notice 1 day  Monday-Friday 30 min 12,50 ;",
        "Mina 1100-1500 mon,tue, wed,thu,fri notice 1440 min 12.5 0.5h",
    ):
        assert read_helpers(text) == (mina,)


@pytest.mark.parametrize(
    ("key", "answer", "message"),
    [
        ("own-hours", "Ben", "not understood"),
        ("own-hours", "Zed home", "Zed is not among the people"),
        ("own-hours", "Ben home; Ben mon 9-10", "both home and away"),
        ("own-hours", "Ben mon 9-9", "the same time twice"),
        ("own-hours", "home", "A name is missing"),
        ("exceptions", "tomorrow home", "not understood"),
        ("exceptions", "2026-02-30 home", "is not a date"),
        ("exceptions", "2026-03-05..2026-03-01 home", "ends before it begins"),
        ("exceptions", "Zed 2026-03-05 home", "Zed is not among the people"),
        ("exceptions", "2026-03-05 25:00-26:00", "is not a clock time"),
        ("helpers", "11:00-15:00", "not understood"),
        ("helpers", "Mina", "not understood"),
        ("helpers", "Mina 15:00-11:00", "end before they begin"),
        ("helpers", "Mina 11:00-15:00 soon", "“soon” is not understood"),
        ("helpers", "Mina 11:00-15:00 notice 15 days", "14 days of notice"),
        ("helpers", "Mina 11:00-11:30 45min", "fits within the hours"),
        ("helpers", "Mina 11:00-15:00 2min", "5 min or more"),
        ("helpers", "Mina 11:00-15:00 10000", "9999.99 at most"),
        ("arranged", "soon", "Write a date"),
        ("visits", "few", "fewest, cheapest"),
    ],
)
def test_what_does_not_fit_is_named_beside_its_key(key: str, answer: str, message: str) -> None:
    answers = default_answers(NOW, "Europe/Oslo") | {"people": "Ana, Ben", key: answer}
    problems = problems_in(answers, NOW)
    assert list(problems) == [key]
    assert message in problems[key]
