"""The rota as people write it: what is read, what reads back, and what is refused."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
from pottyboard.core.model.settings import EVERY_DAY, Helper, OtherDays, OwnHours
from pottyboard.core.written.lines import line_reader, read_name
from pottyboard.core.written.weekdays import days_words, read_days

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)
TODAY = date(2026, 3, 2)


def clock(minute: int) -> time:
    return time(minute // 60 % 24, minute % 60)


# --- A line, and days -----------------------------------------------------------------------------


def test_a_line_is_plain_and_short() -> None:
    read = line_reader(5, "Say something.")
    assert read("  a   b ") == "a b"
    assert read("abcde") == "abcde"
    for answer, message in (("abcdef", "at most 5"), (" ", "Say something"), ("a\x1bb", "control")):
        with pytest.raises(ValueError, match=message):
            read(answer)
    assert line_reader(5)("  ") == ""


def test_a_name_has_up_to_thirty_letters() -> None:
    assert read_name("n" * 30) == "n" * 30
    for answer, message in (("n" * 31, "at most 30"), ("", "A name is missing")):
        with pytest.raises(ValueError, match=message):
            read_name(answer)


@pytest.mark.parametrize(
    ("text", "days", "words"),
    [
        ("mon-fri", {1, 2, 3, 4, 5}, "mon-fri"),
        ("Monday, WED,fri", {1, 3, 5}, "mon,wed,fri"),
        ("sat-mon", {1, 6, 7}, "mon,sat,sun"),
        ("tue - tue", {2}, "tue"),
        ("mon,tue", {1, 2}, "mon,tue"),
        ("sun,thu-fri,,tue", {2, 4, 5, 7}, "tue,thu,fri,sun"),
        ("", set(), ""),
    ],
)
def test_days_of_the_week(text: str, days: set[int], words: str) -> None:
    assert read_days(text) == days
    assert days_words(days) == words
    assert read_days(words) == days


@pytest.mark.parametrize("text", ["m", "mon-wed-fri", "mon-", "5", "fry"])
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="mon-fri or mon,wed,fri"):
        read_days(text)


# --- Who is away, and who can come ----------------------------------------------------------------

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
    assert read_other_days(other_days_words(others), TODAY) == tuple(others)


@given(st.lists(helpers(), max_size=4, unique=True))
def test_helpers_read_back(given_helpers: list[Helper]) -> None:
    assert read_helpers(helpers_words(given_helpers)) == tuple(given_helpers)


def test_all_answers_read_back() -> None:
    given_answers = {
        "people": "Ana, Ben, Cleo",
        "own-hours": "Ben mon-fri 09:00-13:00; Ben sat,sun 10:00-11:00; Cleo home",
        "exceptions": "2026-03-05 home; Ben 2026-03-06..2026-03-08 10:00-12:00",
        "helpers": "Mina 11:00-15:00 12.50 mon-fri 30min notice 24h; Otto 9-18",
        "visits": "cheapest",
    }
    settings = settings_from(default_answers(NOW, "Europe/Oslo") | given_answers, NOW)
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
        ("own-hours", "Zed home", "Zed is not among the people: add it to People (--people)."),
        ("own-hours", "Ben home; Ben mon 9-10", "both home and away"),
        ("own-hours", "Ben mon 9-9", "the same time twice"),
        ("own-hours", "home", "A name is missing"),
        ("exceptions", "someday home", "not understood"),
        ("exceptions", "2026-02-30 home", "no such day"),
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
        ("visits", "few", "fewest, cheapest"),
    ],
)
def test_what_does_not_fit_is_named_beside_its_key(key: str, answer: str, message: str) -> None:
    answers = default_answers(NOW, "Europe/Oslo") | {"people": "Ana, Ben", key: answer}
    problems = problems_in(answers, NOW)
    assert list(problems) == [key]
    assert message in problems[key]


@pytest.mark.parametrize(
    "text",
    ["Mina 11:00-11:20", "Mina 11:00-15:00 9999.99", "Mina 9-18 5min", "Mina 9-18 notice 14 days"],
)
def test_the_ends_of_what_a_helper_may_be_are_read(text: str) -> None:
    (helper,) = read_helpers(text)
    assert read_helpers(helpers_words([helper])) == (helper,)


def test_a_helper_s_notice_is_written_as_people_say_it() -> None:
    told = [
        helpers_words(read_helpers(f"Mina 9-18 notice {notice}")).partition("notice ")[2]
        for notice in ("24h", "48h", "90 min", "2h", "0min")
    ]
    assert told == ["24h", "2days", "90min", "2h", ""]


def test_what_is_said_twice_counts_once() -> None:
    assert len(read_helpers("Mina 9-18; Mina 9-18")) == 1
    assert len(read_own_hours("Ben home; Ben home")) == 1
    assert len(read_other_days("2026-03-05 home; 5 Mar home", TODAY)) == 1


def test_a_name_that_ends_like_a_day_keeps_its_end() -> None:
    (own,) = read_own_hours(own_hours_words([OwnHours("Aunt Sun", EVERY_DAY, time(9), time(13))]))
    assert (own.person, own.days) == ("Aunt Sun", EVERY_DAY)


@pytest.mark.parametrize(
    ("answer", "first", "last"),
    [
        ("27 Nov home", date(2026, 11, 27), date(2026, 11, 27)),  # the nearest is three months ago
        ("28 Dec to 2 Jan home", date(2026, 12, 28), date(2027, 1, 2)),
        ("20 Feb home", date(2026, 2, 20), date(2026, 2, 20)),
        ("27 Nov 2025 home", date(2025, 11, 27), date(2025, 11, 27)),
    ],
)
def test_an_exception_is_a_day_to_come_where_no_year_says_otherwise(
    answer: str, first: date, last: date
) -> None:
    (read,) = read_other_days(answer, date(2026, 3, 2))
    assert (read.first, read.last) == (first, last)
