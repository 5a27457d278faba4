"""What the set-up understood of an answer, where that reads otherwise than what was typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any, Final

from pottyboard.core.model import figures
from pottyboard.core.model.localtime import zone_named
from pottyboard.core.model.questions import read_each
from pottyboard.core.model.rota import helpers_words, other_days_words, own_hours_words
from pottyboard.core.written.amounts import OUNCES_PER_POUND
from pottyboard.core.written.numbers import numbers_words
from pottyboard.core.written.weekdays import days_words


def understood(answers: Mapping[str, str], now: datetime) -> dict[str, str]:
    """Return by key what was understood, for each answer that does not already say it so.

    ``now`` is aware. An answer that cannot be read is not among them.
    """
    value, _ = read_each(answers, now)
    zone = zone_named(value.get("zone", "UTC"))
    if "zone" in value:
        value["zone"] = (value["zone"], now.astimezone(zone))
    if "arrived" in value:
        value["arrived"] = value["arrived"].astimezone(zone)
    words = {}
    for key, (plain, say) in _SAYS.items():
        typed = answers.get(key, "")
        if key in value and typed.strip() and _squeezed(typed) != _squeezed(plain(value[key])):
            words[key] = say(value[key])
    return words


def _squeezed(text: str) -> str:
    return "".join(text.split())


def _clock(value: Any) -> str:
    return f"{value:%H:%M}"


def _meals(value: Any) -> str:
    return ", ".join(map(_clock, value)) or "food is always there"


def _weight(value: Any) -> str:
    kilograms, written = value
    if written:
        return f"{kilograms:g} kg"
    pounds, ounces = divmod(
        round(kilograms / figures.KG_PER_POUND * OUNCES_PER_POUND), OUNCES_PER_POUND
    )
    return f"{kilograms:g} kg, which is {pounds} lb {ounces} oz"


def _same(say: Callable[[Any], str]) -> tuple[Callable[[Any], str], Callable[[Any], str]]:
    return say, say


_SAYS: Final[Mapping[str, tuple[Callable[[Any], str], Callable[[Any], str]]]] = {
    "weight": (lambda value: f"{value[0]:g} kg", _weight),
    "arrived": (
        lambda at: f"{at:%Y-%m-%d %H:%M}",
        lambda at: f"{at:%a} {at.day} {at:%b %Y %H:%M}",
    ),
    "zone": (lambda value: value[0], lambda value: f"{value[0]}, now {value[1]:%H:%M}"),
    "up": _same(_clock),
    "bed": _same(_clock),
    "meals": (lambda value: ",".join(map(_clock, value)) or "none", _meals),
    "workdays": _same(lambda days: days_words(days) or "no days"),
    "leave": _same(_clock),
    "return": _same(_clock),
    "own-hours": _same(own_hours_words),
    "exceptions": _same(other_days_words),
    "helpers": _same(helpers_words),
    "numbers": _same(numbers_words),
}
"""For each answer that has several forms: the plain one, which is not repeated, and its words."""
