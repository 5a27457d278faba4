"""One dog's record: its settings and its log, in one folder.

``settings.json`` holds the answers of the set-up, ``events-YYYY-MM.json`` the entries of a month
(by their UTC instant). Every change is made under a lock, on what is on disk at that moment, and
what was there before stays in the month's trail.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from msgspec import structs

from pottyboard.core.log.past_change import PastChange, redone_words, undone_words
from pottyboard.core.model.events import Event, EventError, check_details, check_time
from pottyboard.core.model.questions import (
    BY_KEY,
    SettingsError,
    answers_from,
    left_unanswered,
    settings_from,
)
from pottyboard.core.model.settings import Settings
from pottyboard.store.damage import Row, change_of
from pottyboard.store.database import document
from pottyboard.store.disk import make_folder, remove_unfinished, signature_of
from pottyboard.store.documents import FIELDS
from pottyboard.store.fitting import as_stored, ready, unknown_in
from pottyboard.store.json_file import JsonFile
from pottyboard.store.month_files import MonthFiles
from pottyboard.store.system.errors import StoreError, no_settings
from pottyboard.store.system.locking import Turn
from pottyboard.store.system.privacy import closed_to_others
from pottyboard.store.undo_history import (
    Change,
    Undone,
    added_in,
    past_change,
    past_undo,
    put_back,
    take_back,
)

_EDITABLE: Final = FIELDS - {"id", "logged"}
_ALWAYS_KEPT: Final = frozenset({"name", "arrived", "zone"})
"""Answers that would be others on another day, or elsewhere, if they were left out."""
_NO_REDO: Final = "No undo to take back: something was logged since, or nothing was undone."
_CHANGED_SINCE: Final = (
    "Nothing taken back: somebody else has changed the log meanwhile. Look, then press again."
)


class DogLog:
    """The settings and the log of one dog. Several processes may hold the same record."""

    def __init__(self, folder: Path) -> None:
        """Take the folder of one dog; nothing is read or made yet."""
        self.folder = folder
        self.apart = ""  # what tells the dog from others of its name, as the home has found it
        self._turn = Turn(folder)
        self._setup = JsonFile(
            folder / "settings.json", _answers_in, "answers", self._turn, mirror=True
        )
        self._months = MonthFiles(folder, self._turn)
        self._settings: tuple[dict[str, str], str, Settings] | None = None
        self._swept = False
        self._opened: tuple[str, ...] | None = None

    # --- Settings ---------------------------------------------------------------------------------

    @property
    def answers(self) -> dict[str, str]:
        """The answers of the set-up; raises :class:`StoreError` if there are none."""
        return dict(self._answers())

    def _answers(self) -> dict[str, str]:
        self._setup.look_again()
        answers = self._setup.values.get("all")
        if answers is None:
            if self._setup.trouble is not None:
                raise self._setup.trouble
            kept = "".join(f" {notice}" for notice in self._setup.notices)
            raise no_settings(self.folder, kept)
        return answers

    @property
    def settings(self) -> Settings:
        """The settings, read again when the file changed.

        Raises :class:`StoreError` if there are none or they do not fit.
        """
        answers = self._answers()
        known = self._settings
        if known is None or known[0] is not answers or known[1] != self.apart:
            return self._read_settings(answers)
        return known[2]

    def _read_settings(self, answers: dict[str, str]) -> Settings:
        known = {key: answer for key, answer in answers.items() if key in BY_KEY}
        try:
            settings = settings_from(known, _written_at(answers))
        except SettingsError as error:
            raise StoreError(
                f"The settings in {self._setup.path} do not fit ({error}). Run “pottyboard "
                f"setup” with the right answers; the log stays as it is."
            ) from error
        settings = structs.replace(settings, unanswered=left_unanswered(known), apart=self.apart)
        self._settings = (answers, self.apart, settings)
        return settings

    def save_answers(self, answers: Mapping[str, str], now: datetime) -> Settings:
        """Check and save the answers of the set-up; return the settings once they are on disk.

        What was not answered is left out: the usual answers hold for it, until it is asked again.
        Raises ``SettingsError`` naming every problem, :class:`StoreError` if they cannot be saved.
        """
        settings = settings_from(answers, now)
        make_folder(self.folder)
        given = answers.keys() | _ALWAYS_KEPT
        saved = {key: answer for key, answer in answers_from(settings).items() if key in given}
        with self._turn, self._setup.writing():
            table = self._setup.table("answers")
            table.remove(doc_ids=["all"])  # type: ignore[list-item]
            table.insert(document("all", saved))
        return structs.replace(settings, unanswered=left_unanswered(saved))

    # --- Reading ----------------------------------------------------------------------------------

    @property
    def events(self) -> tuple[Event, ...]:
        """Every entry in order of time and id; the same tuple until something changed on disk.

        Only the months that changed are read again. Raises :class:`StoreError` if the folder
        cannot be read; what is wrong with single files is among the :attr:`notices`.
        """
        return self._months.events

    def find(self, event_id: str) -> Event | None:
        """Return the entry with this id, None if there is none."""
        self._months.look()
        return self._months.event(event_id)

    def changed(self) -> bool:
        """Whether the files are others than when :attr:`events` and :attr:`settings` were read."""
        setup = self._setup
        other_setup = self._settings is not None and setup.signature != signature_of(setup.path)
        return other_setup or self._months.is_stale()

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found damaged, foreign or newer, where it was kept aside, what bars saving."""
        self._look()
        closed = f"{self.folder} cannot be written: the log is shown, but nothing can be saved."
        said = (*self._opened_to_others(), *self._setup.notices, *self._months.notices)
        return (*said, closed) if self._is_closed() else said

    def _opened_to_others(self) -> tuple[str, ...]:
        """Close the folders of the log to other users; return in which they could look till now."""
        if self._opened is None:
            folders = (self.folder.parent, self.folder)
            self._opened = tuple(
                f"{folder} could be read by other users of this computer: it is closed to them now."
                for folder in folders
                if closed_to_others(folder)
            )
        return self._opened

    @property
    def troubles(self) -> tuple[StoreError, ...]:
        """What bars saving just now: files that cannot be read, a newer version, a closed disk."""
        closed = [StoreError(f"{self.folder} can only be read.")] if self.read_only else []
        return (*(file.trouble for file in self._months.files if file.trouble), *closed)

    @property
    def kept(self) -> tuple[str, ...]:
        """What was said of files that are still kept aside, also by another process long ago."""
        self._look()
        return (*self._setup.kept, *self._months.kept)

    def acknowledge(self) -> None:
        """Say no more what :attr:`kept` says; raise :class:`StoreError` if that is not saved."""
        self._look()
        if self._setup.kept:
            self._setup.acknowledge()
        for month in self._months.files:
            if month.kept:
                month.acknowledge()

    @property
    def removed(self) -> frozenset[str]:
        """The ids of the entries that somebody deleted or took back."""
        self._look()
        return self._months.removed

    @property
    def read_only(self) -> bool:
        """Whether nothing can be saved: a newer program wrote here, or the disk is read-only."""
        self._look()
        return self._setup.read_only or self._months.read_only or self._is_closed()

    def _is_closed(self) -> bool:
        return os.path.exists(self.folder) and not os.access(self.folder, os.W_OK)

    def _look(self) -> None:
        self._setup.look_again()
        self._months.look()

    # --- Changing ---------------------------------------------------------------------------------

    def add(self, event: Event, now: datetime) -> Event:
        """Save a new entry; return it as it is on disk, with its id, zone and time of logging.

        An event with an id that is saved already, and is the same, is saved again. Raises
        ``EventError`` if it does not fit, :class:`StoreError` if it cannot be saved.
        """
        return self.add_all((event,), now)[0]

    def add_all(self, events: Iterable[Event], now: datetime) -> tuple[Event, ...]:
        """Save several entries as one change, which one undo takes back."""
        settings = self.settings
        fitting = tuple(ready(event, settings, now) for event in events)
        if len({event.id for event in fitting}) < len(fitting):
            raise EventError("Two of the entries have the same id.")
        with self._changing(now) as change:
            return tuple(self._add(event, change) for event in fitting)

    def _add(self, event: Event, change: Change) -> Event:
        month, present = self._months.place(event.id), self._months.event(event.id)
        if month is None or present is None:
            change.add(event)
            return event
        if replace(event, logged=present.logged) != present:
            raise EventError(f"There is an entry {event.id} already: correct that one.")
        change.again(month, self._months.row(month, event.id))
        return present

    def edit(
        self,
        event_id: str,
        changes: Mapping[str, object],
        now: datetime,
        by: str = "",
        *,
        joined: bool = False,
        seen: Event | None = None,
    ) -> Event:
        """Save a correction and return the corrected entry; what was there stays in the trail.

        ``seen`` is the entry as whoever corrects it saw it: where somebody else has changed it
        meanwhile, they are told instead. With ``joined`` it becomes part of the change that last
        wrote the entry, if nothing has changed since: one undo then takes back both. Raises
        ``EventError`` if it does not fit or the entry is gone, :class:`StoreError` if it cannot be
        saved.
        """
        settings = self.settings
        unknown = sorted(changes.keys() - _EDITABLE)
        if unknown:
            raise EventError(f"An entry has no “{unknown[0]}” to correct.")
        with self._changing(now, by) as change:
            place, before = self._find(event_id)
            if seen is not None and seen != before:
                raise EventError(
                    "Somebody else has changed this entry meanwhile: look at it, then correct it."
                )
            after = as_stored(replace(before, **changes))  # type: ignore[arg-type]
            check_details(replace(after, **unknown_in(before, after)))
            if after.at != before.at:
                check_time(after, now, settings.dog.arrived)
            if joined and after.at == before.at and self._is_last(place[1]):
                change.refine(*place, after)
            elif after != before:
                change.correct("edit", event_id, place, after, added=added_in(place[1]))
        return after

    def _is_last(self, row: Row) -> bool:
        """Whether a row was written by the last change that still stands."""
        last = self._months.last_standing
        is_last = last is not None and last.number == change_of(row)
        return is_last and self._months.last_undone is None

    def delete(self, event_id: str, now: datetime, by: str = "") -> Event:
        """Delete an entry and return it; the trail keeps it.

        Raises ``EventError`` if the entry is gone, :class:`StoreError` if the disk refuses.
        """
        with self._changing(now, by) as change:
            place, before = self._find(event_id)
            change.correct("delete", event_id, place, None)
        return before

    def undo(self, now: datetime, by: str = "", *, seen: PastChange | None = None) -> Undone:
        """Take back the last change that was not taken back yet, whoever made it and when.

        ``seen`` is the change as whoever takes it back was shown it: where somebody has changed the
        log since, they are told instead. Raises :class:`StoreError` if there is none or the disk
        refuses.
        """
        settings = self.settings  # read before: what has been taken back is said in any case
        with self._changing(now, by) as change:
            last = self._months.last_standing
            if last is None:
                raise StoreError("There is nothing to take back.")
            past = past_change(last)
            if seen is not None and seen.number != past.number:
                raise StoreError(_CHANGED_SINCE)
            take_back(self._months, last, change)
        return Undone(past, undone_words(past, settings, now))

    def redo(self, now: datetime, by: str = "") -> Undone:
        """Take the last undo back, as long as nothing was logged or changed since.

        Raises :class:`StoreError` if there is none or the disk refuses.
        """
        settings = self.settings
        with self._changing(now, by) as change:
            last = self._months.last_undone
            if last is None:
                raise StoreError(
                    "No undo to take back: something was logged since, or nothing was."
                )
            past = past_undo(last)
            put_back(self._months, last, change)
        return Undone(past, redone_words(past, settings, now))

    def to_undo(self) -> PastChange | None:
        """Return the change that the next undo takes back, None if there is none."""
        self._months.look()
        last = self._months.last_standing
        return None if last is None else past_change(last)

    def to_redo(self) -> PastChange | None:
        """Return the change that the next redo makes again, None if there is none."""
        self._months.look()
        last = self._months.last_undone
        return None if last is None else past_undo(last)

    def _find(self, event_id: str) -> tuple[tuple[str, Row], Event]:
        """Return an entry with its month and row."""
        month, event = self._months.place(event_id), self._months.event(event_id)
        if month is None or event is None:
            raise EventError("That entry is no longer there: somebody else may have deleted it.")
        return (month, self._months.row(month, event_id)), event

    # --- Writing ----------------------------------------------------------------------------------

    @contextmanager
    def _changing(self, now: datetime, by: str = "") -> Iterator[Change]:
        """Collect a change under the lock, on what is on disk now, and write it at the end."""
        with self._turn:
            if not self._swept:
                remove_unfinished(self.folder)
                remove_unfinished(self.folder / "backups")
                self._months.finish()
                self._swept = True
            self._months.look()
            if self._months.read_only:
                raise StoreError(
                    f"Not saved: a newer version of this program wrote in {self.folder}. Update "
                    f"the program; until then the log can only be read."
                )
            change = Change(self._months.last_change + 1, now, by)
            if leftovers := self._months.leftovers():
                for month, ids in leftovers.items():
                    change.take_away(month, ids)
                self._months.write(change)
                self._months.look()
                change = Change(change.number, now, by)
            yield change
            self._months.write(change)


def _answers_in(row: Row) -> dict[str, str]:
    if "name" not in row or not all(isinstance(value, str) for value in row.values()):
        raise ValueError("not the answers of a set-up")
    return row


def _written_at(answers: Mapping[str, Any]) -> datetime:
    """Return an instant near which the answers were given: that of the arrival, if it is one."""
    try:
        arrived = datetime.fromisoformat(answers.get("arrived", ""))
    except ValueError:
        return datetime.now(UTC)
    return arrived if arrived.tzinfo else arrived.replace(tzinfo=UTC)
