"""The command line when something is wrong: it says what and what to do, and loses nothing."""

from __future__ import annotations

import errno
import json
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pottyboard.store import Household
from tests.cli.shell import Shell


@pytest.fixture
def bramble(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in the home of Bramble, who has peed once."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    assert shell.type("log pee --at 10:05").code == 0
    return shell


def month_of(shell: Shell) -> Path:
    """Return the only file of entries."""
    [path] = (shell.home / "bramble").glob("events-*.json")
    return path


# --- Entries --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "because"),
    [
        ("log pee --at 13:00", "still to come"),
        ("log pee --at '2027-01-01 10:00'", "still to come"),
        ("log pee --at 08:30", "before the dog arrived"),
        ("log pee --ago 4h", "before the dog arrived"),
        ("log pee --at lunch", "“lunch” is not a time"),
        ("log pee --at 25:00", "is not a time"),
        ("log pee --ago soon", "is not a length of time"),
        ("log pee --ago yesterday", "(or --at “yesterday 10:05”)"),
        ("log pee --ml 200", "“pee” takes no --ml: leave it out."),
        ("log meal --place hall", "“meal” takes no --place: leave it out."),
        ("log water --ml -5", "millilitres"),
        ("log water --ml nan", "millilitres"),
        ("log interval --minutes 48h", "The interval goes from 45 min to 4 h"),
        ("log pee-inside --dry 11:30 --at 11:00", "later than the accident"),
        ("log cleaned --about nothing", "Nothing to clean."),
    ],
)
def test_an_entry_that_does_not_fit_is_refused(bramble: Shell, typed: str, because: str) -> None:
    done = bramble.type(typed)
    assert (done.code, done.out) == (1, "")
    assert done.err.startswith("pottyboard: ")
    assert because in done.err
    assert [event.kind for event in Household(bramble.home).dog_log().events] == ["pee"]


@pytest.mark.parametrize(
    ("at", "because"),
    [
        ("2026-03-29 02:30", "does not exist in Europe/Oslo"),
        ("2026-10-25 02:30", "happens twice in Europe/Oslo"),
    ],
)
def test_an_hour_that_the_clocks_skip_or_repeat(bramble: Shell, at: str, because: str) -> None:
    bramble.now = datetime(2026, 10, 25, 12, tzinfo=UTC)
    done = bramble.run("log", "pee", "--at", at)
    assert done.code == 1
    assert because in done.err


def test_the_repeated_hour_can_be_said_with_its_offset(bramble: Shell) -> None:
    bramble.now = datetime(2026, 10, 25, 12, tzinfo=UTC)
    for offset in ("+02:00", "+01:00"):
        assert bramble.run("log", "pee", "--at", f"2026-10-25T02:30{offset}").code == 0
    first, second = Household(bramble.home).dog_log().events[-2:]
    assert second.at - first.at == timedelta(hours=1)


def test_a_day_that_is_still_to_come(bramble: Shell) -> None:
    assert "Day 99 is still to come" in bramble.type("day 99").err


def test_a_sheet_for_a_helper_where_there_is_none(bramble: Shell) -> None:
    assert (
        "No helpers are set up: pottyboard setup --helpers"
        in bramble.type("sheet --helper Nobody").err
    )


@pytest.mark.parametrize(
    ("kind", "meant"),
    [("pe", "pee"), ("poo", "poop"), ("Pee", "pee"), ("pee_inside", "pee-inside")],
)
def test_an_unknown_kind_suggests_the_nearest(bramble: Shell, kind: str, meant: str) -> None:
    done = bramble.run("log", kind)
    assert (done.code, done.out) == (2, "")
    assert f"“{kind}” is not a kind of entry. Did you mean “{meant}”?" in done.err


def test_a_kind_like_no_other_lists_them_all(bramble: Shell) -> None:
    assert "Kinds: pee poop both nothing" in bramble.run("log", "xyzzy").err


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("lgo pee", "“lgo” is not a command. Did you mean log?"),
        ("xyzzy", "Commands: setup log"),
        ("log", "Say what happened, such as: pottyboard log pee."),
        ("log pee --when 10:00", "“--when 10:00” is not understood here."),
        ("log pee --at 10:00 --ago 5", "--at or --ago: keep one."),
        ("log pee --at", "--at: something must follow it."),
        ("now --json --line", "--json or --line: keep one."),
        ("now --json=yes", "--json: nothing may follow it."),
        ("log pee-inside --found --seen", "--found or --seen: keep one."),
        ("log settled --sleep well", "--sleep: “well” is not known: use one of nap, night."),
        ("log water --ml lots", "--ml: “lots” is no amount: write millilitres, such as 200."),
        ("visits --days few", "--days: “few” is no number of days"),
        ("message 12:10 pee", "--by is missing."),
        ("day 1 2", "“2” is not understood here. All options: pottyboard day --help"),
        ("--colour log", "“--colour” is not understood here."),
        ("log pee --plcae hall", "“--plcae hall” is not understood here. Did you mean --place?"),
        ("help lgo", "Did you mean log?"),
    ],
)
def test_a_line_that_cannot_be_read_says_what_to_type(
    bramble: Shell, typed: str, words: str
) -> None:
    done = bramble.type(typed)
    assert (done.code, done.out) == (2, "")
    assert words in done.err
    assert "argument" not in done.err


# --- Text -----------------------------------------------------------------------------------------


HARMFUL = "a [/b] \x1b[2J\x1b]0;title\x07 \u202eright\u202c\r\nnext\x9bline"


def test_text_is_stored_whole_and_printed_without_harm(bramble: Shell) -> None:
    longest = HARMFUL + "x" * 10_000
    assert bramble.run("log", "pee-inside", "--note", longest, "--place", HARMFUL).code == 0
    assert bramble.run("setup", "--name", "Br[/]amble").code == 0
    last = Household(bramble.home).dog_log().events[-1]
    assert (last.note, last.place) == (longest, HARMFUL)
    for words in (["now"], ["day"], ["check"], ["now", "--line"], ["now", "--json"], ["undo"]):
        done = bramble.run(*words)
        assert done.code == 0
        assert all(letter.isprintable() or letter == "\n" for letter in done.out)
        assert max(map(len, done.out.splitlines())) < 600


def test_a_refusal_prints_what_was_typed_without_harm(bramble: Shell) -> None:
    for words in (["log", "pee", "--at", HARMFUL], ["day", HARMFUL], ["now", "--dog", HARMFUL]):
        done = bramble.run(*words)
        assert done.code == 1
        assert "“a [/b] [2" in done.err
        assert all(letter.isprintable() or letter == "\n" for letter in done.err)


# --- Homes and files ------------------------------------------------------------------------------


@pytest.mark.parametrize("words", [["now"], ["log", "pee"], ["day"], ["undo"], ["check"], []])
def test_a_home_without_a_dog(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    done = Shell(tmp_path / "empty", capsys).run(*words)
    assert (done.code, done.out) == (1, "")
    assert "pottyboard setup" in done.err


def test_a_dog_that_is_not_there(bramble: Shell) -> None:
    done = bramble.type("now --dog Moss")
    assert done.code == 1
    assert "Moss" in done.err
    assert "bramble" in done.err


def test_a_home_that_is_a_file(bramble: Shell, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    done = bramble.type(f"now --home {tmp_path / 'file'}")
    assert (done.code, done.out) == (1, "")
    assert "is a file" in done.err
    done = bramble.type(f"now --home {tmp_path / 'file' / 'deeper'}")
    assert (done.code, done.out) == (1, "")


@pytest.mark.parametrize("words", [["now"], ["log", "pee"], ["check"], ["day"]])
def test_a_log_that_may_not_be_read(
    bramble: Shell, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    before = month_of(bramble).read_bytes()

    def denied(path: Path, *args: object, **more: object) -> object:
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    with monkeypatch.context() as patch:
        patch.setattr("builtins.open", denied)  # root would be allowed even at mode 0
        done = bramble.run(*words)
    assert (done.code, done.out) == (1, "")
    assert "Permission denied" in done.err
    assert str(bramble.home) in done.err
    assert month_of(bramble).read_bytes() == before


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "empty"),
        (b"\x00\x01", "damaged"),
        (b"[1, 2]", "foreign"),
        (b"\xef\xbb\xbf{", "damaged"),
    ],
)
def test_a_damaged_month_is_kept_aside_and_the_rest_opens(
    bramble: Shell, content: bytes, word: str
) -> None:
    bramble.now += timedelta(days=31)
    assert bramble.type("log meal").code == 0
    old = bramble.home / "bramble" / "events-2026-03.json"
    old.write_bytes(content)
    done = bramble.run("now")
    assert done.code == 0
    assert "meal 0 min" in done.out
    assert done.err.startswith(f"pottyboard: {old.name} is ")
    [kept] = old.parent.glob(f"*{word}*.kept")
    assert kept.read_bytes() == content
    assert kept.name in done.err
    assert bramble.run("now").err == ""


def test_a_log_of_a_newer_program_is_shown_but_not_changed(bramble: Shell) -> None:
    month = month_of(bramble)
    tables = json.loads(month.read_bytes())
    tables["about"]["file"]["schema"] = 99
    month.write_text(json.dumps(tables))
    before = month.read_bytes()
    now = bramble.run("now")
    assert now.code == 0
    assert "pee 1 h 55" in now.out
    assert "newer" in now.err
    refused = bramble.run("log", "poop")
    assert (refused.code, refused.out) == (1, "")
    assert "newer" in refused.err
    assert bramble.run("undo").code == 1
    assert month.read_bytes() == before


def test_lost_settings_are_asked_for_again_and_the_log_stays(bramble: Shell) -> None:
    folder = bramble.home / "bramble"
    (folder / "settings.json").write_bytes(b"")
    shutil.rmtree(folder / "backups")
    done = bramble.run("now")
    assert done.code == 1
    assert "pottyboard setup" in done.err
    again = bramble.type("setup --name Bramble --zone Europe/Oslo --arrived '2026-03-02 09:00'")
    assert again.code == 0
    assert "pee 1 h 55" in bramble.run("now").out
