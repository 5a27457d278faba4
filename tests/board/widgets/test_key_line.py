"""The bottom line."""

from __future__ import annotations

from pathlib import Path

import pytest

from pottyboard.board.widgets.key_line import Key, footer_keys, keys_line
from tests.board.test_golden_screens import kitchen


@pytest.mark.parametrize("width", range(12, 130))
def test_it_fits_and_always_ends_with_help(width: int) -> None:
    line = keys_line(width, footer_keys({})).plain
    assert len(line) <= width
    assert line.rstrip().endswith("? help")


def test_the_most_needed_come_first() -> None:
    smallest = "p pee  o poop  a accident  n nothing  m meal  u undo  ? help"
    assert keys_line(60, footer_keys({})).plain == smallest
    assert keys_line(80, footer_keys({})).plain == f" {smallest.replace('?', 'b both  ?')} "


def test_it_shows_the_keys_of_the_household() -> None:
    assert " f1 pee " in keys_line(80, footer_keys({"pee": "f1"})).plain


@pytest.mark.parametrize("width", range(1, 60))
def test_the_keys_of_a_page_fit_and_go_from_the_end(width: int) -> None:
    keys = [Key("esc", "back"), Key("c or 1-3", "cleaned"), Key("↑ ↓", "others"), Key("u", "undo")]
    line = keys_line(width, keys).plain
    assert len(line) <= width
    assert "esc back  c or 1-3 cleaned  ↑ ↓ others  u undo".startswith(line.strip())


@pytest.mark.parametrize(("glyphs", "cut"), [("drawn", "…"), ("ascii", "~")])
async def test_a_prompt_too_long_is_cut_in_the_glyphs_of_the_household(
    tmp_path: Path, glyphs: str, cut: str
) -> None:
    house = kitchen(tmp_path, glyphs=glyphs).at("10:05", 4)
    house.wrote("10:00 note", day=4, note="a long note " * 9)
    async with house.board(60, 20) as board:
        await board.press("up")
        assert board.lines[-1].startswith(" e or enter corrects, x or del deletes: 10:00 a long")
        assert board.lines[-1].endswith(cut)
