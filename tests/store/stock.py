"""The same record on TinyDB's own JSON storage: what the tests of faults must find wanting."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from tinydb import TinyDB
from tinydb.storages import JSONStorage
from tinydb.table import Document, Table

from pottyboard.core.model.events import Event
from pottyboard.store.documents import document_of, event_of


class _TextIds(Table):
    document_id_class = str  # type: ignore[assignment]


class StockRecord:
    """Entries and trail in one file, each change written by TinyDB as it comes out of the box."""

    def __init__(self, folder: Path) -> None:
        """Open the file, made if it is not there."""
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)
        database = TinyDB(folder / "events-2026-03.json", storage=JSONStorage)
        database.table_class = _TextIds
        self._entries, self._trail = database.table("entries"), database.table("trail")
        self.notices: tuple[str, ...] = ()

    @property
    def events(self) -> tuple[Event, ...]:
        """Every entry in order of time and id."""
        events = (event_of(row) for row in self._entries)
        return tuple(sorted(events, key=lambda event: (event.at, event.id)))

    def add(self, event: Event, now: datetime) -> Event:
        """Save a new entry."""
        return self.add_all((event,), now)[0]

    def add_all(self, events: Iterable[Event], now: datetime) -> tuple[Event, ...]:
        """Save several entries."""
        events = tuple(events)
        self._entries.insert_multiple(_row(event.id, document_of(event)) for event in events)
        self._note({event.id: None for event in events})
        return events

    def edit(self, event_id: str, changes: Mapping[str, object], now: datetime) -> Event:
        """Save a correction."""
        before = self._find(event_id)
        after = replace(before, **changes)  # type: ignore[arg-type]
        self._entries.update(document_of(after), doc_ids=[event_id])  # type: ignore[list-item]
        self._note({event_id: document_of(before)})
        return after

    def delete(self, event_id: str, now: datetime) -> Event:
        """Delete an entry."""
        before = self._find(event_id)
        self._entries.remove(doc_ids=[event_id])  # type: ignore[list-item]
        self._note({event_id: document_of(before)})
        return before

    def undo(self, now: datetime) -> None:
        """Take the last change back."""
        note = self._trail.get(doc_id=str(len(self._trail) - 1))  # type: ignore[call-overload]
        assert isinstance(note, Document)
        for entry_id, before in note["before"].items():
            self._entries.remove(doc_ids=[entry_id])
            if before is not None:
                self._entries.insert(_row(entry_id, before))
        self._trail.remove(doc_ids=[note.doc_id])

    def _find(self, event_id: str) -> Event:
        return next(event for event in self.events if event.id == event_id)

    def _note(self, before: dict[str, Any]) -> None:
        self._trail.insert(_row(str(len(self._trail)), {"before": before}))


def _row(row_id: str, row: Mapping[str, Any]) -> Document:
    return Document(row, row_id)  # type: ignore[arg-type]
