"""What is typed faster than the board draws, in a real pseudo-terminal: no key is lost."""

from __future__ import annotations

from tests.terminal.laptop import Laptop


def test_a_whole_line_of_keys_in_one_write(laptop: Laptop) -> None:
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Bramble", "--zone", "Europe/Oslo", "--arrived", "06:30")
    laptop.set_clock("11:40")
    with laptop.board() as terminal:
        terminal.until("p pee")
        # A note, a nap by its default, twenty minutes ago a meal, then straining: with its page.
        terminal.press("twary\rz\r20mrhs")
        terminal.until("phone a vet now", "last meal 11:20")
    day = " ".join(laptop.run("day", "1").split())
    for entry in ("wary", "settled", "straining to pee"):
        assert entry in day
