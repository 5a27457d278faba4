"""Curves, bars and labels as text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.board.widgets.plot import Pen, Plot, bar, floor, labels, marks, place, sample

X, Y = (0.0, 10.0), (0.0, 1.0)


def text(plot: Plot) -> str:
    """Return the rows of a plot, without blanks at their ends."""
    return "\n".join("".join(piece for piece, _ in row).rstrip() for row in plot.rows())


def drawn(*lines: str) -> str:
    """Return lines as a plot gives them."""
    return "\n".join(line.rstrip() for line in lines)


def test_a_thin_line_is_drawn_in_braille_dots() -> None:
    plot = Plot(X, Y, 8, 3, "drawn")
    plot.curve([(0, 0), (10, 1)], "thin", "rise")
    assert text(plot) == drawn(
        "     ⢀⠔⠊",
        "  ⢀⡠⠊⠁",
        "⡠⠔⠁",
    )


def test_a_thick_line_is_drawn_in_half_blocks() -> None:
    plot = Plot(X, Y, 8, 2, "drawn")
    plot.curve([(0, 1), (5, 0.4), (10, 0)], "thick", "steps", stepped=True)
    assert text(plot) == drawn(
        "▀▀▀▀▄",
        "    ▀▀▀▄",
    )


def test_ascii_has_a_letter_for_each_pen() -> None:
    plot = Plot(X, Y, 10, 3, "ascii")
    plot.curve([(0, 1), (10, 1)], "dotted", "guess")
    plot.curve([(0, 0.5), (10, 0.5)], "thin", "estimate")
    plot.curve([(0, 0), (10, 0)], "thick", "log")
    assert text(plot) == drawn(
        ". . . . .",
        "**********",
        "##########",
    )


def test_what_is_drawn_later_lies_on_top_and_keeps_its_ink() -> None:
    plot = Plot(X, Y, 5, 3, "ascii")
    plot.level(0.5, "limit")
    plot.upright(5, "due")
    plot.curve([(0, 0.5), (2.5, 0.5)], "thin", "curve")
    assert text(plot) == drawn(
        "  :",
        "**:--",
        "  :",
    )
    assert plot.rows()[1] == (("**", "curve"), (":", "due"), ("--", "limit"))


def test_the_dashed_lines_are_drawn_unless_ascii() -> None:
    plot = Plot(X, Y, 5, 3, "drawn")
    plot.upright(10, "due")
    plot.level(0, "limit")
    assert text(plot) == drawn("    ┊", "    ┊", "╌╌╌╌╌")


def test_a_steep_piece_is_closed() -> None:
    plot = Plot(X, Y, 6, 5, "ascii")
    plot.curve([(0, 1), (5, 1), (5.01, 0), (10, 0)], "thin", "cliff")
    assert text(plot) == drawn("***", "   *", "   *", "   *", "   ***")


def test_a_curve_ends_where_it_is_no_longer_known() -> None:
    plot = Plot(X, Y, 11, 1, "ascii")
    plot.curve([(0, 1), (4, 1), (5, None), (10, None)], "thick", "log", stepped=True)
    assert text(plot) == "#####"
    plot = Plot(X, Y, 11, 1, "ascii")
    plot.curve([(2, 1), (4, 1)], "thin", "part")
    assert text(plot) == "  ***"


def test_heights_past_the_ends_stay_on_the_sheet() -> None:
    plot = Plot(X, Y, 3, 2, "ascii")
    plot.curve([(0, -5), (10, 7)], "thin", "far")
    assert text(plot) == drawn(" **", "*")


def test_nothing_is_drawn_of_no_points() -> None:
    plot = Plot(X, Y, 3, 2, "drawn")
    plot.curve([], "thin", "none")
    assert text(plot) == "\n"


@pytest.mark.parametrize("glyphs", ["drawn", "ascii"])
def test_a_legend_tells_every_pen_from_the_others(glyphs: str) -> None:
    pens: tuple[Pen, ...] = ("thin", "thick", "dotted")
    samples = [sample(pen, glyphs) for pen in pens]  # type: ignore[arg-type]
    assert len(set(samples)) == 3
    assert all(len(text) == 3 for text in samples)


@given(
    st.lists(st.floats(-1, 2) | st.none(), min_size=1, max_size=30),
    st.integers(1, 40),
    st.integers(1, 12),
    st.sampled_from(["thin", "thick", "dotted"]),
    st.sampled_from(["drawn", "ascii"]),
    st.booleans(),
)
def test_any_curve_fills_a_sheet_of_exactly_its_size(
    heights: list[float | None], width: int, height: int, pen: Pen, glyphs: str, stepped: bool
) -> None:
    plot = Plot((0.0, 29.0), Y, width, height, glyphs)  # type: ignore[arg-type]
    plot.curve(list(enumerate(heights)), pen, "any", stepped=stepped)
    rows = ["".join(piece for piece, _ in row) for row in plot.rows()]
    assert [len(row) for row in rows] == [width] * height
    if glyphs == "ascii":
        assert "".join(rows).isascii()


@pytest.mark.parametrize(
    ("value", "cell"), [(0, 0), (10, 10), (4.4, 4), (4.6, 5), (-3, 0), (99, 10)]
)
def test_a_value_falls_into_a_cell_and_past_the_ends_into_the_last(value: float, cell: int) -> None:
    assert place(value, X, 11) == cell


def test_marks_stand_at_their_values() -> None:
    assert marks([0, 3, 3, 12], "!", X, 11) == "!  !      !"


def test_a_bar_has_its_middle_marked() -> None:
    assert bar(2, 4, 8, X, 11, "drawn") == "  ├─╋───┤  "
    assert bar(2, 4, 8, X, 11, "ascii") == "  |-+---|  "


def test_a_bar_past_the_edge_ends_in_an_arrow() -> None:
    assert bar(6, 8, 14, X, 11, "drawn") == "      ├─╋─▸"
    assert bar(6, 8, 14, X, 11, "ascii") == "      |-+->"


def test_a_bar_narrower_than_a_cell_keeps_its_middle() -> None:
    assert bar(5, 5, 5, X, 11, "drawn").strip() == "╋"


def test_the_floor_has_a_tick_for_each_label() -> None:
    assert floor([0, 4], 8, "drawn") == "┬───┬───"
    assert floor([0, 4], 8, "ascii") == "+---+---"


def test_labels_are_centred_and_the_first_come_first() -> None:
    assert labels([(0, "now"), (10, "break"), (14, "late")], 20) == "now     break       "
    assert labels([(19, "21:00")], 20) == " " * 15 + "21:00"
    assert labels([(2, "too long for this")], 10) == " " * 10


def test_labels_never_touch() -> None:
    assert labels([(1, "abc"), (5, "def")], 10) == "abc def   "
    assert labels([(1, "abc"), (4, "def")], 10) == "abc       "
