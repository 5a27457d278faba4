"""Phone numbers as people write them: names first, vets first, refusals with a form that works.

The numbers are of ranges that no telephone has: Ofcom, Numbers for drama (published: 01632 960000
to 960999, 020 7946 0000 to 0999), and 555-0100 to 555-0199 of the North American Numbering Plan.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.written.numbers import (
    FORM,
    PhoneNumber,
    listed,
    numbers_words,
    read_numbers,
)


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("Vet 01632 960001", [("Vet", "01632 960001")]),
        (FORM, [("Vet", "01632 960001"), ("Night vet", "01632 960002")]),
        ("Vet: 01632 960001", [("Vet", "01632 960001")]),
        ("Vet:01632960001", [("Vet", "01632960001")]),
        ("Vet - 01632 960001", [("Vet", "01632 960001")]),
        ("Vet 01632–960001,", [("Vet", "01632-960001")]),
        ("Vet +44 20 7946 0001, Mina (020) 7946 0002",
         [("Vet", "+44 20 7946 0001"), ("Mina", "(020) 7946 0002")]),
        ("Mina +1 (212) 555-0143\nOtto 212.555.0144",
         [("Mina", "+1 (212) 555-0143"), ("Otto", "212.555.0144")]),
        ("Vet (day) 01632/960001", [("Vet (day)", "01632/960001")]),
        ("Flat 2: 01632 960003", [("Flat 2", "01632 960003")]),
        ("Vet24 01632 960001", [("Vet24", "01632 960001")]),
        ("Øyvind  ０１６３２ 960004", [("Øyvind", "01632 960004")]),
        ("", []),
        (" ; ", []),
        ("none", []),
    ],
)  # fmt: skip
def test_a_name_then_its_number(written: str, read: list[tuple[str, str]]) -> None:
    assert [(one.name, one.number) for one in read_numbers(written)] == read


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("01632 960001 Vet", "Write the name first: Vet 01632 960001"),
        ("01632 960001", f"write a name, then its number, such as {FORM}"),
        ("Vet", f"“Vet”: write a name, then its number, such as {FORM}"),
        ("Vet 01632 96OOO1", FORM),
        ("Vet 01632 960001 ask for Bo", FORM),
        ("Vet 12", "“12” has 2 digits, a number 3 to 20"),
        ("Vet 01632 960001 01632 960002", "has 22 digits, a number 3 to 20"),
        (f"{'V' * 31} 01632 960001", "at most 30"),
        (f"Vet {'1 ' * 50}x", "is too long: write such as Vet"),
        ("Ve\x1b[31mt 01632 960001", "control"),
        ("Ve\u202et 01632 960001", "control"),
        ("; ".join(f"P{one} 01632 96000{one}" for one in range(9)), "At most 8"),
    ],
)
def test_a_refusal_names_a_form_that_works(written: str, message: str) -> None:
    with pytest.raises(ValueError, match=r"\w") as refused:
        read_numbers(written)
    assert message in str(refused.value)
    assert all(letter.isprintable() for letter in str(refused.value))


def test_the_form_that_a_refusal_names_is_read() -> None:
    assert numbers_words(read_numbers(FORM)) == FORM
    assert read_numbers("Vet 01632 960001")


def test_the_vet_comes_first_then_the_vet_at_night_then_the_others_as_written() -> None:
    written = (
        "Vetle 01632 960005; Emergency clinic 01632 960002; Ana 01632 960004; Vet 01632 960001"
    )
    names = [number.name for number in read_numbers(written)]
    assert names == ["Vet", "Emergency clinic", "Vetle", "Ana"]


@pytest.mark.parametrize(
    ("name", "vet", "night"),
    [
        ("Vet", True, False), ("vet Dr Holm", True, False), ("Night vet", True, True),
        ("Vet at weekends", True, True), ("Emergency clinic", True, True),
        ("Vet 24h", True, True), ("Animal hospital, nights", True, True), ("Vetle", False, False),
        ("Night nurse", False, False), ("Corvet", False, False),
    ],
)  # fmt: skip
def test_who_is_a_vet_is_told_by_the_name(name: str, vet: bool, night: bool) -> None:
    number = PhoneNumber(name, "01632 960001")
    assert (number.is_vet, number.is_at_night) == (vet, night)


NAMES = st.text("Ab 2é:-(+", min_size=1, max_size=12).filter(lambda t: any(map(str.isalpha, t)))
DIGITS = st.from_regex(r"(\+|\(0)?[0-9][0-9 /()-]{2,12}[0-9]", fullmatch=True)


@given(NAMES, DIGITS)
def test_what_was_read_reads_back_to_the_same(name: str, digits: str) -> None:
    try:
        read = read_numbers(f"{name} {digits}")
    except ValueError:
        return
    assert read_numbers(numbers_words(read)) == read


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        read = read_numbers(text)
    except ValueError:
        return
    assert read_numbers(numbers_words(read)) == read


def test_on_one_line_vets_alone_where_there_are_any() -> None:
    numbers = read_numbers("Mina 01632 960003; Vet 01632 960001")
    assert listed(numbers) == "Vet 01632 960001; Mina 01632 960003"
    assert listed(numbers, vets=True) == "Vet 01632 960001"
    assert listed(numbers[1:], vets=True) == "Mina 01632 960003"
    assert listed(()) == ""
