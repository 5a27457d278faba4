"""When the board comes back by itself over whatever lies over it, and what keys do just after."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Final

from pottyboard.core.view.situation import State

_LEFT_ALONE: Final = timedelta(minutes=2)
"""Without a key for so long, a page or a dialog is no longer read (our own choice)."""

_READ: Final = (timedelta(seconds=5), timedelta(minutes=1))
"""With the last key so long ago somebody is there and has read what it brought (our own choice)."""

_PAUSE: Final = timedelta(seconds=10)
"""Without a key for so long, nobody is typing (our own choice)."""

_STARTLED: Final = 1.0
"""Seconds after it in which a key was meant for what has just gone (our own choice)."""

SAID: Final = "back on the board: press again"
"""What such a key answers."""


class ComingBack:
    """Remembers the last key, and the last state that the next break was in."""

    def __init__(self, now: Callable[[], datetime], ticks: Callable[[], float]) -> None:
        """``now`` is the wall clock, ``ticks`` a steady one in seconds."""
        self._now, self._ticks = now, ticks
        self._touched = now()
        self._state: State | None = None
        self._called = False
        self._came: float | None = None

    def touch(self) -> None:
        """Remember that a key or the mouse was used."""
        self._touched = self._now()

    def is_due(self, state: State, *, covered: bool, typing: bool) -> bool:
        """Whether the board comes back now, its next break being in ``state``.

        A break that falls due, or becomes late, calls it back at once, or once nobody types.
        """
        before, self._state = self._state, state
        if not covered:
            self._called = False
            return False
        if state != before and before is not None and state in ("due", "late"):
            self._called = True
        unused = self._now() - self._touched
        return unused >= _LEFT_ALONE or (self._called and (not typing or unused >= _PAUSE))

    @property
    def is_somebody_there(self) -> bool:
        """Whether somebody was at the board just now, and has nothing half typed."""
        least, most = _READ
        return least <= self._now() - self._touched < most

    def came(self) -> None:
        """Remember that it came back just now."""
        self._called = False
        self._came = self._ticks()

    def holds_key_back(self) -> bool:
        """Whether a key now was meant for what has just gone."""
        return self._came is not None and self._ticks() - self._came < _STARTLED
