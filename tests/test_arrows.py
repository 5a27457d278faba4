"""Imports point one way: board, papers and cli to store, store to core, core to no other room."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

import pottyboard

PACKAGE = Path(pottyboard.__file__).parent
TERMINAL = frozenset({"textual", "rich"})


@dataclass(frozen=True)
class Room:
    """What a room may import: other rooms, and libraries beside the standard one."""

    rooms: frozenset[str]
    libraries: frozenset[str]


def _room(rooms: str, libraries: str = "") -> Room:
    return Room(frozenset(rooms.split()), frozenset(libraries.split()))


ROOMS = {
    "core": _room("core", "pendulum"),
    "store": _room("store core", "tinydb filelock platformdirs pendulum"),
    "papers": _room("papers store core", "icalendar pendulum rich"),
    "board": _room("board store core", "textual rich pendulum"),
    "options": _room("log_options transfer_options core"),
    "log_options": _room("core"),
    "transfer_options": _room("log_options core"),
    "written": _room("papers store"),
    "handover": _room("written papers store core"),
    "progress": _room("", "rich"),
    "reading": _room("progress written papers store core"),
    "transfer": _room("progress written papers store core"),
    "dogs": _room("papers store core"),
    "cli": _room(
        "dogs options log_options handover reading transfer papers store core board", "pendulum"
    ),
    "__main__": _room("cli"),
    "__init__": _room(""),
}
MODULES = sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    """Return the room of a module: its folder in the package, or its own name."""
    first = path.relative_to(PACKAGE).parts[0]
    return first.removesuffix(".py")


def imported(tree: ast.AST) -> Iterator[str]:
    """Yield the full name of every module that is imported, anywhere in the file."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.level:
            yield "." * node.level + (node.module or "")
        elif isinstance(node, ast.ImportFrom) and node.module == "pottyboard":
            yield from (f"pottyboard.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield str(node.module)


def wrong_in(source: str, room: str) -> list[str]:
    """Return the imports of a module's source that its room may not have."""
    allowed = ROOMS[room]
    wrong = []
    for name in imported(ast.parse(source)):
        first, _, rest = name.partition(".")
        if first == "pottyboard":
            fits = rest.split(".")[0] in {*allowed.rooms, "__version__"}
        else:
            fits = first in sys.stdlib_module_names or first in allowed.libraries
        if not fits:
            wrong.append(name)
    return wrong


@pytest.mark.parametrize("room", sorted(ROOMS))
def test_a_room_imports_only_what_it_may(room: str) -> None:
    found = {
        str(path.relative_to(PACKAGE)): wrong
        for path in MODULES
        if room_of(path) == room and (wrong := wrong_in(path.read_text("utf-8"), room))
    }
    assert found == {}


def test_the_statistics_know_no_dog() -> None:
    for path in (PACKAGE / "core" / "statistics").glob("*.py"):
        names = imported(ast.parse(path.read_text("utf-8")))
        core = [name for name in names if name.startswith("pottyboard")]
        assert all(name.startswith("pottyboard.core.statistics.") for name in core), path.name


def test_every_module_belongs_to_a_room() -> None:
    assert {room_of(path) for path in MODULES} <= set(ROOMS)


@pytest.mark.parametrize(
    ("source", "room", "wrong"),
    [
        ("import rich", "core", ["rich"]),
        ("def f():\n    from pottyboard.store import Record", "core", ["pottyboard.store"]),
        ("from pottyboard import cli", "board", ["pottyboard.cli"]),
        ("from . import record", "store", ["."]),
        ("import textual.app", "cli", ["textual.app"]),
        ("import math, pendulum\nfrom pottyboard.core import figures", "core", []),
    ],
)
def test_a_wrong_arrow_is_seen(source: str, room: str, wrong: list[str]) -> None:
    assert wrong_in(source, room) == wrong


def loaded_by(code: str) -> set[str]:
    """Return the top-level modules that a fresh interpreter has loaded after ``code``."""
    code += "\nimport sys; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_core_loads_neither_a_terminal_nor_a_database() -> None:
    paths = [path.relative_to(PACKAGE.parent) for path in MODULES if room_of(path) == "core"]
    modules = [f"import {'.'.join(path.with_suffix('').parts)}" for path in paths]
    loaded = loaded_by("\n".join(modules))
    assert "pendulum" in loaded
    assert loaded.isdisjoint(TERMINAL | {"tinydb", "filelock", "platformdirs", "numpy", "scipy"})


def test_the_command_line_loads_no_terminal() -> None:
    assert loaded_by("import pottyboard.cli").isdisjoint(TERMINAL)


def test_the_door_of_the_board_loads_no_terminal() -> None:
    assert loaded_by("import pottyboard.board").isdisjoint(TERMINAL)


OUTSIDE_WORLD = {"asyncio", "io", "logging", "os", "pathlib", "random", "secrets", "shutil"}
OUTSIDE_WORLD |= {"socket", "subprocess", "sys", "tempfile", "threading", "time"}


def test_core_has_no_clock_and_touches_nothing_outside() -> None:
    for path in MODULES:
        if room_of(path) != "core":
            continue
        tree = ast.parse(path.read_text("utf-8"))
        assert {name.split(".")[0] for name in imported(tree)}.isdisjoint(OUTSIDE_WORLD), path.name
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and not node.args:
                called = node.func
                name = called.attr if isinstance(called, ast.Attribute) else ""
                assert name not in ("now", "today", "utcnow"), f"{path.name}:{node.lineno}"
