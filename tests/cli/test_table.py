"""The table of commands: each row is whole, and typing one command loads only its own room."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from pottyboard.cli.commands.table import BOARD, COMMANDS, Command
from tests.cli.shell import Shell


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in an empty home."""
    return Shell(tmp_path / "home", capsys)


@pytest.mark.parametrize("command", [*COMMANDS], ids=lambda command: command.name)
def test_a_row_has_its_functions_and_examples(command: Command) -> None:
    assert callable(command.run)
    assert callable(command.add_options)
    assert command.help[0].islower()
    assert not command.help.endswith(".")
    assert all(example.startswith(f"pottyboard {command.name}") for example in command.examples)


def test_no_name_stands_twice() -> None:
    names = [name for each in COMMANDS for name in (each.name, each.also) if name]
    assert len(names) == len(set(names))
    assert callable(BOARD.run)


def test_help_is_a_command_too(shell: Shell) -> None:
    assert shell.run("help") == shell.run("--help")
    assert shell.run("help", "log") == shell.run("log", "--help")
    lines = shell.run("help").out.splitlines()
    assert all(f"  {each.name:8} {each.help}" in lines for each in COMMANDS)


def test_the_kinds_come_before_the_options(shell: Shell) -> None:
    out = shell.run("log", "--help").out
    assert (
        out.index("  pee-inside   pee indoors") < out.index("  --at WHEN") < out.index("examples:")
    )


def test_an_older_name_still_works_and_is_not_shown(shell: Shell) -> None:
    shell.set_up()
    assert shell.run("report", "--help") == shell.run("message", "--help")
    assert shell.type('report "11:10 pee" --by Mina').code == 0
    assert "  report" not in shell.run("help").out


@pytest.mark.parametrize(
    ("typed", "absent"),
    [
        ("now", {"textual", "rich", "icalendar", "difflib", "csv", "numpy",
                 "filelock", "platformdirs", "pottyboard.core.transfer.reports",
                 "pottyboard.cli.commands.log", "pottyboard.cli.commands.transfer",
                 "pottyboard.core.review.past_day", "pottyboard.papers.replies"}),
        ("log pee", {"textual", "rich", "icalendar", "pottyboard.cli.commands.transfer",
                     "pottyboard.cli.commands.now", "pottyboard.core.transfer.reports"}),
        ("undo", {"textual", "rich", "icalendar", "pottyboard.cli.commands.log"}),
    ],
)  # fmt: skip
def test_a_command_loads_only_what_it_needs(shell: Shell, typed: str, absent: set[str]) -> None:
    shell.set_up()
    shell.type("log pee --ago 1")
    code = (
        "import sys; from pottyboard.cli.main import main; code = main(sys.argv[1:])\n"
        "print(code, *sys.modules, file=sys.stderr)"
    )
    words = [sys.executable, "-c", code, "--home", str(shell.home), *typed.split()]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    left, *loaded = done.stderr.split()
    assert left == "0"
    assert sorted(absent & set(loaded)) == []
