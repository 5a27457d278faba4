"""What it takes to bring a large log out and in again, as a table and as JSON Lines.

    python .bench/transfer.py [--events N]

Prints seconds for each step and how they grow from a tenth of the events: a factor of 10 is linear.
The goal: 150,000 events leave in under 5 s. The last lines import the table into an empty home,
through the store and its files, and take it back by one undo.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).parent.parent))

from pottyboard.core.model.events import Event
from pottyboard.core.transfer.columns import read_own
from pottyboard.core.transfer.duplicates import addition
from pottyboard.core.transfer.table import rows_of
from pottyboard.papers.tables import csv_lines, json_lines, read_json_lines
from pottyboard.store import DogLog, Household

T = TypeVar("T")
NOW = datetime(2026, 3, 31, 12, tzinfo=UTC)
KINDS = ("pee", "poop", "nothing", "meal", "water", "play", "up", "settled")
ANSWERS = {"name": "Bramble", "zone": "Europe/Oslo", "arrived": "2023-06-01 09:00"}


def log_of(count: int) -> list[Event]:
    """Return so many invented entries before ``NOW``, ten minutes apart, some with notes."""
    made = []
    for number in range(count):
        at = NOW - timedelta(minutes=10 * (count - number) % 1_400_000)
        note = "a long, calm one\nat the back" if number % 10 == 0 else ""
        kind = KINDS[number % len(KINDS)]
        made.append(Event(kind, at, f"{number:012}", "Mina", note, "Europe/Oslo", at))
    return made


def timed(steps: dict[str, float], name: str, work: Callable[[], T]) -> T:
    """Do ``work`` and keep its seconds under ``name``."""
    started = time.perf_counter()
    done = work()
    steps[name] = time.perf_counter() - started
    return done


def measure(count: int, folder: Path) -> dict[str, float]:
    """Return the seconds of each step for a log of ``count`` entries."""
    events, steps = log_of(count), dict[str, float]()
    dog_log: DogLog = Household(folder).create(ANSWERS, NOW)
    settings = dog_log.settings
    table = timed(steps, "write CSV", lambda: "".join(csv_lines(events, settings.zone)))
    lines = timed(steps, "write JSON Lines", lambda: [*json_lines(events)])

    def read() -> list[Event]:
        header, *rows = rows_of(table, ",")
        return [line.event for line in read_own(header.cells, rows, settings, NOW).lines]

    assert timed(steps, "read CSV", read) == events
    numbered = enumerate(lines, 1)
    reading = timed(steps, "read JSON Lines", lambda: read_json_lines(numbered, settings, NOW))
    new = timed(steps, "look for duplicates", lambda: addition(reading.lines, ())).events
    timed(steps, "save", lambda: dog_log.add_all(new, NOW))
    again = timed(steps, "open again", lambda: DogLog(dog_log.folder).events)
    assert sorted(again, key=lambda e: e.id) == sorted(events, key=lambda e: e.id)
    timed(steps, "one undo", lambda: dog_log.undo(NOW))
    assert not dog_log.events
    return steps


def main() -> None:
    """Print each step's seconds, and its growth from a tenth of the events."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--events", type=int, default=150_000)
    count = parser.parse_args().events
    with tempfile.TemporaryDirectory() as folder:
        small = measure(count // 10, Path(folder, "small"))
        large = measure(count, Path(folder, "large"))
    for name, seconds in large.items():
        print(f"{name:20} {seconds:6.2f} s   × {seconds / small[name]:4.1f}")


if __name__ == "__main__":
    main()
