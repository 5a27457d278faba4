"""Phone numbers with the name of who answers, as people write them down.

A number is free text that looks like one: whether somebody answers is for the household to try.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from msgspec import Struct

from pottyboard.core.written.lines import read_name
from pottyboard.core.written.text import WrittenError, quoted, tidy

FORM: Final = "Vet 01632 960001; Night vet 01632 960002"
"""An answer that is understood. The numbers are of a range that no telephone has: Ofcom, Numbers
for drama (published)."""

_FEWEST_DIGITS: Final = 3
_MOST_DIGITS: Final = 20
"""Digits of a number: a short call number has three; the longest international one has 15 (ITU-T
E.164, from memory), and a few more leave room for what is dialled before or after it."""
_LONGEST: Final = 80
_MOST_NUMBERS: Final = 8
"""As many as the papers have room for (our own choice)."""

_BETWEEN: Final = re.compile(r"[;,\n]")
_NUMBER: Final = r"[(+]*\d[\d +()/.-]*"
_NAMED: Final = re.compile(
    rf"(?P<name>\S.*?)(?:\s*:\s*|\s+-\s+|\s+)(?P<number>{_NUMBER})", re.ASCII
)
_NUMBER_FIRST: Final = re.compile(rf"({_NUMBER}?)[\s:]+([^\W\d].*)", re.ASCII)
_VET: Final = re.compile(
    r"\b(?:vets?|veterinar\w*|(?:vet|animal|pet) (?:clinic|hospital)|clinic|emergency)\b",
    re.IGNORECASE,
)
_AT_NIGHT: Final = re.compile(
    r"\b(?:nights?|emergency|out of hours|after hours|weekends?|24 ?h\w*)\b", re.IGNORECASE
)


class PhoneNumber(Struct, frozen=True):
    """Whom to call, as the household names them, and the number as they wrote it."""

    name: str
    number: str

    def __str__(self) -> str:
        """Return both as one text."""
        return f"{self.name} {self.number}"

    @property
    def is_vet(self) -> bool:
        """Whether the name says that a vet answers, by day or at night."""
        return bool(_VET.search(self.name))

    @property
    def is_at_night(self) -> bool:
        """Whether the name says that a vet answers at night or on weekends."""
        return self.is_vet and bool(_AT_NIGHT.search(self.name))


def read_numbers(answer: str) -> tuple[PhoneNumber, ...]:
    """Read names with their numbers, such as :data:`FORM`, the vet first, then the vet at night.

    The name comes first; a colon may stand before the number, a semicolon, comma or new line after
    it. Raises ``ValueError``.
    """
    parts = [tidy(part) for part in _BETWEEN.split(answer)]
    if " ".join(parts).lower() in ("none", "no"):
        return ()
    numbers = dict.fromkeys(_read_one(part) for part in parts if part)
    if len(numbers) > _MOST_NUMBERS:
        raise WrittenError(f"At most {_MOST_NUMBERS} numbers: those that somebody would call.")
    return tuple(sorted(numbers, key=_rank))


def _read_one(part: str) -> PhoneNumber:
    if len(part) > _LONGEST:
        raise WrittenError(f"{quoted(part, 30)} is too long: write such as {FORM}")
    named = _NAMED.fullmatch(part)
    if named is None or not any(map(str.isalpha, named["name"])):
        if turned := _NUMBER_FIRST.fullmatch(part):
            raise WrittenError(f"Write the name first: {turned[2][:30]} {turned[1].strip()}")
        raise WrittenError(f"{quoted(part, 30)}: write a name, then its number, such as {FORM}")
    digits = sum(map(str.isdigit, named["number"]))
    if not _FEWEST_DIGITS <= digits <= _MOST_DIGITS:
        raise WrittenError(
            f"{quoted(named['number'], 30)} has {digits} digits, a number "
            f"{_FEWEST_DIGITS} to {_MOST_DIGITS}: write such as {FORM}"
        )
    return PhoneNumber(read_name(named["name"]), named["number"].rstrip(" .-/+("))


def _rank(number: PhoneNumber) -> tuple[bool, bool]:
    return not number.is_vet, number.is_at_night


def numbers_words(numbers: Iterable[PhoneNumber]) -> str:
    """Return numbers as the text that :func:`read_numbers` reads."""
    return "; ".join(map(_written, numbers))


def _written(number: PhoneNumber) -> str:
    """Return one with a colon where its name ends so that it could be part of the number."""
    plain = str(number)
    return plain if _read_one(plain) == number else f"{number.name}: {number.number}"


def listed(numbers: Sequence[PhoneNumber], *, vets: bool = False) -> str:
    """Return numbers on one line to read; with ``vets`` those of vets alone, if there are any."""
    shown = [number for number in numbers if number.is_vet] if vets else []
    return "; ".join(map(str, shown or numbers))
