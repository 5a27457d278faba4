"""The household's own program: played by scripts that work, fail, hang, or are not there."""

from __future__ import annotations

import os
import stat
import time
from pathlib import Path

import pytest

from pottyboard.board.alarms import notifier
from pottyboard.board.alarms.notifier import Notifier, shown_by

pytestmark = pytest.mark.skipif(os.name != "posix", reason="the scripts are for sh")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of programs, the only ones beside the system's own."""
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    return tmp_path


def script(folder: Path, name: str, body: str) -> None:
    """Write a program."""
    path = folder / name
    path.write_text(f"#!/bin/sh\n{body}\n")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)


def until_over(shown: Notifier) -> None:
    """Wait for the program to end."""
    deadline = time.monotonic() + 30
    while shown.is_busy:
        assert time.monotonic() < deadline
        time.sleep(0.005)


def test_it_gets_its_options_and_the_text_as_one_last_word(folder: Path) -> None:
    script(folder, "show", f'printf "%s|" "$@" > {folder}/seen')
    text = "Break due: $(touch owned) `id` \"Moss\" 'x' ; rm * && -rf"
    assert shown_by(("show", "-u", "very critical"), text) == ""
    assert (folder / "seen").read_text() == f"-u|very critical|{text}|"
    assert not (folder / "owned").exists()


def test_it_sees_neither_the_keys_nor_the_screen(
    folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    script(folder, "show", f"read key; echo painted; echo over >&2; echo got=$key > {folder}/seen")
    keys, typed = os.pipe()
    os.write(typed, b"p\n")
    own = os.dup(0)
    os.dup2(keys, 0)
    try:
        assert shown_by(("show",), "Break due") == ""
    finally:
        os.dup2(own, 0)
        for end in (keys, typed, own):
            os.close(end)
    assert (folder / "seen").read_text() == "got=\n"
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize(
    ("body", "words"),
    [("exit 3", "“show” ended with the error code 3."), (None, "“show” is not on this computer")],
    ids=["fails", "missing"],
)
def test_what_fails_is_said_once_until_it_works_again(
    folder: Path, body: str | None, words: str
) -> None:
    shown = Notifier()
    if body:
        script(folder, "show", body)
    for said in (words, "", ""):
        assert shown.show(("show",), "Break due")
        until_over(shown)
        assert shown.news().startswith(said) if said else shown.news() == ""
    script(folder, "show", "exit 0")
    shown.show(("show",), "Break due")
    until_over(shown)
    assert (shown.news(), shown.problem) == ("", "")
    script(folder, "show", "exit 4")
    shown.show(("show",), "Break due")
    until_over(shown)
    assert shown.news() == "“show” ended with the error code 4."


def test_a_program_that_cannot_be_started_is_told(folder: Path) -> None:
    (folder / "show").write_bytes(b"\x7fELF no program")
    (folder / "show").chmod(0o700)
    assert shown_by(("show",), "Break due").startswith("“show” cannot be started: ")


def test_one_that_hangs_neither_holds_the_board_nor_lives_on(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(notifier, "PATIENCE", 1.0)
    script(folder, "show", f"sleep 300 & echo $! > {folder}/child; wait")
    shown = Notifier()
    assert shown.show(("show",), "Break due")
    assert shown.is_busy, "it returned while the program runs"
    assert not shown.show(("show",), "Break due"), "one at a time"
    until_over(shown)
    assert shown.news() == "“show” took more than 1 s and was ended."
    child = int((folder / "child").read_text())
    deadline = time.monotonic() + 10
    while is_alive(child):
        assert time.monotonic() < deadline, "what it has started ended with it"
        time.sleep(0.005)


def is_alive(process: int) -> bool:
    """Whether a process still runs; one that has ended and waits to be noticed does not."""
    try:
        return " Z " not in Path(f"/proc/{process}/stat").read_text()
    except FileNotFoundError:
        return False


def test_nothing_runs_where_nothing_is_named() -> None:
    assert not Notifier().show((), "Break due")


def test_a_text_that_could_be_an_option_is_a_fault_of_ours() -> None:
    with pytest.raises(AssertionError):
        shown_by(("true",), "--help")
