"""What a command says and leaves where the disk, the log or another user is not as it should be."""

from __future__ import annotations

import errno
import json
import os
import re
import stat
import threading
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.cli.shell import Shell

READING = ("now", "day", "now --json", "review", "diary", "sheet", "export --csv -", "check")


@pytest.fixture
def bramble(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in the home of Bramble, who has no entries yet."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    return shell


def month_of(shell: Shell) -> Path:
    """Return the file of the month."""
    return shell.home / "bramble" / "events-2026-03.json"


def altered(path: Path, alter: Callable[[str], str]) -> None:
    """Alter a file as somebody does who edits it."""
    before = path.read_text()
    after = alter(before)
    assert after != before
    path.write_text(after)


# --- Settings -------------------------------------------------------------------------------------


@pytest.mark.parametrize("error", [errno.EIO, errno.EACCES])
def test_settings_that_cannot_be_read_once_are_not_replaced_by_defaults(
    bramble: Shell, monkeypatch: pytest.MonkeyPatch, error: int
) -> None:
    path = bramble.home / "bramble" / "settings.json"
    before = path.read_bytes()
    real, left = open, [1]

    def once(name: Any, *more: Any, **named: Any) -> Any:
        if str(name) == str(path) and left:
            left.pop()
            raise OSError(error, os.strerror(error))
        return real(name, *more, **named)

    with monkeypatch.context() as patch:
        patch.setattr("builtins.open", once)
        done = bramble.type("setup --bed 22:17")
    assert left == []
    if done.code:
        assert os.strerror(error) in done.err
        assert path.read_bytes() == before
    else:
        answers = json.loads(path.read_bytes())["answers"]["all"]
        assert (answers["bed"], answers["weight"]) == ("22:17", "8")


def test_a_zone_that_this_computer_lacks_is_set_right_by_setup(bramble: Shell) -> None:
    altered(
        bramble.home / "bramble" / "settings.json", lambda s: s.replace("Europe/Oslo", "Mars/X")
    )
    for line in READING:
        done = bramble.type(line)
        assert done.code == 1
        assert "Mars/X" in done.err
        assert "setup" in done.err
    assert bramble.type("setup --zone Europe/Oslo").code == 0
    assert bramble.type("now").code == 0


# --- Exports --------------------------------------------------------------------------------------


def test_an_export_is_not_led_elsewhere_by_a_foreseen_name(bramble: Shell, tmp_path: Path) -> None:
    shared, victim = tmp_path / "shared", tmp_path / "victim"
    shared.mkdir()
    victim.write_text("mine")
    foreseen = shared / f".log.csv.{os.getpid()}.new"
    foreseen.symlink_to(victim)
    assert bramble.type(f"export --csv {shared / 'log.csv'}").code == 0
    assert victim.read_text() == "mine"
    assert stat.S_IMODE((shared / "log.csv").stat().st_mode) == 0o600


def test_what_an_export_left_long_ago_is_swept(bramble: Shell, tmp_path: Path) -> None:
    old, young = (tmp_path / f".log.csv.{'ab' * 8}{n}.new" for n in (1, 2))
    for path in (old, young):
        path.write_text("half")
    os.utime(old, (1, 1))
    assert bramble.type(f"export --csv {tmp_path / 'log.csv'}").code == 0
    assert (old.exists(), young.exists()) == (False, True)


@pytest.mark.parametrize(
    "line",
    [
        "export --csv {log}/events-2026-03.json",
        "export --jsonl {log}/settings.json",
        "diary --html {log}/events-2026-03.json",
        "review --html {log}/events-2027-01.json",
        "sheet --html {log}/backups/events-2026-03.json",
        "export --csv {link}",
    ],
)
def test_no_command_writes_over_a_log(bramble: Shell, tmp_path: Path, line: str) -> None:
    bramble.type("log pee")
    bramble.type("log meal")
    log = bramble.home / "bramble"
    link = tmp_path / "link.csv"
    link.symlink_to(log / "events-2026-03.json")
    before = {path: path.read_bytes() for path in log.rglob("*.json")}
    done = bramble.type(line.format(log=log, link=link))
    assert done.code == 1
    assert "where a dog’s log is kept" in done.err
    assert {path: path.read_bytes() for path in log.rglob("*.json")} == before


# --- Other users ----------------------------------------------------------------------------------


@pytest.mark.parametrize("which", ["home", "dog"])
def test_a_folder_that_others_can_read_is_closed_and_told(bramble: Shell, which: str) -> None:
    folder = bramble.home if which == "home" else bramble.home / "bramble"
    folder.chmod(0o755)
    done = bramble.type("now")
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert f"{folder} could be read by other users" in done.err
    assert bramble.type("now").err == ""


# --- Odd values -----------------------------------------------------------------------------------

ODD = {
    "cause": '"cause":"moonlight"',
    "surface": '"surface":"moss"',
    "amount": '"amount":"a sea"',
    "unknown field": '"moon":"full"',
}


@pytest.mark.parametrize("odd", ODD.values(), ids=ODD)
def test_an_unknown_value_breaks_no_command_and_is_kept(bramble: Shell, odd: str) -> None:
    bramble.type("log pee-inside --place kitchen")
    altered(month_of(bramble), lambda s: s.replace('"place":"kitchen"', f'"place":"kitchen",{odd}'))
    for line in (*READING, "log pee", "undo"):
        assert bramble.type(line).code == 0 or line == "check"
    assert odd in month_of(bramble).read_text()


@pytest.mark.parametrize("at", ["0001-01-01T00:00:00+00:00", "9999-12-31T23:59:00-10:00"])
def test_a_year_out_of_all_range_breaks_no_command(bramble: Shell, at: str) -> None:
    bramble.type("log pee")
    bramble.now += timedelta(minutes=5)
    bramble.type("log meal")
    altered(month_of(bramble), lambda s: re.sub('"at":"[^"]*"', f'"at":"{at}"', s, count=1))
    for line in (*READING, "log pee"):
        assert bramble.type(line).code == 0 or line == "check"


def test_a_looping_link_beside_the_dogs_hides_none(bramble: Shell) -> None:
    (bramble.home / "loop").symlink_to(bramble.home / "loop")
    (bramble.home / "nowhere").symlink_to(bramble.home / "gone")
    assert bramble.type("now").code == 0


def test_a_pipe_for_a_month_holds_no_command_up(bramble: Shell) -> None:
    bramble.type("log pee")
    os.mkfifo(bramble.home / "bramble" / "events-2026-02.json")
    done: list[int] = []
    run = threading.Thread(target=lambda: done.append(bramble.type("now").code), daemon=True)
    run.start()
    run.join(10)
    assert done == [0]


def test_a_lone_quote_saves_nothing(bramble: Shell, tmp_path: Path) -> None:
    path = tmp_path / "old.csv"
    path.write_text('Date,Time,What,Note\n2026-03-02,09:05,pee,"oops\n2026-03-02,09:30,poop,\n')
    done = bramble.type(f"import {path} --yes")
    assert done.code == 1
    assert "line 2" in done.err
    assert not month_of(bramble).exists()
