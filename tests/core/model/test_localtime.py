"""Reading and writing times, and what happens where the clocks change."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.localtime import (
    TimeError,
    at_clock,
    clock_words,
    count_words,
    day_clock_words,
    instant_of,
    last_at,
    local,
    minutes_of,
    read_clock,
    read_on,
    read_span,
    read_when,
    span_words,
    zone_named,
)

OSLO = zone_named("Europe/Oslo")
NOON = datetime(2026, 3, 2, 11, 0, tzinfo=UTC)
"""12:00 in Oslo on Monday 2 March 2026."""


# --- The last such time, and times with their day -------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "at"),
    [
        (time(11, 59), datetime(2026, 3, 2, 10, 59, tzinfo=UTC)),
        (time(12, 0), datetime(2026, 3, 2, 11, 0, tzinfo=UTC)),
        (time(12, 1), datetime(2026, 3, 1, 11, 1, tzinfo=UTC)),
        (time(22, 40), datetime(2026, 3, 1, 21, 40, tzinfo=UTC)),
    ],
)
def test_the_last_such_time_is_past(clock: time, at: datetime) -> None:
    assert last_at(clock, NOON, OSLO) == at


def test_the_last_such_time_where_the_clocks_change() -> None:
    # Oslo 2026: 02:00 becomes 03:00 on 29 March, 03:00 becomes 02:00 on 25 October.
    after_gap = datetime(2026, 3, 29, 2, 0, tzinfo=UTC)  # 04:00
    assert last_at(time(2, 30), after_gap, OSLO) == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)
    first, second = (datetime(2026, 10, 25, hour, 30, tzinfo=UTC) for hour in (0, 1))
    assert last_at(time(2, 30), second, OSLO) == first
    before = first - timedelta(minutes=1)
    assert last_at(time(2, 30), before, OSLO) == datetime(2026, 10, 24, 0, 30, tzinfo=UTC)


@given(now=st.datetimes(datetime(2026, 1, 1), datetime(2026, 12, 31)), clock=st.times())
def test_the_last_such_time_lies_a_day_back_at_most(now: datetime, clock: time) -> None:
    here = now.replace(tzinfo=UTC)
    at = last_at(clock.replace(second=0, microsecond=0), here, OSLO)
    assert timedelta(0) <= here - at <= timedelta(hours=26)


@pytest.mark.parametrize(
    ("hours_ago", "words"),
    [(1, "11:00"), (12, "00:00"), (13, "23:00 yesterday"), (37, "Sat 28 Feb 23:00")],
)
def test_a_clock_time_of_another_day_carries_it(hours_ago: int, words: str) -> None:
    assert day_clock_words(NOON - timedelta(hours=hours_ago), NOON, OSLO) == words


@pytest.mark.parametrize("text", ["22:40", "2240", "10:40 pm", "10.40pm", "2026-02-27 22:40"])
def test_a_time_on_a_day_is_read_in_any_form(text: str) -> None:
    at = read_on(text, date(2026, 2, 27), NOON, OSLO)
    assert at == datetime(2026, 2, 27, 21, 40, tzinfo=UTC)


# --- Clock times ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("7:05", time(7, 5)), ("07:05", time(7, 5)), ("07.05", time(7, 5)), ("7h05", time(7, 5)),
        ("0705", time(7, 5)), (" 06:30 ", time(6, 30)), ("0:00", time(0)), ("24:00", time(0)),
        ("23:59", time(23, 59)),
        ("10am", time(10)), ("7 pm", time(19)), ("7:05 PM", time(19, 5)),
        ("12:10 a.m.", time(0, 10)),
        ("12pm", time(12)),
    ],
)  # fmt: skip
def test_clock_times_are_read(text: str, clock: time) -> None:
    assert read_clock(text) == clock


@pytest.mark.parametrize(
    "text",
    [
        "",
        "7:5",
        "25",
        "25:00",
        "24:01",
        "12:60",
        "noonish",
        "13:05 pm",
        "0am",
        "-1:00",
        "7:05:0",
        "7;05",
    ],
)
def test_other_clock_times_are_refused_with_an_example(text: str) -> None:
    with pytest.raises(TimeError, match=r"write (hours and minutes, such as 06:30|07:05 or 07:50)"):
        read_clock(text)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("20", 20), ("45 min", 45), ("45min", 45), ("5 minutes", 5), ("1 minute", 1),
        ("2h", 120), ("2 h", 120), ("1h30", 90), ("1 h 30", 90), ("1h 30m", 90), ("0", 0),
        ("90", 90), ("3H", 180),
    ],
)  # fmt: skip
def test_lengths_of_time_are_read(text: str, minutes: int) -> None:
    assert read_span(text) == minutes


@pytest.mark.parametrize(
    "text", ["", " ", "h", "min", "-5", "1.5", "1.30", "2h30h", "20 hours ago", "∞"]
)
def test_other_lengths_of_time_are_refused(text: str) -> None:
    with pytest.raises(TimeError, match="length of time"):
        read_span(text)


@given(st.integers(0, 47 * 60))
def test_a_length_of_time_reads_back(minutes: int) -> None:
    assert read_span(span_words(minutes)) == minutes


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"), (1, "1 min"), (59.9, "59 min"), (60, "1 h"), (61, "1 h 01"), (90, "1 h 30"),
        (120, "2 h"), (-75, "1 h 15"), (47 * 60 + 59, "47 h 59"), (48 * 60, "2 days"),
        (80 * 60, "3 days"),
    ],
)  # fmt: skip
def test_lengths_of_time_in_words(minutes: float, words: str) -> None:
    assert span_words(minutes) == words


def test_counts_in_words() -> None:
    assert [count_words(number, "day") for number in (0, 1, 2)] == ["0 days", "1 day", "2 days"]
    assert count_words(2, "more hold of it", "more of them") == "2 more of them"


# --- When something happened ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "instant"),
    [
        ("10:05", "2026-03-02T09:05+00:00"),
        ("today 10:05", "2026-03-02T09:05+00:00"),
        ("yesterday 22:30", "2026-03-01T21:30+00:00"),
        ("Yesterday 22:30", "2026-03-01T21:30+00:00"),
        ("2026-03-01 07:00", "2026-03-01T06:00+00:00"),
        ("2026-03-01T07:00", "2026-03-01T06:00+00:00"),
        ("2026-03-01T07:00:30", "2026-03-01T06:00+00:00"),
        ("2026-03-01T07:00Z", "2026-03-01T07:00+00:00"),
        ("2026-03-01 07:00+01:00", "2026-03-01T06:00+00:00"),
        ("2026-03-01T07:00-05:00", "2026-03-01T12:00+00:00"),
        ("2026-07-01 07:00", "2026-07-01T05:00+00:00"),
    ],
)
def test_times_are_read_as_people_write_them(text: str, instant: str) -> None:
    assert read_when(text, NOON, OSLO) == datetime.fromisoformat(instant)


def test_a_clock_time_means_the_nearest_one_past() -> None:
    past_midnight = datetime(2026, 3, 2, 23, 20, tzinfo=UTC)  # 00:20 on 3 March in Oslo
    assert read_when("23:50", past_midnight, OSLO) == datetime(2026, 3, 2, 22, 50, tzinfo=UTC)
    assert read_when("00:10", past_midnight, OSLO) == datetime(2026, 3, 2, 23, 10, tzinfo=UTC)
    assert read_when("12:30", NOON, OSLO) > NOON, "a little ahead is refused later, not moved"


@pytest.mark.parametrize(
    "text",
    [
        "", "now", "soon", "20261", "2026-03", "2026-13-01 10:00", "2026-02-30 10:00",
        "2026-03-01 25:00", "2026-03-01", "10:05Z", "yesterday", "yesterday noonish",
        "next week 10:00",
        "2026-03-01T10:00+99:00", "7:5",
    ],
)  # fmt: skip
def test_other_times_are_refused(text: str) -> None:
    with pytest.raises(TimeError):
        read_when(text, NOON, OSLO)


@pytest.mark.parametrize(
    "text",
    ["31 Feb 10:05", "2026-02-31 10:05", "2026-02-31T10:05Z", "20260229T1005+0100"],
)
def test_a_day_that_there_is_not_is_refused_as_one(text: str) -> None:
    with pytest.raises(TimeError, match=r"there is no such day"):
        read_when(text, NOON, OSLO)


def test_a_skipped_time_is_refused_with_the_reason() -> None:
    now = datetime(2026, 3, 29, 10, 0, tzinfo=UTC)
    with pytest.raises(TimeError, match="does not exist in Europe/Oslo: the clocks go forward"):
        read_when("2026-03-29 02:30", now, OSLO)
    with pytest.raises(TimeError, match="does not exist"):
        read_when("02:30", now, OSLO)


def test_a_repeated_time_is_refused_with_both_readings() -> None:
    now = datetime(2026, 10, 25, 10, 0, tzinfo=UTC)
    with pytest.raises(TimeError, match="happens twice in Europe/Oslo") as refused:
        read_when("2026-10-25 02:30", now, OSLO)
    readings = [word for word in str(refused.value).split() if word.startswith("2026-10-25T")]
    assert readings == ["2026-10-25T02:30+02:00", "2026-10-25T02:30+01:00"]
    first, second = (read_when(text, now, OSLO) for text in readings)
    assert second - first == timedelta(hours=1)


# --- Instants -------------------------------------------------------------------------------------


def test_a_naive_time_is_refused() -> None:
    with pytest.raises(TimeError, match="no time zone"):
        minutes_of(datetime(2026, 3, 2, 10, 0))


@given(
    st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1)),
    st.sampled_from([UTC, OSLO, zone_named("America/New_York"), timezone(timedelta(hours=5.5))]),
)
def test_instants_survive_the_round_trip(wall: datetime, zone: timezone) -> None:
    instant = wall.replace(tzinfo=zone)
    assert abs(instant_of(minutes_of(instant)) - instant.astimezone(UTC)) < timedelta(
        milliseconds=1
    )


def test_the_local_view_of_an_instant() -> None:
    winter, summer = (minutes_of(datetime(2026, month, 2, 11, 0, tzinfo=UTC)) for month in (3, 7))
    assert local(winter, OSLO).isoformat() == "2026-03-02T12:00:00+01:00"
    assert (clock_words(winter, OSLO), clock_words(summer, OSLO)) == ("12:00", "13:00")


def test_a_clock_time_on_a_day() -> None:
    assert instant_of(at_clock(date(2026, 3, 2), time(6, 30), OSLO)) == datetime(
        2026, 3, 2, 5, 30, tzinfo=UTC
    )
    later = at_clock(date(2026, 3, 29), time(6, 30), OSLO)
    earlier = at_clock(date(2026, 3, 28), time(6, 30), OSLO)
    assert later - earlier == 23 * 60


# --- Zones ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["Europe/Oslo", "UTC", "America/Argentina/Ushuaia", "Asia/Kolkata"]
)
def test_zones_have_their_own_names(name: str) -> None:
    assert zone_named(name).key == name


@pytest.mark.parametrize(
    "name",
    ["", "Slo", "Europe", "local", "../etc/passwd", "/etc/localtime", "a\0b"],
)
def test_other_zones_are_refused(name: str) -> None:
    with pytest.raises(TimeError, match="is not a time zone"):
        zone_named(name)


def test_the_nearest_zone_is_suggested() -> None:
    with pytest.raises(TimeError, match=r"Did you mean Europe/Oslo"):
        zone_named("Europe/Olso")
