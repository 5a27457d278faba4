"""The time before a letter, and the letter before this one."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from pottyboard.board.control.typed import JustSaved, TypedTime
from pottyboard.core.model.localtime import TimeError
from tests.board.kitchen import ZONE, instant

NOW = instant("10:00", day=2)


def typed(digits: str, *, clock: bool = False) -> TypedTime:
    time = TypedTime()
    for digit in digits:
        time.type(digit)
    if clock:
        time.at_clock()
    return time


@pytest.mark.parametrize(
    ("digits", "minutes"), [("", 0), ("0", 0), ("007", 7), ("20", 20), ("1440", 1440)]
)
def test_digits_are_minutes_and_are_used_up(digits: str, minutes: int) -> None:
    time = typed(digits)
    assert time.take(NOW, ZONE) == NOW - timedelta(minutes=minutes)
    assert time.is_empty


@pytest.mark.parametrize("digits", ["1441", "99999", "123456789012"])
def test_more_than_a_day_is_refused_and_forgotten(digits: str) -> None:
    time = typed(digits)
    assert time.is_too_long
    with pytest.raises(TimeError):
        time.take(NOW, ZONE)
    assert time.take(NOW, ZONE) == NOW


@pytest.mark.parametrize(
    ("digits", "at"),
    [
        ("0705", instant("07:05", 2)),
        ("705", instant("07:05", 2)),
        ("7", instant("07:00", 2)),
        ("07", instant("07:00", 2)),
        ("0030", instant("00:30", 2)),
        ("030", instant("00:30", 2)),
        ("1000", instant("10:00", 2)),
        ("1001", instant("10:01", 1)),
        ("2240", instant("22:40", 1)),
        ("22", instant("22:00", 1)),
    ],
)
def test_digits_are_a_clock_time_the_last_that_is_past(digits: str, at: datetime) -> None:
    time = typed(digits, clock=True)
    assert not time.is_too_long
    assert time.take(NOW, ZONE) == at
    assert time.take(NOW, ZONE) == NOW


@pytest.mark.parametrize("digits", ["", "2560", "2360", "25", "12345"])
def test_what_is_no_clock_time_is_refused_and_forgotten(digits: str) -> None:
    time = typed(digits, clock=True)
    with pytest.raises(TimeError, match="no clock time"):
        time.take(NOW, ZONE)
    assert time.is_empty


def test_a_digit_is_taken_back() -> None:
    time = typed("205")
    time.shorten()
    assert time.digits == "20"
    time.at_clock()
    for _ in range(2):
        time.shorten()
        assert not time.is_empty
    time.shorten()
    assert time.is_empty


@pytest.mark.parametrize(
    ("kind", "wall", "tick", "slip"),
    [
        ("pee", 1, 1, True),
        ("poop", 1, 1, False),
        ("pee", 3, 1, False),
        ("pee", 1, 3, False),
        ("pee", 3600, 1, False),
    ],
)
def test_a_slip_is_the_same_letter_soon_by_both_clocks(
    kind: str, wall: float, tick: float, slip: bool
) -> None:
    at = instant("10:00")
    just = JustSaved("pee", at, 100.0)
    assert just.is_repeated_by(kind, at + timedelta(seconds=wall), 100.0 + tick) is slip
