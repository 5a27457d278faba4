"""One JSON file of the log, on TinyDB: read whole, checked, written whole.

A file holds TinyDB tables: ``about`` with the schema version, ``entries`` by id, and ``trail``, the
append-only list of changes with what was there before. A damaged file is kept aside; what can be
saved of it is merged with its newest backup.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Document, Table

from pottyboard.store.disk import (
    Signature,
    keep_aside,
    make_folder,
    replace_file,
    signature_of,
)
from pottyboard.store.errors import StoreError

SCHEMA: Final = 1
_ENTRY: Final = re.compile(r'"([^"\\]{1,80})":\s*(?=\{)')
_DAY = 24 * 3600

Tables = dict[str, dict[str, Any]]
Check = Callable[[Mapping[str, Any]], object]


class _TextIds(Table):
    """A TinyDB table whose ids are our own text: stock numbers are used again after a delete."""

    document_id_class = str  # type: ignore[assignment]
    default_query_cache_capacity = 0


class UnreadableError(ValueError):
    """Content that is not one of our files, with the reason in a word for its new name."""

    def __init__(self, word: str, why: str) -> None:
        """Keep the word for the file name and the reason for people."""
        super().__init__(why)
        self.word = word


def parse(content: bytes) -> Tables:
    """Return the tables in the bytes of a file; raise :class:`UnreadableError` if not ours."""
    if not content.strip():
        raise UnreadableError("empty", "is empty")

    def refuse(constant: str) -> None:
        raise ValueError(f"{constant} is not a number")

    try:
        tables = json.loads(content.decode("utf-8"), parse_constant=refuse)
    except (ValueError, RecursionError) as error:
        raise UnreadableError("damaged", f"is damaged ({error})") from None
    if not isinstance(tables, dict) or not all(isinstance(t, dict) for t in tables.values()):
        raise UnreadableError("foreign", "is not a file of this program")
    if not isinstance(schema_of(tables), int):
        raise UnreadableError("foreign", "is not a file of this program")
    return tables


def schema_of(tables: Tables) -> Any:
    """Return the schema version that the tables name, None if none."""
    about = tables.get("about", {}).get("file")
    return about.get("schema") if isinstance(about, dict) else None


def salvage(content: bytes, check: Check) -> dict[str, Any]:
    """Return the whole entries that stand in damaged bytes, by id."""
    text = content.decode("utf-8", errors="replace")
    decoder = json.JSONDecoder()
    found: dict[str, Any] = {}
    for match in _ENTRY.finditer(text):
        with contextlib.suppress(ValueError, RecursionError):
            document, _ = decoder.raw_decode(text, match.end())
            if isinstance(document, dict) and document.get("id", match[1]) == match[1]:
                with contextlib.suppress(ValueError, TypeError, KeyError):
                    check(document)
                    found[match[1]] = document
    return found


class _WholeFile(Storage):
    """TinyDB storage that replaces the file as a whole and notices other writers."""

    def __init__(self, book: Book) -> None:
        self.book = book

    def read(self) -> Tables:
        return dict(self.book.tables())

    def write(self, data: Mapping[str, Mapping[str, Any]]) -> None:
        self.book.put({name: dict(table) for name, table in data.items()})

    def close(self) -> None:
        """Nothing stays open between two calls."""


class Book:
    """One file of the log. ``check`` raises for a document that is not an entry."""

    def __init__(self, path: Path, check: Check) -> None:
        """Take the file at ``path``, which need not exist yet."""
        self.path, self.check = path, check
        self.notices: list[str] = []
        self.signature: Signature | None = None
        self._tables: Tables | None = None
        self._draft: Tables | None = None
        self._database: TinyDB | None = None
        self._texts: dict[tuple[str, str], tuple[object, str]] = {}
        self._last_change: tuple[object, int] | None = None

    @property
    def read_only(self) -> bool:
        """Whether a newer program wrote the file."""
        schema = schema_of(self.tables())
        return isinstance(schema, int) and schema > SCHEMA

    @property
    def last_change(self) -> int:
        """The highest number of a change in the trail, 0 without any."""
        trail = self.tables().get("trail", {})
        if self._last_change is None or self._last_change[0] is not trail:
            number = max((int(note["change"]) for note in trail.values()), default=0)
            self._last_change = (trail, number)
        return self._last_change[1]

    def changed(self) -> bool:
        """Whether the file is another one than at the last reading."""
        return self._tables is None or signature_of(self.path) != self.signature

    def table(self, name: str) -> Table:
        """Return a TinyDB table of the file; changes belong inside :meth:`writing`."""
        if self._database is None:
            self._database = TinyDB(self, storage=_WholeFile)
            self._database.table_class = _TextIds
        return self._database.table(name, cache_size=0)

    def tables(self) -> Tables:
        """Return the content, read again if another process changed the file."""
        if self._draft is not None:
            return self._draft
        if self._tables is None or self.changed():
            self._read()
        assert self._tables is not None
        return self._tables

    def put(self, tables: Tables) -> None:
        """Take new content: at once, or at the end of :meth:`writing`."""
        if self._draft is not None:
            self._draft = tables
        else:
            self._save(tables)

    @contextmanager
    def writing(self) -> Iterator[Book]:
        """Collect several changes into one write; on an error none of them is made."""
        if self.read_only:
            raise StoreError(
                f"{self.path.name} was written by a newer version of this program: it opens "
                f"read-only here. Update the program to log."
            )
        self._draft = dict(self.tables())
        self._draft.setdefault("about", {"file": {"schema": SCHEMA}})
        try:
            yield self
            draft = self._draft
        finally:
            self._draft = None
        self._save(draft)

    # --- Reading ----------------------------------------------------------------------------------

    def _read(self) -> None:
        try:
            signature = signature_of(self.path)
            content = None if signature is None else self.path.read_bytes()
        except OSError as error:
            raise StoreError(
                f"Cannot read {self.path}: {error.strerror}. Check who owns it and its permissions."
            ) from error
        if content is None:
            self._tables, self.signature = {}, None
            return
        try:
            self._tables = parse(content)
        except UnreadableError as trouble:
            self._mend(content, trouble)
        else:
            self.signature = signature

    def _mend(self, content: bytes, trouble: UnreadableError) -> None:
        """Keep a file aside that cannot be used, and go on with what can be saved of it."""
        stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
        aside = keep_aside(self.path, content, trouble.word, stamp)
        saved = salvage(content, self.check) if trouble.word == "damaged" else {}
        tables = self._backup() or {}
        backed = len(tables.get("entries", {}))
        tables["entries"] = {**tables.get("entries", {}), **saved}
        tables.setdefault("about", {"file": {"schema": SCHEMA}})
        self.notices.append(
            f"{self.path.name} {trouble}. It is kept as {aside.name}. "
            f"{len(saved)} entries were saved from it and {backed} from its last backup."
        )
        self._tables = tables
        replace_file(self.path, self._dump(tables))
        self.signature = signature_of(self.path)

    @property
    def _backup_path(self) -> Path:
        return self.path.parent / "backups" / self.path.name

    def _backup(self) -> Tables | None:
        try:
            return parse(self._backup_path.read_bytes())
        except (OSError, UnreadableError):
            return None

    # --- Writing ----------------------------------------------------------------------------------

    def _save(self, tables: Tables) -> None:
        content = self._dump(tables)
        self._back_up()
        try:
            replace_file(self.path, content)
        except StoreError:
            # The new file may be in place although the disk complained: read it again.
            self._tables = None
            raise
        self._tables, self.signature = tables, signature_of(self.path)

    def _back_up(self) -> None:
        """Keep yesterday's version: a link to the file that is about to be replaced."""
        backup = signature_of(self._backup_path)
        if self.signature is None or (backup and self.signature[0] - backup[0] < _DAY * 10**9):
            return
        with contextlib.suppress(OSError, StoreError):
            make_folder(self._backup_path.parent)
            fresh = self._backup_path.with_suffix(".new")
            fresh.unlink(missing_ok=True)
            os.link(self.path, fresh)
            os.replace(fresh, self._backup_path)

    def _dump(self, tables: Tables) -> bytes:
        """Return the file's bytes. A document is put into text once: it never changes in place."""
        texts: dict[tuple[str, str], tuple[object, str]] = {}
        parts = []
        for name, table in tables.items():
            rows = []
            for doc_id, stored in table.items():
                key = (name, doc_id)
                known = self._texts.get(key)
                if known is None or known[0] is not stored:
                    text = json.dumps(stored, separators=(",", ":"), allow_nan=False)
                    known = (stored, f"{json.dumps(doc_id)}:{text}")
                texts[key] = known
                rows.append(known[1])
            parts.append(f"{json.dumps(name)}:{{" + ",\n".join(rows) + "}")
        self._texts = texts
        return ("{" + ",\n".join(parts) + "}\n").encode("ascii")


def document(doc_id: str, values: Mapping[str, Any]) -> Document:
    """Return a TinyDB document under our own id."""
    return Document(dict(values), doc_id)  # type: ignore[arg-type]
