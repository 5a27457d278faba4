"""What all screens have in common, seen on a page made for it: common practice, no source."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path
from typing import ClassVar

import pytest
from textual.containers import VerticalScroll
from textual.content import Content

from pottyboard.board.control.entries import Entries
from pottyboard.board.screens import base
from pottyboard.board.screens.base import ChoicePage, Written
from pottyboard.board.screens.day import DayScreen
from pottyboard.board.screens.emergency import EmergencyScreen
from tests.board.kitchen import Board, Kitchen

ROWS = 40


class MadePage(ChoicePage[None]):
    """Rows to choose from below a heading of two lines; counts how often it looked."""

    CSS_PATH: ClassVar = [Path(base.__file__).parents[1] / "styles/page_screen.tcss"]

    def __init__(self, entries: Entries) -> None:
        """Begin with all rows."""
        self.rows, self.looked = ROWS, 0
        super().__init__(entries)

    def look(self) -> None:
        """Count."""
        self.looked += 1

    def ends(self) -> tuple[str, ...]:
        """Name the page."""
        return "made", ""

    def count(self) -> int:
        """Return the rows there are."""
        return self.rows

    def write(self, width: int, height: int) -> Written:
        """Write the heading and the rows."""
        rows = [Content(f"{'>' if n == self.at else ' '} row {n}") for n in range(self.rows)]
        return Written([Content("heading"), Content(""), *rows], self.at + 2, self.at + 2)


@pytest.fixture
async def board(tmp_path: Path) -> AsyncIterator[Board]:
    """The page over the board of Bramble, in a window of 20 lines."""
    async with Kitchen(tmp_path).at("10:00").board(60, 20) as opened:
        below = opened.app.screen
        assert isinstance(below, DayScreen)
        await opened.app.push_screen(MadePage(below.entries))
        await opened.settled()
        yield opened


def page_of(board: Board) -> MadePage:
    """Return the page on top."""
    assert isinstance(board.app.screen, MadePage)
    return board.app.screen


async def test_the_choice_stays_in_the_list_and_in_view(board: Board) -> None:
    assert "> row 0" in await board.press("up")
    shown = await board.press(*["down"] * 25)
    assert "> row 25" in shown
    assert "heading" not in shown
    assert f"> row {ROWS - 1}" in await board.press(*["down"] * ROWS)
    shown = await board.press(*["up"] * ROWS)
    assert "> row 0" in shown
    assert "heading" in shown, "the first comes with the whole top of the page"


async def test_the_choice_follows_a_list_that_becomes_shorter(board: Board) -> None:
    await board.press(*["down"] * 9)
    page_of(board).rows = 3
    page_of(board).show()
    assert "> row 2" in await board.press()
    page_of(board).rows = 0
    page_of(board).show()
    await board.press("down")
    assert page_of(board).at == 0


async def test_a_page_is_turned_without_choosing(board: Board) -> None:
    shown = await board.press("pagedown")
    assert "row 20" in shown
    assert page_of(board).at == 0
    scrolled = page_of(board).query_one("#page", VerticalScroll).scroll_y
    assert scrolled == page_of(board).query_one("#page").scrollable_content_region.height
    assert "heading" in await board.press("pageup")


async def test_it_looks_again_when_what_lay_over_it_is_gone(board: Board) -> None:
    page = page_of(board)
    assert page.looked == 1
    await board.press("exclamation_mark")
    assert board.shows(EmergencyScreen)
    await board.press("escape")
    assert page.looked == 2
    await board.press("down")
    assert page.looked == 2


@pytest.mark.parametrize("key", ["escape", "q"])
async def test_it_closes_and_the_board_stays(board: Board, key: str) -> None:
    await board.press(key)
    assert board.shows(DayScreen)
    assert board.app.is_running


async def test_what_a_change_says_is_plain_text_and_a_refusal_is_an_error(board: Board) -> None:
    page = page_of(board)
    page.change(lambda: "Saved: [/b] a note [red]")
    assert "Saved: [/b] a note [red]" in await board.press()
    assert page.looked == 2

    def refuse() -> str:
        raise ValueError("Nothing to clean.")

    page.change(refuse)
    shown = await board.press()
    assert "Nothing to clean." in shown
    assert "Saved:" not in shown, "one message at a time"
    assert [one.severity for one in board.app._notifications] == ["error"]
