"""The bottom line."""

from __future__ import annotations

import pytest

from pottyboard.board.widgets.key_line import keys_line


@pytest.mark.parametrize("width", range(12, 130))
def test_it_fits_and_always_ends_with_help(width: int) -> None:
    line = keys_line(width, {}).plain
    assert len(line) <= width
    assert line.rstrip().endswith("? help")


def test_the_most_needed_come_first() -> None:
    smallest = "p pee  o poop  a accident  n nothing  m meal  u undo  ? help"
    assert keys_line(60, {}).plain == smallest
    assert keys_line(80, {}).plain == f" {smallest.replace('?', 'b both  ?')} "


def test_it_shows_the_keys_of_the_household() -> None:
    assert " f1 pee " in keys_line(80, {"pee": "f1"}).plain
