"""The command ``calendar``: one command renews the plan in the phones."""

from __future__ import annotations

import stat
from datetime import timedelta
from pathlib import Path

import pytest
from icalendar import Calendar

from tests.cli.shell import Shell


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in a home where Bramble went out at eleven."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    assert shell.type("log pee --ago 60").code == 0
    return shell


def test_it_writes_the_plan_and_says_what_changed(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "plan.ics"
    first = shell.run("calendar", str(file))
    assert first.code == 0
    assert " entries to come: " in first.out
    assert " new. " in first.out
    assert "keep it in your own phones" in first.err
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    content = file.read_bytes()
    shell.now += timedelta(minutes=2)
    again = shell.run("calendar", str(file))
    assert "nothing has changed" in again.out
    assert file.read_bytes() == content
    assert shell.type("log pee").code == 0
    moved = shell.run("calendar", str(file))
    assert " changed" in moved.out
    uids = {str(e["UID"]) for e in Calendar.from_ical(content).walk("VEVENT")}
    after = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert uids <= {str(entry["UID"]) for entry in after}
    assert any(int(str(entry["SEQUENCE"])) for entry in after)


def test_it_takes_days_an_alarm_and_the_numbers(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "plan.ics"
    assert shell.type("setup --numbers 'Vet 01632 960001'").code == 0
    assert shell.run("calendar", str(file), "--days", "1", "--alarm", "no").code == 0
    assert b"X-POTTYBOARD-DAY:20260303" not in file.read_bytes()
    assert b"VALARM" not in file.read_bytes()
    assert b"960001" not in file.read_bytes()
    assert shell.run("calendar", str(file), "--alarm", "12", "--numbers").code == 0
    assert b"TRIGGER:-PT12M" in file.read_bytes()
    assert b"960001" in file.read_bytes()


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("--days 15", "--days goes from 1 to 14"),
        ("--days 0", "--days goes from 1 to 14"),
        ("--alarm soon", "write minutes from 0 to 120, or no"),
        ("--alarm 500", "write minutes from 0 to 120, or no"),
    ],
)
def test_what_cannot_be_is_refused(shell: Shell, tmp_path: Path, typed: str, words: str) -> None:
    file = tmp_path / "plan.ics"
    done = shell.run("calendar", str(file), *typed.split())
    assert done.code != 0
    assert words in done.err
    assert not file.exists()


def test_the_calendar_of_the_visits_is_not_overwritten(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "visits.ics"
    assert shell.run("visits", "--ics", str(file)).code == 0
    before = file.read_bytes()
    done = shell.run("calendar", str(file))
    assert done.code == 1
    assert "not a calendar of the plan" in done.err
    assert file.read_bytes() == before
