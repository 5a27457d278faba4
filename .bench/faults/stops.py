"""Kills and failing system calls: each call of each change in turn, by a shim in the C library.

A child is forked for each try. It arms the shim, makes one change, and says how that ended; the
parent then looks at the disk without any fault.
"""

from __future__ import annotations

import ctypes
import errno
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from faults.homes import NOW, Held, copy_of, held, log_of, run, table_of, told
from pottyboard.core.model.events import Event

KILL = 0
ERRORS = (errno.EIO, errno.ENOSPC, errno.EACCES)
MOST_CALLS = 2000


class Tried(NamedTuple):
    """One try: its class, what was tried, and what is wrong with how it ended, empty if nothing."""

    group: str
    what: str
    wrong: str


Change = Callable[[Path, Path], object]

CHANGES: dict[str, Change] = {
    "log": lambda home, table: run(home, "--dog", "rex", "log", "pee", "--ago", "5"),
    "log for two dogs": lambda home, table: run(
        home, "--dog", "rex", "log", "pee-inside", "--unsure", "--ago", "5"
    ),
    "correction into another month": lambda home, table: log_of(home, "rex").edit(
        "rex-11", {"at": NOW.replace(month=3, day=20)}, NOW
    ),
    "deletion": lambda home, table: log_of(home, "rex").delete("rex-15", NOW),
    "undo": lambda home, table: run(home, "--dog", "rex", "undo"),
    "import over months": lambda home, table: run(
        home, "--dog", "rex", "import", str(table), "--yes"
    ),
    "setup": lambda home, table: run(home, "--dog", "rex", "setup", "--bed", "22:17"),
    "export": lambda home, table: run(
        home, "--dog", "rex", "export", "--csv", str(home / "out.csv")
    ),
    "restore": lambda home, table: run(home, "--dog", "rex", "restore", "1", "--yes"),
    "now": lambda home, table: run(home, "--dog", "rex", "now"),
    "check": lambda home, table: run(home, "check"),
}


def shim() -> Path | None:
    """Return the shim, built where there is a compiler."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if compiler is None or sys.platform != "linux":
        return None
    built = Path(os.environ.get("TMPDIR", "/tmp")) / f"faults-shim-{os.getuid()}.so"
    source = Path(__file__).with_name("shim.c")
    if not built.exists() or built.stat().st_mtime < source.stat().st_mtime:
        command = [compiler, "-shared", "-fPIC", "-O1", "-o", str(built), str(source), "-ldl"]
        if subprocess.run(command, check=False).returncode:
            return None
    return built


def _tried(home: Path, table: Path, change: Change, number: int, error: int, last: bool) -> Any:
    """Make a change in a child with the n-th call failing; return how it ended, None if killed."""
    library = ctypes.CDLL(None)
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        outcome: dict[str, Any] = {"code": 0, "said": ""}
        library.faults_arm(str(home).encode(), number, error, int(last))
        try:
            done = change(home, table)
            if isinstance(done, tuple):
                outcome = {"code": done[0], "said": done[1]}
        except Exception as refused:
            outcome = {"code": 1, "said": str(refused)}
            if type(refused).__name__ not in ("StoreError", "EventError", "HalfSavedError"):
                outcome = {"code": None, "said": f"{type(refused).__name__}: {refused}"}
        library.faults_disarm()
        outcome["failed"] = bool(library.faults_failed())
        os.write(writer, json.dumps(outcome).encode()[:60_000])
        os._exit(0)
    os.close(writer)
    said = b""
    while piece := os.read(reader, 65536):
        said += piece
    os.close(reader)
    os.waitpid(child, 0)
    return json.loads(said) if said else None


def _plain(found: Held) -> Held:
    """Return what a home holds without what differs from run to run: ids and times of logging."""
    plain: Held = {}
    for dog, holds in found.items():
        rows = [
            {k: v for k, v in row.items() if k not in ("id", "logged", "about")}
            for row in holds["entries"].values()
        ]
        rows.sort(key=lambda row: json.dumps(row, sort_keys=True))
        plain[dog] = {"answers": holds["answers"], "entries": rows}
    return plain


def _wrong(home: Path, before: Held, after: Held, outcome: Any) -> str:
    """Return what is wrong with a home after a try, empty if nothing."""
    try:
        complaint = told(home)
        found = _plain(held(home))
    except Exception as error:
        return f"unreadable: {type(error).__name__}: {error}"
    if complaint:
        return f"damaged: {complaint[:300]}"
    if found not in (before, after):
        return "neither as before nor as wanted"
    if outcome is None:
        return ""
    said, code = outcome["said"], outcome["code"]
    if code is None or "Traceback" in said:
        return f"a traceback: {said[-200:]}"
    if code == 0 and found != after:
        return "said done, and is not"
    unsure = "Perhaps" in said or "It is done in the log of" in said
    if code != 0 and found == after and before != after and not unsure:
        return f"said refused, and is done: {said[-200:]}"
    return ""


def stops(home: Path, long: bool, seed: int) -> Iterator[Tried]:
    """Yield a try for each call of each change: killed there, or failing in each way."""
    ctypes.CDLL(None).faults_disarm()
    table = table_of(home.with_name("paper.csv"))
    chance = random.Random(seed)
    for name, change in CHANGES.items():
        before = _plain(held(home))
        whole = copy_of(home, "whole")
        change(whole, table)
        after = _plain(held(whole))
        ways: list[tuple[str, int, bool]] = [("kill", KILL, False)]
        ways += [("call fails once", error, False) for error in ERRORS]
        ways += [("call fails from then on", error, True) for error in ERRORS[:2]]
        for group, error, last in ways:
            number = 0
            while number < MOST_CALLS:
                copy = copy_of(home, "try")
                outcome = _tried(copy, table, change, number, error, last)
                if outcome is not None and not outcome["failed"]:
                    break
                what = f"{name}, call {number}, {os.strerror(error) if error else 'killed'}"
                yield Tried(group, what, _wrong(copy, before, after, outcome))
                # The short form leaves calls out by chance, another choice with each seed.
                number += 1 if long else chance.randrange(1, 12)


def timed_kills(home: Path, times: int, seed: int) -> Iterator[Tried]:
    """Yield kills at a random moment of a random change, each on what the one before left."""
    chance = random.Random(seed)
    table = table_of(home.with_name("paper.csv"))
    copy = copy_of(home, "killed")
    pace = 0.02
    for number in range(times):
        if number % 50 == 0:
            copy = copy_of(home, "killed")
        name = chance.choice([name for name in CHANGES if name != "check"])
        before = {dog: set(found["entries"]) for dog, found in held(copy).items()}
        child = os.fork()
        if child == 0:
            try:
                CHANGES[name](copy, table)
            finally:
                os._exit(0)
        time.sleep(chance.uniform(0, 2 * pace))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        wrong = ""
        try:
            after = {dog: set(found["entries"]) for dog, found in held(copy).items()}
            lost = sum(len(before[dog] - after.get(dog, set())) for dog in before)
            allowed = len(before["rex"]) if name == "undo" else 1 if name == "deletion" else 0
            if lost > allowed:
                wrong = f"{lost} entries lost"
            elif complaint := told(copy):
                wrong = f"damaged: {complaint[:300]}"
        except Exception as error:
            wrong = f"unreadable: {type(error).__name__}: {error}"
        yield Tried("kill at a random moment", f"{name}, {number}", wrong)
        if wrong:
            copy = copy_of(home, "killed")


def several_writers(home: Path, writers: int, changes: int) -> Iterator[Tried]:
    """Yield how many processes that write at once fared, while another one looks all the time."""
    children = []
    for writer in range(writers):
        child = os.fork()
        if child == 0:
            log = log_of(home, "rex")
            try:
                for number in range(changes):
                    event = Event("pee", NOW, f"writer-{writer}-{number}", note="n" * number)
                    log.add(event, NOW)
                    if number % 3 == 0:
                        log.edit(event.id, {"note": "again"}, NOW)
                os._exit(0)
            except BaseException:
                os._exit(1)
        children.append(child)
    board, looked = log_of(home, "rex"), 0
    while children:
        board.changed()
        looked += len(board.events) > 0
        ended, status = os.waitpid(children[0], os.WNOHANG)
        if ended:
            children.pop(0)
            yield Tried("several writers", "a writer", "it failed" if status else "")
    ids = set(held(home)["rex"]["entries"])
    for writer in range(writers):
        for number in range(changes):
            lost = f"writer-{writer}-{number}" not in ids
            yield Tried("several writers", "an entry", "lost" if lost else "")
    complaint = told(home)
    yield Tried("several writers", f"the board, {looked} looks", complaint[:200])
