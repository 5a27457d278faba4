"""Warnings on the command line: said when an entry raises one, noted, and answered for."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.shell import Shell


@pytest.fixture
def bramble(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in Bramble's home."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    return shell


def warnings(shell: Shell) -> dict[str, str | None]:
    """Return what was noted of each warning that stands, by its code."""
    found = json.loads(shell.run("now", "--json").out)["warnings"]
    return {warning["warning"]: warning["noted"] for warning in found}


def test_an_entry_that_raises_a_warning_says_so_at_once(bramble: Shell) -> None:
    lines = bramble.type("log health --finding blood --ago 5").out.splitlines()
    assert lines[1] == "! Call your vet soon, today if you can: blood was seen."
    assert lines[2].startswith("Next ")
    assert len(bramble.type("log play").out.splitlines()) == 2, "said once"
    assert bramble.run("now", "--line").out.startswith("Bramble: call a vet soon; ")


def test_an_emergency_is_said_at_each_entry_until_it_is_noted(bramble: Shell) -> None:
    for line in ("log health --finding straining --ago 5", "log play"):
        assert "! Phone a vet now" in bramble.type(line).out
    bramble.type('log noted --about straining --note "on our way"')
    assert "vet" not in bramble.type("log play").out
    assert warnings(bramble) == {"straining": "on our way"}


def test_only_a_warning_that_stands_can_be_noted(bramble: Shell) -> None:
    bramble.type("log health --finding pain")
    done = bramble.type("log noted --about blood")
    assert done.code == 1
    assert "“blood” is no warning that stands. Open: pain (Call your vet soon" in done.err
    assert warnings(bramble) == {"pain": None}


def test_a_vet_check_ends_it(bramble: Shell) -> None:
    bramble.type("log health --finding pain --ago 10")
    bramble.type("log vet")
    assert warnings(bramble) == {}
