"""Invented logs of any length for the benchmarks: the same day of 42 entries over and over."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from pottyboard.core.model.events import Event
from pottyboard.core.model.questions import settings_from
from pottyboard.core.model.settings import Settings

ANSWERS = {
    "name": "Bramble",
    "weight": "8",
    "zone": "Europe/Oslo",
    "up": "06:30",
    "bed": "22:30",
    "meals": "07:00,17:30",
    "people": "Ana, Ben",
}

DAY = """
06:32 up    06:36 both  07:01 meal   07:20 nothing 07:36 pee   08:10 water  08:31 pee   08:50 play
09:04 poop  09:05 pee   09:40 settled 10:35 up     10:37 pee   11:20 sign   11:23 pee   12:05 duty
12:40 pee   12:50 note  13:10 settled 14:05 up     14:07 pee   14:30 water  14:51 pee   15:20 play
15:36 pee   16:10 left  16:55 back    16:57 pee    17:31 meal  17:47 nothing 18:03 poop 18:04 pee
18:40 water 19:02 pee   19:30 visit   19:50 play   20:06 pee   20:40 settled 21:20 up   21:22 pee
22:29 pee   22:40 settled
"""


def settings_of(first: datetime) -> Settings:
    """Return the settings of a small dog that arrived on the morning of ``first``."""
    arrived = first.replace(hour=5, minute=0, second=0, microsecond=0)
    return settings_from(ANSWERS | {"arrived": arrived.isoformat()}, first)


def entries(days: int, first: datetime) -> Iterator[Event]:
    """Yield ``days`` days of entries from the date of ``first`` on, with an accident each fifth."""
    words = DAY.split()
    midnight = first.replace(hour=0, minute=0, second=0, microsecond=0, tzinfo=UTC)
    for day in range(days):
        for number, (clock, kind) in enumerate(zip(words[::2], words[1::2], strict=True)):
            at = midnight + timedelta(days=day, hours=int(clock[:2]) - 1, minutes=int(clock[3:]))
            accident = kind == "pee" and day % 5 == 2 and clock == "14:51"
            yield Event(
                "pee-inside" if accident else kind,
                at,
                id=f"{day:05}-{number:02}",
                zone="Europe/Oslo",
                logged=at,
                by="Ana" if number % 2 else "Ben",
                found=False if accident else None,
            )
