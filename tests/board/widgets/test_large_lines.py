"""Short lines as large as their place allows."""

from __future__ import annotations

import pytest

from pottyboard.board.widgets import large
from pottyboard.board.widgets.large_lines import LargeLine, draw

LINES = (LargeLine("NO SCOLDING", "No scolding."), LargeLine("CLEAN", "Clean the spot."))


@pytest.mark.parametrize(("width", "scale"), [(50, 0), (70, 1), (140, 2), (220, 3)])
def test_they_are_as_large_as_fits_the_width(width: int, scale: int) -> None:
    rows = draw(LINES, width, 60, "drawn")
    if scale:
        assert len(rows) == 2 * large.height(scale) + 1
        assert max(map(len, rows)) <= width
    else:
        assert rows == ["No scolding.", "Clean the spot."]


def test_they_are_as_large_as_fits_the_height() -> None:
    assert len(draw(LINES, 220, 15, "drawn")) == 2 * large.height(2) + 1
    assert draw(LINES, 220, 7, "drawn") == ["No scolding.", "Clean the spot."]


def test_where_height_is_scarce_half_a_row_parts_two_lines() -> None:
    apart, close = (draw(LINES, 220, height, "drawn") for height in (9, 8))
    assert (apart[4], [*apart[:4], *apart[5:]]) == ("", close)
    assert not {"█", "▄"} & set(close[3]), "the lower half of the last row is empty"
    assert draw(LINES, 220, 14, "drawn") == apart, "at an even scale nothing would part them"


def test_ascii_letters_too_small_to_read_are_not_drawn() -> None:
    assert draw(LINES, 70, 60, "ascii") == ["No scolding.", "Clean the spot."]
    assert set("".join(draw(LINES, 140, 60, "ascii"))) == {"#", " "}
