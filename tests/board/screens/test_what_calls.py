"""A known dog on the board: the announcement answered by a key, calls asked back and dropped."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.board.kitchen import Kitchen
from tests.core.diary import CLEAR_DAY, MORNING


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """A kitchen at 07:00 on day 4, on which the log knows the dog."""
    home = Kitchen(tmp_path)
    home.wrote("09:05 up", *(entry for entry in CLEAR_DAY[2:] if entry > "09:06"))
    for day in (2, 3):
        home.wrote(*CLEAR_DAY, day=day)
    return home.wrote(*MORNING, day=4).at("07:00", day=4)


async def test_the_change_is_announced_and_one_key_keeps_it(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        assert "Bramble is known now" in board.text
        asked = await board.press("A")
        assert "k  keep it: its own log calls" in asked
        shown = await board.press("k")
        assert kitchen.last.measure == "own-log"
        assert "Bramble is known now" not in shown
        await board.press("u")
        assert "Bramble is known now" in board.text


async def test_the_key_that_asked_keeps_it_too(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        await board.press("A", "A")
        assert kitchen.last.measure == "own-log"


async def test_one_key_puts_it_off(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        shown = await board.press("A", "f")
        assert kitchen.last.measure == "fixed-reasons"
        assert "Bramble is known now" not in shown
        kitchen.at("07:01", day=4)
        shown = await board.press("h")
        assert "1 As you asked, the fixed reasons of the first days" in shown
        await board.press("1")
        assert kitchen.last.measure == "own-log"


async def test_a_key_asks_a_call_back_and_drops_it_again(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        asked = await board.press("B")
        assert "1  a break after each meal again" in asked
        assert "the fixed reasons of the first days" in asked, "no choice is cut"
        await board.press("1")
        assert kitchen.last.measure == "call-meal"
        kitchen.at("07:01", day=4)
        asked = await board.press("B")
        assert "1  no break of its own after meals" in asked
        await board.press("1")
        assert kitchen.last.measure == "drop-meal"
        entries = len(kitchen.log)
        await board.press("B", "0")
        await board.press("B", "enter")
        assert len(kitchen.log) == entries


async def test_the_hold_page_lists_the_calls_and_a_digit_turns_one(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        shown = await board.press("h")
        assert "1 No break of its own after meals" in shown
        assert "3 No break of its own after play" in shown
        shown = await board.press("3")
        assert kitchen.last.measure == "call-play"
        assert "3 A break 15 min after play, as you asked." in shown
        kitchen.at("07:01", day=4)
        shown = await board.press("3")
        assert kitchen.last.measure == "drop-play"
        assert "3 No break of its own after play" in shown
        await board.press("u")
        assert "3 A break 15 min after play, as you asked." in board.text


async def test_before_the_log_knows_the_dog_there_is_nothing_to_choose(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path).at("10:00")
    async with kitchen.board(120, 40) as board:
        assert "does not know Bramble yet" in await board.press("B")
        assert "What calls" not in await board.press("h")
        await board.press("1")
        assert kitchen.log == []


async def test_the_hold_page_says_what_each_level_means(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        shown = await board.press("h")
        assert "Balanced: about" in shown
        assert "That is no promise." in shown
        assert "Predicted up to today: less than one pee indoors by day; had: none." in shown
        assert "Careful: about" in shown


async def test_the_evening_page_says_so_too_and_by_how_much_outings_fall(kitchen: Kitchen) -> None:
    kitchen.wrote(*CLEAR_DAY[2:], day=4)
    kitchen.wrote(*MORNING, "09:00 pee", "13:00 pee", "17:00 pee", "22:20 pee", day=5)
    async with kitchen.at("22:25", day=5).board(100, 60) as board:
        shown = await board.press("E")
        assert "outings 5 today; 11 a day in the first three whole days" in " ".join(shown.split())
        assert "Balanced: about" in shown
