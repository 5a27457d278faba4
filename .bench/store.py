"""What an entry costs: one to disk against a bare write, fsync and rename of the same size.

``python .bench/store.py`` prints the ratio at 560, 15,000 and 150,000 events, in months of about
1,250 (goal: at most 4, and flat). ``--two-writers`` lets two processes write into one home for five
seconds and counts what is missing. ``--in DIR`` works on another disk than the one for temporary
files.
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
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pottyboard.core.events import Event
from pottyboard.store import Household, Record

SIZES = (560, 15_000, 150_000)
A_MONTH = 1_250
KINDS = ("pee", "both", "meal", "pee", "water", "nothing", "up", "settled")
ROUNDS, WARM_UP = 60, 5
GOAL = 4.0
SECONDS = 5.0


def fill(home: Path, number: int) -> tuple[Record, datetime]:
    """Return a record with so many events, the last of them just before the returned instant."""
    end = datetime(2026, 3, 20, tzinfo=UTC)
    step = timedelta(days=30.4) / A_MONTH
    start = end - number * step
    answers = {"name": "Bramble", "zone": "Europe/Oslo"}
    record = Household(home).create({**answers, "arrived": end.isoformat()}, end)
    months: dict[str, list[Event]] = {}
    for place in range(number):
        at = start + place * step
        event = Event(KINDS[place % 8], at, note="by the gate" if place % 5 == 0 else "", by="Ana")
        months.setdefault(f"{at:%Y-%m}", []).append(event)
    arrived = max(start, end - timedelta(days=3 * 365))
    record.save_answers({**answers, "arrived": arrived.isoformat()}, end)
    for number_of_change, (month, events) in enumerate(sorted(months.items()), 1):
        write_month(record, month, events, number_of_change)
    return record, end


def write_month(record: Record, month: str, events: list[Event], change: int) -> None:
    """Write a month's file as the store would have, without the arrival's limit."""
    from pottyboard.store.documents import document_of

    rows = {}
    for place, event in enumerate(events):
        row = {**document_of(event), "zone": "Europe/Oslo", "logged": event.at.isoformat()}
        entry_id = f"{event.at:%Y%m%d-%H%M}-{place:010x}"
        rows[entry_id] = {**row, "id": entry_id, "change": change}
    tables = {"about": {"file": {"schema": 1}}, "entries": rows, "trail": {}}
    path = record.folder / f"events-{month}.json"
    path.write_text(json.dumps(tables, separators=(",", ":")))
    path.chmod(0o600)


def bare(folder: Path, content: bytes) -> None:
    """Write, fsync, rename, fsync the folder: the least that keeps a file whole."""
    new = folder / "bare.new"
    descriptor = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    os.write(descriptor, content)
    os.fsync(descriptor)
    os.close(descriptor)
    os.replace(new, folder / "bare")
    descriptor = os.open(folder, os.O_RDONLY)
    os.fsync(descriptor)
    os.close(descriptor)


def timed(work: Callable[[], object]) -> float:
    """Return how many milliseconds it took."""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def compare(home: Path, number: int) -> tuple[float, float]:
    """Return the medians of an entry and of the bare save in milliseconds, taken in turns."""
    record, end = fill(home, number)
    shown = len(record.events)
    assert shown == number, (shown, number, record.notices)
    path = max(record.folder.glob("events-*.json"))
    event = Event("pee", end - timedelta(minutes=1), note="by the gate", by="Ana")
    ours, least = [], []
    for turn in range(ROUNDS + WARM_UP):
        entry = timed(lambda: record.add(event, end))
        content = path.read_bytes()
        floor = timed(lambda content=content: bare(home, content))  # type: ignore[misc]
        if turn >= WARM_UP:
            ours.append(entry)
            least.append(floor)
    return statistics.median(ours), statistics.median(least)


def cost(place: str | None) -> int:
    """Print the ratio at each size; return 1 if one misses the goal."""
    print(f"{'events':>9} {'entry':>9} {'bare':>9} {'ratio':>6}   goal {GOAL:g}")
    worst = 0.0
    for number in SIZES:
        with tempfile.TemporaryDirectory(dir=place) as home:
            ours, least = compare(Path(home), number)
        worst = max(worst, ours / least)
        print(f"{number:>9,} {ours:>6.2f} ms {least:>6.2f} ms {ours / least:>6.2f}", flush=True)
    return int(worst > GOAL)


def write_for_a_while(folder: str, name: str) -> None:
    """Log entries until the time is over; print each id once it is acknowledged."""
    record, now = Record(Path(folder)), datetime(2026, 3, 20, tzinfo=UTC)
    stop, number = time.monotonic() + SECONDS, 0
    while time.monotonic() < stop:
        number += 1
        at = now - timedelta(minutes=number % 20_000)
        print(record.add(Event("pee", at, id=f"{name}-{number}", by=name), now).id)
        if number % 10 == 0:
            record.edit(f"{name}-{number}", {"note": "corrected"}, now)


def two_writers(place: str | None) -> int:
    """Let two processes write, and count the acknowledged entries that are missing."""
    now = datetime(2026, 3, 20, tzinfo=UTC)
    with tempfile.TemporaryDirectory(dir=place) as home:
        answers = {"name": "Bramble", "zone": "UTC", "arrived": "2026-03-02 09:00"}
        folder = Household(Path(home)).create(answers, now).folder
        command = [sys.executable, __file__, "--writer", str(folder)]
        writers = [
            subprocess.Popen([*command, name], stdout=subprocess.PIPE, text=True)
            for name in ("ana", "ben")
        ]
        told = [writer.communicate()[0].split() for writer in writers]
        record = Record(folder)
        there = {event.id for event in record.events}
        corrected = sum(event.note == "corrected" for event in record.events)
        lost = [entry for entries in told for entry in entries if entry not in there]
        print(f"acknowledged {' + '.join(str(len(entries)) for entries in told)} entries")
        print(f"{corrected} corrections, {len(lost)} lost, notices: {record.notices or 'none'}")
        failed = any(writer.returncode for writer in writers) or bool(record.notices)
    return int(bool(lost) or failed)


def main() -> int:
    """Run what the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--two-writers", action="store_true")
    parser.add_argument("--in", dest="place", metavar="DIR")
    parser.add_argument("--writer", nargs=2, help=argparse.SUPPRESS)
    args = parser.parse_args()
    if args.writer:
        write_for_a_while(*args.writer)
        return 0
    return two_writers(args.place) if args.two_writers else cost(args.place)


if __name__ == "__main__":
    sys.exit(main())
