"""One household with one dog, for the tests of the store."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog, Household

NOW = datetime(2026, 4, 10, 12, 0, tzinfo=UTC)
MARCH, APRIL = "events-2026-03.json", "events-2026-04.json"
ANSWERS = {
    "name": "Bramble",
    "weight": "8",
    "zone": "Europe/Oslo",
    "arrived": "2026-03-02 09:00",
    "people": "Ana, Ben",
}


def new_dog_log(home: Path) -> DogLog:
    """Return the record of a dog that has just been set up."""
    return Household(home).create(ANSWERS, NOW)


def opened(dog_log: DogLog) -> DogLog:
    """Return the same record as another process would see it."""
    return DogLog(dog_log.folder)


def ago(minutes: float, kind: str = "pee", **details: Any) -> Event:
    """Return an event of so many minutes before :data:`NOW`."""
    return Event(kind, NOW - timedelta(minutes=minutes), **details)


def in_march(day: int, kind: str = "pee", **details: Any) -> Event:
    """Return an event at noon of a day in March, the month before :data:`NOW`."""
    return Event(kind, datetime(2026, 3, day, 12, 0, tzinfo=UTC), **details)
