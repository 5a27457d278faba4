"""A kitchen with a board in it: a dog, a log, a clock that a test sets, the screen as text."""

from __future__ import annotations

import unicodedata
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from copy import copy
from datetime import date, datetime, timedelta
from pathlib import Path
from shutil import copytree
from typing import Any

from textual import events
from textual._context import visible_screen_stack
from textual.keys import KEY_NAME_REPLACEMENTS, key_to_character
from textual.pilot import Pilot
from textual.screen import Screen
from textual.strip import Strip

from pottyboard.board.app import BoardApp
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import at_clock, instant_of, read_clock, zone_named
from pottyboard.core.model.questions import default_answers
from pottyboard.store import DogLog, Household
from tests.board.stillness import Stillness

ZONE = zone_named("Europe/Oslo")
DAY_1 = date(2026, 3, 2)


def instant(clock: str, day: int = 1) -> datetime:
    """Return the instant at which Oslo shows ``clock`` on a day of the programme."""
    return instant_of(at_clock(DAY_1 + timedelta(days=day - 1), read_clock(clock), ZONE))


class Kitchen:
    """One household with one dog; ``now`` is what every clock in it shows."""

    def __init__(self, folder: Path, **answers: str) -> None:
        """Set up Bramble, arrived on day 1 at 09:00."""
        self.now = instant("09:00")
        self.household = Household(folder)
        filled = {
            **default_answers(self.now, ZONE.key),
            "name": "Bramble",
            "weight": "8",
            "vet": "done",
            "people": "Mina, Otto",
            **answers,
        }
        self.dog_log: DogLog = self.household.create(filled, self.now)

    def copied(self, folder: Path) -> Kitchen:
        """Return the same household as it stands, with its log in another folder."""
        other = copy(self)
        other.household = Household(copytree(self.household.folder, folder, dirs_exist_ok=True))
        other.dog_log = other.household.dog_log()
        return other

    def clock(self) -> datetime:
        """The one clock."""
        return self.now

    def ticks(self) -> float:
        """The steady clock, in seconds; here it goes with the other one."""
        return self.now.timestamp()

    def at(self, clock: str, day: int = 1) -> Kitchen:
        """Set the clock."""
        self.now = instant(clock, day)
        return self

    def wrote(self, *entries: str, day: int = 1, **details: Any) -> Kitchen:
        """Write entries such as ``"10:05 pee"`` into the log, as another process would."""
        written = []
        for entry in entries:
            clock, kind = entry.split()
            written.append(Event(kind, instant(clock, day), **details))
        DogLog(self.dog_log.folder).add_all(written, max([self.now, *(e.at for e in written)]))
        return self

    @property
    def log(self) -> list[str]:
        """The log as another process reads it, oldest first, such as ``10:05 pee``."""
        saved = DogLog(self.dog_log.folder).events
        return [f"{event.at.astimezone(ZONE):%H:%M} {event.kind}" for event in saved]

    @property
    def last(self) -> Event:
        """The entry that was typed last."""
        saved = DogLog(self.dog_log.folder).events
        return max(saved, key=lambda event: (event.logged or event.at, event.at))

    @asynccontextmanager
    async def board(
        self, width: int = 120, height: int = 40, **environ: str
    ) -> AsyncIterator[Board]:
        """Open the board in a terminal of this size."""
        app = BoardApp(
            self.household, DogLog(self.dog_log.folder), self.clock, environ, ticks=self.ticks
        )
        async with opened(app, width, height) as board:
            # The clock is looked at when a test says so, never in between by itself.
            app.screen_stack[0]._pulse.stop()  # type: ignore[attr-defined]
            yield board


@asynccontextmanager
async def opened(app: BoardApp, width: int, height: int) -> AsyncIterator[Board]:
    """Open an app in a terminal of this size."""
    still = Stillness()
    async with app.run_test(
        size=(width, height), notifications=True, message_hook=still.note
    ) as pilot:
        await still.reached(pilot)
        yield Board(app, pilot, still)


class Board:
    """The open board: keys go in, text comes out."""

    def __init__(self, app: BoardApp, pilot: Pilot[int], still: Stillness) -> None:
        """Take the running app."""
        self.app = app
        self.pilot = pilot
        self._still = still

    async def settled(self) -> None:
        """Wait until nothing is under way."""
        await self._still.reached(self.pilot)

    def shows(self, screen: type[Screen[Any]]) -> bool:
        """Whether a screen of this kind is on top."""
        return isinstance(self.app.screen, screen)

    async def press(self, *keys: str) -> str:
        """Press keys one after the other; return the screen."""
        if not keys:
            await self.settled()
        for key in keys:
            self.app.post_message(_typed(key))
            await self.settled()
        return self.text

    async def at_once(self, *keys: str, pasted: str = "") -> str:
        """Let keys arrive in one go, then a paste, as from a terminal; return the screen."""
        for key in keys:
            self.app.post_message(_typed(key))
        if pasted:
            self.app.post_message(events.Paste(pasted))
        await self.settled()
        return self.text

    async def type(self, text: str) -> str:
        """Type a text letter by letter."""
        return await self.press(*("space" if letter == " " else letter for letter in text))

    async def tick(self) -> str:
        """Let the board look at the clock and the log."""
        day = self.app.screen_stack[0]
        day._beat()  # type: ignore[attr-defined]
        await self.settled()
        return self.text

    @property
    def strips(self) -> list[Strip]:
        """The screen, row by row, with its colours; a dialog with what lies below it."""
        visible_screen_stack.set(self.app._background_screens)
        return self.app.screen._compositor.render_strips()

    @property
    def lines(self) -> list[str]:
        """The screen, row by row, without trailing blanks."""
        return [strip.text.rstrip() for strip in self.strips]

    @property
    def text(self) -> str:
        """The whole screen."""
        return "\n".join(self.lines)


def _typed(key: str) -> events.Key:
    """Return a key as a terminal hands it over, by its letter or by its name."""
    if len(key) > 1 or key.isalnum():
        return events.Key(key, key_to_character(key))
    name = unicodedata.name(key).lower().replace("-", "_").replace(" ", "_")
    return events.Key(KEY_NAME_REPLACEMENTS.get(name, name), key)
