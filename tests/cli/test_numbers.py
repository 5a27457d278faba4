"""Phone numbers on the command line: asked for, said where somebody calls, and nowhere else.

They are of a range that no telephone has: Ofcom, Numbers for drama (published).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from icalendar import Calendar

from tests.cli.shell import Shell

NUMBERS = "Mina 01632 960003; Vet 01632 960001; Night vet 01632 960002"


@pytest.fixture
def bramble(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in the home of Bramble, whom Mina visits."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    away = ("--workdays", "mon-fri", "--absent-from", "1", "--helpers", "Mina 8:00-18:00 10")
    assert shell.run("setup", "--numbers", NUMBERS, *away).code == 0
    return shell


def test_an_answer_that_does_not_fit_is_refused_with_a_form_that_works(bramble: Shell) -> None:
    refused = bramble.run("setup", "--numbers", "01632 960001 Vet")
    assert refused.code != 0
    assert "Write the name first: Vet 01632 960001" in refused.err
    assert "Vet 01632 960001" in bramble.run("sheet", "--draft", "--fridge").out


def test_they_are_said_where_somebody_calls(bramble: Shell) -> None:
    bramble.type("log health --finding straining --ago 5")
    assert "  Call: Vet 01632 960001; Night vet 01632 960002" in bramble.run("now").out
    assert "  Night vet                 01632 960002" in bramble.run("sheet", "--draft").out
    fridge = bramble.run("sheet", "--fridge").out.splitlines()
    at = fridge.index("NUMBERS")
    assert fridge[at + 1 : at + 4] == [
        "  Vet 01632 960001", "  Night vet 01632 960002", "  Mina 01632 960003",
    ]  # fmt: skip


def test_a_calendar_s_visit_names_whom_its_helper_can_call(bramble: Shell, tmp_path: Path) -> None:
    file = tmp_path / "visits.ics"
    assert bramble.run("visits", "--ics", str(file), "--from", "tomorrow").code == 0
    visits = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert visits
    for visit in visits:
        said = str(visit["DESCRIPTION"]).splitlines()
        assert said[-2:] == ["Vet 01632 960001", "Night vet 01632 960002"]


@pytest.mark.parametrize(
    "line",
    ["now --json", "now --line", "now --all --json", "day", "visits", "visits --json", "diary",
     "review", "export", "export --jsonl -", "dogs", "diary --html FILE", "review --html FILE",
     "export --csv FILE", "export --jsonl FILE"],
)  # fmt: skip
def test_they_are_private(bramble: Shell, tmp_path: Path, line: str) -> None:
    bramble.type("log health --finding straining --ago 5")
    file = tmp_path / "out"
    done = bramble.type(line.replace("FILE", str(file)))
    assert done.code == 0, done.err
    said = done.out + done.err + (file.read_text("utf-8") if file.exists() else "")
    assert said.strip()
    assert "9600" not in said


def test_the_answer_to_an_entry_names_whom_to_call_too(bramble: Shell) -> None:
    said = bramble.type("log health --finding straining").out.splitlines()
    at = next(place for place, line in enumerate(said) if line.startswith("! "))
    assert said[at + 1] == "  Call: Vet 01632 960001; Night vet 01632 960002"


def test_an_export_has_them_where_it_is_asked_to_and_nothing_else(
    bramble: Shell, tmp_path: Path
) -> None:
    bramble.type("log pee --note secret")
    plus = "Vet 01632 960001; Otto +44 1632 960004"  # a spreadsheet would take + for a formula
    assert bramble.run("setup", "--numbers", plus).code == 0
    out = bramble.type("export --numbers -").out
    assert out.splitlines() == ["name,number", "Vet,01632 960001", "Otto,'+44 1632 960004"]
    file = tmp_path / "numbers.csv"
    done = bramble.run("export", "--numbers", str(file))
    assert "2 numbers in it" in done.err
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.read_text("utf-8").splitlines() == out.splitlines()
    assert bramble.run("export", "--numbers", "-", "--csv", "-").code == 2
