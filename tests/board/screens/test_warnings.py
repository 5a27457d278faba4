"""Warnings: one quiet line on the Day screen, a page with the reasons, noted by a key."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

from pottyboard.board.screens.day import DayScreen
from pottyboard.board.screens.emergency import EmergencyScreen
from pottyboard.board.text.glyphs import sign
from pottyboard.board.widgets.warning_line import in_one_line
from pottyboard.core.health.health_views import LEVEL_WORDS, LEVELS, Level, Warning
from pottyboard.core.view.situation import situation
from tests.board.kitchen import Kitchen, instant
from tests.board.pages import SIZES, events_of, last_of, with_water
from tests.board.test_golden_screens import same_as_golden


@pytest.mark.parametrize("size", SIZES)
async def test_the_page(tmp_path: Path, size: tuple[int, int]) -> None:
    async with with_water(tmp_path).board(*size) as board:
        shown = await board.press("W")
    same_as_golden(f"warnings-{size[0]}x{size[1]}", f"{shown}\n")


@pytest.mark.parametrize("size", SIZES)
async def test_the_line_on_the_day_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    async with with_water(tmp_path).board(*size) as board:
        shown = board.text
    same_as_golden(f"warned-{size[0]}x{size[1]}", f"{shown}\n")


async def test_the_page_in_ascii(tmp_path: Path) -> None:
    async with with_water(tmp_path, glyphs="ascii").board(80, 24) as board:
        shown = await board.press("W")
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
    same_as_golden("warnings-ascii-80x24", f"{shown}\n")


async def test_beside_a_call_stands_whom_to_call(tmp_path: Path) -> None:
    """The numbers are of a range that no telephone has: Ofcom, Numbers for drama."""
    numbers = "Night [vet 01632 960002; Vet 01632 960001; Mina 01632 960003"
    async with with_water(tmp_path, numbers=numbers).board(120, 40) as board:
        shown = await board.press("W")
        called = "Call: Vet 01632 960001; Night [vet 01632 960002"
        assert shown.count("Call your vet soon") == shown.count(called) == 1
        assert "Mina 01632" not in shown
        await board.press("n")
        assert called not in await board.press("enter")


async def test_the_page_without_a_warning(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board(60, 20) as board:
        assert "No warning stands" in await board.press("W")
        assert "new" not in board.lines[0]
        await board.press("n", "up", "W")
        assert isinstance(board.app.screen, DayScreen)


@pytest.mark.parametrize("size", SIZES)
async def test_a_warning_moves_nothing_above_it(tmp_path: Path, size: tuple[int, int]) -> None:
    calm = Kitchen(tmp_path / "calm").at("10:00").wrote("09:05 pee")
    async with calm.board(*size) as board:
        before = board.app.screen.query_one("#countdown").region
        calm.wrote("09:50 health", finding="blood")
        await board.tick()
        await board.press("up", "escape")
        assert "Call your vet soon" in board.text or "call a vet soon" in board.text
        assert board.app.screen.query_one("#countdown").region == before


async def test_a_warning_is_noted_with_a_few_words(tmp_path: Path) -> None:
    house = with_water(tmp_path)
    async with house.board() as board:
        await board.press("W", "n")
        await board.type("phoned at ten")
        shown = await board.press("enter")
        entry = last_of(house, "noted")
        assert (entry.about, entry.note) == ("drinking", "phoned at ten")
        assert "✓ noted: phoned at ten" in shown
        assert "2 stand, 1 new" in board.lines[0]
        await board.press("escape")
        assert "Call your vet soon" not in board.text
        assert "Keep an eye on it" in board.text
        await board.press("u")
        assert "Call your vet soon" in board.text


async def test_it_may_be_noted_without_a_word_and_escape_notes_nothing(tmp_path: Path) -> None:
    house = with_water(tmp_path)
    async with house.board() as board:
        await board.press("W", "n", "escape")
        assert not any(event.kind == "noted" for event in events_of(house))
        await board.press("down", "enter", "enter")
        entry = last_of(house, "noted")
        assert (entry.about, entry.note) == ("loose-stool", "")
        assert "✓ noted\n" in board.text.replace(" \n", "\n")


async def test_above_a_call_to_a_vet_that_was_noted_stands_that_it_stands(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).at("10:00").wrote("09:50 health", finding="blood")
    async with house.board(80, 24) as board:
        assert "1 stands, 1 new" in (await board.press("W")).splitlines()[0]
        await board.press("n", "enter")
        assert "1 stands, noted" in board.lines[0]
        assert "CALL A VET SOON" in board.text


async def test_at_night_only_what_cannot_wait_is_shown(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).wrote("09:05 pee", "21:00 pee").at("23:30")
    house.wrote("20:00 health", finding="blood")
    house.wrote("22:40 settled", sleep="night")
    async with house.board(60, 20) as board:
        assert "vet" not in board.text
        house.wrote("23:00 health", finding="straining")
        await board.tick()
        assert "Phone a vet now" in board.text


async def test_straining_opens_the_emergency_page_at_once(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).at("10:00").wrote("09:05 pee")
    async with house.board() as board:
        await board.press("r", "h", "s")
        assert isinstance(board.app.screen, EmergencyScreen)
        assert house.last.finding == "straining"
        await board.press("escape")
        assert "▲ Phone a vet now" in board.text


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_a_call_to_a_vet_stands_above_the_break(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    house = Kitchen(tmp_path).at("10:00").wrote("09:05 pee").wrote("09:30 health", finding="blood")
    async with house.board(*size) as board:
        assert "blood" not in board.lines[1], "only what cannot wait goes first"
        house.wrote("09:40 health", finding="straining")
        await board.tick()
        assert "▲ Phone a vet now" in board.lines[1]
        assert board.text.count("Phone a vet now") == 1


async def test_straining_to_pass_stool_is_one_key_and_opens_no_emergency(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).at("10:00").wrote("09:05 pee")
    async with house.board() as board:
        await board.press("r", "h", "t", "enter")
        assert house.last.finding == "straining-stool"
        assert "Tell your vet at the next chance" in board.text


# --- The line, without a screen -------------------------------------------------------------------


def line(folder: Path, *levels: Level, key: str = "W", noted: str | None = None) -> list[str]:
    """The texts of the line while warnings of these levels stand."""
    house = Kitchen(folder)
    now = situation(house.dog_log.settings, (), instant("10:00"))
    warnings = tuple(
        Warning(level, level, f"Do this: {level}.", "x", "y", instant("09:00"), noted=noted)
        for level in levels
    )
    return list(in_one_line(replace(now, warnings=warnings), key))


@pytest.mark.parametrize("level", LEVELS)
def test_each_level_has_its_sign_and_its_words(tmp_path: Path, level: Level) -> None:
    mark = sign(f"level-{level}", "drawn")
    assert line(tmp_path, level) == [
        f"{mark} Do this: {level}.",
        f"{mark} Do this, W says why",
        f"{mark} {LEVEL_WORDS[level]}, W says why",
        f"{mark} {LEVEL_WORDS[level]}, W says why",
    ]


def test_the_gravest_is_named_and_the_others_are_counted(tmp_path: Path) -> None:
    texts = line(tmp_path, "soon", "ask", "watch")
    assert texts[0] == "△ Do this: soon. (and 2 more)"
    assert texts[-1] == "△ call a vet soon, W says why"


def test_what_is_noted_is_quiet(tmp_path: Path) -> None:
    assert line(tmp_path, "soon", noted="") == []


def test_no_two_levels_look_alike() -> None:
    for glyphs in ("drawn", "ascii"):
        assert len({sign(f"level-{level}", glyphs) for level in LEVELS}) == len(LEVELS)
