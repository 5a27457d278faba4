"""The order of the house: folders stand one above the other, and imports point down alone."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import pottyboard

PACKAGE = Path(pottyboard.__file__).parent
TERMINAL = frozenset({"textual", "rich"})

ORDER = (
    "core/written", "core/model", "core/statistics", "core/log", "core/estimate", "core/engine",
    "core/away", "core/accidents", "core/health", "core/transfer", "core/view", "core/patterns",
    "core/review", "core/coming", "core",
    "store/system", "store",
    "papers", "papers/calendars", "papers/handover", "papers/lookback",
    "board/text", "board/keys", "board/alarms", "board/control", "board/widgets", "board/dialogs",
    "board/panels", "board/set_up", "board/screens", "board",
    "cli/output", "cli/commands", "cli",
    "",
)  # fmt: skip
"""The folders from the floor to the roof: a module imports from its own folder or one before it."""

HOUSES: Mapping[str, tuple[str, str]] = {
    "core": ("core", "pendulum msgspec"),
    "store": ("core store", "tinydb filelock platformdirs pendulum msgspec"),
    "papers": ("core store papers", "icalendar pendulum rich msgspec"),
    "board": ("core store board", "textual rich pendulum msgspec tomlkit"),
    "cli": ("core store papers board cli", "rich pendulum msgspec"),
    "": ("cli", ""),
}
"""For each folder at the top: which of them, and which libraries, it may import."""

CROWDED = 16
"""Modules from which on a folder asks to be two."""
LONG = 400
"""Lines from which on a module asks to be two."""

MODULES = {
    ".".join(("pottyboard", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(
        ".__init__"
    ): path
    for path in sorted(PACKAGE.rglob("*.py"))
}


def folder_of(module: str, *, package: bool = False) -> str:
    """Return the folder that a module stands in, below the package; a package stands in itself."""
    parts = module.split(".")[1:]
    return "/".join(parts if package else parts[:-1])


FOLDER = {
    module: folder_of(module, package=path.name == "__init__.py")
    for module, path in MODULES.items()
}


def imported(source: str) -> Iterator[str]:
    """Yield the full name of all that is imported, anywhere in the file, ``TYPE_CHECKING`` too."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.level:
            yield "." * node.level + (node.module or "")
        elif isinstance(node, ast.ImportFrom):
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                yield whole if whole in MODULES else str(node.module)


def of_the_house(source: str) -> Iterator[str]:
    """Yield the modules of the package that a source imports."""
    yield from (name for name in imported(source) if name in MODULES)


def wrong_in(source: str, folder: str) -> list[str]:
    """Return the imports of a source that a module of this folder may not have."""
    houses, libraries = HOUSES[folder.split("/")[0]]
    wrong = []
    for name in imported(source):
        first = name.split(".")[0]
        if first == "pottyboard":
            to = FOLDER.get(name)
            fits = (
                to is not None
                and ORDER.index(to) <= ORDER.index(folder)
                and to.split("/")[0] in houses.split()
            )
        else:
            fits = first in sys.stdlib_module_names or first in libraries.split()
        if not fits:
            wrong.append(name)
    return wrong


def circle_in(arrows: Mapping[str, set[str]]) -> list[str]:
    """Return a circle of these arrows, empty if there is none."""
    try:
        tuple(TopologicalSorter(arrows).static_order())
    except CycleError as error:
        return [str(name) for name in error.args[1]]
    return []


def arrows_of(sources: Mapping[str, str]) -> dict[str, set[str]]:
    """Return for each module which others it imports."""
    return {name: set(of_the_house(text)) - {name} for name, text in sources.items()}


def arrows_of_folders(arrows: Mapping[str, set[str]]) -> dict[str, set[str]]:
    """Return the same for folders."""
    folders: dict[str, set[str]] = {}
    for name, others in arrows.items():
        folders.setdefault(FOLDER[name], set()).update(FOLDER[other] for other in others)
    return {folder: others - {folder} for folder, others in folders.items()}


def crowded_in(folders: Iterator[str]) -> list[str]:
    """Return the folders with too many modules; ``folders`` names one for each module."""
    return [folder for folder, count in Counter(folders).items() if count > CROWDED]


SOURCES = {name: path.read_text("utf-8") for name, path in MODULES.items()}


@pytest.mark.parametrize("folder", ORDER)
def test_a_folder_imports_only_what_stands_below_it(folder: str) -> None:
    found = {
        name: wrong
        for name, source in SOURCES.items()
        if FOLDER[name] == folder and (wrong := wrong_in(source, folder))
    }
    assert found == {}


def test_every_folder_has_its_place() -> None:
    assert set(FOLDER.values()) - {"board", "cli"} <= set(ORDER)


def test_no_modules_and_no_folders_import_each_other_in_a_circle() -> None:
    arrows = arrows_of(SOURCES)
    assert circle_in(arrows) == []
    assert circle_in(arrows_of_folders(arrows)) == []


def test_no_folder_is_crowded_and_no_module_long() -> None:
    modules = [name for name, path in MODULES.items() if path.name != "__init__.py"]
    assert crowded_in(FOLDER[name] for name in modules) == []
    assert [name for name in MODULES if len(SOURCES[name].splitlines()) > LONG] == []


def test_the_package_itself_holds_its_two_doors_alone() -> None:
    assert {path.name for path in PACKAGE.glob("*.py")} == {"__init__.py", "__main__.py"}


def test_the_statistics_know_no_dog() -> None:
    for name, source in SOURCES.items():
        if FOLDER[name] == "core/statistics":
            assert {FOLDER[other] for other in of_the_house(source)} <= {"core/statistics"}, name


@pytest.mark.parametrize(
    ("source", "folder", "wrong"),
    [
        ("import rich", "core/model", ["rich"]),
        ("def f():\n    from pottyboard.store import DogLog", "core/view", ["pottyboard.store"]),
        ("from pottyboard.cli import main", "board", ["pottyboard.cli.main"]),
        ("from pottyboard.core.view import jobs", "core/engine", ["pottyboard.core.view.jobs"]),
        ("from pottyboard.papers import plain", "board", ["pottyboard.papers.plain"]),
        (
            "if TYPE_CHECKING:\n    from pottyboard.board.app import BoardApp",
            "board/widgets",
            ["pottyboard.board.app"],
        ),
        ("from . import disk", "store", ["."]),
        ("import textual.app", "cli", ["textual.app"]),
        ("import math, pendulum\nfrom pottyboard.core.model import figures", "core/view", []),
    ],
)
def test_a_wrong_arrow_is_seen(source: str, folder: str, wrong: list[str]) -> None:
    assert wrong_in(source, folder) == wrong


def test_a_planted_circle_is_seen() -> None:
    plan, events = "pottyboard.core.model.plan", "pottyboard.core.model.events"
    planted = {**SOURCES, events: f"{SOURCES[events]}\nif TYPE_CHECKING:\n    import {plan}"}
    circle = circle_in(arrows_of(planted))
    assert {plan, events} <= set(circle)
    days, state = "pottyboard.core.engine.days", "pottyboard.core.log.state"
    planted = {**SOURCES, state: f"{SOURCES[state]}\nfrom {days} import Day"}
    assert {"core/log", "core/engine"} <= set(circle_in(arrows_of_folders(arrows_of(planted))))


def test_a_seventeenth_module_is_seen() -> None:
    assert crowded_in(iter(["core/view"] * 16)) == []
    assert crowded_in(iter(["core/view"] * 17)) == ["core/view"]


def loaded_by(code: str) -> set[str]:
    """Return the top-level modules that a fresh interpreter has loaded after ``code``."""
    code += "\nimport sys; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_core_loads_neither_a_terminal_nor_a_database() -> None:
    loaded = loaded_by(
        "\n".join(f"import {name}" for name in MODULES if FOLDER[name].split("/")[0] == "core")
    )
    assert "pendulum" in loaded
    assert loaded.isdisjoint(TERMINAL | {"tinydb", "filelock", "platformdirs", "numpy", "scipy"})


def test_the_command_line_loads_no_terminal() -> None:
    assert loaded_by("import pottyboard.cli.main").isdisjoint(TERMINAL)


def test_the_door_of_the_board_loads_no_terminal() -> None:
    assert loaded_by("import pottyboard.board").isdisjoint(TERMINAL)


def test_nothing_private_of_the_terminal_library_is_used() -> None:
    for name, source in SOURCES.items():
        for full in imported(source):
            private = full.startswith("textual") and any(
                part.startswith("_") for part in full.split(".")
            )
            assert not private, f"{name}: {full}"
        assert "event._sender" not in source, name


OUTSIDE_WORLD = {"asyncio", "io", "logging", "os", "pathlib", "random", "secrets", "shutil"}
OUTSIDE_WORLD |= {"socket", "subprocess", "sys", "tempfile", "threading", "time"}


def test_core_has_no_clock_and_touches_nothing_outside() -> None:
    for name, source in SOURCES.items():
        if FOLDER[name].split("/")[0] != "core":
            continue
        assert {full.split(".")[0] for full in imported(source)}.isdisjoint(OUTSIDE_WORLD), name
        for node in ast.walk(ast.parse(source)):
            if isinstance(node, ast.Call) and not node.args:
                called = node.func
                word = called.attr if isinstance(called, ast.Attribute) else ""
                assert word not in ("now", "today", "utcnow"), f"{name}:{node.lineno}"
