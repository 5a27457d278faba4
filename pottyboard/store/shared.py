"""An accident of which nobody knows whose it is: in the log of each dog that may have done it.

The copies have one id, and :attr:`~pottyboard.core.model.events.Event.unsure` says that they may be
another dog's; none of them moves an interval. Once it is known whose it was, that dog's copy stays
and the others go.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import Final

from msgspec import Struct

from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import minutes_of
from pottyboard.store.documents import FIELDS
from pottyboard.store.dog_log import DogLog
from pottyboard.store.household import Household
from pottyboard.store.system.errors import StoreError

_OWN: Final = frozenset({"id", "logged", "unsure", "cause"})
"""What each copy has for itself."""


class Unsettled(Struct, frozen=True):
    """An accident and the folder names of the dogs that may have done it."""

    event: Event
    dogs: tuple[str, ...]


def dog_logs_of(household: Household) -> Iterator[tuple[str, DogLog]]:
    """Yield every dog's folder name and record whose settings can be read."""
    for name in household.dogs():
        dog_log = DogLog(household.folder / name)
        try:
            _ = dog_log.settings
        except StoreError:
            continue
        yield name, dog_log


def _others(household: Household, dog_log: DogLog) -> Iterator[tuple[str, DogLog]]:
    return (
        (name, other) for name, other in dog_logs_of(household) if other.folder != dog_log.folder
    )


def _copies(
    household: Household, dog_log: DogLog, event_id: str
) -> Iterator[tuple[str, DogLog, Event]]:
    """Yield the other dogs' copies of an accident that are still unsettled."""
    for name, other in _others(household, dog_log):
        event = other.find(event_id)
        if event is not None and event.row.is_accident and event.unsure:
            yield name, other, event


def follow(
    household: Household, dog_log: DogLog, event_id: str, now: datetime, by: str = ""
) -> tuple[str, ...]:
    """Bring the other logs in line with what ``record`` says of an accident; return those dogs.

    While it is unsure, every dog that was there has a copy with the same facts; once it is not, or
    is gone, the copies go. Entries of other kinds, or of one dog alone, concern nobody else. Raises
    :class:`StoreError` if a log cannot be written.
    """
    event = dog_log.find(event_id)
    if event is not None and not event.row.is_accident:
        return ()
    if event is None or not event.unsure:
        return _withdraw(household, dog_log, event_id, now, by)
    names = []
    for _, other in _others(household, dog_log):
        present = other.find(event_id)
        if present is None:
            if minutes_of(event.at) < minutes_of(other.settings.dog.arrived):
                continue
            other.add(replace(event, cause=""), now)
        elif present.unsure and (changes := _differences(present, event)):
            other.edit(event_id, changes, now, by, joined=True)
        names.append(other.settings.dog.name)
    return tuple(names)


def _differences(copy: Event, event: Event) -> dict[str, object]:
    """Return the fields of a copy that have to change."""
    shared = FIELDS - _OWN
    return {
        name: value for name in shared if (value := getattr(event, name)) != getattr(copy, name)
    }


def _withdraw(
    household: Household, dog_log: DogLog, event_id: str, now: datetime, by: str
) -> tuple[str, ...]:
    names = []
    for _, other, _ in list(_copies(household, dog_log, event_id)):
        other.delete(event_id, now, by)
        names.append(other.settings.dog.name)
    return tuple(names)


def unsettled(household: Household) -> tuple[Unsettled, ...]:
    """Return the accidents of unknown dogs that are in several logs, the latest first."""
    found: dict[str, tuple[Event, list[str]]] = {}
    for name, dog_log in dog_logs_of(household):
        for event in dog_log.events:
            if event.unsure and event.row.is_accident:
                found.setdefault(event.id, (event, []))[1].append(name)
    several = (Unsettled(event, tuple(dogs)) for event, dogs in found.values() if len(dogs) > 1)
    return tuple(sorted(several, key=lambda each: each.event.at, reverse=True))


def settle(
    household: Household, event_id: str, dog: str, now: datetime, by: str = ""
) -> tuple[Event, tuple[str, ...]]:
    """Say whose an accident was; return the entry that stays, and the dogs whose copies went.

    Raises ``EventError`` if there is none of that id in the dog's log, :class:`StoreError` if a log
    cannot be written.
    """
    dog_log = household.dog_log(dog)
    event = dog_log.find(event_id)
    if event is None or not event.row.is_accident:
        raise EventError(f"There is no such accident in {dog_log.settings.dog.name}’s log.")
    settled = dog_log.edit(event_id, {"unsure": False}, now, by)
    return settled, follow(household, dog_log, event_id, now, by)


def clean(household: Household, dog_log: DogLog, cleaned: Event, now: datetime) -> None:
    """Say in the other logs too that the spot of an accident of an unknown dog is clean."""
    for _, other, _ in list(_copies(household, dog_log, cleaned.about)):
        if other.find(cleaned.id) is None:
            other.add(cleaned, now)


def take_back(household: Household, dog_log: DogLog, undone: Event, now: datetime) -> None:
    """Follow an undo into the other logs: of an accident, or of the cleaning of one."""
    if undone.row.is_accident:
        follow(household, dog_log, undone.id, now)
    elif undone.kind == "cleaned" and dog_log.find(undone.id) is None:
        for _, other in _others(household, dog_log):
            if other.find(undone.id) is not None:
                other.delete(undone.id, now)
