"""The program where the system knows no UTF-8: plain glyphs by themselves, and no “?” for a letter.

Sources: POSIX, chapter 8.2 (LC_ALL before LC_CTYPE before LANG, the locale C); PEP 538 and PEP 540
(what Python makes of the locale C, and PYTHONUTF8, PYTHONCOERCECLOCALE that keep it from that).
"""

from __future__ import annotations

import pytest

from tests.terminal.laptop import Laptop
from tests.terminal.pseudo import PseudoTerminal

SYSTEMS = {
    "LANG=C": {"LANG": "C"},
    "ASCII": {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    "ASCII by name": {"LANG": "C.UTF-8", "PYTHONIOENCODING": "ascii"},
}


@pytest.fixture
def home(laptop: Laptop) -> Laptop:
    """A laptop with a dog whose name and people have letters beyond ASCII."""
    laptop.set_clock("09:00")
    laptop.run(
        "setup", "--name", "Bjørk", "--people", "Zoë, Max", "--zone", "Europe/Oslo",
        "--arrived", "06:30", "--helpers", "Ida 8-18 9",
    )  # fmt: skip
    laptop.run("log", "pee", "--at", "06:40", "--by", "Zoë")
    laptop.run("log", "pee-inside", "--at", "08:30", "--by", "Zoë", "--place", "gården")
    return laptop


def without_utf8(laptop: Laptop, system: str) -> Laptop:
    """Return the laptop with a system that knows no UTF-8."""
    for name in ("LANG", "LC_ALL", "LC_CTYPE"):
        laptop.environ.pop(name, None)
    laptop.environ.update(SYSTEMS[system])
    return laptop


def without_a_lost_letter(terminal: PseudoTerminal, *wanted: str) -> str:
    """Wait until the screen shows every text and no “?” but that of the key for help.

    A frame arrives in pieces: meanwhile a part of the screen before it still stands.
    """

    def shown() -> bool:
        seen = terminal.text
        return "?" not in seen.replace("? help", "") and all(words in seen for words in wanted)

    terminal.until_true(shown, f"{wanted} without a question mark")
    return terminal.text


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_board_has_plain_glyphs_by_itself(home: Laptop, system: str) -> None:
    with without_utf8(home, system).board(columns=80, rows=24) as terminal:
        shown = without_a_lost_letter(terminal, "Bjork - day 1 of 14", "p pee", "? help")
        assert "#####" in shown, "the large letters are drawn with plain marks"
        terminal.press("f")
        terminal.until("away from home", "esc back", gone="?")
        terminal.press("escape")
        terminal.until("p pee", gone="away from home")
        terminal.press("p")
        without_a_lost_letter(terminal, "Saved: Bjork peed")
        terminal.press("q")
        assert terminal.ended() == 0
        assert terminal.sent.isascii()


COMMANDS = (
    "now", "now --line", "day", "visits", "sheet", "diary", "review", "check", "demo --list",
    "--help", "log --help", "log wee", "undo",
)  # fmt: skip
ASKED = ("Did you mean", "Was the dog", "sure are we?", "What was", "Was it")
"""What asks something: there a question mark is one."""


def test_what_the_commands_print_on_a_terminal(home: Laptop) -> None:
    without_utf8(home, "ASCII")
    for words in COMMANDS:
        with home.board(*words.split(), columns=120, rows=200) as terminal:
            terminal.ended()
            shown = terminal.text
        assert shown.strip(), words
        assert shown.isascii(), words
        lost = [line for line in shown.splitlines() if "?" in line]
        assert [line for line in lost if not any(each in line for each in ASKED)] == [], words


def test_a_file_keeps_every_letter_that_it_can_carry(home: Laptop) -> None:
    assert "gården" in home.run("day")
    home.environ.update(LANG="C")  # Python writes UTF-8 into a pipe there (PEP 540)
    assert "gården" in home.run("day")
    assert "gården" in home.run("export")
    assert "garden" in without_utf8(home, "ASCII").run("day")
