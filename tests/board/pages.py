"""What the pages of accidents, places and warnings are tested with."""

from __future__ import annotations

from pathlib import Path

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog
from tests.board.kitchen import Kitchen, instant
from tests.board.test_golden_screens import kitchen as fourth_day

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


def after_accidents(folder: Path, **answers: str) -> Kitchen:
    """Bramble on the fourth day, 10:05: three accidents, two of them at one spot."""
    house = fourth_day(folder, **answers)
    house.wrote(
        "16:40 pee-inside", day=2, place="hall: mat", found=True, dry=instant("16:20", 2),
        alone=False, amount="small", surface="fabric", upright=True,
    )  # fmt: skip
    house.wrote("17:00 cleaned", day=2, about=house.dog_log.events[0].id, place="hall: mat")
    house.wrote(
        "08:20 poop-inside", day=4, place="hall: mat", found=False, alone=False, surface="wood"
    )
    return house.at("10:05", 4)


def events_of(house: Kitchen) -> tuple[Event, ...]:
    """The log as another process reads it."""
    return DogLog(house.dog_log.folder).events


def last_of(house: Kitchen, kind: str) -> Event:
    """The latest entry of a kind."""
    return [event for event in events_of(house) if event.kind == kind][-1]


def with_water(folder: Path, **answers: str) -> Kitchen:
    """Bramble on the fourth day, 10:05: a bowl that empties fast, and loose stool."""
    house = fourth_day(folder, **answers)
    for day in (2, 3):
        house.wrote("07:05 bowl", "19:00 bowl", day=day, ml=1000.0, rest=0.0)
    house.wrote("07:05 bowl", day=4, ml=1000.0, rest=0.0)
    house.wrote("09:00 health", day=4, finding="loose-stool", note="twice since six")
    return house.at("10:05", 4)
