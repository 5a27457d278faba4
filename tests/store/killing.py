"""Kills a writer, and compares what is on disk with what the writer had been promised."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Any

import pottyboard
from pottyboard.store.documents import document_of

Rows = dict[str, dict[str, Any]]
Open = Callable[[Path], Any]


class LossError(AssertionError):
    """A file that cannot be read, or a change that was acknowledged and is not there."""


class Killer:
    """Sends writers to one folder and ends them; ``opened`` is the store that reads it then."""

    def __init__(self, folder: Path, opened: Open, stock: bool = False, seed: int = 0) -> None:
        """Take the folder, the store that opens it, and the seed of every chance."""
        self.folder, self.opened, self.stock = folder, opened, stock
        self.random = random.Random(seed)
        self.rows = rows_of(opened(folder))
        self.acknowledged = 0
        self._pace = 0.005

    def __enter__(self) -> Killer:
        """Start the process that starts the writers."""
        root = str(Path(pottyboard.__file__).parent.parent)
        self._writers = subprocess.Popen(
            [sys.executable, str(Path(__file__).with_name("writer.py"))],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": root},
        )
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End it."""
        self._writers.communicate()

    def kill_often(self, times: int) -> None:
        """Kill so many writers, one after the other, at random moments."""
        for _ in range(times):
            self.kill_at_random()

    def die_everywhere(self, changes: list[str]) -> int:
        """Let writers die at the first, the second, … system call of these changes; count them."""
        deaths = 0
        while self.die_at(changes, deaths):
            deaths += 1
        return deaths

    def kill_at_random(self) -> None:
        """Let a writer make some changes, kill it at a random moment, and look at the disk."""
        self._order()
        tries = self.random.randrange(1, 5)
        begun = time.perf_counter()
        while tries:
            if "try" in self._hear():
                tries -= 1
        context = time.perf_counter() + self.random.uniform(0, 1.5) * self._pace
        while time.perf_counter() < context:
            pass
        os.kill(self._pid, signal.SIGKILL)
        before = self.acknowledged
        self._until_ended()
        made = max(1, self.acknowledged - before)
        self._pace = 0.8 * self._pace + 0.2 * (time.perf_counter() - begun) / made
        self.check()

    def die_at(self, changes: list[str], number: int) -> bool:
        """Let a writer make these changes and die at its n-th system call; say whether it did."""
        self._order(changes=changes, die_at=number)
        status = self._until_ended()
        self.check()
        return os.WIFSIGNALED(status)

    def check(self) -> None:
        """Raise :class:`LossError` unless the disk holds what was acknowledged, or one change more.

        The change that was under way when the writer died may be there or not, as a whole for each
        entry.
        """
        try:
            dog_log = self.opened(self.folder)
            found = rows_of(dog_log)
        except Exception as error:
            raise LossError(f"unreadable: {error}") from error
        if dog_log.notices:
            raise LossError(f"damaged: {dog_log.notices}")
        for entry_id in {*found, *self.rows, *self._under_way}:
            allowed = [self.rows.get(entry_id)]
            if entry_id in self._under_way:
                allowed.append(self._under_way[entry_id])
            if found.get(entry_id) not in allowed:
                raise LossError(f"{entry_id} is {found.get(entry_id)}, not one of {allowed}")
        self.rows = found

    def _order(self, **more: object) -> None:
        self._under_way: dict[str, Any] = {}
        order = {"folder": str(self.folder), "stock": self.stock, "seed": self.random.random()}
        assert self._writers.stdin is not None
        self._writers.stdin.write(json.dumps({**order, **more}).encode() + b"\n")
        self._writers.stdin.flush()
        self._pid = int(self._hear()["pid"])

    def _until_ended(self) -> int:
        while "ended" not in (words := self._hear()):
            pass
        return int(words["ended"])

    def _hear(self) -> dict[str, Any]:
        """Take in one line of the writer: announced changes are under way, then acknowledged."""
        assert self._writers.stdout is not None
        words: dict[str, Any] = json.loads(self._writers.stdout.readline())
        if "try" in words:
            self._under_way = words["try"]
        elif "done" in words:
            for entry_id, row in self._under_way.items():
                self.rows.pop(entry_id, None)
                if row is not None:
                    self.rows[entry_id] = row
            self._under_way = {}
            self.acknowledged += 1
        return words


def rows_of(dog_log: Any) -> Rows:
    """Return what a store holds, as documents by id."""
    return {event.id: document_of(event) for event in dog_log.events}
