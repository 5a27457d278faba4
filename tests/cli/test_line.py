"""The status line in three lengths, the exit code that tells the state, the trial of the alarm."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.cli.commands.now import EXIT_CODES
from pottyboard.core.view.in_short import URGENCY
from tests.cli.shell import BRAMBLE, Shell


@pytest.fixture
def bramble(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A home in which Bramble's last pee was at 10:05, two hours before the break."""
    made = Shell(tmp_path / "home", capsys)
    made.set_up()
    assert made.run("log", "pee", "--at", "10:05").code == 0
    return made


@pytest.mark.parametrize(
    ("clock", "short", "middle"),
    [
        ("11:00", "1 h 05", "Bramble 1 h 05, break 12:05"),
        ("12:00", "5 min", "Bramble 5 min, break 12:05"),
        ("12:05", "DUE", "Bramble DUE, break 12:05"),
        ("12:21", "LATE 16", "Bramble LATE 16, break 12:05"),
    ],
)
def test_the_lengths_of_the_line(bramble: Shell, clock: str, short: str, middle: str) -> None:
    assert bramble.type(f"now --line short --at {clock}").out == f"{short}\n"
    assert bramble.type(f"now --at {clock} --line=middle").out == f"{middle}\n"
    long = bramble.type(f"now --line long --at {clock}").out
    assert long == bramble.type(f"now --at {clock} --line").out
    assert long.startswith("Bramble: ")


def test_no_other_length_is_known(bramble: Shell) -> None:
    done = bramble.type("now --line tiny")
    assert done.code == 2
    assert "short" in done.err


@pytest.mark.parametrize(
    ("clock", "code"), [("11:00", 0), ("11:50", 10), ("12:05", 11), ("12:21", 12)]
)
def test_the_exit_code_tells_the_state_on_request_alone(
    bramble: Shell, clock: str, code: int
) -> None:
    assert bramble.type(f"now --at {clock}").code == 0
    for form in ("", "--line", "--line short", "--json", "--all"):
        assert bramble.type(f"now --exit-state --at {clock} {form}").code == code


def test_every_state_has_a_code_of_its_own_beside_the_usual_ones() -> None:
    assert set(EXIT_CODES) == set(URGENCY)
    assert len(set(EXIT_CODES.values())) == len(EXIT_CODES)
    # 1 is refused, 2 usage; 126 and up mean something to a shell (POSIX, Shell Command Language)
    assert all(code == 0 or 10 <= code < 126 for code in EXIT_CODES.values())


def test_what_is_refused_keeps_its_code(bramble: Shell, tmp_path: Path) -> None:
    assert bramble.type(f"now --exit-state --home {tmp_path}/elsewhere").code == 1
    assert bramble.type("now --exit-state --at never").code == 1


def test_of_several_dogs_the_most_urgent_counts_and_each_is_named(bramble: Shell) -> None:
    assert bramble.type(BRAMBLE.replace("Bramble", "Wren").replace("setup", "setup --another"))
    bramble.type("log pee --at 10:30 --dog wren")
    done = bramble.type("now --all --line short --exit-state --at 12:06")
    assert (done.code, done.out) == (11, "DUE, Bramble\n24 min, Wren\n")
    for path in (bramble.home / "wren").rglob("*settings*"):
        path.unlink()
    (bramble.home / "wren" / "events-2026-03.json").write_text("{}")
    assert bramble.type("now --all --exit-state --at 12:06").code == 1


# --- Ring now -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("program", "words"),
    [
        ("true", "Rang by “true”."),
        ("false", "Nothing rang. No notice: no terminal that shows any. “false” ended with"),
        ("no-such-program", "“no-such-program” is not on this computer"),
    ],
)
def test_a_trial_says_what_it_did(bramble: Shell, program: str, words: str) -> None:
    saved = bramble.run("setup", "--notifier", program, "--ring")
    assert saved.code == 0
    assert words in saved.out
    again = bramble.run("setup", "--ring")
    assert again.out in saved.out
    assert "\a" not in again.out, "this is no terminal"


def test_the_answers_about_the_alarm_are_refused_with_a_form_that_works(bramble: Shell) -> None:
    done = bramble.run("setup", "--quiet", "night", "--notice", "osc1", "--notifier=-x")
    assert done.code == 1
    for words in ("22:30-07:00", "osc99", "program's name first"):
        assert words in done.err
