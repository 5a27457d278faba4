"""The command line while everybody is away: visits, the handover sheet and visit reports."""

from __future__ import annotations

import io
import json
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from pottyboard.store import Household
from tests.cli.shell import BRAMBLE, Shell

WORK = (
    "--people Ana,Ben --workdays mon-fri --leave 08:30 --return 17:00 --absent-from 2 "
    '--helpers "Mina 08:00-18:00 12.50; Otto 12:00-14:00 8"'
)


@pytest.fixture
def away(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in the home of Bramble, whose people are away from Tuesday, day 2, on."""
    shell = Shell(tmp_path / "home", capsys)
    assert shell.type(f"{BRAMBLE} {WORK}").code == 0
    return shell


def log_of(shell: Shell) -> list[tuple[str, str, str]]:
    """Return the entries on disk: the time by UTC, the kind and who."""
    events = Household(shell.home).dog_log().events
    return [(f"{event.at:%d %H:%M}", event.kind, event.by) for event in events]


# --- Visits ---------------------------------------------------------------------------------------


def test_the_visits_of_a_week_what_they_cost_and_what_comes(away: Shell) -> None:
    done = away.run("visits")
    assert (done.code, done.err) == (0, "")
    lines = done.out.splitlines()
    assert lines[0] == "Mon 02 Mar, day 1: somebody is home"
    assert lines[1] == "Tue 03 Mar, day 2: alone 08:30 to 17:00, 4 visits, 41.00"
    assert "  08:15  break before leaving" in lines
    assert "These 7 days: 16 visits, 164.00" in lines
    assert any(line.startswith("if all goes well: ") for line in lines)
    assert any(line.startswith("with one accident a week: ") for line in lines)
    assert "Practice absences: next 1 min; 8 steps to 2 h" in done.out
    assert max(map(len, lines)) <= 80


def test_other_days(away: Shell) -> None:
    two = away.type("visits --from tomorrow --days 2").out
    assert two.startswith("Tue 03 Mar, day 2: alone")
    assert "Wed 04 Mar, day 3: alone" in two
    assert "Thu 05 Mar, day 4:" not in two
    assert two == away.type("visits --from 2 --days 2").out
    assert two == away.type("visits --from 2026-03-03 --days 2").out


def test_a_household_that_is_always_home_hears_no_more_than_that(away: Shell) -> None:
    assert away.type('setup --workdays ""').code == 0
    done = away.type("visits --days 1")
    assert done.out == "Mon 02 Mar, day 1: somebody is home\n\nThis day: 0 visits\n"


def test_the_plan_for_other_programs(away: Shell) -> None:
    found = json.loads(away.type("visits --from 2 --days 1 --json").out)
    assert (found["schema"], found["covered"], found["cost"]) == (1, True, 41.0)
    [day] = found["days"]
    assert day["alone"] == [{"leave": "2026-03-03T08:30+01:00", "back": "2026-03-03T17:00+01:00"}]
    assert {visit["helper"] for visit in day["visits"]} == {"Mina", "Otto"}


def test_a_calendar_that_only_its_owner_can_read_and_that_updates_itself(
    away: Shell, tmp_path: Path
) -> None:
    file = tmp_path / "visits.ics"
    done = away.run("visits", "--ics", str(file))
    assert done.code == 0
    assert f"Written: {file}" in done.err
    assert "tells when the home is empty" in done.err
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    first = file.read_bytes()
    assert first.count(b"BEGIN:VEVENT") == 16
    assert b"SEQUENCE:0" in first

    away.run("visits", "--ics", str(file))
    assert file.read_bytes() == first
    assert away.type('setup --exceptions "2026-03-04 home"').code == 0
    away.run("visits", "--ics", str(file))
    assert b"STATUS:CANCELLED" not in file.read_bytes()
    for _ in range(4):
        assert away.type("visits --agreed").code == 0
    away.run("visits", "--ics", str(file))
    second = file.read_bytes()
    assert second.count(b"BEGIN:VEVENT") == 16
    assert second.count(b"STATUS:CANCELLED") == 4


def test_a_foreign_file_is_never_written_over(away: Shell, tmp_path: Path) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("my own")
    done = away.run("visits", "--ics", str(file))
    assert (done.code, done.out) == (1, "")
    assert "not a calendar of visits" in done.err
    assert file.read_text() == "my own"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("--days 0", "--days goes from 1 to 62"),
        ("--days 63", "--days goes from 1 to 62"),
        ("--from yesterday", "2026-03-01 cannot be planned: choose a day from 2026-03-02 on"),
        ("--from 9999-12-31", "cannot be planned"),
        ("--from someday", "“someday” is not a day"),
        ("--ics .", "is no file"),
        ("--ics nowhere/at/all.ics", "is no folder"),
    ],
)
def test_visits_that_cannot_be(away: Shell, typed: str, words: str) -> None:
    done = away.type(f"visits {typed}")
    assert (done.code, done.out) == (1, "")
    assert words in done.err


# --- The sheet ------------------------------------------------------------------------------------


def test_the_sheet_says_that_it_tells_when_the_home_is_empty(away: Shell) -> None:
    done = away.run("sheet")
    assert done.code == 0
    assert done.out.startswith("BRAMBLE: HANDOVER SHEET\n")
    assert "Mina 10:00; Otto 12:00, 13:30; Mina 15:15" in done.out
    assert done.err == (
        "pottyboard: told from now on: Mina 8 visits, Tue 10:00 to Fri 15:15; Otto 8 visits, "
        "Tue 12:00 to Fri 13:30. They stay at these times; “pottyboard undo” takes it back.\n"
        "pottyboard: the sheet tells when the home is empty: give it only to those who have to "
        "know.\n"
    )


def test_a_page_for_one_helper(away: Shell, tmp_path: Path) -> None:
    file = tmp_path / "sheet.html"
    file.write_text("an older sheet")
    file.chmod(0o644)
    done = away.run("sheet", "--helper", "otto", "--html", str(file))
    assert (done.code, done.out) == (0, "")
    assert "tells when the home is empty" in done.err
    page = file.read_text("utf-8")
    assert page.startswith("<!doctype html>")
    assert "for Otto" in page
    assert "Mina" not in page
    assert stat.S_IMODE(file.stat().st_mode) == 0o600


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("--days 8", "A sheet holds 7 days"),
        ("--helper Zoe", "“Zoe” does not visit. Visits by: Mina, Otto."),
    ],
)
def test_a_sheet_that_cannot_be(away: Shell, typed: str, words: str) -> None:
    done = away.type(f"sheet {typed}")
    assert (done.code, done.out) == (1, "")
    assert words in done.err


# --- Reports --------------------------------------------------------------------------------------


def test_a_message_becomes_entries_of_its_helper(away: Shell) -> None:
    done = away.type('report "10:10 pee, 10:14 poop, water, all calm" --by Mina')
    assert (done.code, done.err) == (0, "")
    assert done.out.splitlines() == [
        "Saved 4 entries:",
        "  Mon 10:10  pee, by Mina",
        "  Mon 10:14  poop, by Mina",
        "  Mon 10:14  long drink, by Mina",
        "  Mon 10:14  note, by Mina, “all calm”",
        "To take all of it back: pottyboard undo",
        "Next break 10:34, 1 h 26 ago (after the drink at 10:14).",
    ]
    assert {by for _, _, by in log_of(away)} == {"Mina"}
    again = away.type('message "10:10 pee, 10:14 poop, water, all calm" --by Mina')
    assert (again.code, again.out) == (1, "")
    assert "All of this message is in the log already: nothing saved." in again.err
    more = away.type('message "10:10 pee, 10:20 poop" --by Mina')
    assert more.out.startswith("Left out: 1, in the log already.\nSaved 1 entry:")
    away.run("undo")
    away.run("undo")
    assert log_of(away) == []


@pytest.mark.parametrize("words", [[], ["-"]])
def test_a_message_from_a_pipe(
    away: Shell, words: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("- 10:10 pee\r\n- 10:14 poop\n"))
    assert away.run("report", *words, "--by", "Otto").code == 0
    assert log_of(away) == [("02 09:10", "pee", "Otto"), ("02 09:14", "poop", "Otto")]


def test_a_message_of_another_day(away: Shell) -> None:
    away.now = away.now.replace(day=4)
    assert away.type("report 10:10 pee --by Mina --day yesterday").code == 0
    assert log_of(away) == [("03 09:10", "pee", "Mina")]


def test_what_cannot_be_read_is_named_in_its_place_and_nothing_is_saved(away: Shell) -> None:
    done = away.run("report", "10:10 pee\n10:14 pooo, 13:00 water", "--by", "Mina")
    assert (done.code, done.out) == (1, "")
    lines = done.err.splitlines()
    assert lines[0] == "2 places cannot be read, nothing was saved:"
    assert lines[1].startswith("  line 2, column 1: “10:14 pooo”: ")
    assert lines[2].startswith("  line 2, column 13: “13:00 water”: that time is still to come")
    assert log_of(away) == []


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["10:10 pee"], 2, "--by"),
        (["10:10 pee", "--by", " "], 1, "Say who was there"),
        (["x" * 100_001, "--by", "Mina"], 1, "Too long"),
    ],
)
def test_a_report_that_cannot_be(away: Shell, words: list[str], code: int, said: str) -> None:
    done = away.run("report", *words)
    assert (done.code, done.out) == (code, "")
    assert said in done.err
    assert log_of(away) == []


# --- What is loaded -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "calendar"),
    [
        (["visits"], False),
        (["visits", "--json"], False),
        (["visits", "--ics", "FILE"], True),
        (["report", "10:10 pee", "--by", "Mina", "--day", "1"], False),
    ],
)
def test_only_what_is_needed_is_loaded(
    away: Shell, words: list[str], calendar: bool, tmp_path: Path
) -> None:
    code = (
        "import sys\nfrom datetime import UTC, datetime\nfrom pottyboard.cli.main import main\n"
        "code = main(sys.argv[1:], clock=lambda: datetime(2026, 3, 2, 11, tzinfo=UTC))\n"
        "print(code, *{name.split('.')[0] for name in sys.modules}, file=sys.stderr)"
    )
    words = [str(tmp_path / "visits.ics") if word == "FILE" else word for word in words]
    done = subprocess.run(
        [sys.executable, "-c", code, "--home", str(away.home), *words],
        capture_output=True,
        text=True,
        check=True,
    )
    left, *loaded = done.stderr.splitlines()[-1].split()
    assert left == "0"
    assert {"textual", "rich"}.isdisjoint(loaded)
    assert ("icalendar" in loaded) == calendar


@pytest.mark.parametrize("command", ["visits", "sheet", "report"])
def test_each_command_explains_itself(away: Shell, command: str) -> None:
    done = away.run(command, "--help")
    assert done.code == 0
    assert "examples:\n  pottyboard" in done.out


def test_a_plain_question_loads_no_plan() -> None:
    code = "import sys, pottyboard.cli; print([n for n in sys.modules if 'handover' in n])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
