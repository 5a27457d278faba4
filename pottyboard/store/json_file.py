"""One JSON file of the record, on TinyDB: read whole, checked, written whole.

A file holds TinyDB tables: ``about`` with the schema version, ``entries`` (or ``answers``) by id,
``trail`` with what was there before each correction, and, where the file was ever damaged,
``mended`` with what was said about it and ``unread`` with the rows that nobody could understand.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager, nullcontext, suppress
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path
from typing import Any, Final, Generic, TypeVar

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Document, Table

from pottyboard.core.model.localtime import count_words
from pottyboard.store.backups import Backups
from pottyboard.store.damage import (
    SCHEMA,
    Mended,
    Row,
    Tables,
    UnreadableError,
    change_of,
    mended,
    parse,
    salvage,
    schema_of,
)
from pottyboard.store.disk import (
    Signature,
    keep_aside,
    read_file,
    replace_file,
    signature_of,
)
from pottyboard.store.errors import StoreError, unusable

T = TypeVar("T")
V = TypeVar("V")
_ALONE: Final = nullcontext()


class _TextIds(Table):
    """A TinyDB table whose ids are our own text: stock numbers are used again after a delete."""

    document_id_class = str  # type: ignore[assignment]
    default_query_cache_capacity = 0


class _Database(TinyDB):
    table_class = _TextIds


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
        self.last_change = 0
        self.read_only = False  # True where a newer program wrote the file
        self._value_of, self._main, self._turn = read, table, turn
        self._backups = Backups(path, mirror=mirror)
        self._database = _Database(storage=lambda: self)
        self._tables: Tables | None = None
        self._draft: Tables | None = None
        self._values: dict[str, T] = {}
        self._valued: Row = {}
        self._texts: dict[str, tuple[Row, dict[str, bytes]]] = {}
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
        """What was said of damage, by any process, as long as the file kept aside is there."""
        rows = self.tables.get("mended", {})
        return tuple(
            row["words"]
            for aside, row in rows.items()
            if isinstance(row, dict) and (self.path.parent / aside).exists()
        )

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
    def writing(self) -> Iterator[None]:
        """Collect several changes into one write; on an error none of them is made.

        Raises :class:`StoreError` if the file may not or cannot be written.
        """
        self.look(signature_of(self.path))
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
        self._save(draft)

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
            self._accept({}, signature_of(self.path))
            self._trouble = unusable(self.path, error.strerror)
            if strict:
                raise self._trouble from error
            return
        trouble = self._try(content, signature)
        if trouble is not None:
            self._mend(content, trouble, strict)

    def _try(self, content: bytes, signature: Signature) -> UnreadableError | None:
        """Take the content of the file as it is, or return why that is not possible."""
        try:
            tables = parse(content)
        except UnreadableError as trouble:
            return trouble
        unread = self._accept(tables, signature)
        if unread and not self.read_only:
            rows = count_words(len(unread), "row")
            return UnreadableError("damaged", f"holds {rows} that cannot be understood")
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
        self.last_change = max(
            (change_of(row) for row in numbered if isinstance(row, dict)), default=0
        )
        return unread

    def _blank(self) -> Tables:
        return {"about": {"file": {"schema": SCHEMA}}, self._main: {}, "trail": {}}

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
        """Put a missing file back from its mirror, if it has one."""
        tables = self._backups.restorable()
        if tables is not None:
            with suppress(StoreError), self._turn:
                self._accept(tables, replace_file(self.path, self._dump(tables)))
                self._said.append(f"{self.path.name} was missing and is back from its backup.")

    # --- Damage -----------------------------------------------------------------------------------

    def _mend(self, content: bytes, trouble: UnreadableError, strict: bool) -> None:
        """Keep a file aside that cannot be used, and go on with what can be saved of it."""
        try:
            with self._turn:
                content, signature = read_file(self.path)
                now_trouble = self._try(content, signature)
                if now_trouble is None:
                    return  # another process was faster
                trouble = now_trouble
                outcome = self._outcome(content)
                stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
                aside = keep_aside(self.path, content, trouble.word, stamp)
                words = self._told(trouble, outcome, aside.name)
                told = {**outcome.tables.get("mended", {}), aside.name: {"words": words}}
                tables = {**outcome.tables, "mended": told}
                self._accept(tables, replace_file(self.path, self._dump(tables)))
                self._said.append(words)
        except (StoreError, OSError) as error:
            self._accept(self._outcome(content).tables, signature_of(self.path))
            self._trouble = StoreError(
                f"{self.path.name} {trouble}. It was left as it is, since it could not be kept "
                f"aside: {error}"
            )
            if strict:
                raise self._trouble from error

    def _outcome(self, content: bytes) -> Mended:
        backup = next(self._backups.newest_first(), {})
        kept = backup.get(self._main, {})
        backup = {**backup, self._main: {i: kept[i] for i in self._understand(kept)[0]}}
        try:
            tables = parse(content)
        except UnreadableError:
            return mended(salvage(content, self._main, self._is_value), backup, self._main)
        rows = tables.get(self._main, {})
        values, unread = self._understand(rows)
        found = {**tables, self._main: {row_id: rows[row_id] for row_id in values}}
        return mended(found, backup, self._main, unread)

    def _told(self, trouble: UnreadableError, outcome: Mended, aside: str) -> str:
        left_out = f", {outcome.unread} left out" if outcome.unread else ""
        saved = (
            f"{count_words(outcome.saved, 'entry', 'entries')} saved from it, {outcome.restored} "
            f"from its backup{left_out}"
        )
        if self._main != "entries":
            place = "from it" if outcome.saved else "from its backup" if outcome.restored else ""
            saved = f"the {self._main} were saved {place}" if place else f"no {self._main} saved"
        return f"{self.path.name} {trouble}. It is kept as {aside}: {saved}."

    # --- Writing ----------------------------------------------------------------------------------

    def _save(self, tables: Tables) -> None:
        content = self._dump(tables)
        self._backups.before_change(self.signature)
        # Where this fails, the old signature lets the next look see whatever is there.
        self.signature = replace_file(self.path, content)
        self._tables = tables
        self._backups.after_change(content)

    def _dump(self, tables: Tables) -> bytes:
        """Return the file's bytes, a row a line, so that damage to one line leaves the others.

        A row is put into text once: rows never change in place.
        """
        self._texts = {name: self._lines(name, rows) for name, rows in tables.items()}
        pieces = [b"{"]
        for name, (_, lines) in self._texts.items():
            pieces += [json.dumps(name).encode(), b":{\n", b",\n".join(lines.values()), b"\n},\n"]
        pieces[-1] = b"\n}}\n"
        return b"".join(pieces)

    def _lines(self, name: str, rows: Row) -> tuple[Row, dict[str, bytes]]:
        """Return rows with their lines by id."""
        known, texts = self._texts.get(name, ({}, {}))
        lines = dict(texts)
        gone, renewed = difference(known, rows)
        for row_id in gone:
            del lines[row_id]
        for row_id in renewed:
            row = rows[row_id]
            text = json.dumps(row, separators=(",", ":"), allow_nan=False)
            lines[row_id] = f"{json.dumps(row_id)}:{text}".encode("ascii")
            if isinstance(row, dict):
                self.last_change = max(self.last_change, change_of(row))
        return rows, lines


def difference(before: Mapping[str, V], after: Mapping[str, V]) -> tuple[list[str], list[str]]:
    """Return the ids that are gone, and the ids of what is new or another than before."""
    number = len(before)
    ids, values = islice(after, number), islice(after.values(), number)
    if [*ids] == [*before] and [*values] == [*before.values()]:
        return [], [*islice(after, number, None)]  # as mostly: only new ones at the end
    gone = [row_id for row_id in before if row_id not in after]
    return gone, [row_id for row_id, row in after.items() if before.get(row_id) != row]


def document(row_id: str, row: Mapping[str, Any]) -> Document:
    """Return a TinyDB document under our own id."""
    return Document(row, row_id)  # type: ignore[arg-type]
