"""A message covers no more of a low window than the free row and the key line."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets._toast import Toast

from pottyboard.board.text.said import in_rows
from tests.board.kitchen import Kitchen

SAVED = "Saved: Bramble peed indoors, 04:31 (3 min ago)."
UNDO = "u takes it back."


def test_sentences_between_the_first_and_the_last_go_first() -> None:
    words = f"{SAVED} No scolding; enzyme cleaner. More later: a, r. {UNDO}"
    assert in_rows(words, 120) == words
    assert in_rows(words, 60) == f"{SAVED} No scolding; enzyme cleaner. {UNDO}"
    assert in_rows(words, 40) == f"{SAVED} {UNDO}"
    assert in_rows(words, 30) == SAVED
    assert in_rows("Was it out? Log it.", 20, rows=1) == "Was it out?"


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_what_is_said_of_an_accident_leaves_plan_reasons_and_jobs_in_view(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    house = Kitchen(tmp_path).wrote("09:05 pee").wrote("09:30 pee-inside", place="kitchen")
    async with house.at("10:05").board(*size) as board:
        await board.press("3", "a", "p", "escape")
        (toast,) = board.app.screen.query(Toast)
        assert toast.region.height <= 2
        assert toast.region.y >= size[1] - 2, "the free row and the key line"
        assert toast.region.bottom == size[1]
        assert "clean" in board.lines[-3]
        assert UNDO in board.text
