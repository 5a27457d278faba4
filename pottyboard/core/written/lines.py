"""Plain lines: a text, a name, names with commas, one of a few words, yes or no.

The readers raise ``ValueError`` with a message that says what to write.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from typing import Final

_MOST_NAMES: Final = 9


def line_reader(most: int, needed: str = "") -> Callable[[str], str]:
    """Return a reader of one line of plain text of at most ``most`` characters.

    ``needed`` is the message for an empty line; without one, empty is fine.
    """

    def read(answer: str) -> str:
        answer = " ".join(answer.split())
        if needed and not answer:
            raise ValueError(needed)
        if len(answer) > most:
            raise ValueError(f"Too long: at most {most} characters.")
        if any(unicodedata.category(letter) in ("Cc", "Cf", "Cs") for letter in answer):
            raise ValueError("Contains a control character: type it again by hand.")
        return answer

    return read


read_name: Final = line_reader(30, "A name is missing.")
_read_one: Final = line_reader(30)


def read_names(answer: str) -> tuple[str, ...]:
    """Read names with commas between them, each once."""
    if ";" in answer:
        raise ValueError("Separate the names with commas.")
    names = tuple(dict.fromkeys(name for part in answer.split(",") if (name := _read_one(part))))
    if len(names) > _MOST_NAMES:
        raise ValueError("At most nine people.")
    return names


def choice_reader(choices: tuple[str, ...]) -> Callable[[str], str]:
    """Return a reader of one of ``choices``, which are in small letters."""

    def read(answer: str) -> str:
        answer = answer.strip().lower()
        if answer not in choices:
            raise ValueError(f"Answer one of: {', '.join(choices)}.")
        return answer

    return read


def read_yes(answer: str) -> bool:
    """Read yes or no; nothing written is no."""
    answer = answer.strip().lower()
    if answer in ("y", "yes", "true", "1"):
        return True
    if answer in ("n", "no", "false", "0", ""):
        return False
    raise ValueError("Answer yes or no.")
