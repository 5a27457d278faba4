"""A process that writes until it is killed: run by the tests, which read what it prints.

Reads one order a line, as JSON, and starts a child for each: ``{"folder": ..., "stock": ...,
"seed": ...}``. The child prints its process id, then for each change what it is about to do
(``{"try": {id: document or null}}``) and, once the store has acknowledged it, ``{"done": ...}``.
With ``"changes": [...]`` it makes those changes and no others, and with ``"die_at": n`` it kills
itself at its n-th system call of those that write.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import filelock  # noqa: F401  (the store imports it late: once here, not once in every child)

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog
from pottyboard.store.documents import document_of, event_of
from tests.store.stock import StockRecord

NOW = datetime(2026, 4, 10, 12, 0, tzinfo=UTC)
ACTIONS = ("add", "add", "add", "group", "edit", "edit", "move", "delete", "delete", "undo")
WRITING = ("open", "write", "fsync", "replace", "link", "close")

Wanted = dict[str, dict[str, Any] | None]


class Writer:
    """Makes random changes, and knows before each what the log must hold afterwards."""

    def __init__(self, dog_log: Any, seed: int, say: Callable[[object], None]) -> None:
        self.dog_log, self.say = dog_log, say
        self.random = random.Random(seed)
        self.stack: list[Wanted] = []
        self.number = 0

    def change(self, action: str) -> None:
        """Make one change, announced before and acknowledged after."""
        present = {event.id: event for event in self.dog_log.events}
        chosen = self.random.choice(sorted(present)) if present else ""
        if action == "undo" and not self.stack:
            action = "add"
        if action in ("edit", "move", "delete") and not present:
            action = "add"
        after: dict[str, Event | None]
        if action in ("add", "group"):
            new = [self.new_event() for _ in range(1 if action == "add" else 3)]
            after = {event.id: event for event in new}
        elif action == "delete":
            after = {chosen: None}
        elif action == "edit":
            note = "n" * self.random.randrange(200)
            after = {chosen: replace(present[chosen], note=f"{note}{self.number}")}
        elif action == "move":
            after = {chosen: replace(present[chosen], at=self.instant())}
        else:
            before = self.stack[-1]
            after = {i: None if row is None else event_of(row) for i, row in before.items()}
        self.say({"try": {i: event and document_of(event) for i, event in after.items()}})
        self.carry_out(action, after, chosen)
        if action == "undo":
            self.stack.pop()
        elif any(after[i] != present.get(i) for i in after):
            rows = {i: document_of(present[i]) if i in present else None for i in after}
            self.stack.append(rows)
        self.say({"done": action})

    def carry_out(self, action: str, after: dict[str, Event | None], chosen: str) -> None:
        """Hand a change to the store."""
        if action == "undo":
            self.dog_log.undo(NOW)
        elif action == "delete":
            self.dog_log.delete(chosen, NOW)
        elif action in ("add", "group"):
            self.dog_log.add_all([event for event in after.values() if event], NOW)
        else:
            event = after[chosen]
            assert event is not None
            changes = {"note": event.note} if action == "edit" else {"at": event.at}
            self.dog_log.edit(chosen, changes, NOW)

    def new_event(self) -> Event:
        """Return an event with everything that the store would otherwise fill in."""
        self.number += 1
        entry_id = f"{self.random.getrandbits(48):012x}"
        note = "x" * self.random.randrange(120)
        return Event("pee", self.instant(), entry_id, "Ana", note, "Europe/Oslo", NOW)

    def instant(self) -> datetime:
        """Return an instant in one of two months."""
        return NOW - timedelta(minutes=self.random.randrange(36 * 24 * 60))


def die_at(number: int) -> None:
    """Kill this process before its n-th system call of those that write."""
    left = [number]

    def counted(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def called(*args: Any, **named: Any) -> Any:
            left[0] -= 1
            if left[0] < 0:
                os.kill(os.getpid(), signal.SIGKILL)
            if name != "fsync":  # which only a power cut could miss
                return call(*args, **named)

        return called

    for name in WRITING:
        setattr(os, name, counted(name, getattr(os, name)))


def write(order: dict[str, Any]) -> None:
    """Write as ordered, until the work is done or somebody kills this process."""
    output = sys.stdout.fileno()
    whole_write = os.write

    def say(words: object) -> None:
        whole_write(output, json.dumps(words).encode() + b"\n")

    say({"pid": os.getpid()})
    folder = Path(order["folder"])
    dog_log = StockRecord(folder) if order.get("stock") else DogLog(folder)
    writer = Writer(dog_log, order["seed"], say)
    if "die_at" in order:
        die_at(order["die_at"])
    for action in order.get("changes", ()):
        writer.change(action)
    while "changes" not in order:
        writer.change(writer.random.choice(ACTIONS))


def main() -> None:
    """Start a child for each order, and say when it has ended."""
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            try:
                write(json.loads(line))
            finally:
                sys.stdout.flush()
                os._exit(1)
        _, status = os.waitpid(child, 0)
        print(json.dumps({"ended": status}), flush=True)


if __name__ == "__main__":
    main()
