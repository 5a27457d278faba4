"""One JSON file of the record, on TinyDB: read whole, checked, written whole.

A file holds TinyDB tables: ``about`` with the schema version, ``entries`` (or ``answers``) by id,
``trail`` with what was there before each correction, and, where the file was ever damaged,
``mended`` with what was said about it and ``unread`` with the rows that nobody could understand.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, contextmanager, nullcontext, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final, Generic, TypeVar

from msgspec import structs
from tinydb.storages import Storage
from tinydb.table import Table

from pottyboard.core.model.localtime import count_words
from pottyboard.store.backups import Backup, Backups
from pottyboard.store.damage import (
    SCHEMA,
    Mended,
    Row,
    Tables,
    UnreadableError,
    change_of,
    mended_words,
    otherwise_words,
    parse,
    read,
    saved_of,
    schema_of,
)
from pottyboard.store.database import Database
from pottyboard.store.disk import (
    Signature,
    keep_aside,
    read_file,
    replace_file,
    signature_of,
)
from pottyboard.store.row_text import ABOUT, RowText, difference
from pottyboard.store.system.errors import StoreError, unusable

T = TypeVar("T")
_ALONE: Final = nullcontext()


class JsonFile(Storage, Generic[T]):
    """One file as a TinyDB storage, which notices other writers and replaces the file as a whole.

    ``read`` turns a row of ``table`` into its value and raises ``ValueError`` for a row that is
    none; ``turn`` is the lock that keeps other writers out; with ``mirror`` the backup is as new as
    the file, without it one change behind.
    """

    def __init__(
        self,
        path: Path,
        read: Callable[[Row], T],
        table: str = "entries",
        turn: AbstractContextManager[None] = _ALONE,
        *,
        mirror: bool = False,
    ) -> None:
        """Take the file at ``path``, which need not exist yet."""
        self.path = path
        self.signature: Signature | None = None
        self.read_only = False  # True where a newer program wrote the file
        self._value_of, self._main, self._turn = read, table, turn
        self._backups = Backups(path, mirror=mirror)
        self._database = Database(storage=lambda: self)
        self._tables: Tables | None = None
        self._draft: Tables | None = None
        self._values: dict[str, T] = {}
        self._valued: Row = {}
        self._text = RowText()
        self._last_change = 0
        self._unread = 0
        self._trouble: StoreError | None = None
        self._said: list[str] = []

    # --- What the file holds ----------------------------------------------------------------------

    @property
    def tables(self) -> Tables:
        """The content as of the last :meth:`look`; not to be changed in place."""
        if self._draft is not None:
            return self._draft
        if self._tables is None:
            self._read()
        assert self._tables is not None
        return self._tables

    @property
    def values(self) -> Mapping[str, T]:
        """The values of the rows by id, the same mapping until one of them changes."""
        rows = self.tables[self._main]
        if rows is not self._valued:
            self._values, _ = self._understand(rows)
            self._valued = rows
        return self._values

    @property
    def last_change(self) -> int:
        """The highest number of a change, 0 without any."""
        return max(self._last_change, self._text.highest_change)

    @property
    def trouble(self) -> StoreError | None:
        """Why the file, which is there, could not be read or mended at the last look."""
        return self._trouble

    @property
    def notices(self) -> tuple[str, ...]:
        """What this process found: the file damaged and mended, not readable, or newer."""
        told = [*self._said, *([str(self._trouble)] if self._trouble else [])]
        if self.read_only:
            left = f" Not shown: {count_words(self._unread, 'row')}." if self._unread else ""
            told.append(
                f"{self.path.name} was written by a newer version of this program and opens "
                f"read-only.{left} Update the program."
            )
        return tuple(told)

    @property
    def kept(self) -> tuple[str, ...]:
        """What was said of damage, by any process, until :meth:`acknowledge`.

        What is said of a file kept aside ends with that file.
        """
        return tuple(row["words"] for row in self._standing().values())

    def _standing(self) -> Row:
        return {
            aside: row
            for aside, row in self.tables.get("mended", {}).items()
            if isinstance(row, dict) and isinstance(row.get("words"), str)
            if not row.get("noted")
            if not aside.endswith(".kept") or os.path.exists(self.path.parent / aside)
        }

    def acknowledge(self) -> None:
        """Say no more what :attr:`kept` says; raise :class:`StoreError` if that is not saved."""
        with self._turn, self.writing():
            noted = {aside: {**row, "noted": True} for aside, row in self._standing().items()}
            self.put({**self.tables, "mended": {**self.tables.get("mended", {}), **noted}})

    def look_again(self) -> None:
        """Read the file again if it is another one than before."""
        self.look(self._quiet_signature())

    def look(self, signature: Signature | None) -> None:
        """Read the file again if ``signature``, which it has now, is another one than before.

        What cannot be read or understood becomes one of the :attr:`notices`.
        """
        if self._tables is None or self._trouble is not None or signature != self.signature:
            self._read()

    def table(self, name: str) -> Table:
        """Return a TinyDB table of the file; several changes belong inside :meth:`writing`."""
        return self._database.table(name, cache_size=0)

    # --- The storage that TinyDB sees -------------------------------------------------------------

    def read(self) -> Tables:
        """Return the tables for TinyDB, which puts new ones in their place."""
        return dict(self.tables)

    def write(self, data: Tables) -> None:
        """Take new tables from TinyDB: at once, or at the end of :meth:`writing`."""
        self.put(dict(data))

    def close(self) -> None:
        """Nothing stays open between two calls."""

    def put(self, tables: Tables) -> None:
        """Take new tables: at once, or at the end of :meth:`writing`."""
        if self._draft is None:
            self._save(tables)
        else:
            self._draft = tables

    @contextmanager
    def writing(self, save: Callable[[Tables], None] | None = None) -> Iterator[None]:
        """Collect several changes into one write; on an error none of them is made.

        ``save`` takes the tables instead of the disk, for a change of several files. Raises
        :class:`StoreError` if the file may not or cannot be written.
        """
        self.look_again()
        if self._trouble is not None:
            self._read(strict=True)
        if self.read_only:
            raise StoreError(
                f"Not saved: {self.path.name} was written by a newer version of this program. "
                f"Update the program; until then the log can only be read."
            )
        self._draft = dict(self.tables)
        try:
            yield
            draft = self._draft
        finally:
            self._draft = None
        (save or self._save)(draft)

    # --- Reading ----------------------------------------------------------------------------------

    def _read(self, strict: bool = False) -> None:
        """Read the file; with ``strict`` raise what otherwise becomes a notice."""
        self._trouble = None
        try:
            content, signature = read_file(self.path)
        except FileNotFoundError:
            self._accept({}, None)
            self._bring_back()
            return
        except OSError as error:
            if self._tables is None:  # else what was read before is still the best that is known
                self._accept({}, None)
            self.signature = self._quiet_signature()
            self._trouble = unusable(self.path, error.strerror)
            if strict:
                raise self._trouble from error
            return
        trouble = self._try(content, signature)
        if trouble is not None:
            self._mend(content, trouble, strict)

    def _quiet_signature(self) -> Signature | None:
        try:
            return signature_of(self.path)
        except OSError:
            return None

    def _try(self, content: bytes, signature: Signature) -> UnreadableError | None:
        """Take the content of the file as it is, or return why that is not possible."""
        try:
            tables, sealed = structs.astuple(read(content))
        except UnreadableError as trouble:
            return trouble
        unread = self._accept(tables, signature)
        if self.read_only:
            return None
        if unread:
            rows = count_words(len(unread), "row")
            return UnreadableError("damaged", f"holds {rows} that cannot be understood")
        if sealed is False or self._backups.missing_in(signature, content, tables, self._main):
            return UnreadableError("changed", "was changed outside of this program, or damaged")
        return None

    def _accept(self, tables: Tables, signature: Signature | None) -> Row:
        """Take tables as what the file holds; return the rows that cannot be understood."""
        rows = dict(tables.get(self._main, {}))
        for row_id, row in tables.get("unread", {}).items():
            if row_id not in rows and self._is_value(row_id, row):
                rows[row_id] = row
        self._values, unread = self._understand(rows)
        self._valued = rows
        self._tables = {**self._blank(), **tables, self._main: rows}
        self._unread = len(unread)
        self.signature = signature
        self.read_only = schema_of(self._tables) > SCHEMA
        numbered = (*rows.values(), *tables.get("trail", {}).values())
        self._last_change = max(
            (change_of(row) for row in numbered if isinstance(row, dict)), default=0
        )
        return unread

    def _blank(self) -> Tables:
        return {"about": ABOUT, self._main: {}, "trail": {}}

    def _understand(self, rows: Row) -> tuple[dict[str, T], Row]:
        """Return the values of rows by id, and the rows that have none."""
        values = dict(self._values)
        gone, renewed = difference(self._valued, rows)
        for row_id in (*gone, *renewed):
            values.pop(row_id, None)
        for row_id in renewed:
            with suppress(ValueError):
                values[row_id] = self._value(row_id, rows[row_id])
        return values, {row_id: row for row_id, row in rows.items() if row_id not in values}

    def _value(self, row_id: str, row: Any) -> T:
        if not isinstance(row, dict) or row.get("id", row_id) != row_id:
            raise ValueError("not a row of this table")
        return self._value_of(row)

    def _is_value(self, row_id: str, row: Any) -> bool:
        with suppress(ValueError):
            self._value(row_id, row)
            return True
        return False

    def _bring_back(self) -> None:
        """Put a missing file back from its newest backup, if it has one."""
        backup = next(self._backups.newest_first(), None)
        if backup is None:
            return
        words = f"{self.path.name} was missing and is back from its backup"
        if self._main == "entries":
            rows = count_words(len(backup.tables.get(self._main, {})), "entry", "entries")
            words += f" of {backup.at:%Y-%m-%d %H:%M} UTC, with {rows}"
        try:
            with self._turn:
                if self.path.exists():  # another process was faster
                    self._try(*read_file(self.path))
                    return
                self._put_down(backup.tables, f"{self.path.stem}.missing-{_stamp()}", f"{words}.")
        except (StoreError, OSError):
            self._accept(backup.tables, None)
            self._said = [f"{self.path.name} is missing: its backup is shown."]

    # --- Damage -----------------------------------------------------------------------------------

    def _put_down(self, tables: Tables, key: str, words: str) -> None:
        """Write tables in the place of a file that was found wanting, and what is said of it."""
        told = {**tables.get("mended", {}), key: {"words": words}}
        content = self._text.bytes_of({**self._blank(), **tables, "mended": told})
        self._accept(parse(content), replace_file(self.path, content))
        self._backups.after_change(content)
        self._said.append(words)

    def _mend(self, content: bytes, trouble: UnreadableError, strict: bool) -> None:
        """Keep a file aside that cannot be used, and go on with what can be saved of it."""
        try:
            with self._turn:
                content, signature = read_file(self.path)
                now_trouble = self._try(content, signature)
                if now_trouble is None:
                    return  # another process was faster
                trouble = now_trouble
                if trouble.word == "changed":
                    self._take_over(signature, trouble)
                    return
                outcome = self._outcome(content)
                aside = keep_aside(self.path, content, trouble.word, _stamp())
                words = mended_words(self.path.name, trouble, outcome, self._main, aside.name)
                self._put_down(outcome.tables, aside.name, words)
        except (StoreError, OSError) as error:
            if trouble.word == "changed":
                self._said = [f"{self.path.name} {trouble}."]
                return
            self._accept(self._outcome(content).tables, self._quiet_signature())
            self._trouble = StoreError(
                f"{self.path.name} {trouble}. It was left as it is, since it could not be kept "
                f"aside: {error}"
            )
            if strict:
                raise self._trouble from error

    def _take_over(self, signature: Signature, trouble: UnreadableError) -> None:
        """Keep the values of a file that somebody edited, and its backups, and say so."""
        tables = self.tables
        backup = next(self._backups.newest_first(), None)
        words = "" if backup is None else otherwise_words(tables, backup.tables, self._main)
        self._backups.set_aside(tables, self._main)
        self._backups.before_change(signature, tables, self._main)
        key = f"{self.path.stem}.changed-{_stamp()}"
        self._put_down(tables, key, f"{self.path.name} {trouble}{words}. What it holds now counts.")

    def _outcome(self, content: bytes) -> Mended:
        backup = next(self._backups.newest_first(), None)
        return saved_of(
            content, {} if backup is None else backup.tables, self._main, self._is_value
        )

    # --- Writing ----------------------------------------------------------------------------------

    def _save(self, tables: Tables) -> None:
        content = self.prepare(tables)
        # Where this fails, the old signature lets the next look see whatever is there.
        self.settle(tables, content, replace_file(self.path, content))

    def prepare(self, tables: Tables) -> bytes:
        """Return the bytes for new tables, once the present version has its backup."""
        content = self._text.bytes_of(tables)
        self._backups.before_change(self.signature, self.tables, self._main)
        return content

    def settle(self, tables: Tables, content: bytes, signature: Signature | None) -> None:
        """Take it that the file holds these tables now, and keep a backup of it."""
        self._tables, self.signature = tables, signature
        self._backups.after_change(content)

    def backups(self) -> Sequence[Backup]:
        """Return the backups that can be read, the newest first."""
        return self._backups.all()


def _stamp() -> str:
    return datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
