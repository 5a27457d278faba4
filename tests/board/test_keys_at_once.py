"""Keys that arrive faster than what they open: none is lost, none overtakes another."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.board.dialogs.report import ReportDialog
from pottyboard.board.screens.emergency import EmergencyScreen
from pottyboard.board.screens.hold import HoldScreen
from tests.board.kitchen import Kitchen


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """A morning with one pee."""
    return Kitchen(tmp_path).at("10:00").wrote("09:30 pee")


async def test_three_keys_note_straining(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("r", "h", "s")
        assert kitchen.last.finding == "straining"
        assert board.shows(EmergencyScreen)


async def test_a_note_and_the_next_entry(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("t", *"wary", "enter", "p")
    assert sorted(kitchen.log) == ["09:30 pee", "10:00 note", "10:00 pee"]
    assert [event.note for event in kitchen.dog_log.events if event.kind == "note"] == ["wary"]


async def test_enter_right_behind_the_key_that_asks(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("z", "enter", "g")
    assert sorted(kitchen.log) == ["09:30 pee", "10:00 settled", "10:00 up"]


async def test_minutes_letter_and_answers(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("1", "5", "a", "p", "f", "2", "escape", "c")
    accident, cleaned = kitchen.dog_log.events[-2:]
    assert (accident.kind, accident.found, cleaned.kind) == ("pee-inside", True, "cleaned")
    assert accident.at < cleaned.at


async def test_keys_go_to_what_the_key_before_opened_or_closed(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("h", "question_mark", "escape", "escape", "o", "h")
        assert board.shows(HoldScreen)
    assert kitchen.log == ["09:30 pee", "10:00 poop"]


async def test_a_message_pasted_right_behind_its_key(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("i", pasted="9:40 poop\r9:50 water")
        assert board.shows(ReportDialog)
        await board.press("ctrl+s")
    assert kitchen.log == ["09:30 pee", "09:40 poop", "09:50 water"]


async def test_another_kind_and_the_key_right_behind_it(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("up", "e")
        # What a meal or a note carries is asked in other lines: they change under the next key.
        await board.at_once(*"note", "down", "down", "down", *"wary")
        await board.press("ctrl+s")
    assert [(event.kind, event.note) for event in kitchen.dog_log.events] == [("note", "wary")]


@pytest.mark.parametrize("pasted", ["slept\nwell", "slept\r\nwell\r\n", "slept\rwell"])
async def test_a_paste_of_two_lines_into_one_keeps_both(kitchen: Kitchen, pasted: str) -> None:
    async with kitchen.board() as board:
        await board.press("t")
        await board.at_once(pasted=pasted)
        await board.press("enter")
    assert kitchen.last.note == "slept well"
