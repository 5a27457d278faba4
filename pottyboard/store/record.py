"""One dog's record: its settings and its log, in one folder.

``settings.json`` holds the answers of the set-up, ``events-YYYY-MM.json`` the entries of a month
(by their UTC instant). Every change is under a lock, read again before it is written, and noted in
the month's trail with what was there before.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final, Literal

from filelock import FileLock, Timeout

from pottyboard.core.events import Event, EventError, check_details, check_time
from pottyboard.core.localtime import clock_words
from pottyboard.core.questions import SettingsError, answers_from, settings_from
from pottyboard.core.settings import Settings
from pottyboard.store.book import Book, document
from pottyboard.store.disk import make_folder
from pottyboard.store.documents import document_of, event_of
from pottyboard.store.errors import StoreError

Action = Literal["add", "edit", "delete"]
_LOCK_WAIT: Final = 10.0
_LOCK_POLL: Final = 0.005
_EDITABLE: Final = frozenset(Event.__dataclass_fields__) - {"id", "logged", "t"}


@dataclass(frozen=True, slots=True)
class Undone:
    """What an undo took back: the kind of change, the entry concerned, and words for a toast."""

    action: Action
    event: Event
    words: str


class Record:
    """The settings and the log of one dog. Several processes may hold the same record."""

    def __init__(self, folder: Path) -> None:
        """Take the folder of one dog; raise :class:`StoreError` if it cannot be used."""
        self.folder = folder
        make_folder(folder)
        self._lock = FileLock(
            folder / ".lock", timeout=_LOCK_WAIT, poll_interval=_LOCK_POLL, mode=0o600
        )
        self._setup = Book(folder / "settings.json", _check_answers)
        self._months: dict[str, Book] = {}
        self._entries: dict[str, tuple[object, tuple[tuple[int, Event], ...]]] = {}
        self._events: tuple[Event, ...] = ()
        self._seen: tuple[object, ...] | None = None
        self._settings: tuple[object, Settings] | None = None
        self._skipped: dict[str, str] = {}

    # --- Settings ---------------------------------------------------------------------------------

    @property
    def answers(self) -> dict[str, str]:
        """The answers of the set-up; raises :class:`StoreError` if there are none."""
        found = self._setup.tables().get("answers", {}).get("all")
        if not isinstance(found, dict) or not found:
            raise StoreError(
                f"{self.folder} holds no settings. Run “pottyboard setup”; the log stays as it is."
            )
        return {key: value for key, value in found.items() if isinstance(value, str)}

    @property
    def settings(self) -> Settings:
        """The settings, read again when the file changed.

        Raises :class:`StoreError` if there are none or they cannot be understood.
        """
        answers = self.answers
        if self._settings is None or self._settings[0] != self._setup.signature:
            try:
                settings = settings_from(answers, datetime.now(UTC))
            except SettingsError as error:
                raise StoreError(
                    f"The settings in {self._setup.path} do not fit ({error}). Run "
                    f"“pottyboard setup” with the right answers; the log stays as it is."
                ) from error
            self._settings = (self._setup.signature, settings)
        return self._settings[1]

    def save_answers(self, answers: Mapping[str, str], now: datetime) -> Settings:
        """Check and save the answers; return the settings.

        Raises ``SettingsError`` naming every problem, :class:`StoreError` if the disk fails.
        """
        settings = settings_from(answers, now)
        with self._locked(), self._setup.writing() as book:
            table = book.table("answers")
            table.remove(doc_ids=["all"] if table.contains(doc_id="all") else [])  # type: ignore[arg-type, list-item]
            table.insert(document("all", answers_from(settings)))
        return settings

    # --- Reading ----------------------------------------------------------------------------------

    @property
    def events(self) -> tuple[Event, ...]:
        """Every entry in order of time; the same tuple until something changed on disk."""
        books = self._books()
        for month, book in books.items():
            if self._is_stale(month, book):
                self._read_month(month, book)
        seen = tuple(self._entries[month][0] for month in books)
        if seen != self._seen:
            newest: dict[str, tuple[int, Event]] = {}
            for month in books:
                for change, event in self._entries[month][1]:
                    # A move to another month that was cut short leaves two: the later one counts.
                    if event.id not in newest or newest[event.id][0] < change:
                        newest[event.id] = (change, event)
            events = (event for _, event in newest.values())
            self._events = tuple(sorted(events, key=lambda event: (event.t, event.id)))
            self._seen = seen
        return self._events

    def changed(self) -> bool:
        """Whether another process wrote to the log or the settings since the last reading."""
        if self._settings is not None and self._setup.changed():
            return True
        return any(self._is_stale(month, book) for month, book in self._books().items())

    def _is_stale(self, month: str, book: Book) -> bool:
        known = self._entries.get(month)
        return known is None or book.changed() or known[0] != book.signature

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found damaged, foreign or newer, and where it was kept."""
        newer = [
            f"{book.path.name} was written by a newer version of this program: it opens read-only."
            for book in (self._setup, *self._books().values())
            if book.read_only
        ]
        books = (self._setup, *self._months.values())
        mended = [notice for book in books for notice in book.notices]
        return (*mended, *self._skipped.values(), *newer)

    @property
    def read_only(self) -> bool:
        """Whether a newer program wrote here, so that nothing can be saved."""
        return any(book.read_only for book in (self._setup, *self._books().values()))

    def _books(self) -> dict[str, Book]:
        try:
            names = sorted(path.name for path in self.folder.glob("events-????-??.json"))
        except OSError as error:
            raise StoreError(f"Cannot read {self.folder}: {error.strerror}.") from error
        for name in names:
            self._month(name[len("events-") : -len(".json")])
        return dict(sorted(self._months.items()))

    def _month(self, month: str) -> Book:
        if month not in self._months:
            self._months[month] = Book(self.folder / f"events-{month}.json", event_of)
        return self._months[month]

    def _read_month(self, month: str, book: Book) -> None:
        read, skipped = [], 0
        for stored in book.tables().get("entries", {}).values():
            try:
                read.append((int(stored.get("change", 0)), event_of(stored)))
            except (ValueError, TypeError, KeyError, AttributeError):
                skipped += 1
        self._skipped.pop(month, None)
        if skipped:
            self._skipped[month] = (
                f"{book.path.name}: {skipped} entries could not be understood. They stay in the "
                f"file; the rest of the log is shown."
            )
        self._entries[month] = (book.signature, tuple(read))

    # --- Changing ---------------------------------------------------------------------------------

    def add(self, event: Event, now: datetime) -> Event:
        """Save a new entry and return it with its id, once it is on disk.

        Raises ``EventError`` if it does not fit, :class:`StoreError` if it cannot be saved.
        """
        return self.add_all((event,), now)[0]

    def add_all(self, events: Iterable[Event], now: datetime) -> tuple[Event, ...]:
        """Save several entries as one change, which one undo takes back."""
        settings = self.settings
        ready = tuple(
            check_time(
                check_details(
                    replace(
                        event,
                        id=event.id or new_id(event, now),
                        zone=event.zone or settings.home.zone,
                        logged=event.logged or now,
                    )
                ),
                now,
                settings.dog.arrived,
            )
            for event in events
        )
        with self._locked():
            number = self._next_change(now, {month_of(event) for event in ready})
            for month in sorted({month_of(event) for event in ready}):
                with self._month(month).writing() as book:
                    for event in ready:
                        if month_of(event) == month:
                            self._put(book, event, number)
                            self._note(book, number, now, event.by, "add", event.id)
        return ready

    def edit(
        self, event_id: str, changes: Mapping[str, object], now: datetime, by: str = ""
    ) -> Event:
        """Save a correction and return the corrected entry; what was there stays in the trail.

        Raises ``EventError`` if the correction does not fit or there is no such entry.
        """
        unknown = set(changes) - _EDITABLE
        if unknown:
            raise EventError(f"An entry has no “{sorted(unknown)[0]}” to correct.")
        with self._locked():
            before = self._find(event_id)
            after = replace(before, **changes)  # type: ignore[arg-type]
            check_time(check_details(after), now, self.settings.dog.arrived)
            self._swap(before, after, now, by, "edit")
        return after

    def delete(self, event_id: str, now: datetime, by: str = "") -> Event:
        """Delete an entry and return it; the trail keeps it.

        Raises ``EventError`` if there is no such entry.
        """
        with self._locked():
            before = self._find(event_id)
            self._swap(before, None, now, by, "delete")
        return before

    def undo(self, now: datetime, by: str = "") -> Undone:
        """Take back the last change that was not taken back yet, also after a restart.

        Raises :class:`StoreError` if there is none.
        """
        with self._locked():
            notes = [
                (int(note["change"]), book, note)
                for book in self._books().values()
                for note in book.tables().get("trail", {}).values()
            ]
            gone = {note["of"] for _, _, note in notes if note["action"] == "undo"}
            standing = [n for n in notes if n[2]["action"] != "undo" and n[2]["note"] not in gone]
            if not standing:
                raise StoreError("There is nothing to take back.")
            last = max(number for number, _, _ in standing)
            undone: list[tuple[Action, Event]] = []
            for number, _, note in standing:
                if number == last:
                    undone.append(self._take_back(note, now, by))
        action, event = undone[-1]
        return Undone(action, event, self._undone_words(action, event, len(undone)))

    def _take_back(self, note: Mapping[str, Any], now: datetime, by: str) -> tuple[Action, Event]:
        action: Action = note["action"]
        if action == "add":
            before = self._find(note["entry"])
            self._swap(before, None, now, by, "undo", of=note["note"])
            return action, before
        event = event_of(note["before"])
        present = next((e for e in self.events if e.id == event.id), None)
        self._swap(present, event, now, by, "undo", of=note["note"])
        return action, event

    def _undone_words(self, action: Action, event: Event, number: int) -> str:
        zone = self.settings.zone
        what = f"{event.row.words}, {clock_words(event.t, zone)}"
        if number > 1:
            what = f"{number} entries"
        return {
            "add": f"Taken back: {what}",
            "edit": f"Correction taken back: {what}",
            "delete": f"Back again: {what}",
        }[action]

    def _find(self, event_id: str) -> Event:
        for event in self.events:
            if event.id == event_id:
                return event
        raise EventError("That entry is no longer there: somebody else may have deleted it.")

    def _swap(
        self,
        before: Event | None,
        after: Event | None,
        now: datetime,
        by: str,
        action: str,
        of: str = "",
    ) -> None:
        """Replace one entry by another, in whichever months they belong, and note it."""
        months = [month_of(event) for event in (after, before) if event is not None]
        number = self._next_change(now, set(self._books()) | set(months))
        entry = after or before
        assert entry is not None
        # The new one is written before the old one goes: a crash leaves two, and the later counts.
        for place, month in enumerate(dict.fromkeys(months)):
            with self._month(month).writing() as book:
                if before is not None and month == month_of(before):
                    _remove(book, before.id)
                if after is not None and month == month_of(after):
                    self._put(book, after, number)
                if place == 0:
                    self._note(book, number, now, by, action, entry.id, before, of)

    @staticmethod
    def _put(book: Book, event: Event, number: int) -> None:
        if event.id in book.tables().get("entries", {}):
            _remove(book, event.id)
        stored = {**document_of(event), "change": number}
        book.table("entries").insert(document(event.id, stored))

    @staticmethod
    def _note(
        book: Book,
        number: int,
        now: datetime,
        by: str,
        action: str,
        entry: str,
        before: Event | None = None,
        of: str = "",
    ) -> None:
        """Add a line to the trail."""
        note = {
            "note": secrets.token_hex(6),
            "change": number,
            "action": action,
            "entry": entry,
            "at": now.astimezone(UTC).isoformat(),
        }
        if by:
            note["by"] = by
        if before is not None and action != "add":
            note["before"] = document_of(before)
        if of:
            note["of"] = of
        book.table("trail").insert(document(str(note["note"]), note))

    def _next_change(self, now: datetime, months: Iterable[str]) -> int:
        """Return a number later than every change so far in these months, whatever the clock."""
        latest = max(self._month(month).last_change for month in months)
        return max(int(now.timestamp() * 1000), latest + 1)

    @contextmanager
    def _locked(self) -> Iterator[None]:
        try:
            with self._lock:
                yield
        except Timeout:
            raise StoreError(
                f"Another program has held {self.folder} for {_LOCK_WAIT:.0f} s. Close it, then "
                f"try again; nothing was saved."
            ) from None
        except PermissionError as error:
            raise StoreError(
                f"May not write in {self.folder}: check who owns it and its permissions."
            ) from error


def _remove(book: Book, event_id: str) -> None:
    table = book.table("entries")
    if table.contains(doc_id=event_id):  # type: ignore[arg-type]
        table.remove(doc_ids=[event_id])  # type: ignore[list-item]


def _check_answers(stored: Mapping[str, Any]) -> None:
    if not all(isinstance(value, str) for value in stored.values()):
        raise ValueError("not the answers of a set-up")


def month_of(event: Event) -> str:
    """Return the month that an entry's file is named after, such as ``2026-03`` (UTC)."""
    return f"{event.at:%Y-%m}"


def new_id(event: Event, now: datetime) -> str:
    """Return a new id: the minute for people, and enough chance that two never meet."""
    return f"{event.at:%Y%m%d-%H%M}-{secrets.token_hex(5)}"
