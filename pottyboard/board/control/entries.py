"""The board's door to one dog's log: writing entries, and the situation that follows from them."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, Final

from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH, name_of
from pottyboard.core.log.cleaning import repeat_words
from pottyboard.core.log.places import known_places, repeat_of
from pottyboard.core.model import figures
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.model.permitted import permitted
from pottyboard.core.view.answerable import answerable_in
from pottyboard.core.view.situation import Job, Situation, situation
from pottyboard.store import DogLog, Household, StoreError
from pottyboard.store.shared import clean, follow, take_back

if TYPE_CHECKING:
    from pottyboard.core.transfer.reports import Report

Clock = Callable[[], datetime]
"""The one clock: returns the aware instant now."""

_USUAL_ROOMS: Final = ("kitchen", "living room", "hall", "bedroom")
_MOST_PLACES: Final = 6
_FINISHED_OUTSIDE: Final = "Praise now, right there, outside."
_INDOORS: Final = "No scolding; enzyme cleaner, no ammonia."


class Entries:
    """One dog's log as the board uses it.

    Every change is on disk when its method returns; each returns a sentence that says what was
    saved. Raises what the store raises, with a message that says what to do instead.
    """

    def __init__(
        self,
        dog_log: DogLog,
        now: Clock,
        ticks: Callable[[], float] = time.monotonic,
        household: Household | None = None,
    ) -> None:
        """Read the log and work out the situation; ``ticks`` is a steady clock in seconds.

        In a ``household`` with several dogs an accident may be another one's.
        """
        self.dog_log = dog_log
        self.household = household
        self.now = now
        self.ticks = ticks
        self.situation: Situation = self.look()

    def look(self) -> Situation:
        """Work the situation out anew, from the whole log at the clock's instant."""
        self.situation = situation(self.dog_log.settings, self.dog_log.events, self.now())
        return self.situation

    @property
    def several_dogs(self) -> bool:
        """Whether there is another dog in the home."""
        return self.household is not None and len(self.household.dogs()) > 1

    def is_stale(self) -> bool:
        """Whether a minute has passed, or another process has written, since the last look."""
        shown, now = self.situation.now, self.now()
        same_minute = int(shown.timestamp() // 60) == int(now.timestamp() // 60)
        return not same_minute or self.dog_log.changed()

    def find(self, event_id: str) -> Event | None:
        """Return the entry with this id, None if it is gone."""
        return next((event for event in self.dog_log.events if event.id == event_id), None)

    def make(self, kind: str, ago: int = 0, **details: Any) -> Event:
        """Return an entry of ``kind`` that happened ``ago`` minutes before now, not yet saved."""
        details.setdefault("by", self.situation.on_duty)
        return Event(kind, self.now() - timedelta(minutes=ago), **details)

    def save(self, event: Event) -> str:
        """Save a new entry; return what was saved and what to do now."""
        saved = self.dog_log.add(self._permitted(event), self.now())
        if saved.unsure:
            self._tell_others(saved.id)
        self.look()
        return self.saved_words(saved)

    def begin(self, event: Event) -> Event:
        """Save a new entry of which more will be told; return it as it is on disk."""
        saved = self.dog_log.add(self._permitted(event), self.now())
        self.look()
        return saved

    def _permitted(self, event: Event) -> Event:
        """Return a new entry if it may be logged as things stand; raise ``EventError`` if not."""
        known = answerable_in(self.situation, self.dog_log.events)
        return permitted(event, self.situation.settings.dog, known)

    def complete(self, event_id: str, changes: Mapping[str, object], *, joined: bool) -> Event:
        """Add details to an entry, with ``joined`` as part of its last change; return it."""
        by = self.situation.on_duty
        event = self.dog_log.edit(event_id, changes, self.now(), by=by, joined=joined)
        self._tell_others(event_id)
        self.look()
        return event

    def save_cleaned(self, event: Event, jobs: Sequence[Job]) -> str:
        """Save that the spots of ``jobs`` are clean."""
        places = {entry.id: entry.place for entry in self.dog_log.events}
        events = tuple(
            self._permitted(replace(event, about=job.about, place=places.get(job.about, "")))
            for job in jobs
        )
        saved = self.dog_log.add_all(events, self.now())
        if self.household is not None and self.several_dogs:
            for entry in saved:
                clean(self.household, self.dog_log, entry, self.now())
        self.look()
        return " ".join(self.saved_words(entry) for entry in saved)

    def read_report(self, text: str, by: str) -> Report:
        """Read a helper's message; nothing is saved."""
        from pottyboard.core.transfer.reports import read_report

        return read_report(text, by, self.dog_log.settings, self.now())

    def save_report(self, report: Report) -> str:
        """Save all that a message says as one change."""
        saved = self.dog_log.add_all(report.entries, self.now())
        self.look()
        by = one_line(saved[0].by, NAME_WIDTH)
        return f"Saved: {count_words(len(saved), 'entry', 'entries')} by {by}."

    def undo(self) -> str:
        """Take back the last change, also one from before the board was opened."""
        undone = self.dog_log.undo(self.now(), by=self.situation.on_duty)
        if self.household is not None and self.several_dogs:
            take_back(self.household, self.dog_log, undone.event, self.now())
        self.look()
        return one_line(undone.words, 300)

    def correct(self, event_id: str, changes: Mapping[str, object]) -> str:
        """Change fields of an entry."""
        event = self.dog_log.edit(event_id, changes, self.now(), by=self.situation.on_duty)
        self._tell_others(event_id)
        self.look()
        return f"Corrected: {self._when(event)} {describe(event, self.dog_log.settings)}."

    def delete(self, event_id: str) -> str:
        """Delete an entry."""
        event = self.dog_log.delete(event_id, self.now(), by=self.situation.on_duty)
        self._tell_others(event_id)
        self.look()
        return f"Deleted: {self._when(event)} {describe(event, self.dog_log.settings)}."

    def _tell_others(self, event_id: str) -> None:
        """Bring the other dogs' logs in line with what is said of an accident here."""
        if self.household is None or not self.several_dogs:
            return
        try:
            follow(self.household, self.dog_log, event_id, self.now(), self.situation.on_duty)
        except StoreError as error:
            self.look()
            raise StoreError(f"Saved here, but not in the other dogs’ logs. {error}") from error

    def places(self) -> tuple[str, ...]:
        """Return the rooms and spots of accidents, the most used first, then usual rooms."""
        known = known_places(self.dog_log.events)
        alike: dict[str, str] = {}
        for place in (*known, *_USUAL_ROOMS):
            alike.setdefault(place.casefold(), place)
        return tuple(alike.values())[:_MOST_PLACES]

    def saved_words(self, event: Event) -> str:
        """Return what was saved and what to do now, in a sentence or two."""
        settings = self.dog_log.settings
        if event.kind == "duty":
            return f"{one_line(event.by, NAME_WIDTH) or 'Nobody'} is on duty."
        if event.kind == "note":
            return f"Saved, {self._when(event)}: {one_line(event.note, 60)}"
        words = f"Saved: {name_of(settings)} {event.done}, {self._when(event)}."
        if event.unsure and self.several_dogs:
            words = f"Saved for each dog: {describe(event, settings)}, {self._when(event)}."
        if event.row.group in ("care", "company"):
            words = f"Saved: {describe(event, settings)}, {self._when(event)}."
        if event.row.is_success and not event.on_pad:
            if self.situation.day <= figures.PRAISE_DAYS and self._is_fresh(event):
                words += f" {_FINISHED_OUTSIDE}"
        elif event.row.is_accident:
            words += f" {_INDOORS}{self._repeat(event)}"
        return words

    def _repeat(self, accident: Event) -> str:
        """Return what to do where accidents repeat, as a sentence after a blank; empty if not."""
        others = (e for e in self.dog_log.events if e.row.is_accident and e.id != accident.id)
        nth, at_spot = repeat_of(accident, others)
        words = repeat_words(nth, at_spot=at_spot)
        return f" {words[:1].upper()}{words[1:]}." if words else ""

    def _is_fresh(self, event: Event) -> bool:
        return self.now() - event.at < timedelta(minutes=figures.TRY_LASTS)

    def _when(self, event: Event) -> str:
        at, ago = self.dog_log.settings.clock(event.at), self.now() - event.at
        minutes = int(ago.total_seconds() // 60)
        return f"{at} ({span_words(minutes)} ago)" if minutes else at
