"""Bringing back what a backup, or a file kept aside, still holds and the log no longer does."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from msgspec import Struct

from pottyboard.core.model.events import Event
from pottyboard.store.damage import Tables, UnreadableError, parse, salvage
from pottyboard.store.disk import read_file
from pottyboard.store.documents import event_of
from pottyboard.store.dog_log import DogLog

_VERSION: Final = re.compile(r"events-\d{4}-\d{2}\..*(?:json|kept)|events-\d{4}-\d{2}\.json")


class Version(Struct, frozen=True):
    """An earlier version of a month: its file, when it was written (UTC), and what it holds.

    ``coming`` is what would come back: what the log no longer holds. ``removed`` of its entries
    were deleted since and stay away; ``otherwise`` read otherwise in the log, which counts.
    """

    path: Path
    at: datetime
    entries: int
    coming: tuple[Event, ...]
    removed: int
    otherwise: int

    @property
    def name(self) -> str:
        """The name by which it is chosen."""
        return self.path.name


def versions(dog_log: DogLog) -> tuple[Version, ...]:
    """Return the backups and the files kept aside of a log, the newest first, each content once."""
    present = {event.id: event for event in dog_log.events}
    removed, found, seen = dog_log.removed, [], set[bytes]()
    for path in _paths(dog_log.folder):
        with suppress(OSError):
            content, (written, _, _) = read_file(path)
            if content in seen:
                continue
            seen.add(content)
            events = entries_in(content)
            lost = [e for e in events if e.id not in present and e.id not in removed]
            found.append(
                Version(
                    path,
                    datetime.fromtimestamp(written / 10**9, UTC),
                    len(events),
                    tuple(lost),
                    sum(event.id in removed for event in events),
                    sum(event.id in present and event != present[event.id] for event in events),
                )
            )
    return tuple(sorted(found, key=lambda version: version.at, reverse=True))


def bring_back(dog_log: DogLog, version: Version, now: datetime) -> tuple[Event, ...]:
    """Save what would come back of a version, as one change that one undo takes back.

    Raises ``EventError`` or ``StoreError`` if it cannot be saved.
    """
    return dog_log.add_all(version.coming, now)


def kept_aside(dog_log: DogLog) -> tuple[str, ...]:
    """Return the names of the files that were kept aside because they could not be used."""
    with suppress(OSError):
        return tuple(sorted(path.name for path in dog_log.folder.glob("*.kept")))
    return ()


def is_of_ours(content: bytes) -> bool:
    """Whether bytes begin as a month of a log does, whole or damaged."""
    return content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b'{"about":{')


def entries_in(content: bytes) -> tuple[Event, ...]:
    """Return the entries that stand whole in the bytes of a month, in order of time."""
    try:
        tables = parse(content)
    except UnreadableError:
        tables = salvage(content, "entries", _is_entry)
    return tuple(sorted(_events_in(tables), key=lambda event: (event.at, event.id)))


def _events_in(tables: Tables) -> Iterator[Event]:
    for row_id, row in tables.get("entries", {}).items():
        if _is_entry(row_id, row):
            yield event_of(row)


def _is_entry(row_id: str, row: object) -> bool:
    with suppress(ValueError):
        return isinstance(row, dict) and event_of(row).id == row_id
    return False


def _paths(folder: Path) -> Iterator[Path]:
    for place in (folder, folder / "backups"):
        with suppress(OSError):
            for path in place.iterdir():
                is_kept = place != folder or path.suffix == ".kept"
                if is_kept and _VERSION.fullmatch(path.name):
                    yield path
