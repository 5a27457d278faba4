"""A whole day with the board in a real pseudo-terminal, from the set-up to the next start."""

from __future__ import annotations

import json
from functools import partial

from pottyboard.core.model.questions import QUESTIONS
from tests.terminal.laptop import Laptop
from tests.terminal.pseudo import PseudoTerminal

DAY = (
    ("06:32", "g", "Saved: Bramble got up, 06:32."),
    ("06:38", "b", "Saved: Bramble peed and pooped outside, 06:38."),
    ("07:02", "m", "Saved: Bramble ate, 07:02."),
    ("07:20", "n", "Saved: Bramble went out, nothing came, 07:20."),
    ("07:36", "p", "Saved: Bramble peed outside, 07:36."),
    ("08:30", "w", "Saved: Bramble drank, 08:30."),
    ("08:52", "p", "Saved: Bramble peed outside, 08:52."),
    ("09:30", "y", "Saved: Bramble played, 09:30."),
    ("09:46", "o", "Saved: Bramble pooped outside, 09:46."),
    ("10:20", "s", "Saved: Bramble showed a signal, 10:20."),
    ("10:23", "p", "Saved: Bramble peed outside, 10:23."),
)
"""A morning: the clock, the key, and what the board says."""


ANSWER = 44
"""A column of the form's answers, to the right of what is written there."""


def is_lit(terminal: PseudoTerminal, label: str, unlit: str) -> bool:
    """Whether the answer of a line stands out."""
    return terminal.background(label, ANSWER) != unlit


def set_up(terminal: PseudoTerminal) -> None:
    """Fill in two answers and accept all the others with enter, from line to line."""
    answers = {"name": "Bramble", "weight": "8 kg"}
    terminal.until("A new dog", "06:30  break", QUESTIONS[0].label, QUESTIONS[-1].label)
    unlit = ""
    for question, following in zip(QUESTIONS, [*QUESTIONS[1:], QUESTIONS[0]], strict=True):
        terminal.until_true(
            partial(is_lit, terminal, question.label, unlit),
            f"the line {question.label} to light up",
        )
        unlit = terminal.background(following.label, ANSWER)
        terminal.press(*answers.get(question.key, ""), "enter")
    terminal.until("Bramble · day 1 of 14 · Mon 2 Mar", "06:30", "p pee", gone="A new dog")


def log_an_accident(terminal: PseudoTerminal) -> None:
    """Answer the accident's questions, and leave one of them open."""
    terminal.press("a")
    terminal.until("Accident, 11:40", "▸ Pee or poop?")
    terminal.press("enter")
    terminal.until("✓ saved: 11:40 pee indoors", "▸ Seen happening, or found?")
    terminal.press("f")
    terminal.until("▸ When was the floor last dry?")
    terminal.press("2")
    terminal.until("▸ Where?", "kitchen")
    terminal.press("2")
    terminal.until("▸ Was the dog alone?")
    terminal.press("n")
    terminal.until("▸ How much?")
    terminal.press("u")
    terminal.until("▸ On what?")
    terminal.press("enter")
    terminal.until("▸ Up against something (a leg, a wall), or flat on the floor?")
    terminal.press("f")
    terminal.until("Saved: Bramble peed indoors, 11:40.", "No scolding", gone="✓ saved")


def test_a_whole_day(laptop: Laptop) -> None:
    laptop.set_clock("06:30")
    with laptop.board("setup", rows=64) as terminal:
        set_up(terminal)
        for clock, key, said in DAY:
            laptop.set_clock(clock)
            terminal.press(key)
            terminal.until(said, f" {clock} ")

        laptop.set_clock("11:40")
        log_an_accident(terminal)
        shown = terminal.until("clean living room (pee indoors, 11:40)", "30 min closer together")
        assert "A break every 1 h 30" in shown

        laptop.set_clock("11:50")
        terminal.press("c")
        terminal.until("Saved: cleaned up", gone="clean living room")

        terminal.press("y")
        terminal.until("Saved: Bramble played, 11:50.")
        terminal.press("u")
        terminal.until("Taken back: play 11:50, logged just now", gone="Saved: Bramble played")

        laptop.set_clock("12:30")
        terminal.press("2", "0")
        terminal.until("20 min ago")
        terminal.press("p")
        terminal.until("Saved: Bramble peed outside, 12:10 (20 min ago).")

        laptop.set_clock("22:31")
        terminal.press("p")
        terminal.until("Saved: Bramble peed outside, 22:31.")
        laptop.set_clock("22:40")
        terminal.press("z")
        terminal.until("Asleep for", "the night")
        terminal.press("enter")
        terminal.until("Saved: Bramble settled down, 22:40.")
        terminal.press("q")
        assert terminal.ended() == 0

    found = json.loads(laptop.run("now", "--json"))
    assert found["day"] == 1
    assert found["next_break"]["state"] == "asleep"
    assert found["interval_minutes"] == 90
    assert found["since_minutes"]["pee"] == 9
    assert found["since_minutes"]["accident"] == 11 * 60

    laptop.set_clock("06:40", "2026-03-03")
    with laptop.board() as terminal:
        terminal.until("Bramble · day 2 of 14 · Tue 3 Mar", "06:40")
        terminal.press("u")  # undo reaches back over the restart
        terminal.until("Take back: settled, night 22:40 yesterday, logged 8 h")
        terminal.press("y")
        terminal.until("Taken back: settled")
        terminal.press("q")
        assert terminal.ended() == 0

    day = laptop.run("day", "1")
    logged = [line[2:7] for line in day.splitlines() if line[2:4].isdigit()]
    keyed = [clock for clock, _, _ in DAY]
    assert sorted(logged) == sorted([*keyed, "06:30", "11:40", "11:40", "11:50", "12:10", "22:31"])
    assert "pee indoors, living room, found, dry at 11:10, not alone" in day
    assert "play" not in day.split("11:40")[-1]


def test_another_process_shows_on_the_open_board(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Moss", "--zone", "Europe/Oslo", "--arrived", "06:30")
    with laptop.board() as terminal:
        terminal.until("Moss", "none")
        laptop.run("log", "pee", "--ago", "12")
        terminal.until("08:48", "12 min")
        terminal.press("q")
        assert terminal.ended() == 0


def test_setup_without_options_opens_the_form(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    with laptop.board("setup") as terminal:
        terminal.until("A new dog")
        terminal.press("escape")
        assert terminal.ended() == 0
    assert not list(laptop.home.glob("*/settings.json"))


def test_setup_without_options_opens_the_form_over_the_board(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Moss", "--zone", "Europe/Oslo", "--arrived", "06:30")
    with laptop.board("setup") as terminal:
        terminal.until("Set-up", "Moss", "esc: leave")
        terminal.press("escape")
        terminal.until("Moss · day 1 of 14", "p pee", gone="esc: leave")
        terminal.press("q")
        assert terminal.ended() == 0


def test_the_demo_opens_a_board_of_its_own(laptop: Laptop) -> None:
    laptop.set_clock("13:00")
    with laptop.board("demo") as terminal:
        terminal.until("Mon 2 Mar", "p pee")
        terminal.press("p")
        terminal.until("Saved:")
        terminal.press("q")
        assert terminal.ended() == 0
    assert not laptop.home.exists() or not list(laptop.home.iterdir())


def test_a_refusal_comes_before_the_board_opens(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    with laptop.board("--dog", "Nobody") as terminal:
        assert terminal.ended() == 1
        assert "pottyboard: No dog" in terminal.text
        assert "\x1b[?1049h" not in terminal.sent.decode()


def test_a_dumb_terminal_gets_plain_text(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Moss", "--zone", "Europe/Oslo", "--arrived", "06:30")
    laptop.environ["TERM"] = "dumb"
    with laptop.board() as terminal:
        assert terminal.ended() == 0
        assert "Moss, day 1 of 14, Mon 2026-03-02, 09:00" in terminal.text
        assert b"\x1b" not in terminal.sent


def test_without_colour_no_colour_is_sent(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.environ["NO_COLOR"] = "1"
    laptop.run("setup", "--name", "Moss", "--zone", "Europe/Oslo", "--arrived", "06:30")
    with laptop.board() as terminal:
        terminal.until("Moss", "p pee")
        terminal.press("a")
        terminal.until("▸ Pee or poop?")
        terminal.press("escape")
        terminal.until("p pee", gone="▸ Pee or poop?")
        terminal.press("r", "h")
        terminal.until("▸ What was seen?")
        terminal.press("s")
        terminal.until("phone a vet now")
        terminal.press("escape")
        terminal.until("▲ Phone a vet now", "p pee")
        for key, shown in (("W", "CALL A VET NOW"), ("j", "explain"), ("P", "Nothing to clean")):
            terminal.press(key)
            terminal.until(shown)
            terminal.press("escape")
            terminal.until("p pee", gone=shown)
        terminal.press("q")
        assert terminal.ended() == 0
        assert b"38;2;" not in terminal.sent
        assert b"48;2;" not in terminal.sent
        assert b"38;5;" not in terminal.sent
        assert b"48;5;" not in terminal.sent
