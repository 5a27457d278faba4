"""The page of places: spots to clean, ticked off by a key, and a plan of the home in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType

from pottyboard.board.screens.base import PageKey
from pottyboard.board.screens.chosen import ChosenPage, Written
from pottyboard.board.screens.places_page import MOST_KEYS, cleaning_jobs, page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.core.log.places import Spot, named_alike, place_of, places_at
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words
from pottyboard.core.view.situation import Job


class PlacesScreen(ChosenPage):
    """Shows the jobs, then the rooms and spots; the chosen one is cleaned or blocked by a key."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("c,enter", "clean", "cleaned", show=False),
        Binding("b", "block", "block access", show=False),
        Binding("P", "leave", "close", show=False),
    ]

    # --- What is chosen ---------------------------------------------------------------------------

    @property
    def jobs(self) -> tuple[Job, ...]:
        """The spots to clean."""
        return cleaning_jobs(self.situation)

    @property
    def spot(self) -> Spot | None:
        """The chosen room or spot, None while a job is chosen or there is nothing."""
        at, spots = self.at - len(self.jobs), self.situation.spots
        return spots[at] if 0 <= at < len(spots) else None

    def _place(self) -> str:
        """Return the place that is chosen, by its own row or by its job; empty if it has none."""
        if self.spot is not None:
            return self.spot.name
        if self.at >= len(self.jobs):
            return ""
        accident = self.entries.find(self.jobs[self.at].about)
        return "" if accident is None else accident.place

    def _is_blocked(self, place: str) -> bool:
        return any(s.blocked and named_alike(s.name, place) for s in self.situation.spots)

    # --- What a page says -------------------------------------------------------------------------

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and how many spots are open."""
        name, count = words.name_of(self.situation.settings), len(self.jobs)
        left = f"{name} {sign('between', self.glyphs)} places and cleaning"
        return left, f"{count} to clean" if count else "all clean"

    def count(self) -> int:
        """Return how many rows can be chosen."""
        return len(self.jobs) + len(self.situation.spots)

    def write(self, width: int, height: int) -> Written:
        """Return the page."""
        return page(self.situation, self.at, width, height)

    def hints(self) -> Iterator[PageKey]:
        """Yield the keys that do something now."""
        if self.jobs:
            digits = "1" if len(self.jobs) == 1 else f"1-{min(len(self.jobs), MOST_KEYS)}"
            yield PageKey(f"c or {digits}", "cleaned", "screen.clean")
        if place := self._place():
            words = "open again" if self._is_blocked(place) else "block access"
            yield PageKey("b", words, "screen.block")
        if self.count() > 1:
            yield self.arrows()
        yield PageKey("u", "undo", "screen.undo")

    # --- Doing ------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Tick off the job of a digit."""
        number = event.character or ""
        if number in "123456789" and number and int(number) <= len(self.jobs):
            event.stop()
            self.action_tick(int(number) - 1)

    def action_tick(self, number: int) -> None:
        """Tick off one job."""
        self._clean(self.jobs[number : number + 1])

    def action_clean(self) -> None:
        """Tick off the chosen job, or all jobs of the chosen room or spot."""
        if self.spot is None:
            jobs = self.jobs[self.at : self.at + 1]
        else:
            jobs = tuple(job for job in self.jobs if self._is_there(job, self.spot.name))
        self._clean(jobs)

    def _is_there(self, job: Job, place: str) -> bool:
        """Whether a job is at a place; at a room also where it is at a spot in it."""
        accident, wanted = self.entries.find(job.about), place_of(place)
        return accident is not None and wanted in places_at(accident.place)

    def _clean(self, jobs: tuple[Job, ...]) -> None:
        if not jobs:
            self.say("Nothing is open to clean here.")
            return
        entry = self.entries.make("cleaned")

        def work() -> str:
            self.entries.save_cleaned(entry, jobs)
            return f"Cleaned: {count_words(len(jobs), 'spot')}. {self.undoes}"

        self.change(work)

    def action_block(self) -> None:
        """Note that access to the chosen place is blocked, or that it is open again."""
        place = self._place()
        if not place:
            self.say("Choose a room or a spot first.")
        elif self._is_blocked(place):
            self._open_again(place)
        else:
            self._block(place)

    def _block(self, place: str) -> None:
        accident = self._newest(place)
        if accident is None:
            self.say("Block the spots in this room one by one.")
            return
        entry = self.entries.make("routine", measure="block", about=accident.id)

        def work() -> str:
            self.entries.begin(entry)
            return f"Noted: the way to {place} is blocked. {self.undoes}"

        self.change(work)

    def _open_again(self, place: str) -> None:
        blocks = [
            entry
            for entry in self.entries.dog_log.events
            if entry.measure == "block"
            and (accident := self.entries.find(entry.about)) is not None
            and named_alike(accident.place, place)
        ]

        def work() -> str:
            for entry in blocks:
                self.entries.delete(entry.id)
            return f"Noted: {place} is open again. {self.undoes}"

        self.change(work)

    def _newest(self, place: str) -> Event | None:
        """Return the newest accident at exactly this room or spot."""
        return next(
            (
                event
                for event in reversed(self.entries.dog_log.events)
                if event.row.is_accident and named_alike(event.place, place)
            ),
            None,
        )
