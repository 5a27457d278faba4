"""Saving beside the board: changes go to disk in order, on a thread of their own.

The board waits a moment for each, which a healthy disk never uses up. What takes longer (another
program has the log, the disk is slow or gone) is finished behind it: the board shows the change
meanwhile, and a change that cannot be saved stays first in line until it can.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from typing import Any, Final

from pottyboard.core.model.events import Event
from pottyboard.store import StoreError
from pottyboard.store.system.errors import HalfSavedError

PATIENCE: Final = 0.02
"""Seconds that the board waits for the disk before it goes on."""

Shown = dict[str, Event | None]
"""What is shown otherwise than it is on disk: entries by id, None for one that is gone."""


class Change:
    """One change on its way: ``write`` makes it, ``show`` does the same to what is shown.

    With ``keep`` a change that the store refuses stays in line and is tried again.
    """

    def __init__(
        self, write: Callable[[], Any], show: Callable[[Shown], None], *, keep: bool
    ) -> None:
        """Take what is to be done; nothing is done yet."""
        self.write, self.show, self.keep = write, show, keep
        self.words: Callable[[Any], str] | None = None  # what to say once it is saved behind
        self.result: Any = None
        self.error: Exception | None = None
        self.tried = threading.Event()

    @property
    def is_kept(self) -> bool:
        """Whether it was refused and stays in line: nothing of it is saved yet."""
        refused = isinstance(self.error, StoreError) and not isinstance(self.error, HalfSavedError)
        return self.keep and refused


class Saver:
    """Makes changes one after the other; nobody else may use the log while :attr:`is_busy`."""

    def __init__(self) -> None:
        """Have nothing to do."""
        self._line: deque[Change] = deque()
        self._ended: list[Change] = []
        self._guard = threading.Lock()
        self._thread: threading.Thread | None = None

    @property
    def is_busy(self) -> bool:
        """Whether a change is being written just now."""
        return self._thread is not None

    @property
    def waiting(self) -> tuple[Change, ...]:
        """The changes that are not saved yet, in order."""
        with self._guard:
            return tuple(self._line)

    @property
    def stuck(self) -> Exception | None:
        """Why the first in line could not be saved at the last try, None if that is not known."""
        waiting = self.waiting
        return waiting[0].error if waiting and not self.is_busy else None

    def make(self, change: Change, patience: float | None = None) -> bool:
        """Put a change in line; return whether it was made, or refused, before patience ended."""
        with self._guard:
            alone = not self._line
            self._line.append(change)
        self.go_on()
        return alone and change.tried.wait(PATIENCE if patience is None else patience)

    def go_on(self) -> None:
        """Try the first in line, again where it was refused."""
        with self._guard:
            if self._thread is not None or not self._line:
                return
            self._thread = threading.Thread(target=self._work, daemon=True)
            self._thread.start()

    def ended(self) -> list[Change]:
        """Return the changes that have ended since the last call, made or given up."""
        with self._guard:
            ended, self._ended = self._ended, []
        return ended

    def wait(self, seconds: float) -> bool:
        """Give what is in line that long; return whether nothing is left."""
        thread = self._thread
        if thread is not None:
            thread.join(seconds)
        return not self.waiting

    def _work(self) -> None:
        while True:
            change = self._line[0]
            try:
                change.result, change.error = change.write(), None
            except Exception as error:
                change.error = error
            stays = change.is_kept
            with self._guard:
                if not stays:
                    self._line.popleft()
                    self._ended.append(change)
                if stays or not self._line:
                    self._thread = None
                    change.tried.set()
                    return
            change.tried.set()


def as_it_is(shown: Shown) -> None:
    """Change nothing of what is shown: what an undo brings is known only once it is done."""


def without(shown: Shown, event_id: str) -> None:
    """Show an entry no longer."""
    shown[event_id] = None
