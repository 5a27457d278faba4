"""Completion is asked in the shells themselves, those that this machine has."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from pottyboard.board.keys.handbook import TOPICS, HelpTopic, topic_text
from pottyboard.cli.commands.completion import EVERYWHERE, taken
from pottyboard.cli.commands.table import COMMANDS
from pottyboard.cli.output.completion import SHELLS, Option, Taken
from pottyboard.core.model.events import CHOICES, KINDS
from tests.cli.shell import Shell

Ask = Callable[[str, str], set[str]]
"""Returns what a shell offers for a line, given the script."""


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in an empty home."""
    return Shell(tmp_path / "home", capsys)


def said(*words: str) -> str:
    return subprocess.run(words, capture_output=True, text=True, check=True, timeout=60).stdout


def bash(script: str, line: str) -> set[str]:
    words = line.split(" ")
    ask = 'COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _pottyboard; printf "%s\\n" "${COMPREPLY[@]}"'
    return set(said("bash", "--norc", "-c", f"{script}\n{ask}", "bash", *words).split())


def zsh(script: str, line: str) -> set[str]:
    """Ask the function itself: ``_describe`` and ``_files`` print, in place of the menu."""
    words = line.split(" ")
    ask = (
        'words=("$@"); CURRENT=$#; _describe() { print -l -- "${(@P)2}" }; _files() {}\n_pottyboard'
    )
    out = said("zsh", "-f", "-c", f"{script}\n{ask}", "zsh", *words)
    begun = words[-1]
    return {row.split(":")[0] for row in out.splitlines() if row.startswith(begun)}


def fish(script: str, line: str) -> set[str]:
    out = said("fish", "--no-config", "-c", f"{script}\ncomplete -C '{line}'")
    return {row.split("\t")[0] for row in out.splitlines()}


ASKS: dict[str, Ask] = {"bash": bash, "zsh": zsh, "fish": fish}


@pytest.fixture(scope="module", params=ASKS)
def asked(request: pytest.FixtureRequest) -> Callable[[str], set[str]]:
    name = request.param
    if shutil.which(name) is None:
        pytest.skip(f"no {name} at hand")
    script = SHELLS[name]([*taken()], EVERYWHERE)
    return lambda line: ASKS[name](script, line)


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("pottyboard lo", {"log"}),
        ("pottyboard re", {"review", "restore"}),
        ("pottyboard log pee-", {"pee-inside"}),
        ("pottyboard log --si", {"--sign"}),
        ("pottyboard log --surface t", {"tiles"}),
        ("pottyboard --home /tmp log --slee", {"--sleep"}),
        ("pottyboard log pee --pl", {"--place"}),
        ("pottyboard setup --risk e", {"easy"}),
        ("pottyboard setup --colours d", {"daylight"}),
        ("pottyboard help ki", {"kinds"}),
        ("pottyboard help un", {"undo"}),
        ("pottyboard completion f", {"fish"}),
        ("pottyboard now --js", {"--json"}),
    ],
)
def test_a_shell_offers_what_fits(
    asked: Callable[[str], set[str]], line: str, offered: set[str]
) -> None:
    assert asked(line) == offered


def test_every_command_is_offered(asked: Callable[[str], set[str]]) -> None:
    assert {command.name for command in COMMANDS} <= asked("pottyboard ")


def test_every_kind_is_offered(asked: Callable[[str], set[str]]) -> None:
    assert set(KINDS) <= asked("pottyboard log ")


@pytest.mark.parametrize("line", ["pottyboard log --note p", "pottyboard --dog l"])
def test_a_free_text_is_left_alone(asked: Callable[[str], set[str]], line: str) -> None:
    assert not asked(line) & {*KINDS, "log"}


HOSTILE = Taken(
    "odd", 'it\'s $HOME `here` \\ "now"', (Option("--o", "an owner's $(echo no) \\"),), ("w",)
)


@pytest.mark.parametrize("name", ASKS)
def test_words_are_never_run(name: str) -> None:
    if shutil.which(name) is None:
        pytest.skip(f"no {name} at hand")
    script = SHELLS[name]([HOSTILE], EVERYWHERE)
    assert ASKS[name](script, "pottyboard od") == {"odd"}
    assert ASKS[name](script, "pottyboard odd --o") >= {"--o"}


def test_whatever_a_command_takes_is_known() -> None:
    by_name = {each.name: each for each in taken()}
    assert by_name.keys() == {"help", *(command.name for command in COMMANDS)}
    log = {option.flag: option for option in by_name["log"].options}
    assert len(log["--sign"].values) == len(CHOICES["sign"])
    assert "--rest" not in log  # an older name
    assert all(option.help for each in by_name.values() for option in each.options)


def test_the_command_prints_the_script(shell: Shell) -> None:
    for name in SHELLS:
        done = shell.run("completion", name)
        assert done.code == 0
        assert done.out == SHELLS[name]([*taken()], EVERYWHERE)
    assert shell.run("completion", "csh").code == 2


@pytest.mark.parametrize("topic", TOPICS, ids=lambda topic: topic.name)
def test_a_topic_is_explained(shell: Shell, topic: HelpTopic) -> None:
    done = shell.run("help", topic.name)
    assert done.code == 0
    assert done.out == topic_text(topic, {}, "drawn") + "\n"
    assert max(map(len, done.out.splitlines())) <= 100
    assert topic.name in shell.run("help").out


def test_a_topic_that_is_not_there_names_the_nearest(shell: Shell) -> None:
    assert re.search("Did you mean states", shell.run("help", "stats").err)
