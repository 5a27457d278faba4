"""The log of one dog: a file for each month, read again only where it changed."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from contextlib import AbstractContextManager
from itertools import chain, pairwise
from pathlib import Path
from typing import Final

from msgspec import Struct

from pottyboard.core.model.events import Event
from pottyboard.store.damage import Row, Tables, change_of, notes_in
from pottyboard.store.database import document
from pottyboard.store.disk import Signature, signature_of
from pottyboard.store.documents import event_of
from pottyboard.store.journal import JOURNAL, Journal
from pottyboard.store.json_file import JsonFile
from pottyboard.store.row_text import difference
from pottyboard.store.system.errors import unusable
from pottyboard.store.undo_history import (
    Change,
    Standing,
    UndoneChange,
    last_standing,
    last_undone,
)

_FILE: Final = re.compile(r"events-\d{4}-\d{2}\.json")
_MONTH: Final = slice(len("events-"), -len(".json"))
_BACKUP: Final = re.compile(r"events-(\d{4}-\d{2})(?:\.[a-z]+)?\.json")


def _order(event: Event) -> tuple[object, str]:
    return event.at, event.id


class _Line(Struct, frozen=True):
    """The entries of one month in order, and what they were made of."""

    values: Mapping[str, Event]
    outdated: frozenset[str]
    events: tuple[Event, ...]


class MonthFiles:
    """Every month's file of a folder, and the entries in all of them in order of time."""

    def __init__(self, folder: Path, turn: AbstractContextManager[None]) -> None:
        """Take the folder, which need not exist yet, and the lock for its files."""
        self._folder, self._turn = folder, turn
        self._journal = Journal(folder)
        self._unfinished = False
        self._books: dict[str, JsonFile[Event]] = {}
        self._indexed: dict[str, Mapping[str, Event]] = {}
        self._places: dict[str, tuple[str, ...]] = {}
        self._twice: set[str] = set()
        self._lines: dict[str, _Line] = {}
        self._joined: list[tuple[Event, ...]] = []
        self._events: tuple[Event, ...] = ()
        self._shown: dict[str, Signature | None] | None = None

    # --- Looking at the disk ----------------------------------------------------------------------

    def look(self) -> None:
        """Read again what another process changed; raise ``StoreError`` if the folder refuses."""
        found = self._scan()
        if self._unfinished:
            with self._turn:
                self._journal.finish()
            found = self._scan()
        if lost := self._backed_up() - found.keys():
            for month in sorted(lost):
                self.book(month).look(None)
            back = {month: self.book(month).signature for month in lost}
            found = dict(sorted({**found, **back}.items()))
        for month, signature in found.items():
            self.book(month).look(signature)
        if [*found] != [*self._books]:
            self._books = {month: self._books[month] for month in found}
            for month in self._indexed.keys() - found.keys():
                self._index(month, {})
                del self._indexed[month]
        for month, book in self._books.items():
            if book.values is not self._indexed.get(month):
                self._index(month, book.values)

    def is_stale(self) -> bool:
        """Whether a file is another one than when :attr:`events` was last asked for."""
        return self._shown != self._scan()

    def _scan(self) -> dict[str, Signature | None]:
        found: dict[str, Signature | None] = {}
        try:
            names = os.listdir(self._folder)
            for name in sorted(names):
                if _FILE.fullmatch(name):
                    path = os.path.join(self._folder, name)
                    found[name[_MONTH]] = signature_of(path)
        except OSError as error:
            if isinstance(error, FileNotFoundError) and not self._books:
                return {}
            raise unusable(self._folder, error.strerror) from error
        self._unfinished = JOURNAL in names
        return found

    def _backed_up(self) -> set[str]:
        """Return the months of which there is a backup."""
        try:
            names = os.listdir(self._folder / "backups")
        except OSError:  # a backup that cannot be read must not stop an entry
            return set()
        return {match[1] for name in names if (match := _BACKUP.fullmatch(name))}

    def _index(self, month: str, values: Mapping[str, Event]) -> None:
        """Keep for each id the months that hold it: two, where a crash cut a move short."""
        before = self._indexed.get(month, {})
        gone, renewed = difference(before, values)
        for entry_id in gone:
            places = tuple(place for place in self._places.pop(entry_id) if place != month)
            self._place(entry_id, places)
        for entry_id in renewed:
            if entry_id not in before:
                self._place(entry_id, (*self._places.get(entry_id, ()), month))
        self._indexed[month] = values

    def _place(self, entry_id: str, places: tuple[str, ...]) -> None:
        if places:
            self._places[entry_id] = places
        if len(places) > 1:
            self._twice.add(entry_id)
        else:
            self._twice.discard(entry_id)

    # --- What they hold, as of the last look ------------------------------------------------------

    @property
    def events(self) -> tuple[Event, ...]:
        """Every entry in order of time and id; the same tuple until something changed on disk."""
        self.look()
        lines = [self._line(month, book) for month, book in self._books.items()]
        if [*map(id, lines)] != [*map(id, self._joined)]:
            events = tuple(chain.from_iterable(lines))
            self._events = events if _in_order(lines) else tuple(sorted(events, key=_order))
            self._joined = lines
        self._shown = {month: book.signature for month, book in self._books.items()}
        return self._events

    def _line(self, month: str, book: JsonFile[Event]) -> tuple[Event, ...]:
        """Return the entries of a month in order, the same tuple until one of them changes."""
        values, outdated = book.values, self.outdated(month)
        known = self._lines.get(month)
        if known is not None and known.values is values and known.outdated == outdated:
            return known.events
        left = (event for entry_id, event in values.items() if entry_id not in outdated)
        events = tuple(sorted(left, key=_order))
        if known is not None and known.events == events:
            events = known.events
        self._lines[month] = _Line(values, outdated, events)
        return events

    def outdated(self, month: str) -> frozenset[str]:
        """Return the ids of which another month holds a later version."""
        held = (entry_id for entry_id in self._twice if month in self._places[entry_id])
        return frozenset(entry_id for entry_id in held if self.place(entry_id) != month)

    def leftovers(self) -> dict[str, frozenset[str]]:
        """Return, by month, the ids that a move cut short left behind."""
        found = {month: self.outdated(month) for month in self._books if self._twice}
        return {month: ids for month, ids in found.items() if ids}

    def place(self, entry_id: str) -> str | None:
        """Return the month that holds an entry (its latest version), None if there is none."""
        months = self._places.get(entry_id, ())
        return max(
            months, key=lambda month: (change_of(self.row(month, entry_id)), month), default=None
        )

    def row(self, month: str, entry_id: str) -> Row:
        """Return the row of an entry."""
        row: Row = self._books[month].tables["entries"][entry_id]
        return row

    def event(self, entry_id: str) -> Event | None:
        """Return an entry, None if there is none."""
        month = self.place(entry_id)
        return None if month is None else self._books[month].values[entry_id]

    def book(self, month: str) -> JsonFile[Event]:
        """Return the file of a month, which need not exist yet."""
        if month not in self._books:
            path = self._folder / f"events-{month}.json"
            self._books[month] = JsonFile(path, _entry_in, turn=self._turn)
        return self._books[month]

    def write(self, change: Change) -> None:
        """Write a change: one file in one step, several by the journal.

        Raises ``StoreError`` if it is not saved.
        """
        months = change.months()
        if len(months) == 1:
            book = self.book(months[0])
            with book.writing():
                _rewrite(book, change, months[0])
            return
        parts: list[tuple[JsonFile[Event], Tables]] = []
        for month in months:
            book = self.book(month)
            with book.writing(lambda tables, book=book: parts.append((book, tables))):  # type: ignore[misc]
                _rewrite(book, change, month)
        if parts:
            self._journal.save(parts)

    def finish(self) -> None:
        """Finish a change that was cut short, and remove what was never made; under the lock."""
        self._journal.finish()

    @property
    def tables(self) -> dict[str, Tables]:
        """The tables of each month."""
        return {month: book.tables for month, book in self._books.items()}

    @property
    def files(self) -> tuple[JsonFile[Event], ...]:
        """The file of each month."""
        return tuple(self._books.values())

    @property
    def removed(self) -> frozenset[str]:
        """The ids that the trail calls gone and that no month holds."""
        notes = chain.from_iterable(map(notes_in, self.tables.values()))
        return frozenset(note["entry"] for note in notes if note.get("gone")) - self._places.keys()

    @property
    def last_change(self) -> int:
        """The highest number of a change, 0 without any."""
        return max((book.last_change for book in self._books.values()), default=0)

    @property
    def last_standing(self) -> Standing | None:
        """The last change that nobody took back, None if there is none."""
        return last_standing(self.tables)

    @property
    def last_undone(self) -> UndoneChange | None:
        """The last undo that can be taken back, None once something else was changed since."""
        return last_undone(self.tables)

    @property
    def read_only(self) -> bool:
        """Whether a newer program wrote one of the files."""
        return any(book.read_only for book in self._books.values())

    @property
    def notices(self) -> tuple[str, ...]:
        """What there is to say about the files."""
        return tuple(chain.from_iterable(book.notices for book in self._books.values()))

    @property
    def kept(self) -> tuple[str, ...]:
        """What was said of files that are still kept aside."""
        return tuple(chain.from_iterable(book.kept for book in self._books.values()))


def _rewrite(book: JsonFile[Event], change: Change, month: str) -> None:
    """Make a month's part of a change in the tables of its file."""
    entries, rows = book.table("entries"), change.entries.get(month, {})
    old = [i for i in (*rows, *change.gone.get(month, ())) if i in book.tables["entries"]]
    if old:
        entries.remove(doc_ids=old)
    if rows:
        entries.insert_multiple(document(row_id, row) for row_id, row in rows.items())
    if notes := change.notes.get(month):
        book.table("trail").insert_multiple(document(row_id, row) for row_id, row in notes.items())
    if moved := change.moved_from(month):
        book.put({**book.tables, "moved": {**book.tables.get("moved", {}), **moved}})


def _entry_in(row: Row) -> Event:
    event = event_of(row)
    if not event.id:
        raise ValueError("an entry without an id")
    return event


def _in_order(lines: list[tuple[Event, ...]]) -> bool:
    """Whether each month's entries come after those of the month before."""
    filled = [line for line in lines if line]
    return all(_order(before[-1]) < _order(after[0]) for before, after in pairwise(filled))
