"""The backups of one file: the version before the last change, and one at least a day old.

Beside them lies a second name (a hard link) of the version that was saved last, so that a file
that vanishes is back as it was. A file that changes rarely and must not fall behind is mirrored
instead: its backup is a second copy of what it holds now. What somebody else put in the place of a
file may hold less than its backups: those are then set aside under the date, and never replaced.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from msgspec import Struct

from pottyboard.store.damage import (
    SCHEMA,
    Tables,
    UnreadableError,
    differs,
    missing_in,
    read,
    schema_of,
)
from pottyboard.store.disk import (
    Signature,
    keep_version,
    make_folder,
    read_file,
    replace_file,
    signature_of,
)
from pottyboard.store.system.errors import StoreError

_DAY_NS: Final = 24 * 3600 * 10**9


class Backup(Struct, frozen=True):
    """One backup that can be read: where, of which instant (UTC), and what it holds."""

    path: Path
    at: datetime
    tables: Tables
    sealed: bool | None


class Backups:
    """The backups of the file at ``path``, in the folder ``backups`` beside it.

    None of them ever stops an entry: where one cannot be made there is none.
    """

    def __init__(self, path: Path, *, mirror: bool) -> None:
        """Take the file, and whether its backup is a mirror."""
        self._path, self._mirror = path, mirror
        self._last = path.parent / "backups" / path.name
        self._now = self._last.with_suffix(".now.json")
        self._day = self._last.with_suffix(".day.json")

    def before_change(self, signature: Signature | None, tables: Tables, table: str) -> None:
        """Keep the present version of the file, which has this signature, before it goes.

        It holds ``tables``, of which ``table`` is the one that must not become less.
        """
        if signature is None or self._mirror:
            return
        if self._is_second_name(signature):
            with suppress(OSError):
                os.replace(self._now, self._last)
        else:
            self.set_aside(tables, table)
            keep_version(self._path, self._last)
        of_a_day = _signature_of(self._day)
        if of_a_day is None or signature[0] - of_a_day[0] >= _DAY_NS:
            keep_version(self._path, self._day)

    def after_change(self, content: bytes) -> None:
        """Keep what the file holds now, too."""
        with suppress(StoreError, OSError):
            if self._mirror:
                make_folder(self._last.parent)
                replace_file(self._last, content)
                return
            try:
                os.link(self._path, self._now)
            except FileExistsError:
                keep_version(self._path, self._now)
            except FileNotFoundError:
                make_folder(self._last.parent)
                os.link(self._path, self._now)
            except OSError:  # no links here: a copy of the first version, then one change behind
                if _signature_of(self._last) is None:
                    keep_version(self._path, self._last)

    def missing_in(self, signature: Signature, content: bytes, tables: Tables, table: str) -> int:
        """Return how many rows the version saved last holds that a file from elsewhere lacks."""
        if self._mirror or _signature_of(self._now) in (None, signature):
            return 0
        saved = self._read(self._now)
        if saved is None or self._is_copy(content):
            return 0
        return len(missing_in(tables, saved.tables, table))

    def newest_first(self) -> Iterator[Backup]:
        """Yield the backups that can be read; those that nobody has touched come first.

        A second name of the file itself, whatever became of that, is no backup of it.
        """
        paths = (self._now, self._last, self._day)
        here = _signature_of(self._path)
        others = [path for path in paths if here is None or _signature_of(path) != here]
        found = [backup for path in others if (backup := self._read(path))]
        yield from (backup for backup in found if backup.sealed is not False)
        yield from (backup for backup in found if backup.sealed is False)

    def all(self) -> list[Backup]:
        """Return the backups that can be read, those set aside too, the newest first, each once."""
        found: dict[bytes, Backup] = {}
        with suppress(OSError):
            for path in sorted(self._last.parent.glob(f"{self._path.stem}.*json")):
                if backup := self._read(path):
                    found.setdefault(path.read_bytes(), backup)
        return sorted(found.values(), key=lambda backup: backup.at, reverse=True)

    def _read(self, path: Path) -> Backup | None:
        with suppress(OSError, UnreadableError):
            bytes_, (changed, _, _) = read_file(path)
            content = read(bytes_)
            if schema_of(content.tables) == SCHEMA:
                at = datetime.fromtimestamp(changed / 10**9, UTC)
                return Backup(path, at, content.tables, content.sealed)
        return None

    def _is_second_name(self, signature: Signature) -> bool:
        return _signature_of(self._now) == signature

    def _is_copy(self, content: bytes) -> bool:
        with suppress(OSError):
            return self._now.read_bytes() == content
        return False

    def set_aside(self, tables: Tables, table: str) -> None:
        """Keep for good the backups that hold rows which the file lacks or has otherwise."""
        for path in (self._now, self._last, self._day):
            backup = self._read(path)
            if backup is not None and differs(tables, backup.tables, table):
                aside = self._last.with_suffix(f".{backup.at:%Y%m%d-%H%M%S}.json")
                if not os.path.exists(aside):
                    with suppress(OSError):
                        os.replace(path, aside)


def _signature_of(path: Path) -> Signature | None:
    """Return the signature of a backup, None also where its folder refuses."""
    try:
        return signature_of(path)
    except OSError:
        return None
