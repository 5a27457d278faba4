"""Weights and money are said in the unit and the currency in which the household wrote them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.shell import Shell


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in the home of a dog weighed in pounds, whose helper is paid in euros."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    answers = ("--weight", "18 lb 6 oz", "--workdays", "mon-fri", "--absent-from", "1")
    assert shell.run("setup", *answers, "--helpers", "Mina 8:00-18:00 €12.50").code == 0
    return shell


@pytest.mark.parametrize(
    "line", ["setup --bed 22:00", "review", "diary", "sheet --draft", "dogs", "check"]
)
def test_pounds_stay_pounds(shell: Shell, line: str) -> None:
    out = shell.type(line).out
    assert "18 lb 6 oz" in out or " kg" not in out
    if line != "check":
        assert "18 lb 6 oz (8.33" in out


def test_euros_stay_euros(shell: Shell) -> None:
    out = shell.type("visits --from tomorrow --days 2").out
    assert "Mina, €12.50" in out
    assert "These 2 days: 8 visits, €100.00" in out
    assert "if all goes well: " in out
    assert "visits, €" in out.split("if all goes well: ")[1].splitlines()[0]


def test_a_code_stands_behind_the_sum_and_no_currency_is_made_up(shell: Shell) -> None:
    shell.run("setup", "--helpers", "Mina 8:00-18:00 120 NOK")
    assert "Mina, 120.00 NOK" in shell.type("visits --from tomorrow --days 1").out
    shell.run("setup", "--helpers", "Mina 8:00-18:00 12")
    assert "Mina, 12.00:" in shell.type("visits --from tomorrow --days 1").out


def test_the_set_up_repeats_what_it_understood_of_what_was_written(shell: Shell) -> None:
    out = shell.run("setup", "--bed", "10.30pm", "--exceptions", "Ben 27 Nov 8:30-13:00",
                    "--people", "Ana, Ben").out  # fmt: skip
    assert "Understood --bed: 22:30" in out
    assert "Understood --exceptions: Ben 2026-11-27 08:30-13:00" in out
    assert "Understood --people" not in out
    assert "Understood" not in shell.type("setup --bed 22:15").out
