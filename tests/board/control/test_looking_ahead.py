"""On day 14 the weeks ahead open by themselves: once, and never over what matters more."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from pottyboard.board.screens.ahead import AheadScreen
from pottyboard.board.screens.day import DayScreen
from tests.board.kitchen import Board, Kitchen


def after(folder: Path, *entries: str, day: int = 14, clock: str = "09:10") -> Kitchen:
    """Return a kitchen on a morning of the programme, with these entries of it."""
    return Kitchen(folder).wrote("06:35 up", *entries, day=day).at(clock, day)


async def look_later(house: Kitchen, board: Board, seconds: int = 6) -> None:
    """Let the board look again some seconds after the last key."""
    house.now += timedelta(seconds=seconds)
    await board.tick()


async def test_the_weeks_ahead_open_once(tmp_path: Path) -> None:
    house = after(tmp_path, "09:05 pee")
    async with house.board() as board:
        assert board.shows(DayScreen), "not before somebody has seen the board"
        await look_later(house, board)
        assert board.shows(AheadScreen)
        await board.press("escape")
        await look_later(house, board)
        assert board.shows(DayScreen)
    async with house.board() as board:
        await look_later(house, board)
        assert board.shows(DayScreen), "closed once, it stays closed"


@pytest.mark.parametrize(
    ("entries", "day", "clock"),
    [
        (("09:05 pee",), 13, "09:10"),
        (("07:00 pee",), 14, "10:55"),
        (("09:05 pee", "09:08 pee-inside"), 14, "09:10"),
        (("09:05 pee", "09:06 left"), 14, "09:10"),
    ],
    ids=["day 13", "late", "to clean", "alone"],
)
async def test_it_waits_for_what_matters_more(
    tmp_path: Path, entries: tuple[str, ...], day: int, clock: str
) -> None:
    house = after(tmp_path, *entries, day=day, clock=clock)
    async with house.board() as board:
        await look_later(house, board)
        assert board.shows(DayScreen)


async def test_it_opens_over_no_page_and_no_dialog(tmp_path: Path) -> None:
    house = after(tmp_path, "09:05 pee")
    async with house.board() as board:
        await board.press("h")
        before = type(board.app.screen)
        await look_later(house, board)
        assert board.shows(before)


async def test_nobody_there_sees_nothing(tmp_path: Path) -> None:
    house = after(tmp_path, "09:05 pee")
    async with house.board() as board:
        await look_later(house, board, seconds=90)
        assert board.shows(DayScreen)


async def test_a_later_first_opening_opens_it_too(tmp_path: Path) -> None:
    house = after(tmp_path, "09:05 pee", day=20)
    async with house.board() as board:
        await look_later(house, board)
        assert board.shows(AheadScreen)
