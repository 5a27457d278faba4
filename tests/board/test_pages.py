"""The table of pages: each row opens its page, by its key and by its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.board.control.entries import Entries
from pottyboard.board.keys.actions import ACTIONS, Action
from pottyboard.board.keys.keymap import keys_of
from pottyboard.board.pages import page_named
from tests.board.test_golden_screens import kitchen

PAGES = [action for action in ACTIONS if action.page]


@pytest.mark.parametrize("action", PAGES, ids=lambda action: action.id)
async def test_a_page_opens_by_its_key_and_closes_by_it(tmp_path: Path, action: Action) -> None:
    async with kitchen(tmp_path).at("10:05", 4).board(80, 24) as board:
        day = board.app.screen
        key = keys_of(action, {})[0]
        await board.press(key)
        assert type(board.app.screen).__name__ == action.page.partition(".")[2]
        await board.press(key)
        assert board.app.screen is day


async def test_a_page_closes_by_the_key_of_the_household(tmp_path: Path) -> None:
    house = kitchen(tmp_path).at("10:05", 4)
    async with house.board(80, 24, POTTYBOARD_KEYS="hold=f5") as board:
        assert "how long the dog can wait" in await board.press("f5")
        assert "how long the dog can wait" not in await board.press("f5")


def test_no_other_page_can_be_named(tmp_path: Path) -> None:
    house = kitchen(tmp_path).at("10:05", 4)
    entries = Entries(house.dog_log, house.clock)
    for name in ("pee", "setup", "screens.hold", ""):
        with pytest.raises(LookupError):
            page_named(name, entries)
