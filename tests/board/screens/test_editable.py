"""Rows of entries, one of them selected: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.board.dialogs.correct import CorrectDialog
from pottyboard.board.screens.editable import EditableScreen
from pottyboard.board.widgets.timeline import Timeline
from tests.board.kitchen import Board, Kitchen


@pytest.fixture
def house(tmp_path: Path) -> Kitchen:
    """Three entries of the first day; it is 10:00."""
    return Kitchen(tmp_path).wrote("09:10 pee", "09:20 meal", "09:30 note", note="calm").at("10:00")


def chosen(board: Board) -> str:
    """Return the kind of the selected entry, empty without one."""
    screen = board.app.screen
    assert isinstance(screen, EditableScreen)
    found = screen.entries.find(screen.chosen) if screen.chosen else None
    return found.kind if found else ""


async def test_the_selection_begins_with_the_last_and_stays_in_the_list(house: Kitchen) -> None:
    async with house.board() as board:
        assert chosen(board) == ""
        steps = [("down", "note"), ("up", "meal"), ("up", "pee"), ("up", "pee"), ("down", "meal")]
        for key, kind in steps:
            await board.press(key)
            assert chosen(board) == kind
        assert "corrects, x or del deletes: 09:20 meal" in board.text


async def test_on_a_day_of_the_past_going_down_begins_with_the_first(house: Kitchen) -> None:
    async with house.at("10:00", 2).board() as board:
        await board.press("F", "up", "enter", "down")
        assert chosen(board) == "pee"
        await board.press("escape", "enter", "up")
        assert chosen(board) == "note"


async def test_deleting_forgets_the_selection_and_undo_does_not_offer_itself(
    house: Kitchen,
) -> None:
    async with house.board() as board:
        shown = await board.press("up", "x", "y")
        assert house.log == ["09:10 pee", "09:20 meal"]
        assert isinstance(board.app.screen, EditableScreen)
        assert board.app.screen.chosen == ""
        assert "u takes it back." in shown
        shown = await board.press("u")
        assert house.log == ["09:10 pee", "09:20 meal", "09:30 note"]
        assert "takes it back" not in shown


async def test_without_a_selection_it_says_how_to_select(house: Kitchen) -> None:
    async with house.board() as board:
        for key in ("e", "x"):
            assert "Select an entry first, with ↑ or ↓." in await board.press(key)
        assert len(house.log) == 3


async def test_a_day_without_entries_says_so(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board() as board:
        assert "Nothing is logged today." in await board.press("up")


async def test_a_click_selects_and_a_second_one_opens(house: Kitchen) -> None:
    async with house.board() as board:
        timeline = board.app.screen.query_one(Timeline)
        meal = house.dog_log.events[1].id
        timeline.post_message(Timeline.Clicked(meal))
        await board.press()
        assert chosen(board) == "meal"
        timeline.post_message(Timeline.Clicked(meal))
        await board.press()
        assert board.shows(CorrectDialog)
        await board.press("escape")
        assert len(house.log) == 3
