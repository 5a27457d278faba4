"""Homes to try things on, and what they hold, read back without any fault."""

from __future__ import annotations

import contextlib
import io
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple

from pottyboard.cli import main as _main
from pottyboard.core.model.events import Event
from pottyboard.store import Household
from pottyboard.store.documents import document_of

NOW = datetime(2026, 4, 2, 12, 0, tzinfo=UTC)
SET_UP = (
    "setup", "--weight", "8", "--zone", "Europe/Oslo", "--arrived", "2026-03-02 09:00",
    "--bed", "22:30", "--another", "--name",
)  # fmt: skip


class Done(NamedTuple):
    """What a command left: its exit code (None: killed by an error), and what it said."""

    code: int | None
    said: str


def run(home: Path, *words: str, now: datetime = NOW) -> Done:
    """Type a command."""
    run_main: Callable[..., int] = vars(_main)["main"] if isinstance(_main, ModuleType) else _main
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        try:
            code: int | None = run_main(["--home", str(home), *words], clock=lambda: now)
        except SystemExit as left:
            code = int(left.code or 0)
        except Exception as error:
            out.write(f"Traceback: {type(error).__name__}: {error}")
            code = None
    return Done(code, out.getvalue())


def log_of(home: Path, dog: str) -> Any:
    """Return a dog's log, as whatever the store calls it."""
    household = Household(home)
    return getattr(household, "dog_log", getattr(household, "record", None))(dog)  # type: ignore[misc]


Held = dict[str, Any]


def held(home: Path) -> Held:
    """Return all that a home holds: each dog's answers and entries by id."""
    found: Held = {}
    for dog in Household(home).dogs():
        log = log_of(home, dog)
        rows = {event.id: document_of(event) for event in log.events}
        found[dog] = {"answers": log.answers, "entries": rows}
    return found


def told(home: Path) -> str:
    """Return what ``check`` says of a home, empty where nothing is wrong."""
    done = run(home, "check")
    return "" if done.code == 0 else done.said


def filled(home: Path) -> Path:
    """Make a home with two dogs, entries in two months, a correction and a deletion."""
    run(home, *SET_UP, "Rex")
    run(home, *SET_UP, "Fern")
    for dog in ("rex", "fern"):
        log = log_of(home, dog)
        for hours in (*range(3, 23, 4), *range(680, 700, 4)):
            at = NOW - timedelta(hours=hours)
            event = Event("pee", at, f"{dog}-{hours}", "Mina", f"after {hours} hours")
            log.add(event, NOW)
        log.edit(f"{dog}-3", {"note": "corrected"}, NOW)
        log.delete(f"{dog}-7", NOW)
    return home


def copy_of(home: Path, name: str) -> Path:
    """Return a fresh copy of a home under a name of its own."""
    copy = home.with_name(name)
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(home, copy, symlinks=True)
    return copy


def table_of(path: Path) -> Path:
    """Write a paper log over two months, to be imported."""
    rows = ["Date,Time,What,Note"]
    for day in range(3, 31, 3):
        rows.append(f"2026-03-{day:02},10:05,pee,out {day}")
    rows += ["2026-04-01,09:00,poop,first", "2026-04-01,11:00,pee,second"]
    path.write_text("\n".join(rows) + "\n", "utf-8")
    return path
