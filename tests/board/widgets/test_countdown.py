"""The one large thing, in every size and state."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.board.text.words import Face, length
from pottyboard.board.widgets.countdown import draw, figures_scale
from pottyboard.board.widgets.large import dots
from pottyboard.core.view.situation import State

STATES = get_args(State)
FACES = st.builds(
    lambda state, minutes: Face(state, *length(minutes), "break at 13:40"),
    st.sampled_from(STATES),
    st.integers(0, 100_000),
)


@given(FACES, st.integers(20, 200), st.integers(2, 60), st.sampled_from(["drawn", "ascii"]))
def test_it_fits_every_place(face: Face, width: int, height: int, glyphs: str) -> None:
    rows = draw(face, width, height, glyphs)  # type: ignore[arg-type]
    assert len(rows) <= height
    assert rows[-1] == face.line
    if glyphs == "ascii":
        assert "".join(rows).isascii()
    if figures_scale(width, height, 0):
        assert max(len(row.rstrip()) for row in rows) <= max(width, len(face.line))


@pytest.mark.parametrize(("width", "height"), [(56, 13), (46, 13), (66, 18), (112, 29)])
def test_the_scale_is_the_same_for_every_minute(width: int, height: int) -> None:
    scales = {
        figures_scale(width, height, len(dots(length(minutes)[0])[0])) for minutes in range(10 * 60)
    }
    assert len(scales) == 1


def test_the_unit_stays_where_it_is_as_minutes_pass() -> None:
    def unit(minutes: int) -> list[str]:
        rows = draw(Face("rest", *length(minutes), ""), 66, 18, "drawn")
        return [row[36:].rstrip() for row in rows[5:16]]

    assert any(unit(59))
    assert all(unit(minutes) == unit(59) for minutes in range(59))


@pytest.mark.parametrize(
    ("minutes", "large", "unit"),
    [
        (0, " 0", "min"),
        (9, " 9", "min"),
        (59, "59", "min"),
        (60, "1h00", ""),
        (85, "1h25", ""),
        (630, "10h30", ""),
        (24 * 60, "1d", ""),
    ],
)
def test_lengths(minutes: int, large: str, unit: str) -> None:
    assert length(minutes) == (large, unit)


def test_a_tiny_place_says_it_in_plain_text() -> None:
    assert draw(Face("late", "20", "min", "break was due at 11:50"), 30, 3, "drawn") == [
        "! LATE 20 min",
        "break was due at 11:50",
    ]


def test_from_four_metres_the_figures_are_at_least_three_centimetres_high() -> None:
    """A row of text on a laptop is about 5 mm high (our own estimate)."""
    for width, height in ((56, 13), (46, 13), (66, 18), (112, 29)):
        rows = draw(Face("rest", "1h25", "", ""), width, height, "drawn")
        tall = sum(bool(re.search("[█▀▄]", row)) for row in rows[4:])
        assert tall * 5 >= 30
