"""Text that others wrote: what of it is shown, by the one rule for terminal and paper.

The general categories are those of the Unicode Standard, chapter 4, table 4-4 (Cc control, Cf
format, Cs surrogate, Zl and Zp separators): the reference here is Python's own ``unicodedata``.
"""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.printable import is_visible, printable, shown_letters

ANYTHING = st.text(
    st.one_of(
        st.characters(),
        st.sampled_from("\x1b\x07\x9b\n\t\u202e\u200f\u2066\u200b\u0301\ufe0f[/]漢é a "),
    ),
    max_size=80,
)


@given(ANYTHING)
def test_nothing_invisible_is_left_and_blanks_are_single(text: str) -> None:
    shown = "".join(shown_letters(text))
    assert not {unicodedata.category(c) for c in shown} & {"Cc", "Cf", "Cs", "Cn", "Zl", "Zp"}
    assert shown == shown.strip()
    assert "  " not in shown


@given(ANYTHING, st.integers(1, 40))
def test_it_keeps_to_its_letters_and_to_itself(text: str, most: int) -> None:
    shown = printable(text, most)
    assert len(shown) <= most
    assert printable(shown, most) == shown


@given(st.text("abc XYZ 019.,:[]/", max_size=30))
def test_plain_text_stays_as_it_is(text: str) -> None:
    assert printable(text) == " ".join(text.split())
    assert list(shown_letters(text)) == list(shown_letters(text + "\u200b")), "one rule, two ways"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[31mred\x1b[0m", "[31mred[0m"),
        ("one\ntwo\r\n 3\t", "one two 3"),
        ("\u202eevil\u202c", "evil"),
        ("e\u0301\u0301\u0301\u0301", "e\u0301\u0301"),
        ("\u0301alone", "alone"),
        ("❤\ufe0f", "❤"),
        ("x" * 12, "xxxxxxxxx…"),
        ("", ""),
    ],
)
def test_examples(text: str, shown: str) -> None:
    assert printable(text, 10) == shown


def test_a_text_without_end_is_not_read_to_its_end() -> None:
    assert printable("x" * 10_000_000 + "\u0301", 5) == "xxxx…"


@pytest.mark.parametrize(("letter", "seen"), [("a", True), (" ", False), ("\u200b", False)])
def test_what_shows(letter: str, seen: bool) -> None:
    assert is_visible(letter) is seen
