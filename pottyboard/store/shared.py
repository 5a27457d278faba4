"""An accident of which nobody knows whose it is: in the log of each dog that may have done it.

A change of such an accident is made in every log or in none: the other logs are tried first, and a
mark in the dog's own folder names the entry until all of them agree, so that the next look can
finish what was cut short. The copies have one id, and ``Event.unsure`` says that they may be
another dog's; none of them moves an interval. Once it is known whose it was, that dog's copy stays
and the others go.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Final
from zlib import crc32

from msgspec import Struct

from pottyboard.core.log.past_change import PastChange
from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import minutes_of
from pottyboard.store.disk import read_file, replace_file
from pottyboard.store.documents import FIELDS
from pottyboard.store.dog_log import DogLog
from pottyboard.store.fitting import new_id
from pottyboard.store.household import Household
from pottyboard.store.system.errors import HalfSavedError, NoSettingsError, StoreError
from pottyboard.store.undo_history import Undone

_MARK: Final = ".together-"
_OWN: Final = frozenset({"id", "logged", "unsure", "cause"})
"""What each copy has for itself."""


class Unsettled(Struct, frozen=True):
    """An accident and the folder names of the dogs that may have done it."""

    event: Event
    dogs: tuple[str, ...]


def dog_logs_of(household: Household) -> Iterator[tuple[str, DogLog]]:
    """Yield every dog's folder name and record whose settings can be read."""
    for name in household.everyone():
        dog_log = DogLog(household.folder / name)
        try:
            _ = dog_log.settings
        except StoreError:
            continue
        yield name, dog_log


def _others(household: Household, dog_log: DogLog) -> Iterator[tuple[str, DogLog]]:
    """Yield the other dogs' logs; raise :class:`StoreError` where one cannot be read.

    A folder without any settings is no dog's, or no longer.
    """
    for name in household.everyone():
        other = DogLog(household.folder / name)
        if other.folder != dog_log.folder:
            try:
                _ = other.settings
            except NoSettingsError:
                continue
            yield name, other
    if household.refused is not None:
        raise household.refused


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
    for name, other in _others(household, dog_log):
        present = other.find(event_id)
        if present is None:
            if household.is_archived(name):  # it was not there
                continue
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
    household: Household, event_id: str, dog: str | DogLog, now: datetime, by: str = ""
) -> tuple[Event, tuple[str, ...]]:
    """Say whose an accident was, by the dog's name or log; return the entry that stays, and the
    dogs whose copies went.

    Raises ``EventError`` if there is none of that id in the dog's log, :class:`StoreError` if a log
    cannot be written.
    """
    dog_log = dog if isinstance(dog, DogLog) else household.dog_log(dog)
    event = dog_log.find(event_id)
    if event is None or not event.row.is_accident:
        raise EventError(f"There is no such accident in {dog_log.settings.dog.name}’s log.")
    with _together(household, dog_log, (event_id,), now, by) as names:
        settled = dog_log.edit(event_id, {"unsure": False}, now, by)
    return settled, tuple(names)


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


# --- Changes of one log that may concern the others -----------------------------------------------


def add_all(
    household: Household, dog_log: DogLog, events: Iterable[Event], now: datetime
) -> tuple[tuple[Event, ...], tuple[str, ...]]:
    """Save entries as one change, in the other logs too where they concern them.

    Returns the entries and the names of the other dogs. Raises what ``DogLog.add_all`` raises, and
    :class:`HalfSavedError` which says what is saved and what not.
    """
    named = tuple(replace(event, id=event.id or new_id(event)) for event in events)
    with _together(household, dog_log, _concerning(household, dog_log, named), now, "") as names:
        saved = dog_log.add_all(named, now)
    return saved, tuple(names)


def edit(
    household: Household,
    dog_log: DogLog,
    event_id: str,
    changes: Mapping[str, object],
    now: datetime,
    by: str = "",
    *,
    joined: bool = False,
    seen: Event | None = None,
) -> Event:
    """Save a correction, in the other logs too; as ``DogLog.edit`` and :func:`add_all`."""
    before = dog_log.find(event_id)
    either = () if before is None else (before, replace(before, unsure=changes.get("unsure")))  # type: ignore[arg-type]
    with _together(household, dog_log, _concerning(household, dog_log, either), now, by):
        return dog_log.edit(event_id, changes, now, by, joined=joined, seen=seen)


def delete(
    household: Household, dog_log: DogLog, event_id: str, now: datetime, by: str = ""
) -> Event:
    """Delete an entry, in the other logs too; as ``DogLog.delete`` and :func:`add_all`."""
    before = dog_log.find(event_id)
    concerned = _concerning(household, dog_log, () if before is None else (before,))
    with _together(household, dog_log, concerned, now, by):
        return dog_log.delete(event_id, now, by)


def undo(
    household: Household,
    dog_log: DogLog,
    now: datetime,
    by: str = "",
    *,
    seen: PastChange | None = None,
) -> Undone:
    """Take the last change of a log back, in the others too; as ``DogLog.undo``."""
    with _together(household, dog_log, _of_past(household, dog_log, dog_log.to_undo()), now, by):
        return dog_log.undo(now, by, seen=seen)


def redo(household: Household, dog_log: DogLog, now: datetime, by: str = "") -> Undone:
    """Take the last undo of a log back, in the others too; as ``DogLog.redo``."""
    with _together(household, dog_log, _of_past(household, dog_log, dog_log.to_redo()), now, by):
        return dog_log.redo(now, by)


def _of_past(household: Household, dog_log: DogLog, past: PastChange | None) -> tuple[str, ...]:
    return _concerning(household, dog_log, () if past is None else past.events)


def catch_up(household: Household, now: datetime) -> tuple[str, ...]:
    """Finish what was cut short between two logs; return what still cannot be, in words."""
    left = []
    for name in household.everyone():
        dog_log = DogLog(household.folder / name)
        for mark in _marks(dog_log.folder):
            try:
                entry_id = read_file(mark)[0].decode("utf-8", "replace")
                _bring_in_line(household, dog_log, entry_id, now, "")
                mark.unlink(missing_ok=True)
            except (StoreError, EventError, OSError) as error:
                left.append(f"A change of {name}’s log is not in the other logs yet: {error}")
    return tuple(left)


def _marks(folder: Path) -> list[Path]:
    with suppress(OSError):
        return sorted(path for path in folder.iterdir() if path.name.startswith(_MARK))
    return []


def _concerning(household: Household, dog_log: DogLog, events: Iterable[Event]) -> tuple[str, ...]:
    """Return the ids of entries that concern other dogs: unsure accidents and their cleaning."""
    concerned = {
        event.id
        for event in events
        if (event.row.is_accident and event.unsure)
        or (
            event.kind == "cleaned"
            and (about := dog_log.find(event.about)) is not None
            and about.unsure
        )
    }
    several = concerned and (len(household.everyone()) > 1 or household.refused)
    return tuple(concerned) if several else ()


@contextmanager
def _together(
    household: Household, dog_log: DogLog, entry_ids: tuple[str, ...], now: datetime, by: str
) -> Iterator[list[str]]:
    """Make a change of one log, then bring the others in line; yields their names, then filled."""
    names: list[str] = []
    if not entry_ids:
        yield names
        return
    _try_others(household, dog_log)
    marks = []
    for entry_id in entry_ids:
        mark = dog_log.folder / f"{_MARK}{crc32(entry_id.encode('utf-8', 'replace')):08x}"
        replace_file(mark, entry_id.encode("utf-8", "replace"))
        marks.append(mark)
    try:
        yield names
    except EventError:  # nothing was changed; after any other error the next look sees what was
        _unmark(marks)
        raise
    try:
        for entry_id in entry_ids:
            found = _bring_in_line(household, dog_log, entry_id, now, by)
            names += [name for name in found if name not in names]
    except (StoreError, EventError) as error:
        raise HalfSavedError(
            f"It is done in the log of {dog_log.settings.dog.name}, but not in every other log "
            f"that it concerns: {error} The next command makes up for it, once it can."
        ) from error
    _unmark(marks)


def _unmark(marks: Iterable[Path]) -> None:
    for mark in marks:
        with suppress(OSError):
            mark.unlink()


def _try_others(household: Household, dog_log: DogLog) -> None:
    """Raise :class:`StoreError` unless every other log can be read and, by all signs, written."""
    names = household.everyone()
    refused = household.refused
    for name in names:
        other = DogLog(household.folder / name)
        try:
            if other.folder != dog_log.folder:
                _ = other.settings, other.events
                refused = next(iter(other.troubles), refused)
        except StoreError as error:
            refused = error
        if refused is not None:
            break
    if refused is not None:
        raise StoreError(
            f"Not saved, nor changed in any log: it concerns the other dogs too, and one of their "
            f"logs cannot be written. {refused}"
        )


def _bring_in_line(
    household: Household, dog_log: DogLog, entry_id: str, now: datetime, by: str
) -> tuple[str, ...]:
    """Bring the other logs in line with what one says of an accident, or of its cleaning."""
    event = dog_log.find(entry_id)
    if event is not None and event.kind == "cleaned":
        clean(household, dog_log, event, now)
        return ()
    if event is None:
        for _, other in _others(household, dog_log):
            copy = other.find(entry_id)
            if copy is not None and copy.kind == "cleaned":
                other.delete(entry_id, now, by)
    return follow(household, dog_log, entry_id, now, by)
