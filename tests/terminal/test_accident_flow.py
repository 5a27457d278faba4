"""An accident by keys alone in a real pseudo-terminal: saved in two, all else later."""

from __future__ import annotations

import time

from tests.terminal.laptop import Laptop
from tests.terminal.pseudo import PseudoTerminal


def complete_it(terminal: PseudoTerminal) -> None:
    """Answer what the entry leaves open, one key an answer."""
    terminal.press("a")
    terminal.until("Pee or poop?", "r  the other questions about 11:40")
    for key, following in (
        ("r", "▸ Seen happening, or found?"),
        ("s", "▸ Where?"),
        ("1", "▸ Was the dog alone?"),
        ("n", "▸ How much?"),
        ("u", "▸ On what?"),
        ("w", "▸ Up against something (a leg, a wall), or flat on the floor?"),
    ):
        terminal.press(key)
        terminal.until(following)
    terminal.press("f")
    terminal.until("Saved: Bramble peed indoors, 11:40", gone="▸ Up against")


def test_an_accident_from_two_keys_to_a_changed_routine(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Bramble", "--zone", "Europe/Oslo", "--arrived", "06:30")
    laptop.run("log", "pee")
    laptop.set_clock("11:40")
    with laptop.board() as terminal:
        terminal.until("break was due at 11:00", "p pee")

        # Two keys, and it is on disk: another process sees it while the questions still stand.
        terminal.press("a", "p")
        terminal.until("✓ saved: 11:40 pee indoors", "▸ Seen happening, or found?")
        assert "pee indoors" in laptop.run("day", "1")
        terminal.press("escape")
        terminal.until("Saved: Bramble peed indoors, 11:40.", gone="▸ Seen")

        laptop.set_clock("11:50")
        complete_it(terminal)

        terminal.press("P")
        terminal.until("1 □ clean kitchen", "along the grain", "1 to clean")
        terminal.press("1")
        terminal.until("Cleaned: 1 spot.", "all clean", gone="□ clean kitchen")
        terminal.press("escape")
        terminal.until("p pee", gone="places and cleaning")

        terminal.press("j")
        terminal.until("Likely: the break was late", "on wood")
        terminal.press("9")
        terminal.until("Set by you: soon after a meal", "t takes it")
        terminal.press("t")
        terminal.until("taken: the plan has it", gone="t takes it")
        terminal.press("escape")
        terminal.until("p pee", gone="why it happened")
        terminal.press("q")
        assert terminal.ended() == 0

    laptop.set_clock("12:00")
    with laptop.board() as terminal:
        terminal.until("pee indoors", "cleaned up", "routine changed", gone="□ clean kitchen")
        terminal.press("j")
        terminal.until("Set by you: soon after a meal", "taken: the plan has it", "seen happening")
        terminal.press("escape")
        terminal.until("p pee", gone="why it happened")
        terminal.press("P")
        terminal.until("all clean", "▸ kitchen")
        terminal.press("!")
        terminal.until("phone a vet now", gone="all clean")
        terminal.press("!")
        terminal.until("all clean")
        terminal.press("escape")
        terminal.until("p pee", gone="all clean")
        terminal.press("q")
        assert terminal.ended() == 0


def test_a_panel_that_is_left_alone_gives_way_to_the_board(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Bramble", "--zone", "Europe/Oslo", "--arrived", "06:30")
    laptop.run("log", "pee")
    laptop.set_clock("10:40")
    with laptop.board() as terminal:
        terminal.until("break at 11:00", "p pee")
        terminal.press("a", "p")
        terminal.until("✓ saved: 10:40 pee indoors", "▸ Seen happening, or found?")
        laptop.set_clock("10:43")
        terminal.until("p pee", "□ A: say whether seen or found", gone="▸ Seen happening")
        # A second later a key means the board again.
        time.sleep(1.1)
        terminal.press("A")
        terminal.until("▸ Seen happening, or found?")
