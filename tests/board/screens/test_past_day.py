"""The page of one day: its rows, and mending an entry of any day by keyboard."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.store import DogLog
from tests.board.kitchen import Board, Kitchen, instant
from tests.board.test_golden_screens import kitchen, same_as_golden

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


@pytest.fixture
def house(tmp_path: Path) -> Kitchen:
    """Bramble on the fourth day, 10:05, with an accident on the third."""
    return kitchen(tmp_path).at("10:05", 4)


def on_day(house: Kitchen, day: int) -> list[str]:
    """Return the log of one day as another process reads it."""
    here = [
        event
        for event in DogLog(house.dog_log.folder).events
        if instant("04:00", day) <= event.at < instant("04:00", day + 1)
    ]
    zone = house.dog_log.settings.zone
    return [f"{event.at.astimezone(zone):%H:%M} {event.kind}" for event in here]


async def opened(board: Board, *more: str) -> str:
    """Open the day before today."""
    return await board.press("F", "up", "enter", *more)


# --- What it shows --------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
async def test_the_whole_screen(house: Kitchen, size: tuple[int, int]) -> None:
    async with house.board(*size) as board:
        shown = await opened(board)
    same_as_golden(f"past-day-{size[0]}x{size[1]}", f"{shown}\n")


async def test_the_whole_screen_in_ascii(tmp_path: Path) -> None:
    async with kitchen(tmp_path, glyphs="ascii").at("10:05", 4).board(80, 24) as board:
        shown = await opened(board, "down")
    assert shown.isascii()
    same_as_golden("past-day-ascii-80x24", f"{shown}\n")


async def test_no_colour_changes_no_letter(house: Kitchen) -> None:
    async with house.board(80, 24) as board:
        coloured = await opened(board, "down")
    async with house.board(80, 24, NO_COLOR="1") as board:
        assert await opened(board, "down") == coloured


async def test_a_day_of_the_past_has_its_verdict_and_no_line_at_now(house: Kitchen) -> None:
    async with house.board(120, 40) as board:
        shown = await opened(board)
        assert "day 3 · Wed 4 Mar" in shown
        assert "▲ 1 accident." in shown
        assert "plan   done     Wed 4 Mar" in shown
        assert "12:30" in shown
        assert not any(line.count("─") > 8 for line in board.lines)
        today = await board.press("right")
        assert "plan   done     today" in today
        assert "─10:05─" in today


async def test_left_and_right_stay_within_the_log(house: Kitchen) -> None:
    async with house.board(80, 24) as board:
        await opened(board)
        assert "day 1 · Mon 2 Mar" in await board.press("left", "left", "left", "left")
        assert "day 4 of" in await board.press(
            "right", "right", "right", "right", "escape", "escape"
        )


# --- Mending --------------------------------------------------------------------------------------


async def test_an_entry_of_an_earlier_day_is_selected_and_deleted(house: Kitchen) -> None:
    before, other = on_day(house, 3), on_day(house, 2)
    async with house.board(80, 24) as board:
        shown = await opened(board, "down", "down")
        assert "deletes: 06:36 pee and poop" in shown
        assert any(line.lstrip().startswith("▸") and "06:36" in line for line in board.lines)
        assert "Delete: pee and poop 06:36 yesterday, logged by Otto" in await board.press("x")
        shown = await board.press("y")
        assert "Deleted: 06:36" in shown
        assert on_day(house, 3) == [entry for entry in before if not entry.startswith("06:36")]
        assert on_day(house, 2) == other
        await board.press("u")
        assert on_day(house, 3) == before


async def test_deleting_the_accident_changes_the_verdict_and_the_fortnight(house: Kitchen) -> None:
    async with house.board(120, 40) as board:
        assert "▲ accident" in await opened(board)
        for _ in range(len(on_day(house, 3))):
            shown = await board.press("down")
            if "deletes: 12:30" in shown:
                break
        shown = await board.press("delete", "y")
        assert "✓ clear" in board.lines[0]
        shown = await board.press("escape")
        row = next(line for line in board.lines if "Wed  4" in line)
        assert "✓ clear" in row
        assert "▲" not in row


async def test_a_corrected_clock_time_stays_on_its_day(house: Kitchen) -> None:
    async with house.board(80, 24) as board:
        shown = await opened(board, "down", "down", "enter")
        assert "Correct: 06:36 pee and poop" in shown
        await board.press("down", "home", *["delete"] * 16, *"06:50", "ctrl+s")
        assert "Corrected: 06:50" in board.text
        assert "06:50 both" in on_day(house, 3)
        assert "06:36 both" not in on_day(house, 3)


async def test_escape_leaves_the_selection_first_and_then_the_day(house: Kitchen) -> None:
    async with house.board(80, 24) as board:
        assert "deletes:" in await opened(board, "up")
        shown = await board.press("escape")
        assert "day 3 · Wed 4 Mar" in shown
        assert "deletes:" not in shown
        assert "▸Wed  4" in await board.press("escape")


async def test_without_a_selection_nothing_is_deleted(house: Kitchen) -> None:
    before = house.log
    async with house.board(80, 24) as board:
        assert "Select an entry first" in await opened(board, "x")
        await board.press("p", "a", "escape")
    assert house.log == before


async def test_a_day_without_entries_says_so(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).wrote("12:00 pee").wrote("12:00 pee", day=3)
    async with house.at("12:05", 3).board(80, 24) as board:
        assert "Nothing is logged on this day." in await opened(board, "down")


async def test_the_keys_of_the_household_hold_here_too(house: Kitchen) -> None:
    before = on_day(house, 3)
    async with house.board(80, 24, POTTYBOARD_KEYS="delete=f8") as board:
        await opened(board, "down", "x")
        assert on_day(house, 3) == before
        await board.press("f8", "y")
        assert len(on_day(house, 3)) == len(before) - 1


# --- Logging on that day --------------------------------------------------------------------------


async def test_a_letter_logs_on_that_day_at_the_time_that_is_asked(house: Kitchen) -> None:
    before = on_day(house, 3)
    async with house.board() as board:
        assert "At what time on Wed 4 Mar?" in await opened(board, "p")
        assert "is not a time" in await board.press(*"late", "enter")
        await board.press(*["backspace"] * 4)
        shown = await board.type("9:41 pm")
        shown = await board.press("enter")
        assert "Saved: Bramble peed outside, 21:41 yesterday" in " ".join(shown.split())
        await board.press("p", *"2151", "enter")
        await board.press("m", "escape")
    assert sorted(set(on_day(house, 3)) - set(before)) == ["21:41 pee", "21:51 pee"]


async def test_digits_before_a_letter_are_a_time_of_that_day(house: Kitchen) -> None:
    """As on the Day screen, where what is typed stands in place of the keys."""
    before = on_day(house, 3)
    async with house.board(60, 20) as board:
        assert "02:31 on Wed 4 Mar: now press a letter" in await opened(board, *"231")
        assert "23:15 on Wed 4 Mar: now press a letter" in await board.press("5")
        asked = await board.press("p")
        assert "At what time on Wed 4 Mar?" in asked
        assert "y  23:15" in asked
        await board.press("enter")
        await board.press(*"2316", "p", "p")  # the same key once more takes it too
        await board.press(*"2317", "p", "t", *"2320", "enter")
        await board.press(*"2218", "z", "y", "t")
    assert sorted(set(on_day(house, 3)) - set(before)) == [
        "22:18 settled", "23:15 pee", "23:16 pee", "23:20 pee",
    ]  # fmt: skip


async def test_digits_that_are_no_time_log_nothing_and_escape_forgets_them(house: Kitchen) -> None:
    before = house.log
    async with house.board(80, 24) as board:
        assert "9999: type it like 2240 for 22:40" in await opened(board, *"9999")
        assert "“9999” is no clock time, nothing saved" in await board.press("p")
        assert "now press a letter" in await board.press(*"2315")
        assert "23:01" not in await board.press("backspace", "backspace")
        assert "day 3 · Wed 4 Mar" in await board.press("escape")
        assert "At what time on Wed 4 Mar? Such as" in await board.press("p")
    assert house.log == before


async def test_its_help_is_a_key_away(house: Kitchen) -> None:
    async with house.board(60, 20) as board:
        assert "? help" in await opened(board)
        assert "Log what happened" in await board.press("question_mark")
        assert "Wed 4 Mar   ▲ accident" in await board.press("escape")


async def test_questions_follow_the_one_about_the_time(house: Kitchen) -> None:
    async with house.board() as board:
        await opened(board, "z", *"2256", "enter", "t")
        await board.press("t", *"2257", "enter", *"wary", "enter")
        await board.press("a", *"2258", "enter", "p", "escape")
    assert on_day(house, 3)[-3:] == ["22:56 settled", "22:57 note", "22:58 pee-inside"]


async def test_what_lies_ahead_is_refused_there_too(house: Kitchen) -> None:
    async with house.board() as board:
        await opened(board, "right", "p", *"2330", "enter")
        assert "still to come" in board.text
    assert "23:30 pee" not in on_day(house, 4)
