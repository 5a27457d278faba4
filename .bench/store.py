"""What one entry costs on disk, against a bare write-fsync-rename of a file of the same size.

    python .bench/store.py [--writers] [--folder DIR]

Prints a ratio for logs of 560, 15,000 and 150,000 events, spread over months: an entry goes
through the lock, the check for other writers, the month's file, its backup and two fsyncs (of the
file and of its folder). The goal is a ratio of 4 or less, and flat. ``--writers`` lets two
processes write to one home for five seconds instead, and counts what is missing afterwards.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog, Household
from pottyboard.store.documents import document_of

NOW = datetime(2026, 3, 31, 12, tzinfo=UTC)
SIZES = (560, 15_000, 150_000)
A_MONTH = 1_250
"""Entries in a busy month, at about 40 a day."""

ROUNDS = 61
KINDS = ("pee", "poop", "nothing", "meal", "water", "play", "up", "settled")


def filled(home: Path, events: int) -> DogLog:
    """Return the record of a home with so many events, the newest in the month of ``NOW``."""
    answers = {"name": "Bramble", "zone": "Europe/Oslo", "arrived": "2023-06-01 09:00"}
    dog_log = Household(home).create(answers, NOW)
    year, month, number = NOW.year, NOW.month, 0
    while number < events:
        rows = {}
        for place in range(min(A_MONTH, events - number)):
            number += 1
            at = datetime(year, month, 1, tzinfo=UTC) + timedelta(minutes=30 * place)
            event = Event(
                KINDS[number % len(KINDS)],
                at,
                id=f"{at:%Y%m%d-%H%M}-{number:010x}",
                by="Mina",
                zone="Europe/Oslo",
                logged=at,
            )
            rows[event.id] = {**document_of(event), "change": number}
        tables = {"about": {"file": {"schema": 1}}, "entries": rows, "trail": {}}
        (dog_log.folder / f"events-{year}-{month:02}.json").write_text(json.dumps(tables))
        year, month = (year, month - 1) if month > 1 else (year - 1, 12)
    return dog_log


def bare_write(path: Path, content: bytes) -> None:
    """Write, fsync, rename: what nothing that survives a power cut can do without."""
    temporary = path.with_suffix(".new")
    descriptor = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    os.write(descriptor, content)
    os.fsync(descriptor)
    os.close(descriptor)
    os.replace(temporary, path)


def measure(folder: Path, events: int) -> tuple[float, float]:
    """Return the median cost in ms of an entry and of a bare write, taken in turns."""
    dog_log = filled(folder / str(events), events)
    count = len(dog_log.events)
    month = dog_log.folder / f"events-{NOW:%Y-%m}.json"
    entry, bare = [], []
    for round_ in range(ROUNDS):
        started = time.perf_counter()
        dog_log.add(Event("pee", NOW - timedelta(minutes=round_)), NOW)
        entry.append(time.perf_counter() - started)
        content = month.read_bytes()
        started = time.perf_counter()
        bare_write(folder / "bare.json", content)
        bare.append(time.perf_counter() - started)
    assert len(dog_log.events) == count + ROUNDS
    return statistics.median(entry[1:]) * 1000, statistics.median(bare[1:]) * 1000


def write_for(home: Path, seconds: float) -> None:
    """Write entries until the time is up, and print the id of each that was acknowledged."""
    dog_log = Household(home).dog_log()
    end = time.monotonic() + seconds
    number = 0
    while time.monotonic() < end:
        number += 1
        saved = dog_log.add(Event("pee", NOW - timedelta(minutes=number % 40_000)), NOW)
        print(saved.id, flush=True)


def two_writers(folder: Path, seconds: float) -> None:
    """Let two processes write to one home, and count the entries that are missing."""
    home = folder / "two"
    dog_log = filled(home, SIZES[0])
    command = [sys.executable, __file__, "--child", str(home), "--seconds", str(seconds)]
    writers = [subprocess.Popen(command, stdout=subprocess.PIPE, text=True) for _ in range(2)]
    counts, saved = [], set[str]()
    for writer in writers:
        ids = writer.communicate()[0].split()
        assert writer.returncode == 0
        counts.append(len(ids))
        saved |= set(ids)
    present = {event.id for event in dog_log.events}
    print(
        f"two writers for {seconds:g} s: {counts[0]} and {counts[1]} entries acknowledged, "
        f"{len(saved - present)} missing, {len(dog_log.notices)} files damaged"
    )


def main() -> None:
    """Print the ratios, or what two writers lost."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--writers", action="store_true", help="two processes at once")
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--folder", help="where to write (default: the system's temporary folder)")
    parser.add_argument("--child", help=argparse.SUPPRESS)
    args = parser.parse_args()
    if args.child:
        write_for(Path(args.child), args.seconds)
        return
    with tempfile.TemporaryDirectory(dir=args.folder) as folder:
        if args.writers:
            two_writers(Path(folder), args.seconds)
            return
        for events in SIZES:
            entry, bare = measure(Path(folder), events)
            print(f"{events:>8,} events: {entry / bare:4.2f} × ({entry:.2f} ms / {bare:.2f} ms)")


if __name__ == "__main__":
    main()
