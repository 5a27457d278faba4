"""The board's door to one dog's log: writing entries, and the situation that follows from them."""

from __future__ import annotations

import time
from bisect import insort
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar

from pottyboard.board.control.asking_first import AskingFirst
from pottyboard.board.control.saver import Change, Saver, Shown, as_it_is, without
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.saved import places_of, said_of, saved_words, when_words
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.core.log.past_change import PastChange
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.permitted import permitted
from pottyboard.core.model.settings import with_plain_glyphs
from pottyboard.core.view.answerable import answerable_in
from pottyboard.core.view.jobs import with_unsaved
from pottyboard.core.view.situation import Job, Situation, situation
from pottyboard.store import DogLog, Household, StoreError, Undone, shared
from pottyboard.store.fitting import as_new

if TYPE_CHECKING:
    from pottyboard.core.transfer.reports import Report

_T = TypeVar("_T")
Clock = Callable[[], datetime]
"""The one clock: returns the aware instant now."""


class Entries:
    """One dog's log as the board uses it.

    A change is on disk when its method returns, or on its way there and shown meanwhile: each
    returns a sentence that says which. Raises what the store raises, with a message that says what
    to do instead. Where the log is out of reach, what was read last is shown (:attr:`trouble`).
    """

    def __init__(
        self,
        dog_log: DogLog,
        now: Clock,
        ticks: Callable[[], float] = time.monotonic,
        household: Household | None = None,
        *,
        plain: bool = False,
    ) -> None:
        """Read the log and work out the situation; ``ticks`` is a steady clock in seconds.

        ``household`` tells whether there are other dogs, ``plain`` that drawn glyphs are not shown.
        """
        self.dog_log, self.household, self._plain = dog_log, household, plain
        self.now, self.ticks = now, ticks
        self.unsaved: Event | None = None  # an accident that was begun, then left alone
        self._to_undo: PastChange | None = None  # what the question before an undo was about
        self._first = AskingFirst()
        self.trouble = ""  # why the log could not be read at the last look
        self._saver = Saver()
        self._several = False
        self._read()
        if self._several and household is not None:
            shared.catch_up(household, now())
        self.situation: Situation = self.look()

    # --- What there is ----------------------------------------------------------------------------

    def _read(self) -> None:
        """Read the log; raise ``StoreError`` if that cannot be done."""
        if self.household is not None:
            apart = self.household.apart()
            self._several = len(apart) > 1
            self.dog_log.apart = apart.get(self.dog_log.folder.name, "")
        settings = self.dog_log.settings
        self.settings = with_plain_glyphs(settings) if self._plain else settings
        self._on_disk = self.dog_log.events

    def look(self) -> Situation:
        """Work the situation out anew; an accident that was begun and not saved is a job too."""
        if not self._saver.is_busy:  # else the log is in other hands
            try:
                self._read()
                self.trouble = ""
            except StoreError as error:
                self.trouble = str(error)
        self.events = self._shown()
        now = situation(self.settings, self.events, self.now())
        self.situation = now if self.unsaved is None else with_unsaved(now, self.unsaved)
        return self.situation

    def _shown(self) -> tuple[Event, ...]:
        """Return the entries with what is on its way to the disk."""
        waiting = self._saver.waiting
        if not waiting:
            return self._on_disk
        otherwise: Shown = {}
        for change in waiting:
            change.show(otherwise)
        shown = [event for event in self._on_disk if event.id not in otherwise]
        for event in otherwise.values():
            if event is not None:
                insort(shown, event, key=lambda each: (each.t, each.id))
        return tuple(shown)

    @property
    def several_dogs(self) -> bool:
        """Whether there is another dog in the home."""
        return self._several

    @property
    def state(self) -> str:
        """What is to be said of the disk in a word or two, empty if all is well."""
        if self._saver.stuck is not None:
            return "NOT SAVED YET"
        if self._saver.waiting:
            return "saving"
        return "LOG OUT OF REACH" if self.trouble else ""

    @property
    def is_saving(self) -> bool:
        """Whether something is being written just now."""
        return self._saver.is_busy

    def is_stale(self) -> bool:
        """Whether a minute has passed, or another process has written, since the last look."""
        shown, now = self.situation.now, self.now()
        same_minute = int(shown.timestamp() // 60) == int(now.timestamp() // 60)
        if not same_minute or self.trouble:
            return True
        try:
            return not self._saver.is_busy and self.dog_log.changed()
        except StoreError:
            return True

    def find(self, event_id: str) -> Event | None:
        """Return the entry with this id, None if it is gone."""
        return next((event for event in self.events if event.id == event_id), None)

    # --- On the way to the disk -------------------------------------------------------------------

    def _make(
        self,
        write: Callable[[], _T],
        show: Callable[[Shown], None],
        otherwise: _T,
        words: Callable[[_T], str] | None = None,
        *,
        keep: bool = True,
    ) -> _T:
        """Make a change; return what it brought, or ``otherwise`` while it is on its way.

        Raises why it is refused. With ``keep`` it is tried again, and shown until then.
        """
        change = Change(write, show, keep=keep)
        self._first.refused = False
        change.words = words
        if not self._saver.make(change):
            self.look()
            return otherwise
        self._saver.ended()
        self.look()
        if change.error is None:
            result: _T = change.result
            return result
        if change.is_kept:
            raise StoreError(f"{change.error} The board keeps it and saves it once it can.")
        raise change.error

    def news(self) -> list[tuple[str, bool]]:
        """Try again what could not be saved; return what ended meanwhile: words, whether wrong."""
        if self._saver.stuck is not None:
            self._saver.go_on()
        ended = self._saver.ended()
        if ended:
            self.look()
        told = []
        for change in ended:
            if change.error is not None:
                told.append((str(change.error), True))
            else:
                told.append((change.words(change.result) if change.words else "Saved.", False))
        return told

    def finish(self, seconds: float) -> int:
        """Give what is on its way some seconds more; return how many changes are not saved."""
        if self._saver.waiting:
            self._saver.go_on()
            self._saver.wait(seconds)
        return len(self._saver.waiting)

    def _on_its_way(self, words: str) -> str:
        """Return the words for a change, as of one that is not saved yet where it is not."""
        return f"Saving … {words.removeprefix('Saved: ')}" if self._saver.waiting else words

    # --- Making changes ---------------------------------------------------------------------------

    def make(self, kind: str, at: datetime | None = None, **details: Any) -> Event:
        """Return an entry of ``kind`` that happened at an instant, now if None; not yet saved."""
        details.setdefault("by", self.situation.on_duty)
        return Event(kind, at or self.now(), **details)

    def save(self, event: Event) -> str:
        """Save a new entry; return what was saved and what to do now."""
        return self._on_its_way(self.saved_words(self.begin(event)))

    def begin(self, event: Event) -> Event:
        """Save a new entry of which more will be told; return it as it is on disk."""
        return self.add_all((self._permitted(event),))[0]

    def add_all(
        self, events: Sequence[Event], words: Callable[[Sequence[Event]], str] | None = None
    ) -> tuple[Event, ...]:
        """Save new entries as one change, in the other logs too where they concern them."""
        now = self.now()
        named = tuple(as_new(event, self.settings, now) for event in events)
        home, log = self._other_dogs, self.dog_log
        self._first.logged(named)

        def write() -> tuple[Event, ...]:
            if home is not None:
                return shared.add_all(home, log, named, now)[0]
            return log.add_all(named, now) if len(named) > 1 else (log.add(named[0], now),)

        def show(shown: Shown) -> None:
            shown.update((event.id, event) for event in named)

        return self._make(write, show, named, words or self._all_saved)

    def _all_saved(self, saved: Sequence[Event]) -> str:
        return " ".join(self.saved_words(entry) for entry in saved)

    @property
    def _other_dogs(self) -> Household | None:
        """The home, where a change may concern other dogs in it."""
        return self.household if self._several else None

    def _permitted(self, event: Event) -> Event:
        """Return a new entry if it may be logged as things stand; raise ``EventError`` if not."""
        known = answerable_in(self.situation, self.events)
        return permitted(event, self.situation.settings.dog, known)

    def complete(self, event_id: str, changes: Mapping[str, object], *, joined: bool) -> Event:
        """Add details to an entry, with ``joined`` as part of its last change; return it."""
        return self._edit(event_id, changes, joined=joined)

    def _edit(
        self,
        event_id: str,
        changes: Mapping[str, object],
        *,
        joined: bool,
        seen: Event | None = None,
    ) -> Event:
        now, by = self.now(), self.situation.on_duty
        home, log = self._other_dogs, self.dog_log
        before = self.find(event_id)

        def write() -> Event:
            if home is not None:
                return shared.edit(home, log, event_id, changes, now, by, joined=joined, seen=seen)
            return log.edit(event_id, changes, now, by=by, joined=joined, seen=seen)

        def show(shown: Shown) -> None:
            shown[event_id] = replace(shown.get(event_id) or before, **changes)  # type: ignore

        if before is None:  # gone: the log says so in its own words
            return write()
        after = replace(before, **changes)  # type: ignore[arg-type]
        return self._make(write, show, after, self._corrected)

    def save_cleaned(self, event: Event, jobs: Sequence[Job]) -> str:
        """Save that the spots of ``jobs`` are clean."""
        places = {entry.id: entry.place for entry in self.events}
        events = tuple(
            self._permitted(replace(event, about=job.about, place=places.get(job.about, "")))
            for job in jobs
        )
        return self._on_its_way(self._all_saved(self.add_all(events)))

    def read_report(self, text: str, by: str) -> Report:
        """Read a helper's message; nothing is saved."""
        from pottyboard.core.transfer.reports import read_report

        return read_report(text, by, self.settings, self.now())

    def save_report(self, report: Report) -> str:
        """Save as one change what a message says and the log does not hold."""
        from pottyboard.core.transfer.duplicates import fresh_in, left_out_words

        fresh = fresh_in(report.entries, self.events)
        left_out = left_out_words(len(report.entries) - len(fresh))

        def words(saved: Sequence[Event]) -> str:
            by, count = one_line(saved[0].by, NAME_WIDTH), len(saved)
            return f"Saved: {count_words(count, 'entry', 'entries')} by {by}. {left_out}".rstrip()

        return self._on_its_way(words(self.add_all(fresh, words)))

    # --- Taking back ------------------------------------------------------------------------------

    def refuse(self) -> None:
        """Remember that nothing was saved just now, unless the board keeps it for the disk."""
        self._first.refused = not self._saver.waiting

    def undo_question(self) -> str:
        """Return what is to be asked before :meth:`undo`, empty where nothing is."""
        self._to_undo = None
        if self._saver.waiting:  # the log is in other hands; what is on its way is from this board
            return ""
        with suppress(StoreError):  # then the undo itself says what is wrong
            self._to_undo = self.dog_log.to_undo()
        return self._first.undoing(self._to_undo, self.situation, self.now())

    def undo(self) -> str:
        """Take back the last change, also one from before the board was opened.

        Where :meth:`undo_question` has looked at it, that one and no other.
        """
        seen, self._to_undo, self._first.refused = self._to_undo, None, False
        home, log = self._other_dogs, self.dog_log

        def step(now: datetime, by: str) -> Undone:
            if home is None:
                return log.undo(now, by, seen=seen)
            return shared.undo(home, log, now, by, seen=seen)

        return self._step(step, "Taking back …")

    def redo(self) -> str:
        """Take the last undo back."""
        home, log = self._other_dogs, self.dog_log
        step = log.redo if home is None else partial(shared.redo, home, log)
        return self._step(step, "Bringing back …")

    def _step(self, step: Callable[[datetime, str], Undone], otherwise: str) -> str:
        now, by = self.now(), self.situation.on_duty
        return self._make(lambda: said_of(step(now, by)), as_it_is, otherwise, str, keep=False)

    def correct(
        self, event_id: str, changes: Mapping[str, object], seen: Event | None = None
    ) -> str:
        """Change fields of an entry; ``seen`` is how it stood before whoever corrects it."""
        corrected = self._edit(event_id, changes, joined=False, seen=seen)
        return self._on_its_way(self._corrected(corrected))

    def _corrected(self, event: Event) -> str:
        return f"Corrected: {self._told(event)}."

    def settle(self, event_id: str, dog: str, said: str) -> str:
        """Say that an accident was this ``dog``'s (the name of its folder); return ``said``."""
        now, by, home = self.now(), self.situation.on_duty, self.household
        assert home is not None

        def write() -> str:
            shared.settle(home, event_id, home.in_folder(dog), now, by)
            return said

        return self._make(write, as_it_is, "Saving …", str, keep=False)

    def delete_question(self, event: Event) -> str:
        """Return what is to be asked before :meth:`delete`, empty where nothing is."""
        return self._first.deleting(event, self.situation, self.now())

    def delete(self, event_id: str) -> str:
        """Delete an entry."""
        now, by, home, log = self.now(), self.situation.on_duty, self._other_dogs, self.dog_log
        before = self.find(event_id)

        def write() -> Event:
            if home is not None:
                return shared.delete(home, log, event_id, now, by)
            return log.delete(event_id, now, by=by)

        def words(event: Event) -> str:
            return f"Deleted: {self._told(event)}."

        if before is None:
            return words(write())
        gone = self._make(write, lambda shown: without(shown, event_id), before, words, keep=False)
        return self._on_its_way(words(gone))

    def places(self) -> tuple[str, ...]:
        """Return the rooms and spots of accidents, the most used first, then usual rooms."""
        return places_of(self.events)

    def saved_words(self, event: Event) -> str:
        """Return what was saved and what to do now, in a sentence or two."""
        now, several = self.now(), self._several
        return saved_words(event, self.events, self.situation, now, several_dogs=several)

    def _told(self, event: Event) -> str:
        when = when_words(event.at, self.now(), self.settings)
        return f"{when} {describe(event, self.settings)}"
