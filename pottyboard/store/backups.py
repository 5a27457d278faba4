"""The backups of one file: the version before the last change, and one at least a day old.

A file that changes rarely and must not fall behind is mirrored instead: its backup is a second copy
of what it holds now.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from pottyboard.store.damage import SCHEMA, Tables, UnreadableError, parse, schema_of
from pottyboard.store.disk import (
    Signature,
    keep_version,
    make_folder,
    replace_file,
    signature_of,
)
from pottyboard.store.errors import StoreError

_DAY_NS: Final = 24 * 3600 * 10**9


class Backups:
    """The backups of the file at ``path``, in the folder ``backups`` beside it.

    None of them ever stops an entry: where one cannot be made there is none.
    """

    def __init__(self, path: Path, *, mirror: bool) -> None:
        """Take the file, and whether its backup is a mirror."""
        self._path, self._mirror = path, mirror
        self._last = path.parent / "backups" / path.name
        self._day = self._last.with_suffix(".day.json")

    def before_change(self, signature: Signature | None) -> None:
        """Keep the present version of the file, which has this signature, before it goes."""
        if signature is None or self._mirror:
            return
        keep_version(self._path, self._last)
        of_a_day = signature_of(self._day)
        if of_a_day is None or signature[0] - of_a_day[0] >= _DAY_NS:
            keep_version(self._path, self._day)

    def after_change(self, content: bytes) -> None:
        """Mirror what the file holds now, where it is mirrored."""
        if self._mirror:
            with suppress(StoreError):
                make_folder(self._last.parent)
                replace_file(self._last, content)

    def restorable(self) -> Tables | None:
        """Return what a missing file held, None if nobody can know that it still should."""
        return next(self.newest_first(), None) if self._mirror else None

    def newest_first(self) -> Iterator[Tables]:
        """Yield what the backups that can be read hold."""
        for path in (self._last, self._day):
            with suppress(OSError, UnreadableError):
                tables = parse(path.read_bytes())
                if schema_of(tables) == SCHEMA:
                    yield tables
