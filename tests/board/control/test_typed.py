"""The minutes before a letter, and the letter before this one."""

from __future__ import annotations

from datetime import timedelta

import pytest

from pottyboard.board.control.typed import JustSaved, MinutesAgo
from pottyboard.core.model.localtime import TimeError
from tests.board.kitchen import instant


def typed(digits: str) -> MinutesAgo:
    ago = MinutesAgo()
    for digit in digits:
        ago.type(digit)
    return ago


@pytest.mark.parametrize(
    ("digits", "minutes"), [("", 0), ("0", 0), ("007", 7), ("20", 20), ("1440", 1440)]
)
def test_digits_are_minutes_and_are_used_up(digits: str, minutes: int) -> None:
    ago = typed(digits)
    assert ago.take() == minutes
    assert ago.digits == ""


@pytest.mark.parametrize("digits", ["1441", "99999", "123456789012"])
def test_more_than_a_day_is_refused_and_forgotten(digits: str) -> None:
    ago = typed(digits)
    assert ago.is_too_long
    with pytest.raises(TimeError):
        ago.take()
    assert ago.take() == 0


def test_a_digit_is_taken_back() -> None:
    ago = typed("205")
    ago.shorten()
    assert ago.digits == "20"
    ago.clear()
    assert ago.digits == ""


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
