"""The page of places: spots ticked off by a key, rooms with their counts, ways blocked."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from pottyboard.board.screens.day import DayScreen
from pottyboard.board.screens.places import page
from pottyboard.core.accidents.accident_views import PadPlan
from pottyboard.core.model.events import Event
from tests.board.kitchen import Kitchen, instant
from tests.board.pages import SIZES, after_accidents, events_of, last_of
from tests.board.test_golden_screens import same_as_golden


@pytest.mark.parametrize("size", SIZES)
async def test_the_page(tmp_path: Path, size: tuple[int, int]) -> None:
    async with after_accidents(tmp_path).board(*size) as board:
        shown = await board.press("P")
    same_as_golden(f"places-{size[0]}x{size[1]}", f"{shown}\n")


async def test_the_page_in_ascii(tmp_path: Path) -> None:
    async with after_accidents(tmp_path, glyphs="ascii").board(80, 24) as board:
        shown = await board.press("P")
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
    same_as_golden("places-ascii-80x24", f"{shown}\n")


async def test_a_spot_to_clean_is_named_on_the_smallest_day_screen(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").wrote("09:05 pee").board(60, 20) as board:
        assert "clean kitchen" not in await board.press()
        await board.press("a", "p", "s", "1", "escape")
        board.app.clear_notifications()
        assert "□ clean kitchen" in await board.press("escape")
        await board.press("c")
        board.app.clear_notifications()
        assert "clean kitchen" not in await board.press("escape")


async def test_the_page_without_an_accident(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board(60, 20) as board:
        shown = await board.press("P")
        assert "Nothing to clean" in shown
        assert "No accident in any room so far." in shown
        assert "Nothing is open to clean here." in await board.press("c")
        assert "Choose a room or a spot first." in await board.press("b", "up", "down")
        await board.press("P")
        assert isinstance(board.app.screen, DayScreen)


@pytest.mark.parametrize(("keys", "left"), [(["2"], 2), (["down", "c"], 2), (["enter"], 2)])
async def test_a_key_ticks_off_a_spot(tmp_path: Path, keys: list[str], left: int) -> None:
    house = after_accidents(tmp_path)
    async with house.board() as board:
        await board.press("P")
        shown = await board.press(*keys)
        assert f"{left} to clean" in board.lines[0]
        assert "Cleaned: 1 spot. u takes it back." in shown
        cleaned = last_of(house, "cleaned")
        wanted = "hall: mat" if keys == ["enter"] else "kitchen"
        assert cleaned.place == wanted
        await board.press("u")
        assert "3 to clean" in board.lines[0]


async def test_a_room_ticks_off_all_its_spots_at_once(tmp_path: Path) -> None:
    house = after_accidents(tmp_path)
    async with house.board() as board:
        await board.press("P", "down", "down", "down")
        assert "▸ hall " in board.text
        assert "Cleaned: 2 spots." in await board.press("c")
        assert "1 to clean" in board.lines[0]
        await board.press("u")
        assert "3 to clean" in board.lines[0]


async def test_a_way_is_blocked_and_opened_again(tmp_path: Path) -> None:
    house = after_accidents(tmp_path)
    async with house.board() as board:
        shown = await board.press("P", "b")
        assert "Noted: the way to hall: mat is blocked." in shown
        entry = last_of(house, "routine")
        assert entry.measure == "block"
        about = next(event for event in events_of(house) if event.id == entry.about)
        assert about.place == "hall: mat"
        assert "» blocked for 0 min" in board.text
        shown = await board.press("b")
        assert "Noted: hall: mat is open again." in shown
        assert "blocked for" not in board.text
        await board.press("u")
        assert "blocked for" in board.text


async def test_a_room_whose_accidents_all_have_a_spot_cannot_be_blocked_itself(
    tmp_path: Path,
) -> None:
    async with after_accidents(tmp_path).board() as board:
        await board.press("P", "down", "down", "down")
        assert "Block the spots in this room one by one." in await board.press("b")


async def test_a_bare_patch_grows_by_the_day(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).wrote("09:30 pee-inside", place="hall", found=True)
    async with house.at("10:00", 6).board() as board:
        assert "▲····· 5 days" in await board.press("P")


async def test_what_people_wrote_shows_harmlessly(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).at("10:00")
    house.wrote("09:30 pee-inside", place="[/] [bold]x\x1b[31m" + "very " * 90)
    async with house.board(60, 20) as board:
        for key in ("P", "down", "b", "c", "u"):
            shown = await board.press(key)
            assert "\x1b" not in shown
            assert all(len(line) <= 60 for line in board.lines)


def test_the_pad_has_its_plan_and_its_caution(tmp_path: Path) -> None:
    from msgspec.structs import replace

    from pottyboard.core.view.situation import situation

    house = Kitchen(tmp_path)
    now = situation(house.dog_log.settings, (Event("pee", instant("09:30")),), instant("10:00"))
    plan = PadPlan("Move it to the door.", "A pad says yes.", instant("10:00") + timedelta(days=9))
    told = "\n".join(line.plain for line in page(replace(now, pad=plan), 0, 60, 20).lines)
    assert "The pad\nMove it to the door.\nA pad says yes." in told
