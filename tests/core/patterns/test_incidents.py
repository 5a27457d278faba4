"""Accidents as the patterns count them: what the log knows of each, and what it does not."""

from __future__ import annotations

from typing import Any

import pytest

from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.patterns.exposure import time_at_risk
from pottyboard.core.patterns.incidents import Incident, incidents, rooms_alike
from tests.core.diary import Diary, diary

MORNING = (
    diary()
    .at("06:30", "up")
    .at("06:30", "duty", by="Ada")
    .all_at("06:35 pee", "09:00 left", "11:00 back", "11:05 pee")
    .at("12:00", "duty", by="Bo")
    .all_at("13:00 settled", "14:00 up", "16:00 pee")
)


def told(page: Diary, clock: str = "23:00") -> tuple[Incident, ...]:
    days = page.days(clock)
    near = range(len(days))
    awake = time_at_risk(days, near, minutes_of(page.instant(clock)), page.settings.zone)
    return incidents(days, near, awake)


@pytest.mark.parametrize(
    ("clock", "details", "alone", "minute", "who"),
    [
        ("08:10", {"found": False}, False, 490, "Ada"),
        ("15:00", {"found": False}, False, 900, "Bo"),
        ("11:10", {"found": True, "dry": "11:02"}, False, 666, "Ada"),
        ("08:40", {"found": True, "dry": "07:00"}, False, None, "Ada"),
        ("12:20", {"found": True, "dry": "11:50"}, False, 725, ""),
        ("11:02", {"found": True, "dry": "10:30"}, None, None, ""),
        ("10:50", {"found": True, "dry": "09:30"}, True, None, ""),
        ("11:02", {"found": True}, None, None, ""),
        ("11:02", {"found": True, "alone": True}, True, None, ""),
        ("15:00", {"found": None}, None, None, ""),
        ("23:00", {"found": False}, None, None, ""),
    ],
)
def test_what_is_known_of_an_accident(
    clock: str, details: dict[str, Any], alone: bool | None, minute: float | None, who: str
) -> None:
    (one,) = told(MORNING.at(clock, "pee-inside", **details))
    assert (one.alone, one.minute, one.who) == (alone, minute, who)
    assert one.by_day == (clock != "23:00")


def test_an_accident_that_ends_a_nap_happened_awake() -> None:
    (one,) = told(MORNING.all_at("17:00 settled").at("17:50", "pee-inside", found=False), "19:00")
    assert (one.minute, one.who) == (1070, "Bo")


def test_the_room_counts_and_not_the_spot() -> None:
    page = MORNING.at("08:00", "pee-inside", place="Hall: by the door").at(
        "15:00", "pee-inside", place="hall"
    )
    assert list(rooms_alike(told(page))) == [("hall", 2)]


def test_a_cause_that_nobody_knows_is_none() -> None:
    page = MORNING.at("15:00", "pee-inside", found=True).at("17:00", "pee-inside", cause="sign")
    assert [one.cause for one in told(page)] == ["", "a signal was missed"]


def test_neither_another_dog_nor_a_second_entry_counts() -> None:
    page = (
        MORNING.at("08:00", "pee-inside", unsure=True)
        .at("15:00", "pee-inside", found=False)
        .at("15:10", "poop-inside", found=False)
        .at("15:21", "pee-inside", found=False)
    )
    assert [one.minute for one in told(page)] == [900, 921]
