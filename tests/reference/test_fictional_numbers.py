"""Every phone number in the samples, the tests, the texts and the code is one that nobody has.

Sources: Ofcom, Numbers for drama (published: 01632 960000 to 960999 of no area, 020 7946 0000 to
0999 of London; the ranges from memory; that 01632 is the code of no area: BBC, Magazine Monitor, 20
April 2015, read). North American Numbering Plan: 555-0100 to 555-0199 of each area are set aside
for fiction (from memory, said so by several public pages).

A phone-like number is a run of seven digits or more in groups, of which the first begins with a
nought, a plus or a bracket; or three, three and four digits, or three and four, as in NANP.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
PHONE = re.compile(
    r"(?<![\w.:+-])(?:"
    r"\+\d{1,3}[ -]?\(?\d{1,4}\)?(?:[ -]\d{2,6}){1,3}|"  # +44 20 7946 0001, +1 (212) 555-0143
    r"\(0\d{1,4}\) ?\d{3,6}(?: \d{3,4})?|"  # (020) 7946 0002
    r"0\d{2,4}[ /-]\d{3,8}(?:[ -]\d{3,4})?|0\d{9,10}|"  # 01632 960001, 01632960001
    r"\d{3}[.-]\d{3}[.-]\d{4}|[2-9]\d\d-\d{4}"  # 212.555.0144, 555-0100
    r")(?![\w:{]|[.-]\d)"
)
FICTIONAL = re.compile(r"(?:44|0)?(?:1632960\d{3}|2079460\d{3})|1?\d{0,3}55501\d\d")


NO_NUMBER = "0123456789"
"""The digits in their order, as keys of the board."""


def phone_like(text: str) -> Iterator[str]:
    """Yield what looks like a phone number."""
    for found in PHONE.finditer(text):
        if sum(map(str.isdigit, found[0])) >= 7 and found[0] != NO_NUMBER:
            yield found[0]


def is_fictional(number: str) -> bool:
    digits = re.sub(r"\D", "", number)
    return FICTIONAL.fullmatch(digits) is not None


@pytest.mark.parametrize(
    ("text", "fictional"),
    [
        ("Vet 01632 960001;", True), ("+44 1632 960999", True), ("(020) 7946 0002", True),
        ("020 7946 0999", True), ("+44 20 7946 0001", True), ("01632960001", True),
        ("+1 (212) 555-0143", True), ("212.555.0144", True), ("555-0199", True),
    ],
)  # fmt: skip
def test_numbers_of_these_ranges_are_found_and_pass(text: str, fictional: bool) -> None:
    (number,) = phone_like(text)
    assert is_fictional(number) == fictional


@pytest.mark.parametrize(
    ("area", "rest"), [("01632", "961000"), ("020", "7947 0000"), ("0114", "5550000")]
)
def test_numbers_outside_them_are_found_and_do_not(area: str, rest: str) -> None:
    (number,) = phone_like(f"Vet {area} {rest}")
    assert not is_fictional(number)
    (american,) = phone_like("-".join(("212", "555", "0200")))
    assert not is_fictional(american)


def test_every_number_of_the_project_is_fictional() -> None:
    found = {}
    for folder, kinds in (
        ("sample_logs", "*.json"), ("tests", "*.py"), ("tests", "*.txt"), ("pottyboard", "*.py"),
        (".bench", "*.py"), (".", "*.md"),
    ):  # fmt: skip
        paths = (ROOT / folder).glob(kinds) if folder == "." else (ROOT / folder).rglob(kinds)
        for path in paths:
            if path.name == Path(__file__).name:
                continue
            text = path.read_text("utf-8", errors="replace")
            if wrong := [number for number in phone_like(text) if not is_fictional(number)]:
                found[path.relative_to(ROOT).as_posix()] = wrong[:5]
    assert found == {}


def test_each_sample_has_numbers_of_a_vet_and_a_night_vet() -> None:
    for path in (ROOT / "sample_logs").glob("*/settings.json"):
        assert len(list(phone_like(path.read_text("utf-8")))) >= 3, path
