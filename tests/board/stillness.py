"""When an open board is still: all that a key has begun in it is there to be looked at.

A pilot's own pause waits until the processor has little to do, 20 ms at the least and more where
the machine is busy. Here the messages themselves are counted: a board that has handled none for a
while, has no key under way, no worker at work and nothing left to lay out, does nothing more by
itself until a timer rings.
"""

from __future__ import annotations

import asyncio
from typing import Any, Final

from textual import events
from textual.app import App
from textual.message import Message
from textual.pilot import Pilot

from pottyboard.board.app import BoardApp

_TURNS: Final = 25
"""Turns of the event loop, each running all that could run, for which no message may come."""

_ROUNDS: Final = 2
"""Layouts in a row after which no message may come: what waits for one may ask for the next."""

_PATIENCE: Final = 30.0
"""Seconds after which a board that is never still has failed."""


class Stillness:
    """Counts the messages of one app; its :meth:`note` is the hook that is told of each."""

    def __init__(self) -> None:
        """Begin with none."""
        self._count = 0

    def note(self, message: Message) -> None:
        """Count a message, unless it is a function's turn: whoever looks asks for such turns."""
        if not isinstance(message, events.Callback):
            self._count += 1

    async def reached(self, pilot: Pilot[Any]) -> None:
        """Return once the app is still and its screen is laid out as it is to stay."""
        async with asyncio.timeout(_PATIENCE):
            rounds = 0
            while rounds < _ROUNDS:
                count = self._count
                await self._nothing_under_way(pilot.app)
                rounds = rounds + 1 if count == self._count else 0
                await pilot.wait_for_animation()  # then it lays out what has changed
            await self._nothing_under_way(pilot.app)

    async def _nothing_under_way(self, app: App[Any]) -> None:
        turns = 0
        with app.batch_update():  # one layout for all that a key does, not one for each part of it
            while turns < _TURNS:
                count = self._count
                waiting = _is_waiting(app)
                await asyncio.sleep(0.001 if waiting else 0)
                turns = 0 if waiting or count != self._count else turns + 1


def _is_waiting(app: App[Any]) -> bool:
    """Whether the app waits for a key to be through, or for a worker."""
    keys = isinstance(app, BoardApp) and not app._in_turn.is_idle
    return keys or any(not worker.is_finished for worker in app.workers)
