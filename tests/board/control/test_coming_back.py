"""The board comes back by itself over what was left open: common practice, no source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.widgets import Input

from pottyboard.board.dialogs.accident import AccidentDialog
from pottyboard.board.dialogs.ask import AskDialog
from pottyboard.board.dialogs.correct import CorrectDialog
from pottyboard.board.dialogs.report import ReportDialog
from pottyboard.board.screens.day import DayScreen
from pottyboard.board.screens.emergency import EmergencyScreen
from pottyboard.board.screens.hold import HoldScreen
from pottyboard.board.set_up.full_form import SetupScreen
from pottyboard.board.widgets.message_area import MessageArea
from tests.board.kitchen import Kitchen, instant
from tests.board.test_golden_screens import kitchen

OVER = ["h", "F", "E", "f", "P", "j", "W", "N", "D", "S", "question_mark", "a", "t", "r", "z", "i"]
"""The key of each page, panel and dialog that opens over the board."""


@pytest.fixture
def house(tmp_path: Path) -> Kitchen:
    """The fourth day; the next break is at 11:00."""
    return kitchen(tmp_path / "home")


def later(house: Kitchen, clock: str, second: int) -> Kitchen:
    """Set the clock between two minutes."""
    house.now = instant(clock, 4).replace(second=second)
    return house


@pytest.mark.parametrize("key", OVER)
@pytest.mark.parametrize("size", [(60, 20), (120, 40)])
async def test_whatever_covers_the_board_says_when_the_break_is(
    house: Kitchen, key: str, size: tuple[int, int]
) -> None:
    async with house.at("10:05", 4).board(*size) as board:
        shown = await board.press(key)
        assert not board.shows(DayScreen)
        assert re.search(r"▂ REST.* 11:00", board.lines[_top_of(shown)])
        # Somebody is still there, so that it stays open.
        await board.press("left")
        later(house, "10:46", 0)
        await board.press("left")
        shown = await board.tick()
        assert not board.shows(DayScreen)
        assert re.search(r"▅ SOON.* 11:00", board.lines[_top_of(shown)])


def _top_of(shown: str) -> int:
    """Return the row of the edge of a dialog, 0 for a page."""
    return next((n for n, line in enumerate(shown.split("\n")) if "╭" in line), 0)


@pytest.mark.parametrize("key", OVER)
async def test_two_minutes_without_a_key_bring_the_board_back(house: Kitchen, key: str) -> None:
    async with house.at("10:05", 4).board() as board:
        await board.press(key)
        house.at("10:06", 4)
        await board.tick()
        assert not board.shows(DayScreen)
        house.at("10:07", 4)
        await board.tick()
        assert board.shows(DayScreen)


@pytest.mark.parametrize(("opened", "falls"), [("10:59", "11:00"), ("11:15", "11:16")])
async def test_a_break_that_falls_due_or_late_brings_it_back_at_once(
    house: Kitchen, opened: str, falls: str
) -> None:
    async with house.at(opened, 4).board() as board:
        await board.press("h")
        assert board.shows(HoldScreen)
        house.at(falls, 4)
        await board.tick()
        assert board.shows(DayScreen)


async def test_a_key_just_after_it_only_says_so(house: Kitchen) -> None:
    async with house.at("10:59", 4).board() as board:
        before = house.log
        await board.press("z")
        house.at("11:00", 4)
        await board.tick()
        assert "back on the board: press again" in await board.press("n")
        assert house.log == before
        later(house, "11:00", 1)
        await board.press("n")
        assert len(house.log) == len(before) + 1


async def test_never_while_somebody_types(house: Kitchen) -> None:
    async with house.at("10:59", 4).board() as board:
        await board.press("t")
        later(house, "10:59", 55)
        await board.type("calm")
        later(house, "11:00", 2)
        await board.tick()
        assert board.shows(AskDialog)
        later(house, "11:00", 6)
        await board.tick()
        assert board.shows(DayScreen)
        house.at("11:02", 4)
        await board.press("t")
        assert board.app.screen.query_one(Input).value == "calm"
        await board.press("enter")
        assert house.last.note == "calm"


async def test_never_from_the_emergency_page_or_while_a_dog_is_set_up(house: Kitchen) -> None:
    async with house.at("10:59", 4).board() as board:
        await board.press("exclamation_mark")
        house.at("11:40", 4)
        shown = await board.tick()
        assert board.shows(EmergencyScreen)
        assert "LATE" in shown.split("\n")[0]
        await board.press("escape")
        board.app.action_dogs()
        await board.settled()
        await board.press("n")
        assert board.shows(SetupScreen)
        house.at("12:40", 4)
        await board.tick()
        assert board.shows(SetupScreen)


async def test_an_accident_that_was_left_open_is_one_key_away(house: Kitchen) -> None:
    house.wrote("08:00 cleaned", day=4)
    async with house.at("10:50", 4).board(200, 60) as board:
        await board.press("a", "p")
        house.at("11:00", 4)
        shown = await board.tick()
        assert board.shows(DayScreen)
        assert "□ A: say whether seen or found and where (accident at 10:50)" in shown
        assert house.last.at == instant("10:50", 4)
        house.at("11:01", 4)
        shown = await board.press("A", "f")
        assert board.shows(AccidentDialog)
        assert house.last.found
        assert "When was the floor last dry?" in shown


async def test_an_accident_of_which_nothing_was_said_waits_with_its_time(house: Kitchen) -> None:
    async with house.at("10:50", 4).board() as board:
        before = house.log
        await board.press("a")
        house.at("10:53", 4)
        shown = await board.tick()
        assert "□ A: pee or poop? Not saved yet (accident at 10:50)" in shown
        assert house.log == before
        house.at("10:55", 4)
        await board.press("A", "o", "escape")
        assert house.last.kind == "poop-inside"
        assert house.last.at == instant("10:50", 4)
        assert "Not saved yet" not in board.text


async def test_an_accident_that_was_none_is_let_go(house: Kitchen) -> None:
    async with house.at("10:50", 4).board() as board:
        await board.press("a")
        house.at("10:53", 4)
        await board.tick()
        house.at("10:55", 4)
        assert "Not saved yet" not in await board.press("A", "escape")
        await board.press("A")
        assert not board.shows(AccidentDialog), "the next question is another one"


async def test_what_was_typed_into_a_dialog_is_there_when_it_opens_again(house: Kitchen) -> None:
    async with house.at("10:05", 4).board() as board:
        await board.press("up", "e", "down", "down", "x")
        await _left_alone(board, house, "10:08")
        await board.press("up", "e")
        assert board.shows(CorrectDialog)
        assert any(line.value.endswith("x") for line in board.app.screen.query(Input))
        await board.press("escape", "i")
        await board.type("wee")
        await _left_alone(board, house, "10:12")
        await board.press("i")
        assert board.shows(ReportDialog)
        assert board.app.screen.query_one(MessageArea).text == "wee"
        await board.press("escape", "S", "y")
        await _left_alone(board, house, "10:16")
        await board.press("S")
        assert any(line.value.endswith("y") for line in board.app.screen.query(Input))


async def test_the_time_that_was_typed_is_there_when_a_dialog_opens_again(house: Kitchen) -> None:
    async with house.at("10:05", 4).board() as board:
        await board.press("3", "5", "z")
        await _left_alone(board, house, "10:08")
        await board.press("z", "enter")
        assert "09:30 settled" in house.log
        await board.press("2", "t")
        await board.type("wa")
        await _left_alone(board, house, "10:13")
        await board.press("5", "t", *"ry", "enter")
    assert "10:08 note" in house.log
    assert "wary" in [event.note for event in house.dog_log.events]


async def _left_alone(board: object, house: Kitchen, clock: str) -> None:
    house.at(clock, 4)
    await board.tick()  # type: ignore[attr-defined]
    assert board.shows(DayScreen)  # type: ignore[attr-defined]
    later(house, clock, 2)


async def test_back_home_is_logged_though_how_it_went_is_not_said(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).wrote("09:10 left")
    async with house.at("10:00").board() as board:
        await board.press("k")
        house.at("10:02")
        await board.tick()
        assert board.shows(DayScreen)
        assert house.log[-1] == "10:00 back"
