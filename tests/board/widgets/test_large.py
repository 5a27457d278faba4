"""The large letters."""

from __future__ import annotations

import string

import pytest

from pottyboard.board.text.glyphs import LOOKS
from pottyboard.board.widgets import large

LETTERS = string.digits + ": hmind" + "ABCDEFGHIKLMNOPRSTUVWY"


@pytest.mark.parametrize("letter", LETTERS)
def test_every_letter_is_a_rectangle_of_seven_rows(letter: str) -> None:
    rows = large.dots(letter)
    assert len(rows) == large.ROWS
    assert len({len(row) for row in rows}) == 1
    assert set("".join(rows)) <= {"#", "."}


def test_no_two_letters_look_alike_but_nought_and_o() -> None:
    drawings = {large.dots(letter) for letter in LETTERS}
    assert len(drawings) == len(LETTERS) - 1
    assert large.dots("0") == large.dots("O")


def test_every_figure_is_equally_wide() -> None:
    """And so is the blank that stands for a missing ten."""
    assert {len(large.dots(figure)[0]) for figure in string.digits + " "} == {5}


@pytest.mark.parametrize("scale", range(1, 7))
@pytest.mark.parametrize("ascii_only", [False, True])
def test_a_drawing_has_the_size_that_is_promised(scale: int, ascii_only: bool) -> None:
    drawing = large.dots("8h88")
    rows = large.draw(drawing, scale, ascii_only=ascii_only)
    assert len(rows) == large.height(scale)
    assert {len(row) for row in rows} == {len(drawing[0]) * scale}
    assert set("".join(rows)) <= (set("# ") if ascii_only else set("█▀▄ "))


def test_a_dot_is_drawn_as_a_square() -> None:
    """At scale 2 a dot is two cells wide and one row high."""
    assert large.draw(("#.",) * 7, 2)[0] == "██  "


def test_half_rows_are_half_blocks() -> None:
    assert large.draw(("#", ".", ".", "#", "#", "#", "#"), 1) == ["▀", "▄", "█", "▀"]


@pytest.mark.parametrize("state", LOOKS)
def test_every_state_can_be_written_large(state: str) -> None:
    look = LOOKS[state]  # type: ignore[index]
    assert look.word == state
    large.draw(large.beside(look.dots, large.dots(look.word.upper())), 1)
    assert {len(row) for row in look.dots} == {7}
    assert len(look.mark) == len(look.plain) == 1
    assert look.plain.isascii()


def test_no_two_states_share_a_mark() -> None:
    for name in ("mark", "plain", "dots", "word"):
        assert len({getattr(look, name) for look in LOOKS.values()}) == len(LOOKS), name


def test_words_have_a_gap_between_them_that_no_letter_has() -> None:
    row = large.words("A VET")[-1]
    assert row.startswith("#...#" + "..." + "..#..")
