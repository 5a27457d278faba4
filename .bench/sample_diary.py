"""The log of an invented dog: written entry by entry, and put through the store at the end."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from random import Random
from typing import Any

from sample_stories import Story

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import zone_named
from pottyboard.store import DogLog


class Diary:
    """The log of one dog in the making: what is written, corrected and taken back, and when.

    Minutes count from the local midnight that begins day 1; no story crosses a clock change.
    """

    def __init__(self, story: Story, rng: Random) -> None:
        self.story, self.rng = story, rng
        zone = zone_named(story.answers["zone"])
        wall = datetime.fromisoformat(story.answers["arrived"])
        midnight = datetime(wall.year, wall.month, wall.day, tzinfo=zone)
        self.midnight = midnight.astimezone(UTC)
        self.on_duty = story.people[0]
        self.written: list[Event] = []
        self._changes: list[tuple[datetime, int, Callable[[DogLog, datetime], None]]] = []
        self._number = count()

    def instant(self, minute: float) -> datetime:
        """Return the UTC instant of a minute."""
        return self.midnight + timedelta(minutes=minute)

    def write(self, kind: str, at: int, *, late: float = 0, **details: Any) -> Event:
        """Write an entry, typed some seconds after it happened, or ``late`` minutes after."""
        instant = self.instant(at)
        typed = instant + timedelta(minutes=late, seconds=self.rng.randint(4, 50))
        event = Event(
            kind,
            instant,
            id=f"{instant:%Y%m%d-%H%M}-{self.rng.getrandbits(40):010x}",
            by=details.pop("by", self.on_duty),
            zone=self.story.answers["zone"],
            logged=typed,
            **details,
        )
        self.written.append(event)
        self._then(typed, lambda dog_log, now: self._same(dog_log.add(event, now), event))
        return event

    def edit(self, event: Event, minute: float, **changes: Any) -> None:
        """Correct an entry at a minute."""
        after, by = replace(event, **changes), self.on_duty
        self.written[self.written.index(event)] = after
        self._then(
            self.instant(minute),
            lambda dog_log, now: self._same(dog_log.edit(event.id, changes, now, by), after),
        )

    def delete(self, event: Event, minute: float) -> None:
        """Delete an entry at a minute."""
        by = self.on_duty
        self.written.remove(event)
        self._then(
            self.instant(minute),
            lambda dog_log, now: self._same(dog_log.delete(event.id, now, by), event),
        )

    def take_back(self, event: Event) -> None:
        """Undo the entry that was just written."""
        by = self.on_duty
        assert event.logged is not None
        self.written.remove(event)
        self._then(
            event.logged + timedelta(seconds=5),
            lambda dog_log, now: self._same(dog_log.undo(now, by).event, event),
        )

    def last(self, outing: bool = True) -> Event:
        """Return the latest entry written: an outing, or an accident."""
        return next(
            event
            for event in reversed(self.written)
            if (event.row.is_outing if outing else event.row.is_accident)
        )

    def accident_before(self, minute: float) -> Event:
        """Return the last accident before a minute."""
        before = self.instant(minute)
        accidents = (e for e in self.written if e.row.is_accident and e.at <= before)
        return max(accidents, key=lambda event: event.at)

    def save(self, folder: Path) -> None:
        """Put everything through the store, in the order in which it was typed."""
        dog_log = DogLog(folder)
        dog_log.save_answers(self.story.answers, self.instant(self.story.begins))
        for now, _, change in sorted(self._changes, key=lambda one: one[:2]):
            if now <= self.instant(self.story.ends):
                change(dog_log, now)
        (folder / ".lock").unlink(missing_ok=True)
        shutil.rmtree(folder / "backups", ignore_errors=True)

    def _then(self, now: datetime, change: Callable[[DogLog, datetime], None]) -> None:
        self._changes.append((now, next(self._number), change))

    @staticmethod
    def _same(found: Event, expected: Event) -> None:
        if found != expected:
            raise ValueError(f"{found} is not what the story tells: {expected}")
