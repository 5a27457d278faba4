"""A home with a pad on the board: what to do about it today, and what is logged of it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.board.kitchen import Kitchen


@pytest.fixture
def padded(tmp_path: Path) -> Kitchen:
    """A kitchen with a pad, on the fourth morning."""
    kitchen = Kitchen(tmp_path, pads="yes").at("10:00", day=4)
    return kitchen.wrote("06:30 up", "09:30 pee", day=4)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_what_to_do_about_the_pad_is_shown_whole_or_not_at_all(
    padded: Kitchen, size: tuple[int, int]
) -> None:
    async with padded.board(*size) as board:
        said = " ".join(board.text.replace("│", " ").split())
        assert "Why: Last pee" in said
        whole = "Pad: Move the pad towards the door today: step 1 of 7 to the door."
        assert (whole in said) == ("Pad:" in said)
        if size[0] >= 120:
            assert whole in said
        if size[0] == 200:
            assert "A pad teaches that indoors is allowed" in said


async def test_what_went_on_the_pad_is_logged_by_key(padded: Kitchen) -> None:
    async with padded.board() as board:
        await board.press("r", "e")
        assert (padded.last.kind, padded.last.place) == ("pee", "pad")
        assert "peed on the pad" in board.text
        assert "Praise now" not in board.text
        padded.now += timedelta(minutes=1)
        await board.press("r", "o")
        assert (padded.last.kind, padded.last.place) == ("poop", "pad")


async def test_that_it_was_moved_or_taken_up_is_logged_by_key(padded: Kitchen) -> None:
    async with padded.board(200, 60) as board:
        await board.press("r", "p", "m")
        assert (padded.last.kind, padded.last.place) == ("pad", "nearer the door")
        said = " ".join(board.text.split())
        assert "Moved today: let it lie there until tomorrow." in said
        padded.now += timedelta(minutes=1)
        await board.press("r", "p", "r")
        assert (padded.last.kind, padded.last.place) == ("pad", "removed")
        assert "Pad:" not in board.text


async def test_without_a_pad_nobody_is_asked_about_one(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path).at("10:00")
    async with kitchen.board() as board:
        assert "on the pad" not in await board.press("r")
        assert "Pad:" not in board.text
