"""The situation in a word or two."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.core.view.in_short import URGENCY, called, in_short, in_short_of, with_clock
from tests.core.diary import diary

MORNING = diary(meals="07:00").all_at("06:30 up", "07:00 meal", "09:05 pee")


@pytest.mark.parametrize(
    ("clock", "short", "middle"),
    [
        ("10:00", "1 h 05", "Bramble 1 h 05, break 11:05"),
        ("10:53", "12 min", "Bramble 12 min, break 11:05"),
        ("11:05", "DUE", "Bramble DUE, break 11:05"),
        ("11:20", "DUE", "Bramble DUE, break 11:05"),
        ("11:21", "LATE 16", "Bramble LATE 16, break 11:05"),
        ("12:04", "LATE 59", "Bramble LATE 59, break 11:05"),
        ("12:05", "LATE 1 h", "Bramble LATE 1 h, break 11:05"),
    ],
)
def test_by_the_minute(clock: str, short: str, middle: str) -> None:
    view = MORNING.all_at("08:20 poop").read(clock)
    assert (in_short(view), in_short_of(view)) == (short, f"{short}, Bramble")
    assert with_clock(view) == middle


@pytest.mark.parametrize(
    ("entries", "clock", "short"),
    [
        (["11:10 nothing"], "11:13", "watching 12 min"),
        (["11:10 pee", "11:15 settled"], "11:20", "asleep 14:15"),
        (["11:10 pee", "11:12 left"], "11:20", "alone 1 h 50"),
    ],
)
def test_what_it_waits_for(entries: list[str], clock: str, short: str) -> None:
    assert in_short(MORNING.all_at("08:20 poop", *entries).read(clock)) == short


def test_what_a_notice_says_begins_with_a_letter() -> None:
    view = MORNING.all_at("08:20 poop")
    assert called(view.read("11:05")) == "Break due: Bramble"
    assert called(view.read("11:30")) == "Break late by 25 min: Bramble"
    late = view.read("11:30")
    dog = replace(late.settings.dog, name="--help\x1b]2;x\x07")
    odd = called(replace(late, settings=replace(late.settings, dog=dog)))
    assert odd == "Break late by 25 min: --help]2;x"


def test_the_urgency_names_every_state() -> None:
    assert sorted(URGENCY) == sorted(["rest", "soon", "due", "late", "watching", "asleep", "alone"])
