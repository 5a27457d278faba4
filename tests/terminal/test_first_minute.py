"""From an empty home to the board, in a real pseudo-terminal: few keys, and nothing else asked."""

from __future__ import annotations

from tests.terminal.laptop import Laptop


def test_an_empty_home_asks_three_questions_and_opens_the_board(laptop: Laptop) -> None:
    laptop.set_clock("18:05")
    with laptop.board(columns=80, rows=24) as terminal:
        shown = terminal.until("three questions and a choice", "Special")
        assert "2026-03-02 18:05" in shown, "it has arrived now"
        keys = (*"Moss", "enter", "3", "1", "enter", "enter", "enter")
        terminal.press(*keys)
        assert len(keys) <= 10
        terminal.until("Moss", "day 1 of 14", "answers left")
        terminal.press("p")
        terminal.until("Saved: Moss peed")
        terminal.press("q")
        assert terminal.ended() == 0
    assert "Moss" in laptop.run("now")
