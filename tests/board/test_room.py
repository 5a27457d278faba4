"""What keeps its place in every window: how sure the board is, and what a saying may not hide."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.board.test_golden_screens import kitchen

SIZES = [(60, 20), (80, 24), (110, 40), (120, 40)]


@pytest.mark.parametrize("size", SIZES)
async def test_how_sure_it_is_stands_while_watching(size: tuple[int, int], tmp_path: Path) -> None:
    async with (
        kitchen(tmp_path)
        .wrote("10:50 cleaned", day=4, place="kitchen")
        .at("11:25", day=4)
        .board(*size) as board
    ):
        shown = await board.press("n")
        assert "WATCHING" in shown or "next try" in shown
        assert "How sure: " in shown


@pytest.mark.parametrize("size", SIZES)
async def test_what_is_said_covers_only_the_key_line_and_a_free_row(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with kitchen(tmp_path).at("11:25", day=4).board(*size) as board:
        shown = (await board.press("n")).rstrip().splitlines()
        assert any("Saved: " in line for line in shown[-2:])
        board.app.clear_notifications()
        await board.settled()
        bare = board.text.rstrip().splitlines()
        assert "p pee" in bare[-1]
        rows = 2 if size[1] < 36 else 1
        assert shown[:-rows] == bare[:-rows]
        assert rows == 1 or not bare[-2].strip()
