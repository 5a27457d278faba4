"""The dialog for a helper's message: what it reads, what it saves, and what it refuses."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events

from pottyboard.board.dialogs.report import ReportDialog
from pottyboard.store import DogLog, StoreError
from tests.board.kitchen import Board, Kitchen

MESSAGE = "09:30 pee, 09:34 poop, water, all calm"


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """Bramble's first morning at 10:00; Cleo and Zoe can visit."""
    helpers = "Cleo 08:00-12:00 10; Zoe 12:00-18:00"
    return Kitchen(tmp_path, helpers=helpers).wrote("09:05 pee").at("10:00")


async def paste(board: Board, text: str) -> str:
    """Paste a text as a terminal does."""
    board.app.post_message(events.Paste(text))
    await board.settled()
    return board.text


async def test_it_shows_what_it_reads_and_saves_all_of_it(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        assert "such as: 12:10 pee" in await board.press("i")
        shown = await board.type(MESSAGE)
        for line in ("09:30  ● pee", "09:34  ◆ poop", "09:34  ~ long drink", '09:34  " all calm'):
            assert line in shown
        shown = await board.press("ctrl+s")
        assert "Saved: 4 entries by Cleo. u takes it back." in shown
        assert kitchen.log[:2] == ["09:05 pee", "09:30 pee"]
        assert sorted(kitchen.log[2:]) == ["09:34 note", "09:34 poop", "09:34 water"]
        assert kitchen.last.by == "Cleo"
        await board.press("u")
        assert kitchen.log == ["09:05 pee"]


@pytest.mark.parametrize("new_line", ["\n", "\r\n", "\r"])
async def test_a_pasted_message_may_have_several_lines(kitchen: Kitchen, new_line: str) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("i")
        shown = await paste(board, f"- 09:30 pee{new_line}- 09:34 poop\x1b\x07{new_line}\u202ecalm")
        assert "09:34  ◆ poop" in shown
        assert not any(letter in shown for letter in "\x1b\x07\u202e")
        assert kitchen.log == ["09:05 pee"], "a new line saves nothing"
        await board.press("ctrl+s")
        assert sorted(kitchen.log[1:]) == ["09:30 pee", "09:34 note", "09:34 poop"]


async def test_a_message_told_twice_is_noticed_and_saved_once(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("i")
        await board.type("09:30 pee, 09:34 poop")
        await board.press("ctrl+s", "i")
        shown = await board.type("09:30 pee, 09:34 poop")
        assert "already there: poop" in shown
        assert "All of this message is in the log already" in await board.press("ctrl+s")
        assert board.shows(ReportDialog)
        await board.type(", 09:40 water")
        assert "1 entry by Cleo. Left out: 2, in the log already." in await board.press("ctrl+s")
    assert kitchen.log == ["09:05 pee", "09:30 pee", "09:34 poop", "09:40 water"]


async def test_who_was_there_is_picked_and_enter_saves(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("i")
        await board.type("09:30 pee")
        assert "‹ Zoe ›" in await board.press("tab", "right")
        await board.press("enter")
        assert (kitchen.last.kind, kitchen.last.by) == ("pee", "Zoe")


async def test_whoever_is_due_comes_first(tmp_path: Path) -> None:
    kitchen = Kitchen(
        tmp_path, helpers="Cleo 08:00-09:30; Zoe 10:00-18:00", workdays="mon-sun",
        **{"absent-from": "2"},
    )  # fmt: skip
    kitchen.wrote("06:30 up", "08:15 pee", "08:30 left", day=2).at("10:40", day=2)
    async with kitchen.board(80, 24) as board:
        assert "‹ Zoe ›" in await board.press("i")


async def test_what_cannot_be_read_is_shown_in_place_and_nothing_is_saved(
    kitchen: Kitchen,
) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("i")
        await board.type("09:30 pee, 11:00 water")
        shown = await board.press("ctrl+s")
        assert "▲ line 1, column 12: “11:00 water”: that time is" in shown
        assert kitchen.log == ["09:05 pee"]
        assert isinstance(board.app.screen, ReportDialog)
        await board.press(*["delete"] * 11)
        await board.type("09:31 water")
        await board.press("ctrl+s")
        assert kitchen.log == ["09:05 pee", "09:30 pee", "09:31 water"]


async def test_many_lines_are_counted(kitchen: Kitchen) -> None:
    async with kitchen.board(60, 20) as board:
        await board.press("i")
        shown = await paste(board, ", ".join(f"09:{minute} pee" for minute in range(10, 20)))
        assert "and 6 more" in shown
        assert "ctrl+s saves" in shown


async def test_no_problem_is_cut_off(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        await board.press("i")
        shown = await board.type("09:99 poop, water, bit the postman, 18:00 pee")
    assert "“09:99” is not a clock" in shown
    assert "time: write hours and minutes, such as 06:30" in shown
    assert "“18:00 pee”: that time is still to" in shown


async def test_escape_and_an_empty_message_save_nothing(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("i", "ctrl+s")
        assert isinstance(board.app.screen, ReportDialog)
        await board.type("09:30 pee")
        await board.press("escape")
        assert kitchen.log == ["09:05 pee"]
        assert board.lines[-1].startswith(" p pee")


async def test_a_disk_that_refuses_keeps_the_message(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise StoreError("Not saved: the disk is full.")

    async with kitchen.board(80, 24) as board:
        await board.press("i")
        await board.type("09:30 pee")
        monkeypatch.setattr(DogLog, "add_all", full)
        shown = await board.press("ctrl+s")
        assert "▲ Not saved: the disk is full." in shown
        assert "09:30 pee" in shown


async def test_without_helpers_and_people_a_name_is_typed(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path, people="").at("10:00")
    async with kitchen.board(80, 24) as board:
        await board.press("i")
        await board.type("09:30 pee")
        assert "Who was there? Write a name." in await board.press("ctrl+s")
        await board.type("Ada")
        await board.press("enter")
        assert (kitchen.last.kind, kitchen.last.by) == ("pee", "Ada")


async def test_too_long_a_message_is_refused(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("i")
        await paste(board, "09:30 pee\n" + "calm " * 4001)
        assert "Too long for a message" in await board.press("ctrl+s")
        assert kitchen.log == ["09:05 pee"]


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_everything_is_in_view_at_every_size(kitchen: Kitchen, size: tuple[int, int]) -> None:
    async with kitchen.board(*size) as board:
        await board.press("f", "i")
        shown = await board.type("09:30 pee")
        for words in ("Visit report", "09:30  ● pee", "‹ Cleo ›", "ctrl+s saves all of it"):
            assert words in shown
