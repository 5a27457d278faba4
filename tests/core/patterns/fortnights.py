"""Fourteen days like each other, to plant something in, or nothing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import timedelta
from random import Random

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import at_clock, instant_of, read_clock
from pottyboard.core.model.settings import Settings
from tests.core.diary import diary

DAYS = 14
SETTINGS: Settings = diary(kg=18).settings
ROOMS = ("hall", "kitchen", "den", "stairs")
CAUSES = ("late", "meal", "sign", "empty")

DAY = (
    "06:30 up", "06:35 both", "07:00 meal", "07:20 poop", "08:50 pee", "09:00 left", "11:00 back",
    "11:02 pee", "12:50 pee", "13:00 settled", "13:45 up", "13:48 pee", "15:40 pee", "17:30 meal",
    "17:50 both", "19:40 pee", "21:20 pee", "22:25 pee", "22:40 settled",
)  # fmt: skip
"""One day: a nap of 45 min, two hours alone, the night from 22:40."""


def instant(day: int, minute: float) -> float:
    """Return the instant at a minute of the day (it may pass midnight), day 1 being the first."""
    date = SETTINGS.first_date + timedelta(days=day - 1)
    return at_clock(date, read_clock("00:00"), SETTINGS.zone) + minute


def event(kind: str, day: int, minute: float, **details: object) -> Event:
    """Return an entry at a minute of a day."""
    at = instant_of(instant(day, minute))
    return Event(kind, at, id=f"{day:02}-{minute:07.2f}-{kind}", **details)  # type: ignore[arg-type]


def minute(clock: str) -> float:
    """Return a clock time as a minute of the day."""
    wall = read_clock(clock)
    return wall.hour * 60.0 + wall.minute


def fortnight(random: Random, days: int = DAYS, breakfast: float = 0.0) -> list[Event]:
    """Return days that vary by some minutes; breakfast comes ``breakfast`` minutes later each day.

    Ada and Bo change over at a random hour between 11 and 16 each day, and take turns to begin.
    """
    log = []
    for day in range(1, days + 1):
        for entry in DAY:
            clock, kind = entry.split()
            shift = 0.0 if clock in ("09:00", "11:00") else random.randint(-5, 5)
            if clock == "07:00":
                shift += breakfast * (day - 1)
            log.append(event(kind, day, minute(clock) + shift))
        first, second = ("Ada", "Bo") if day % 2 else ("Bo", "Ada")
        log.append(event("duty", day, minute("06:20"), by=first))
        log.append(event("duty", day, random.randint(11 * 60, 16 * 60), by=second))
    return log


def accident(day: int, minute: float, random: Random, **details: object) -> Event:
    """Return an accident that was seen, in any room and for any cause unless it is said."""
    told = {"place": random.choice(ROOMS), "cause": random.choice(CAUSES), **details}
    return event("pee-inside", day, minute, found=False, **told)


def any_minute(random: Random) -> float:
    """Return a minute of the day between getting up and bedtime, outside the nap."""
    return 0.5 + int(random.choice([*range(400, 775), *range(830, 1355)]))


def with_accidents(log: Iterable[Event], accidents: Sequence[Event]) -> tuple[Event, ...]:
    """Return a log with accidents, in order."""
    return tuple(sorted([*log, *accidents], key=lambda entry: entry.t))


def without_duty(log: Iterable[Event]) -> list[Event]:
    """Return a log in which nobody said who had charge."""
    return [replace(entry) for entry in log if entry.kind != "duty"]


NOW = instant_of(instant(DAYS, minute("23:30")))
"""The end of the last day."""
