"""The command line: each command, what it prints, and what it leaves on disk."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from pottyboard.cli.commands.log import DETAILS
from pottyboard.cli.commands.table import COMMANDS
from pottyboard.core.model.events import ANSWERS, KINDS
from pottyboard.core.model.questions import QUESTIONS
from pottyboard.store import Household
from pottyboard.store.samples import sample_names
from tests.cli.shell import BRAMBLE, Shell


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in an empty home."""
    return Shell(tmp_path / "home", capsys)


@pytest.fixture
def bramble(shell: Shell) -> Shell:
    """A shell in Bramble's home."""
    shell.set_up()
    return shell


def events_of(shell: Shell) -> list[dict[str, object]]:
    """Return the entries on disk as the fields that are set."""
    dog_log = Household(shell.home).dog_log()
    spoken = (
        "kind", "at", "by", "note", "place", "found", "dry", "alone", "cause", "sleep", "sign",
        "ml", "rest", "minutes", "surface", "about",
    )  # fmt: skip
    return [
        {name: value for name in spoken if (value := getattr(event, name)) not in (None, "")}
        for event in dog_log.events
    ]


def test_a_question_is_answered_by_a_kind_of_its_own(bramble: Shell) -> None:
    refused = bramble.run("log", "seen")
    assert (refused.code, "Nothing is asked" in refused.err) == (1, True)
    bramble.run("log", "pee", "--at", "2026-03-02 09:05")
    bramble.run("log", "pee-inside", "--at", "2026-03-02 11:50")
    assert "seen happening, or found later?" in bramble.run("now").out
    assert bramble.run("log", "found").code == 0
    assert "found later?" not in bramble.run("now").out
    accident, answer = events_of(bramble)[-2:]
    assert (accident["kind"], answer["kind"]) == ("pee-inside", "found")


# --- A first morning ------------------------------------------------------------------------------


def test_set_up_log_and_ask_as_the_help_shows(shell: Shell) -> None:
    done = shell.type(BRAMBLE)
    assert done.code == 0
    assert "Bramble, 8 kg, arrived Mon 2026-03-02 09:00 (Europe/Oslo)" in done.out
    assert str(shell.home) in done.out

    done = shell.type('log pee --at "2026-03-02 10:05"')
    assert done.code == 0
    assert done.out.splitlines() == [
        "Saved: 10:05 pee. To take it back: pottyboard undo",
        "Next break 12:05, in 5 min (last pee 10:05; a break every 2 h).",
    ]

    done = shell.type('now --json --at "2026-03-02 11:00"')
    found = json.loads(done.out)
    assert found["schema"] == 1
    assert found["now"] == "2026-03-02T11:00+01:00"
    assert found["day"] == 1
    assert found["next_break"]["at"] == "2026-03-02T12:05+01:00"
    assert found["next_break"]["minutes"] == 65
    assert found["next_break"]["state"] == "rest"
    assert [reason["reason"] for reason in found["next_break"]["reasons"]] == ["hold"]
    assert found["since_minutes"]["pee"] == 55
    assert found["since_minutes"]["meal"] is None
    assert found["interval_minutes"] == 120


def test_without_a_terminal_the_situation_is_printed(bramble: Shell) -> None:
    bramble.run("log", "pee", "--at", "10:05")
    done = bramble.run()
    assert done.code == 0
    assert done.out.startswith("Bramble, day 1 of 14, Mon 2026-03-02, 12:00")
    assert "SOON: break 12:05, in 5 min" in done.out
    assert done.out == bramble.run("now").out


def test_now_in_one_line(bramble: Shell) -> None:
    bramble.run("log", "pee", "--at", "10:05")
    line = bramble.run("now", "--line").out
    assert line == ("Bramble: soon, break 12:05, in 5 min: last pee 10:05; a break every 2 h\n")


def test_the_home_may_be_named_after_the_command(bramble: Shell, tmp_path: Path) -> None:
    elsewhere = str(tmp_path / "elsewhere")
    done = bramble.run("now", "--home", elsewhere)
    assert done.code == 1
    assert elsewhere in done.err


def test_the_home_may_stand_in_the_environment(
    bramble: Shell, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from pottyboard.cli.main import main

    monkeypatch.setenv("POTTYBOARD_HOME", str(bramble.home))
    assert main(["now", "--line"], clock=lambda: bramble.now) == 0
    assert capsys.readouterr().out.startswith("Bramble: ")


# --- Logging --------------------------------------------------------------------------------------


NEEDED = {
    "note": "--note calm",
    "health": "--finding blood",
    "interval": "--minutes 90",
    "routine": "--measure watch",
    "noted": "--about straining",
    "told": "--helper Mina --comes 2026-03-03T12:00+01:00",
    "left-so": "--helper Mina --comes 2026-03-03T12:00+01:00",
}
"""What a kind cannot be logged without."""


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {*ANSWERS, "called-off"}))
def test_every_kind_can_be_logged(bramble: Shell, kind: str) -> None:
    bramble.type("log pee-inside --place hall --ago 20")
    bramble.type("log health --finding straining --ago 10")
    done = bramble.type(f"log {kind} {NEEDED.get(kind, '')}")
    assert (done.code, done.err) == (0, "")
    assert "Saved: 12:00 " in done.out
    assert [event["kind"] for event in events_of(bramble)][2:] == [kind]


@pytest.mark.parametrize("kind", ANSWERS)
def test_an_answer_needs_a_question(bramble: Shell, kind: str) -> None:
    done = bramble.type(f"log {kind}")
    assert done.code == 1
    assert "Nothing is asked that" in done.err
    assert events_of(bramble) == []


@pytest.mark.parametrize(
    ("typed", "words", "option"),
    [
        ("note", "A note needs a few words.", "--note"),
        ("health", "What was seen?", "--finding, or --note"),
        ("health --finding other", "What was seen?", ""),
        ("interval", "How long is the interval to be?", "--minutes"),
        ("interval --minutes 500", "The interval goes from 45 min to 4 h for this dog.", ""),
        ("routine", "Which change of the routine?", "--measure"),
        ("noted", "Which warning that stands?", "--about"),
        ("cleaned", "Nothing to clean.", ""),
    ],
)
def test_what_the_board_refuses_is_refused_here(
    bramble: Shell, typed: str, words: str, option: str
) -> None:
    done = bramble.type(f"log {typed}")
    assert (done.code, done.out) == (1, "")
    assert words in done.err
    assert (f"Use {option}." in done.err) if option else ("Use" not in done.err)
    assert events_of(bramble) == []


def test_every_detail_that_a_kind_carries_has_its_option() -> None:
    assert {name for row in KINDS.values() for name in row.carries} == set(DETAILS)


def test_an_accident_with_everything_that_is_known(bramble: Shell) -> None:
    done = bramble.type(
        "log pee-inside --found --dry 10:30 --at 11:15 --place hall --alone --cause marking "
        '--by Cleo --note "by the door"'
    )
    assert done.code == 0
    saved = "11:15 pee indoors, hall, found, dry at 10:30, alone, marking, by Cleo, “by the door”"
    assert f"Saved: {saved}." in done.out
    [event] = events_of(bramble)
    at = bramble.now.replace(hour=10, minute=15)
    assert event == {
        "kind": "pee-inside",
        "at": at,
        "by": "Cleo",
        "note": "by the door",
        "place": "hall",
        "found": True,
        "dry": at - timedelta(minutes=45),
        "alone": True,
        "cause": "marking",
    }


@pytest.mark.parametrize(
    ("typed", "field", "value"),
    [
        ("poop-inside --seen", "found", False),
        ("poop-inside --not-alone", "alone", False),
        ("water --ml 200", "ml", 200.0),
        ("bowl --left 40", "rest", 40.0),
        ("bowl --rest 40", "rest", 40.0),
        ("pee-inside --surface tiles", "surface", "sealed"),
        ("pee-inside --surface sealed", "surface", "sealed"),
        ("settled --sleep nap", "sleep", "nap"),
        ("sign --sign door", "sign", "door"),
        ("interval --minutes 1h30", "minutes", 90.0),
        ("pee --place pad", "place", "pad"),
    ],
)
def test_a_detail(bramble: Shell, typed: str, field: str, value: object) -> None:
    assert bramble.type(f"log {typed}").code == 0
    [event] = events_of(bramble)
    assert event[field] == value


@pytest.mark.parametrize(
    ("when", "minutes_before"),
    [
        ("--ago 20", 20),
        ("--at 11:30am", 30),
        ("--ago 1h30", 90),
        ("--at 11:45", 15),
        ("--at 2026-03-02T11:45+01:00", 15),
        ("--at 2026-03-02T10:45Z", 15),
    ],
)
def test_when_it_happened(bramble: Shell, when: str, minutes_before: int) -> None:
    bramble.type(f"log pee {when}")
    [event] = events_of(bramble)
    assert event["at"] == bramble.now - timedelta(minutes=minutes_before)


def test_an_entry_carries_who_is_on_duty(bramble: Shell) -> None:
    bramble.type("log duty --by Ana")
    assert "On duty: Ana" in bramble.run("now").out
    bramble.type("log meal")
    bramble.type("log pee --by Ben")
    assert {event["kind"]: event["by"] for event in events_of(bramble)} == {
        "duty": "Ana",
        "meal": "Ana",
        "pee": "Ben",
    }


def test_cleaning_up_closes_the_job_of_its_accident(bramble: Shell) -> None:
    bramble.type("log pee-inside --place hall --ago 30")
    bramble.type("log pee-inside --place kitchen --ago 10")
    jobs = json.loads(bramble.run("now", "--json").out)["open_jobs"]
    kitchen = next(job["about"] for job in jobs if "kitchen" in job["words"])
    assert "cleaned up, kitchen." in bramble.run("log", "cleaned", "--about", kitchen).out
    left = bramble.run("now").out
    assert "clean hall" in left
    assert "clean kitchen" not in left

    again = bramble.run("log", "cleaned", "--about", kitchen)
    assert again.code == 1
    assert "no accident to clean up" in again.err
    assert "clean hall" in again.err


def test_undo_takes_back_the_last_change(bramble: Shell) -> None:
    bramble.type("log pee --at 10:05")
    bramble.type("log poop --at 11:00")
    done = bramble.run("undo")
    assert (done.code, done.out.splitlines()) == (
        0,
        [
            "Taken back: poop 11:00, logged just now. To bring it back: pottyboard undo --redo",
            "Next break 12:05, in 5 min (last pee 10:05; a break every 2 h).",
        ],
    )
    assert [event["kind"] for event in events_of(bramble)] == ["pee"]
    redone = bramble.run("undo", "--redo").out
    assert redone.startswith("Back again: poop 11:00, logged just now.\nNext break")
    assert [event["kind"] for event in events_of(bramble)] == ["pee", "poop"]
    again = bramble.run("undo", "--redo")
    assert (again.code, again.out) == (1, "")
    assert "No undo to take back" in again.err
    bramble.run("undo")
    assert bramble.run("undo").code == 0
    assert bramble.run("undo") == (1, "", "pottyboard: There is nothing to take back.\n")


# --- A day ----------------------------------------------------------------------------------------


def test_the_day_so_far_and_the_day_to_come(bramble: Shell) -> None:
    bramble.type("log pee --at 09:05")
    bramble.type("log meal --at 11:00")
    lines = bramble.run("day").out.splitlines()
    assert lines[0] == "Bramble, day 1 of 14, Mon 2026-03-02: open, not over yet"
    assert lines[1] == "A break every 2 h"
    assert "  09:05  09:00  done     pee (since pee)" in lines
    assert "  11:00         logged   meal" in lines
    now = lines.index("  12:00  -- now --")
    assert all("planned" in line or "due" in line for line in lines[now + 1 :])
    assert lines[now + 1].split()[1] == "due"


def test_a_past_day_keeps_its_verdict_and_plans_nothing(bramble: Shell) -> None:
    bramble.type("log pee --at 09:05")
    bramble.now += timedelta(days=1)
    bramble.type('log pee-inside --at "yesterday 20:00" --seen')
    first = bramble.run("day", "1")
    assert first.out.splitlines()[0].startswith("Bramble, day 1 of 14, Mon 2026-03-02: accident")
    assert "planned" not in first.out
    assert "20:00" in first.out
    assert first == bramble.run("day", "yesterday") == bramble.run("day", "2026-03-02")
    assert bramble.run("day").out.startswith("Bramble, day 2 of 14, Tue 2026-03-03")
    assert bramble.run("day") == bramble.run("day", "today") == bramble.run("day", "2")


@pytest.mark.parametrize("day", ["2026-03-01", "2", "soon", "0"])
def test_a_day_that_the_log_does_not_have(bramble: Shell, day: str) -> None:
    done = bramble.run("day", day)
    assert (done.code, done.out) == (1, "")
    assert "2026-03-02" in done.err


# --- The set-up -----------------------------------------------------------------------------------


def test_every_question_has_an_option(shell: Shell) -> None:
    out = shell.run("setup", "--help").out
    assert all(f"--{question.key} ANSWER" in out for question in QUESTIONS)


def test_a_new_dog_takes_the_defaults_for_what_was_not_said(shell: Shell) -> None:
    assert shell.run("setup", "--name", "Moss").code == 0
    answers = Household(shell.home).dog_log().answers
    assert answers["name"] == "Moss"
    assert answers["arrived"] == "2026-03-02 11:00"
    assert answers["zone"] == "UTC"
    assert answers["weight"] == "12"


def test_the_set_up_changes_only_what_was_said(bramble: Shell) -> None:
    before = Household(bramble.home).dog_log().answers
    bramble.type("log pee --at 10:05")
    assert bramble.type("setup --bed 23:15 --people Ana,Ben").code == 0
    after = Household(bramble.home).dog_log().answers
    assert after == before | {"bed": "23:15", "people": "Ana, Ben"}
    assert len(events_of(bramble)) == 1


def test_answers_that_do_not_fit_are_all_named_and_nothing_is_saved(bramble: Shell) -> None:
    before = Household(bramble.home).dog_log().answers
    done = bramble.type("setup --name ' ' --weight 9000 --up soon --zone Europ/Oslo")
    assert (done.code, done.out) == (1, "")
    lines = done.err.splitlines()
    assert lines[0] == "4 answers to correct, nothing was saved:"
    assert [line.split()[0] for line in lines[1:]] == ["--name", "--weight", "--zone", "--up"]
    assert "Europe/Oslo" in done.err
    assert Household(bramble.home).dog_log().answers == before


def test_a_new_dog_that_does_not_fit_leaves_no_folder(shell: Shell) -> None:
    assert shell.type("setup --name Moss --zone Nowhere/Land").code == 1
    assert not list(shell.home.glob("*"))


def test_the_set_up_without_an_answer_needs_a_terminal(shell: Shell) -> None:
    done = shell.run("setup")
    assert (done.code, done.out) == (2, "")
    assert "--name" in done.err


def test_two_dogs_in_one_home(bramble: Shell) -> None:
    assert bramble.type("setup --another --name Moss --weight 20").code == 0
    unclear = bramble.run("now")
    assert unclear.code == 1
    assert "--dog" in unclear.err
    assert bramble.type("--dog Moss log pee").code == 0
    assert bramble.type("now --line --dog moss").out.startswith("Moss: ")
    assert len(Household(bramble.home).dog_log("Bramble").events) == 0
    assert bramble.run("check").out.count("nothing is damaged") == 2


# --- Check ----------------------------------------------------------------------------------------


def test_check_counts_and_says_where_the_log_is(bramble: Shell) -> None:
    bramble.type("log pee --at 10:05")
    bramble.type("log meal --at 11:00")
    assert bramble.run("check") == (
        0,
        f"Bramble: {bramble.home / 'bramble'}\n"
        "  2 entries, from 2026-03-02 to 2026-03-02\n"
        "  nothing is damaged\n",
        "",
    )


def test_check_reports_damage(bramble: Shell) -> None:
    bramble.type("log pee --at 10:05")
    [month] = (bramble.home / "bramble").glob("events-*.json")
    month.write_bytes(month.read_bytes()[:-5])
    done = bramble.run("check")
    assert done.code == 1
    assert month.name in done.out
    assert "kept as" in done.out


# --- The demo -------------------------------------------------------------------------------------


def test_the_demo_lists_the_samples(shell: Shell) -> None:
    lines = shell.run("demo", "--list").out.splitlines()
    assert [line.partition(":")[0] for line in lines] == list(sample_names())
    assert all("entries" in line for line in lines)


def test_the_demo_shows_today_and_touches_no_other_log(bramble: Shell) -> None:
    bramble.type("log pee --at 10:05")
    before = {path: path.read_bytes() for path in bramble.home.rglob("*") if path.is_file()}
    for name in sample_names():
        done = bramble.run("demo", name)
        assert (done.code, done.err) == (0, "")
        assert ", Mon 2026-03-02, " in done.out
        assert "  time   plan   status   what" in done.out
        assert "Bramble" not in done.out
    after = {path: path.read_bytes() for path in bramble.home.rglob("*") if path.is_file()}
    assert after == before


def test_a_demo_that_is_not_there(shell: Shell) -> None:
    done = shell.run("demo", "nobody")
    assert (done.code, done.out) == (1, "")
    assert all(name in done.err for name in sample_names())


# --- The program itself ---------------------------------------------------------------------------


@pytest.mark.parametrize("command", ["", *(command.name for command in COMMANDS)])
def test_each_command_explains_itself_with_an_example(shell: Shell, command: str) -> None:
    done = shell.run(*command.split(), "--help")
    assert done.code == 0
    assert "examples:\n  pottyboard" in done.out
    assert "--home DIR" in done.out
    assert max(map(len, done.out.splitlines())) <= 100


def test_the_version(shell: Shell) -> None:
    assert shell.run("--version").out.split()[0] == "pottyboard"


@pytest.mark.parametrize("words", [["now"], ["log", "pee"], ["day"], ["check"], ["undo"]])
def test_a_command_loads_no_terminal_library(bramble: Shell, words: list[str]) -> None:
    bramble.type("log pee --ago 1")
    code = (
        "import sys\nfrom pottyboard.cli.main import main\n"
        "code = main(sys.argv[1:])\n"
        "print(code, *{name.split('.')[0] for name in sys.modules}, file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "--home", str(bramble.home), *words],
        capture_output=True,
        text=True,
        check=True,
    )
    left, *loaded = done.stderr.split()
    assert left == "0"
    assert {"textual", "rich", "numpy", "icalendar"}.isdisjoint(loaded)


def test_a_reader_that_has_had_enough_is_no_trouble(bramble: Shell) -> None:
    command = f'"{sys.executable}" -m pottyboard --home "{bramble.home}" day | head -n 1'
    done = subprocess.run(command, shell=True, capture_output=True, text=True, check=True)
    assert done.stdout.startswith("Bramble, day ")
    assert done.stderr == ""


def test_keys_and_colours_are_kept_for_the_whole_home(bramble: Shell) -> None:
    assert bramble.run("setup", "--keys", "accident=f2", "--colours", "daylight").code == 0
    text = (bramble.home / "board.toml").read_text("utf-8")
    assert 'colours = "daylight"' in text
    assert 'accident = "f2"' in text
    assert bramble.type("check").code == 0
    refused = bramble.run("setup", "--keys", "meal=p")
    assert (refused.code, "both want p" in refused.err) == (2, True)
    assert (bramble.home / "board.toml").read_text("utf-8") == text
    (bramble.home / "board.toml").write_text('[keys]\nmeal = "p"\n', "utf-8")
    checked = bramble.type("check")
    assert (checked.code, "both want p" in checked.err) == (1, True)
