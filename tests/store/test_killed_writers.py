"""Writers killed at random moments: what was acknowledged is there, and every file is whole."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

import pottyboard
from pottyboard.store import Household, Record

from .writer import NOW

KILLS = 200
SEED = 20260302
ANSWERS = {"name": "Bramble", "zone": "UTC", "arrived": "2026-03-02 09:00"}
WRITER = Path(__file__).with_name("writer.py")

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


def notes_in(record: Record) -> dict[str, str]:
    """Return what the log says: the note of each entry by id."""
    return {event.id: event.note for event in record.events}


def kill_writers(folder: Path, kills: int, *mode: str) -> int:
    """Kill a writer so many times; assert after each that nothing is lost; count the changes."""
    rng, log, acknowledged = random.Random(SEED), notes_in(Record(folder)), 0
    command = [sys.executable, str(WRITER), str(folder), *mode]
    environ = {**os.environ, "PYTHONPATH": str(Path(pottyboard.__file__).parent.parent)}
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    with subprocess.Popen(command, env=environ, **pipes) as writer:  # type: ignore[call-overload]

        def told() -> list[Any]:
            line = writer.stdout.readline()
            assert line, "the writer ended by itself"
            return json.loads(line)  # type: ignore[no-any-return]

        for _ in range(kills):
            writer.stdin.write(f"{rng.randrange(10**9)}\n".encode())
            writer.stdin.flush()
            lines = [told()]
            while lines[-1][0] != "pid":  # the child may be faster than its parent
                lines.append(told())
            child = int(lines[-1][1])
            # A few changes go through; the kill falls anywhere within the next.
            wanted, begun, took = rng.randrange(4), time.monotonic(), 0.01
            while sum(word == "done" for word, *_ in lines) < wanted:
                lines.append(told())
                took = time.monotonic() - begun
            time.sleep(rng.random() * took / max(wanted, 1))
            os.kill(child, signal.SIGKILL)
            while lines[-1][0] != "dead":
                lines.append(told())
            open_change: tuple[str, str | None] | None = None
            for word, *change in lines:
                if word == "done":
                    acknowledged += 1
                    open_change = None
                    put(log, *change)
                elif word == "try":
                    open_change = (change[0], change[1])
            log = survived(folder, log, open_change)
    return acknowledged


def put(log: dict[str, str], entry_id: str, note: str | None) -> None:
    """Make one change in what the log must say."""
    log.pop(entry_id, None)
    if note is not None:
        log[entry_id] = note


def survived(
    folder: Path, log: dict[str, str], open_change: tuple[str, str | None] | None
) -> dict[str, str]:
    """Assert that files are whole and hold the log, with or without the change being made."""
    for path in folder.glob("*.json"):
        json.loads(path.read_bytes())
    record = Record(folder)
    found = notes_in(record)
    assert record.notices == ()
    assert not list(folder.glob("*.kept"))
    if found != log and open_change is not None:
        put(log, *open_change)
    assert found == log
    return found


def test_no_acknowledged_change_is_lost_by_a_kill(tmp_path: Path) -> None:
    record = Household(tmp_path).create(ANSWERS, NOW)
    assert kill_writers(record.folder, KILLS) > KILLS


def test_the_same_kills_find_fault_with_writing_in_place(tmp_path: Path) -> None:
    record = Household(tmp_path).create(ANSWERS, NOW)
    with pytest.raises((AssertionError, json.JSONDecodeError)):
        kill_writers(record.folder, KILLS, "plain")
