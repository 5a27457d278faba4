"""The Emergency page: reached from anywhere, and it says to phone a vet now."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from pottyboard.board.screens.emergency import EmergencyScreen
from pottyboard.core.model.events import Event
from tests.board.kitchen import Kitchen
from tests.board.test_golden_screens import kitchen, same_as_golden


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_page(tmp_path: Path, size: tuple[int, int]) -> None:
    async with kitchen(tmp_path).at("10:05", 4).board(*size) as board:
        shown = await board.press("exclamation_mark")
    assert "phone a vet now, at night too" in shown
    same_as_golden(f"emergency-{size[0]}x{size[1]}", f"{shown}\n")


@pytest.mark.parametrize("size", [(80, 24), (200, 60)])
async def test_the_page_in_ascii(tmp_path: Path, size: tuple[int, int]) -> None:
    async with kitchen(tmp_path, glyphs="ascii").at("10:05", 4).board(*size) as board:
        shown = await board.press("exclamation_mark")
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
    same_as_golden(f"emergency-ascii-{size[0]}x{size[1]}", f"{shown}\n")


NUMBERS = "Vet 01632 960001; Night vet 020 7946 0002; Mina 01632 960003; Otto +1 (212) 555-0143"
"""Of ranges that no telephone has: Ofcom, Numbers for drama; 555-0100 to 0199 of the NANP."""


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_numbers_stand_on_it_as_large_as_there_is_room(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with kitchen(tmp_path, numbers=NUMBERS).at("10:05", 4).board(*size) as board:
        shown = await board.press("exclamation_mark")
    assert "Night vet" in shown
    assert "Mina 01632 960003; Otto +1 (212) 555-0143" in " ".join(shown.split())
    assert ("01632 960001" in shown) == (size[0] < 80)  # drawn in large letters elsewhere
    same_as_golden(f"emergency-numbers-{size[0]}x{size[1]}", f"{shown}\n")


async def test_a_number_is_never_markup_and_any_can_be_drawn(tmp_path: Path) -> None:
    numbers = "Vet [/b] [red]x +(1)/2-3.4 567890"
    async with kitchen(tmp_path, numbers=numbers).at("10:05", 4).board(200, 60) as board:
        assert "Vet [/b] [red]x" in await board.press("exclamation_mark")


@pytest.mark.parametrize("size", [(80, 24), (200, 60)])
async def test_the_numbers_in_ascii(tmp_path: Path, size: tuple[int, int]) -> None:
    household = kitchen(tmp_path, numbers=NUMBERS, glyphs="ascii").at("10:05", 4)
    async with household.board(*size) as board:
        shown = await board.press("exclamation_mark")
    assert shown.isascii()
    same_as_golden(f"emergency-numbers-ascii-{size[0]}x{size[1]}", f"{shown}\n")


async def test_it_tells_the_vet_the_times_that_the_log_shows(tmp_path: Path) -> None:
    home = Kitchen(tmp_path).at("10:00")
    home.now += timedelta(seconds=50)
    home.dog_log.add(Event("meal", home.now), home.now)
    home.now += timedelta(seconds=140)
    async with home.board(120, 40) as board:
        shown = await board.press("exclamation_mark")
    assert "last meal 10:00, 2 min ago" in shown


@pytest.mark.parametrize("under", ["", "h", "f", "question_mark"])
async def test_it_opens_over_every_page_and_closes_to_it(tmp_path: Path, under: str) -> None:
    async with Kitchen(tmp_path).at("10:00").board() as board:
        await board.press(*[under] * bool(under))
        below = board.app.screen
        await board.press("exclamation_mark")
        assert isinstance(board.app.screen, EmergencyScreen)
        await board.press("exclamation_mark")
        assert board.app.screen is below


@pytest.mark.parametrize("key", ["", "h", "f", "question_mark"])
@pytest.mark.parametrize("width", [60, 200])
async def test_its_key_stands_at_the_top_of_every_page(
    tmp_path: Path, key: str, width: int
) -> None:
    async with Kitchen(tmp_path).at("10:00").board(width, 20) as board:
        await board.press(*[key] * bool(key))
        assert " ! emergency " in f"{board.lines[0]} "


async def test_the_top_line_can_be_clicked(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board(80, 24) as board:
        await board.pilot.click(offset=(75, 0))
        await board.settled()
        assert isinstance(board.app.screen, EmergencyScreen)


async def test_the_household_may_move_its_key(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board(POTTYBOARD_KEYS="emergency=f9") as board:
        assert board.lines[0].endswith(" f9 emergency")
        await board.press("h", "f9")
        assert isinstance(board.app.screen, EmergencyScreen)


@pytest.mark.parametrize("keys", [("a",), ("a", "f"), ("r", "h")])
async def test_its_key_stands_on_a_dialog_that_covers_the_top_line(
    tmp_path: Path, keys: tuple[str, ...]
) -> None:
    async with Kitchen(tmp_path).at("10:00").board(60, 20) as board:
        shown = await board.press(*keys)
        assert "! emergency" in shown
        await board.press("exclamation_mark")
        assert isinstance(board.app.screen, EmergencyScreen)


async def test_where_a_text_is_typed_its_key_is_a_letter_and_not_promised(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board(60, 20) as board:
        assert "! emergency" in await board.press("a", "p", "f", "enter")
        assert "! emergency" not in await board.press("t")
        assert "! emergency" in await board.press("escape")
