"""Names of dogs and dogs that have gone, on the page of the dogs: the keys r, a and b."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.board.screens.day import DayScreen
from pottyboard.store import DogLog
from tests.board.screens.test_dogs import Home


@pytest.fixture
def home(tmp_path: Path) -> Home:
    """A kitchen with two dogs at ten."""
    made = Home(tmp_path)
    made.at("10:00").wrote("09:40 pee")
    made.wren_wrote("09:10 pee")
    return made


async def test_a_dog_is_given_another_name_and_its_log_goes_on(home: Home) -> None:
    async with home.board() as board:
        await board.press("D", "down", "r")
        assert "What is Wren called from now on?" in board.text
        await board.type("Moss")
        page = await board.press("enter")
        assert "Wren is called Moss now. The log goes on." in page
        assert "2  ▂ Moss  REST" in page
        await board.press("up", "r")
        await board.type("Odin")
        await board.press("enter", "escape")
        assert "Odin · day 1" in board.lines[0]
    assert DogLog(home.wren.folder).settings.dog.name == "Moss"
    assert home.logs() == [[("pee", None)], [("pee", None)]]
    assert home.household.dogs() == ("bramble", "wren")


@pytest.mark.parametrize("keys", [("enter",), ("escape",)])
async def test_no_name_or_a_second_thought_changes_nothing(
    home: Home, keys: tuple[str, ...]
) -> None:
    async with home.board() as board:
        shown = await board.press("D", "r", *keys)
        assert ("Give the dog a name." in shown) is (keys == ("enter",))
    assert home.dog_log.settings.dog.name == "Bramble"


async def test_a_dog_is_archived_and_brought_back(home: Home) -> None:
    async with home.board() as board:
        shown = await board.press("D", "down", "a")
        assert "Archive Wren? Its log is kept" in shown
        await board.press("enter")  # Enter alone changes nothing
        assert home.household.dogs() == ("bramble", "wren")
        page = await board.press("a", "y")
        assert "Wren is archived: its log is kept." in page
        assert "archived: Wren" in page
        assert home.household.dogs() == ("bramble",)
        page = await board.press("b")
        assert "Wren is back." in page
        assert "archived:" not in page
    assert home.household.dogs() == ("bramble", "wren")
    assert home.logs() == [[("pee", None)], [("pee", None)]]


async def test_where_the_dog_of_the_board_is_archived_another_one_s_board_opens(
    home: Home,
) -> None:
    async with home.board() as board:
        await board.press("D", "a", "y")
        assert board.shows(DayScreen)
        assert "Wren · day 1" in board.lines[0]
        await board.press("p")
    assert home.logs()[1] == [("pee", None), ("pee", None)]
    assert home.household.dogs() == ("wren",)


async def test_the_only_dog_stays(home: Home) -> None:
    home.household.archive("Wren")
    async with home.board() as board:
        shown = await board.press("D", "a")
        assert "The only dog here stays" in shown
    assert home.household.dogs() == ("bramble",)


async def test_of_several_archived_dogs_one_is_chosen(home: Home) -> None:
    home.add("Wren")
    for folder in ("wren", "wren-2"):
        home.household.archive_folder(folder)
    async with home.board() as board:
        page = await board.press("D")
        assert "archived: Wren, Wren (wren-2)" in page
        shown = await board.press("b")
        assert "Which one comes back?" in shown
        assert "Wren (wren-2)" in shown
        page = await board.press("2")
        assert "Wren (wren-2) is back." in page
    assert home.household.dogs() == ("bramble", "wren-2")


# --- Two dogs of one name -------------------------------------------------------------------------


async def test_two_dogs_of_one_name_are_told_apart_wherever_one_is_named(home: Home) -> None:
    home.household.archive("Bramble")
    twin = home.add("Wren")
    home.dog_log = home.wren
    async with home.board() as board:
        assert "Wren (wren-1) · day 1" in board.lines[0]
        page = await board.press("D")
        assert "1  ▂ Wren (wren-1)  REST" in page
        assert "2  " in page
        assert "Wren (wren-2)" in page
        await board.press("2")
        assert "Wren (wren-2) · day 1" in board.lines[0]
        saved = await board.press("p")
        assert "Wren (wren-2) peed outside" in saved
        await board.press("D", "r")
        await board.type("Moss")
        await board.press("enter", "escape")
        assert "Moss · day 1" in board.lines[0]
        await board.press("D", "1")
        assert "Wren · day 1" in board.lines[0]
    assert len(DogLog(twin.folder).events) == 1
