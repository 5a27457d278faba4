"""The log out of reach, the lock in other hands, the disk full: the board stays and goes on."""

from __future__ import annotations

import asyncio
import os
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock
from textual import events

from pottyboard.board.control import saver
from pottyboard.board.control.entries import Entries
from pottyboard.core.model.events import Event, EventError
from pottyboard.store import DogLog
from tests.board.kitchen import Board, Kitchen, instant

PAGES = "EFhfNDS"
USUAL_PATIENCE = saver.PATIENCE
"""As the household has it; the other tests wait until the disk is through."""


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """A kitchen in which Bramble peed at 09:30; it is 10:00."""
    return Kitchen(tmp_path / "home").wrote("09:30 pee").at("10:00")


@pytest.fixture
def away(kitchen: Kitchen) -> Callable[[], None]:
    """Take the dog's folder out of reach and, called again, bring it back."""
    folder, elsewhere = kitchen.dog_log.folder, kitchen.dog_log.folder.parent.parent / "elsewhere"

    def move() -> None:
        os.rename(*((folder, elsewhere) if folder.exists() else (elsewhere, folder)))

    return move


async def until(board: Board, words: str, seconds: float = 8.0) -> str:
    """Wait until the screen shows these words; return it."""
    end = time.monotonic() + seconds
    while words not in (shown := board.text) and time.monotonic() < end:
        await board.pilot.pause(0.05)
        await board.tick()
    assert words in shown
    return shown


async def test_the_board_stays_when_the_log_is_gone_and_saves_when_it_is_back(
    kitchen: Kitchen, away: Callable[[], None]
) -> None:
    async with kitchen.board(120, 40) as board:
        away()
        shown = await board.press("p")
        assert "NOT SAVED YET" in shown
        assert "10:00" in shown
        said = " ".join(note.message for note in board.app._notifications)
        assert "The board keeps it" in said
        assert "is not there any more: was it moved, or is its disk not connected?" in said
        assert "setup" not in said, "a new set-up would begin another log"
        away()
        kitchen.at("10:01")
        await until(board, "Saved:")
        assert "NOT SAVED YET" not in board.text
    assert [event.kind for event in DogLog(kitchen.dog_log.folder).events] == ["pee", "pee"]


@pytest.mark.parametrize("key", PAGES)
async def test_no_page_ends_the_board_when_the_log_is_out_of_reach(
    kitchen: Kitchen, away: Callable[[], None], key: str
) -> None:
    async with kitchen.board(120, 40) as board:
        away()
        kitchen.at("10:05")
        await board.press(key)
        await board.press("escape")
        await until(board, "LOG OUT OF REACH")
        away()
        kitchen.at("10:06")
        await board.press("escape")
        assert board.app.is_running


async def test_a_full_disk_keeps_the_entry_in_view_and_tries_again(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    async with kitchen.board(120, 40) as board:
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", full)
            shown = await board.press("p")
            assert "No space left" in shown
            assert "NOT SAVED YET" in shown
        await until(board, "Saved:")
    assert len(DogLog(kitchen.dog_log.folder).events) == 2


async def test_keys_clock_and_bell_go_on_while_another_program_has_the_log(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert USUAL_PATIENCE <= 0.05, "a key is answered before anybody notices a wait"
    monkeypatch.setattr(saver, "PATIENCE", 0.03)
    async with kitchen.board(120, 40) as board:
        held, freed = threading.Event(), threading.Event()

        def hold() -> None:
            with FileLock(kitchen.dog_log.folder / ".lock"):
                held.set()
                freed.wait(10)

        threading.Thread(target=hold, daemon=True).start()
        held.wait(10)
        begun = time.monotonic()
        # A pilot's press would wait for whoever asks for the lock again and again meanwhile.
        board.app.post_message(events.Key("p", "p"))
        await until(board, "Saving")
        took = time.monotonic() - begun
        shown = board.text
        assert took < 2  # the lock is waited for up to five seconds
        assert "saving" in shown
        shown = await board.press("m")
        assert "ate" in shown or "meal" in shown
        assert len(DogLog(kitchen.dog_log.folder).events) == 1
        freed.set()
        await until(board, "Saved:")
        await asyncio.sleep(0.2)
    saved = [event.kind for event in DogLog(kitchen.dog_log.folder).events]
    assert sorted(saved) == ["meal", "pee", "pee"]


def test_the_second_of_two_boards_that_correct_one_entry_is_told(kitchen: Kitchen) -> None:
    boards = [Entries(DogLog(kitchen.dog_log.folder), kitchen.clock) for _ in range(2)]
    seen = boards[0].events[0]
    boards[0].correct(seen.id, {"note": "first"}, seen)
    with pytest.raises(EventError, match="Somebody else has changed this entry meanwhile"):
        boards[1].correct(seen.id, {"note": "second"}, seen)
    assert boards[1].find(seen.id) == boards[0].find(seen.id)


@pytest.mark.clock_set_back
async def test_entries_later_than_the_clock_are_named(kitchen: Kitchen) -> None:
    kitchen.dog_log.add(Event("meal", instant("12:00")), instant("12:00"))
    async with kitchen.board(120, 40) as board:
        assert "later than this computer’s clock" in board.text


async def test_a_slow_save_that_ends_at_once_is_told_once(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was on its way when the letter was pressed, and is known a moment later."""
    ended = [[("Saved: Bramble peed outside, 10:00.", False)]]
    monkeypatch.setattr(Entries, "news", lambda self: ended.pop() if ended else [])
    async with kitchen.board(60, 20) as board:
        ended.append([("Saved: Bramble peed outside, 10:00.", False)])
        shown = await board.press("p")
    assert shown.count("Bramble peed outside, 10:00") == 1
