"""The page of causes: the likely one, set right by one key, and one change taken by another."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.board.dialogs.accident import AccidentDialog
from pottyboard.board.screens.cause import CAUSE_KEYS, CauseScreen, columns
from pottyboard.board.screens.day import DayScreen
from pottyboard.core.model.events import CAUSES
from tests.board.kitchen import Kitchen, instant
from tests.board.pages import SIZES, after_accidents, events_of
from tests.board.test_golden_screens import same_as_golden


def late(folder: Path, **answers: str) -> Kitchen:
    """A morning on which the break was an hour late, and then it was too late."""
    house = Kitchen(folder, **answers)
    house.wrote("09:05 pee")
    house.wrote("12:10 pee-inside", place="hall", found=False, alone=False)
    return house.at("12:30")


@pytest.mark.parametrize("size", SIZES)
async def test_the_page(tmp_path: Path, size: tuple[int, int]) -> None:
    async with after_accidents(tmp_path).board(*size) as board:
        shown = await board.press("j", "down", "down")
    same_as_golden(f"cause-{size[0]}x{size[1]}", f"{shown}\n")


async def test_the_page_in_ascii(tmp_path: Path) -> None:
    async with after_accidents(tmp_path, glyphs="ascii").board(80, 24) as board:
        shown = await board.press("j")
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
    same_as_golden("cause-ascii-80x24", f"{shown}\n")


async def test_the_page_without_an_accident(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).at("10:00").wrote("09:05 pee")
    async with house.board(60, 20) as board:
        assert "nothing to explain" in await board.press("j")
        await board.press("t", "1", "e", "up", "down")
        assert house.log == ["09:05 pee"]
        await board.press("j")
        assert board.shows(DayScreen)


def test_every_cause_has_a_key() -> None:
    assert set(CAUSE_KEYS.values()) == set(CAUSES)
    assert all(len(key) == 1 for key in CAUSE_KEYS)


async def test_the_newest_comes_first_and_the_arrows_go_to_the_others(tmp_path: Path) -> None:
    async with after_accidents(tmp_path).board() as board:
        assert "1 of 3" in (await board.press("j")).splitlines()[0]
        assert board.lines[1].startswith(" Thu 5 Mar 08:20 poop indoors")
        await board.press("down", "down", "down")
        assert "3 of 3" in board.lines[0]
        assert board.lines[1].startswith(" Tue 3 Mar 16:40 pee indoors")
        assert "2 of 3" in (await board.press("up")).splitlines()[0]


async def test_one_key_sets_the_cause_right_and_the_log_may_have_it_back(tmp_path: Path) -> None:
    house = late(tmp_path)
    async with house.board() as board:
        assert "Likely: the break was late" in await board.press("j")
        shown = await board.press("2")
        assert events_of(house)[-1].cause == "greeting"
        assert "Set by you: excited at a greeting" in shown
        assert "Cause of 12:10: “excited at a greeting”. u takes it back." in shown
        assert "Likely: the break was late" in await board.press("x")
        assert events_of(house)[-1].cause == ""
        assert "Set by you: excited at a greeting" in await board.press("u")
        assert "Likely: the break was late" in await board.press("u")


async def test_one_key_takes_the_change_into_the_routine(tmp_path: Path) -> None:
    house = late(tmp_path)
    async with house.board() as board:
        shown = await board.press("j")
        assert "» A break every day at 10:50" in shown
        shown = await board.press("t")
        entry = house.last
        assert (entry.kind, entry.measure, entry.about) == (
            "routine", "earlier", events_of(house)[1].id,
        )  # fmt: skip
        assert entry.at == instant("12:30")
        assert "Taken: A break every day at 10:50" in shown
        assert "✓ A break every day at 10:50" in shown
        assert "taken: the plan has it" in shown
        assert "Taken already." in await board.press("t")
        assert sum(event.kind == "routine" for event in events_of(house)) == 1
        await board.press("u")
        assert not any(event.kind == "routine" for event in events_of(house))
        assert "taken: the plan has it" not in board.text


async def test_advice_alone_cannot_be_taken(tmp_path: Path) -> None:
    house = late(tmp_path)
    async with house.board() as board:
        await board.press("j", "2")
        assert "t takes it" not in board.text
        assert "Nothing to take" in await board.press("t")
        assert not any(event.kind == "routine" for event in events_of(house))


async def test_the_rest_is_asked_from_here_too(tmp_path: Path) -> None:
    house = late(tmp_path)
    async with house.board() as board:
        await board.press("j", "e")
        assert board.shows(AccidentDialog)
        await board.press("l", "w", "f")
        assert board.shows(CauseScreen)
        assert "large amount" in board.text
        assert "Nothing left to ask" in await board.press("e")


@pytest.mark.parametrize("key", ["escape", "q", "j"])
async def test_it_closes(tmp_path: Path, key: str) -> None:
    async with late(tmp_path).board() as board:
        await board.press("j", key)
        assert board.shows(DayScreen)


@pytest.mark.parametrize(("width", "tall"), [(100, 1), (29, 2), (20, 3), (5, 6)])
def test_columns_are_as_low_as_fits(width: int, tall: int) -> None:
    rows = columns(list("abcdef"), [9, 4, 9, 4, 9, 4], width)
    assert len(rows) == tall
    assert sorted(name for row in rows for name, _ in row) == list("abcdef")
