"""The weeks ahead on the board: what is shown, a new round, and the calmer rhythm."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.board.kitchen import Kitchen
from tests.board.test_golden_screens import MORNING, REST_OF_DAY, same_as_golden


def fortnight(folder: Path, days: int = 13, **answers: str) -> Kitchen:
    """Bramble after two weeks: an accident on the fifth day, clear days since."""
    house = Kitchen(folder, vet="done", **answers)
    house.wrote("09:06 pee", *REST_OF_DAY)
    for day in range(2, days + 1):
        house.wrote(*MORNING, *REST_OF_DAY, "22:40 settled", day=day)
    house.wrote("12:30 pee-inside", day=5, place="kitchen", found=False, alone=False)
    return house.wrote(*MORNING, day=days + 1)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_page_at_every_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with fortnight(tmp_path / "home").at("10:05", 14).board(*size) as board:
        shown = await board.press("N")
    same_as_golden(f"ahead-{size[0]}x{size[1]}", f"{shown}\n")


async def test_in_ascii_it_is_ascii(tmp_path: Path) -> None:
    house = fortnight(tmp_path, glyphs="ascii").at("10:05", 14)
    async with house.board(80, 24) as board:
        shown = await board.press("N")
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}


async def test_the_board_offers_it_from_the_thirteenth_day_on(tmp_path: Path) -> None:
    house = fortnight(tmp_path)
    for day, offered in ((12, False), (13, True), (14, True)):
        async with house.at("10:05", day).board(120, 40) as board:
            assert ("N: weeks ahead" in board.text) is offered, day


async def test_the_reminder_stands_once_a_day_after_two_weeks(tmp_path: Path) -> None:
    house = fortnight(tmp_path, days=14)
    for clock, day, stands in (("10:05", 14, True), ("06:50", 15, True), ("10:05", 15, False)):
        async with house.at(clock, day).board(120, 40) as board:
            assert ("do not make a house-trained dog" in board.text) is stands, (clock, day)


async def test_a_new_round_begins_at_the_second_press_and_can_be_taken_back(
    tmp_path: Path,
) -> None:
    house = fortnight(tmp_path).at("10:05", 14)
    async with house.board(120, 40) as board:
        await board.press("N", "b")
        assert house.log[-1] == "09:30 pee"
        begun = await board.press("b")
        assert house.log[-1] == "10:05 round"
        assert "day 1, round 2" in begun
        assert "Round 1, Mon 2 to Sat 14 Mar" in begun
        again = await board.press("u")
        assert house.log[-1] == "09:30 pee"
        assert "round 2" not in again.splitlines()[0]


@pytest.mark.parametrize("key", ["escape", "q", "N"])
async def test_it_closes_by_keyboard(tmp_path: Path, key: str) -> None:
    async with fortnight(tmp_path).at("10:05", 14).board(80, 24) as board:
        assert "Clear days in a row" in await board.press("N")
        assert "Clear days in a row" not in await board.press(key)


async def test_hostile_names_stay_text(tmp_path: Path) -> None:
    house = fortnight(tmp_path, name="Br[/b][red]amble")
    house.wrote("11:30 pee-inside", day=6, place="[/x] hall", found=False)
    async with house.at("10:05", 14).board(200, 60) as board:
        shown = await board.press("N")
    assert "[/x] hall" in shown
    assert "Br[/b][red]amble" in shown
