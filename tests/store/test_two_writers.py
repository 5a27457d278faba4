"""Two processes that write to one home at the same time: neither loses a thing.

POTTYBOARD_FULL=1 lets them write for five seconds instead of a fixed number of changes.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from subprocess import PIPE, CompletedProcess, Popen

import pottyboard
from pottyboard.store import DogLog
from pottyboard.store.damage import parse
from tests.store.house import new_dog_log
from tests.store.stock import StockRecord

CHANGES = 150
SECONDS = 5.0 if os.environ.get("POTTYBOARD_FULL") else 0.0


def write_together(folder: Path, stock: bool) -> list[CompletedProcess[str]]:
    """Let two processes write to one folder; return what each printed."""
    command = [sys.executable, str(Path(__file__).with_name("two_writers.py")), str(folder)]
    command += [str(CHANGES), str(SECONDS), "stock" if stock else "ours"]
    root = str(Path(pottyboard.__file__).parent.parent)
    environ = {**os.environ, "PYTHONPATH": root}
    writers = [
        Popen([*command, name], text=True, env=environ, stdin=PIPE, stdout=PIPE, stderr=PIPE)
        for name in ("Ana", "Ben")
    ]
    for writer in writers:
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
    for writer in writers:
        assert writer.stdin is not None
        writer.stdin.write("go\n")
        writer.stdin.flush()
    outcomes = []
    for writer in writers:
        out, err = writer.communicate()
        outcomes.append(CompletedProcess(command, writer.returncode, out, err))
    return outcomes


def test_two_writers_lose_nothing(tmp_path: Path) -> None:
    folder = new_dog_log(tmp_path).folder
    wanted: dict[str, str] = {}
    for outcome in write_together(folder, stock=False):
        assert outcome.returncode == 0, outcome.stderr
        wanted |= json.loads(outcome.stdout)
    dog_log = DogLog(folder)
    assert {event.id: event.note for event in dog_log.events} == wanted
    assert dog_log.notices == ()
    numbers = [
        row["change"]
        for path in folder.glob("events-*.json")
        for table in ("entries", "trail")
        for row in parse(path.read_bytes())[table].values()
    ]
    assert len(set(numbers)) >= CHANGES  # no two changes took the same number
    print(f"{len(wanted)} entries of {max(numbers)} changes, none lost")


def test_stock_storage_would_not_survive_them(tmp_path: Path) -> None:
    outcomes = write_together(tmp_path, stock=True)
    wanted: dict[str, str] = {}
    for outcome in outcomes:
        if outcome.returncode != 0:
            return  # it met a file that the other had only half written
        wanted |= json.loads(outcome.stdout)
    try:
        found = {event.id: event.note for event in StockRecord(tmp_path).events}
    except ValueError:
        return
    assert found != wanted
