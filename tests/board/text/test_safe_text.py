"""Text from people on one line: nothing in it can harm a terminal or move what stands beside it."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from pottyboard.board.text.safe_text import one_line, padded, typeable

ANYTHING = st.text(
    st.one_of(
        st.characters(),
        st.sampled_from("\x1b\x07\x9b\n\t\u202e\u200f\u2066\u200b\u0301\ufe0f[/]漢🐕é "),
    ),
    max_size=80,
)
WIDTHS = st.integers(0, 30)


@given(ANYTHING, WIDTHS)
def test_it_fits(text: str, width: int) -> None:
    assert cell_len(one_line(text, width)) <= width


@given(ANYTHING, WIDTHS)
def test_nothing_invisible_is_left(text: str, width: int) -> None:
    kept = one_line(text, width)
    assert not {unicodedata.category(letter) for letter in kept} & {"Cc", "Cf", "Cs", "Zl", "Zp"}


@given(ANYTHING, WIDTHS)
def test_doing_it_twice_changes_nothing(text: str, width: int) -> None:
    once = one_line(text, width)
    assert one_line(once, width) == once


@given(ANYTHING, st.integers(1, 30))
def test_padded_is_exactly_as_wide(text: str, width: int) -> None:
    assert cell_len(padded(text, width)) == width


@given(st.text("abc xyzåéß漢0189.,:[]/", max_size=20))
def test_plain_text_stays_as_it_is(text: str) -> None:
    assert one_line(text, 60) == " ".join(text.split())


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[31mred\x1b[0m", "[31mred[0m"),
        ("[/] [bold", "[/] [bold"),
        ("one\ntwo\r\n 3\t", "one two 3"),
        ("\u202eevil\u202c", "evil"),
        ("e\u0301\u0301\u0301\u0301", "e\u0301\u0301"),
        ("\u0301alone", "alone"),
        ("漢字漢字漢字漢字", "漢字漢字…"),
        ("ten letters", "ten lette…"),
        ("ten letter", "ten letter"),
        ("", ""),
    ],
)
def test_examples(text: str, shown: str) -> None:
    assert one_line(text, 10) == shown


@given(ANYTHING)
def test_what_can_be_typed_can_be_shown(text: str) -> None:
    kept = typeable(text)
    assert not {unicodedata.category(letter) for letter in kept} & {"Cc", "Cf", "Cs", "Zl", "Zp"}
    assert typeable(kept) == kept


def test_ten_thousand_letters_are_cut() -> None:
    assert one_line("x" * 10_000, 20) == "x" * 19 + "…"
