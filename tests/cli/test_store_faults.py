"""What a command says and leaves where the disk, the log or another user is not as it should be."""

from __future__ import annotations

import errno
import json
import os
import re
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import filelock
import pytest

import pottyboard
from pottyboard.store import StoreError
from tests.cli.shell import BRAMBLE, Shell

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


# --- Damage, told until it is known, and what can be brought back ---------------------------------


def damaged(shell: Shell) -> Path:
    """Damage the month of a log with three entries, and forget its backups; return the file."""
    for minutes in (5, 10, 15):
        shell.now += timedelta(minutes=minutes)
        shell.type(f"log note --note entry-{minutes}")
    path = month_of(shell)
    for backup in (path.parent / "backups").glob("events*"):
        backup.unlink()
    path.write_bytes(path.read_bytes().replace(b'"note":"entry-10"', b'"note":"entry-10'))
    return path


def test_damage_is_told_by_check_until_it_is_known(bramble: Shell) -> None:
    damaged(bramble)
    assert (
        "is damaged in line" in bramble.type("now --line").err
    )  # a status line, that nobody reads
    for _ in range(2):
        done = bramble.type("check")
        assert done.code == 1
        assert "is damaged in line" in done.out
        assert "kept aside: events-2026-03.damaged-" in done.out
        assert "pottyboard restore" in done.out
    assert bramble.type("check --noted").code == 1
    done = bramble.type("check")
    assert done.code == 0
    assert "nothing is damaged" in done.out


def test_a_file_kept_aside_can_be_imported(bramble: Shell) -> None:
    path = damaged(bramble)
    bramble.type("now")
    [kept] = path.parent.glob("*.kept")
    for _ in range(2):
        bramble.type("undo")
    done = bramble.type(f"import {kept} --yes")
    assert done.code == 0
    assert "a month of a log, 2 rows" in done.out
    assert "Saved: 2 entries" in done.out


def test_what_a_backup_holds_is_listed_shown_brought_back_and_taken_away_again(
    bramble: Shell,
) -> None:
    assert "There is no backup yet" in bramble.type("restore").out
    for minutes in (5, 10, 15):
        bramble.now += timedelta(minutes=minutes)
        bramble.type(f"log note --note entry-{minutes}")
    path = month_of(bramble)
    lines = path.read_text().splitlines(keepends=True)
    fresh = path.with_name("fresh")  # as an editor saves: a new file in the place of the old one
    fresh.write_text("".join(line for line in lines if "entry-5" not in line))
    os.replace(fresh, path)
    assert "1 of its backup are missing (note 2026-03-02" in bramble.type("now").err
    listed = bramble.type("restore").out
    number = next(line.split()[0] for line in listed.splitlines() if "3 entries, 1 would" in line)
    shown = bramble.type(f"restore {number}").out
    assert "entry-5" in shown
    assert "Nothing was saved" in shown
    assert "entry-5" not in path.read_text()
    assert "Brought back: 1 entry" in bramble.type(f"restore {number} --yes").out
    assert "entry-5" in path.read_text()
    assert bramble.type("undo").code == 0
    assert "entry-5" not in bramble.type("export --csv -").out
    assert "There is no version" in bramble.type("restore 99").err


def test_entries_later_than_the_clock_are_named(bramble: Shell) -> None:
    bramble.now += timedelta(days=1)
    bramble.type("log pee")
    bramble.now -= timedelta(hours=5)
    for line in ("now", "log meal"):
        assert "1 entry is later than this computer’s clock" in bramble.type(line).err
    done = bramble.type("check")
    assert (done.code, "later than this computer’s clock" in done.out) == (1, True)


# --- Two dogs -------------------------------------------------------------------------------------


def with_wren(shell: Shell) -> Path:
    """Set a second dog up; return its folder."""
    assert shell.type(f"{BRAMBLE.replace('Bramble', 'Wren')} --another").code == 0
    shell.type("log pee --dog bramble")
    return shell.home / "wren"


def entries_of(shell: Shell, dog: str) -> int:
    """Return how many entries a dog has."""
    return shell.type(f"--dog {dog} export --jsonl -").out.count("\n")


@pytest.mark.parametrize("how", ["no settings", "a folder in the place of a month"])
def test_what_concerns_two_dogs_is_in_both_logs_or_in_none(bramble: Shell, how: str) -> None:
    wren = with_wren(bramble)
    if how == "no settings":
        spoilt = {path: path.read_bytes() for path in wren.rglob("settings.json")}
        for path in spoilt:
            path.unlink()
            path.mkdir()
    else:
        (wren / "events-2026-03.json").mkdir()
        spoilt = {wren / "events-2026-03.json": b""}
    done = bramble.type("--dog bramble log pee-inside --unsure")
    assert done.code == 1
    assert "Not saved, nor changed in any log" in done.err
    assert entries_of(bramble, "bramble") == 1
    for path, content in spoilt.items():
        path.rmdir()
        if content:
            path.write_bytes(content)
    assert bramble.type("--dog bramble log pee-inside --unsure").code == 0
    assert (entries_of(bramble, "bramble"), entries_of(bramble, "wren")) == (2, 1)
    assert bramble.type("--dog bramble undo").code == 0
    assert (entries_of(bramble, "bramble"), entries_of(bramble, "wren")) == (1, 0)


def test_what_failed_half_way_is_said_exactly_and_made_up_for(
    bramble: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    wren = with_wren(bramble)
    real = os.replace

    def full(source: Any, target: Any) -> None:
        if str(target).startswith(str(wren)):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(source, target)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", full)
        done = bramble.type("--dog bramble log pee-inside --unsure")
    assert done.code == 1
    assert "It is done in the log of Bramble, but not in every other log" in done.err
    assert bramble.type("--dog bramble now").code == 0
    assert (entries_of(bramble, "bramble"), entries_of(bramble, "wren")) == (2, 1)
    assert not list(bramble.home.rglob(".together-*"))


# --- Saved, whatever becomes of the answer --------------------------------------------------------


def typed(shell: Shell, line: str, redirected: str) -> subprocess.CompletedProcess[str]:
    """Type a command in a real shell, with its output redirected."""
    root = Path(pottyboard.__file__).parent.parent
    command = f"{sys.executable} -m pottyboard --home {shell.home} {line} {redirected}"
    environment = {**os.environ, "PYTHONPATH": str(root)}
    return subprocess.run(
        ["sh", "-c", command], capture_output=True, text=True, env=environment, check=False
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_saved_is_done_also_where_the_answer_cannot_be_shown(bramble: Shell) -> None:
    done = typed(bramble, "log pee", ">/dev/full")
    assert done.returncode == 0
    assert (
        "It is saved. Where the answer was to be shown cannot be used: No space left" in done.stderr
    )
    done = typed(bramble, "log meal", ">&-")
    assert (done.returncode, done.stderr) == (0, "")
    done = typed(bramble, "log meal", ">&- 2>&- <&-")
    assert done.returncode == 0
    done = typed(bramble, "now", ">/dev/full")
    assert done.returncode == 1
    assert "No space left" in done.stderr
    assert "Traceback" not in done.stderr
    assert (
        sum(path.read_text().count('"kind"') for path in bramble.home.rglob("events-*-*.json")) > 2
    )


def test_saved_is_done_also_where_the_lock_is_not_given_back_or_the_look_after_it_fails(
    bramble: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = filelock.FileLock.release

    def refuse(lock: filelock.FileLock, force: bool = False) -> None:
        real(lock, force)
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    with monkeypatch.context() as patch:
        patch.setattr(filelock.FileLock, "release", refuse)
        done = bramble.type("log pee")
    assert (done.code, done.err) == (0, "")

    def fail(*_: Any, **__: Any) -> Any:
        raise StoreError("The log cannot be read now.")

    with monkeypatch.context() as patch:
        patch.setattr("pottyboard.cli.commands.log.saved_text", fail)
        done = bramble.type("log pee")
    assert (done.code, done.err) == (0, "pottyboard: It is saved. The log cannot be read now.\n")
