"""Clock times, lists of them, and lengths of time, as people write them.

A number without am or pm is an hour of the day from 0 to 24. What could be two times is refused
with both: a wrong guess is worse than a question.
"""

from __future__ import annotations

import re
from datetime import time
from typing import Final

from pottyboard.core.written.text import AmbiguousError, TimeError, quoted, tidy

_ANY: Final = re.IGNORECASE | re.ASCII
_TWELVE: Final = r"[ap]\.?\s?m\b\.?"
_NAMED: Final = {"noon": time(12), "midday": time(12), "midnight": time(0)}
_COLON: Final = re.compile(r"(\d{1,2})\s?[:.h]\s?(\d{2})(?:[:.]\d{2}(?:[.,]\d+)?)?", _ANY)
_AM_PM: Final = re.compile(
    r"(\d{1,2})(?:\s?[:.]?\s?(\d{2})(?:[:.]\d{2})?)?\s*([ap])\.?\s?m\.?", _ANY
)
_DIGITS: Final = re.compile(r"(\d{1,2})(\d{2})(?:\s?h(?:rs|ours)?)?", _ANY)
_HOUR: Final = re.compile(r"(\d{1,2})(?:\s?h|\s?o['’]?\s?clock)?", _ANY)
_HALF_SAID: Final = re.compile(r"(\d{1,2})[:.,h](\d)", _ANY)

CLOCK: Final = (
    rf"(?:\d{{1,2}}\s?[:.h]\s?\d{{2}}(?:[:.]\d{{2}})?(?:\s*{_TWELVE})?"
    rf"|\d{{1,2}}(?:\s?\d{{2}})?\s*{_TWELVE}"
    r"|(?:12\s)?(?:noon|midday|midnight)\b"
    r"|\d{3,4}(?:\s?h(?:rs|ours)?\b)?"
    r"|\d{1,2}(?:\s?h\b|\s?o['’]?\s?clock\b)?)"
)
"""A pattern for where a clock time may stand; :func:`read_clock` says whether it is one."""

_TOKEN: Final = re.compile(rf"{CLOCK}(?!\d)", _ANY)
_BETWEEN: Final = re.compile(r"\s*[,;&+/]\s*(?:and\b\s*)?|\s*\band\b\s*|\s+", _ANY)
_BARE: Final = re.compile(r"\d{1,2}", re.ASCII)

_H: Final = r"(?:h|hrs?|hours?)"
_M: Final = r"(?:m|mins?|minutes?)"
_SPANS: Final = (
    re.compile(rf"(?P<h>\d{{1,3}})\s*{_H}\s*(?:(?:and\s)?\s*(?P<m>\d{{1,4}})\s*{_M}?)?", _ANY),
    re.compile(r"(?P<h>\d{1,3}):(?P<m>[0-5]\d)", _ANY),
    re.compile(rf"(?P<m>\d{{1,4}})\s*{_M}?", _ANY),
    re.compile(rf"(?P<part>\d{{1,3}}[.,]\d{{1,2}})\s*{_H}", _ANY),
)
_SAID: Final = {"an hour": 60.0, "half an hour": 30.0, "a quarter of an hour": 15.0}


def clock_of(hour: int, minute: int) -> time | None:
    """Return a time of the day, 24:00 as midnight; None if there is none such."""
    if (hour, minute) == (24, 0):
        return time(0)
    return time(hour, minute) if hour < 24 and minute < 60 else None


def read_clock(text: str) -> time:
    """Read a clock time: ``7:05``, ``7.05 pm``, ``5:30 pm``, ``630``, ``0700``, ``7``, ``noon``.

    Raises :class:`TimeError`, with both readings where there are two.
    """
    said = tidy(text)
    if found := _clock(said):
        return found
    half = _HALF_SAID.fullmatch(said)
    if half and int(half[1]) < 24:
        tens = [f"{int(half[1]):02d}:0{half[2]}"]
        tens += [f"{int(half[1]):02d}:{half[2]}0"] if int(half[2]) < 6 else []
        if half[2] == "5" and ":" not in said:
            tens.insert(1, f"{int(half[1]):02d}:30")
        readings = " or ".join(tens)
        raise AmbiguousError(f"{quoted(text)} could be two times: write {readings}")
    raise TimeError(
        f"{quoted(text)} is not a clock time: write hours and minutes, such as 06:30 or 5:30 pm"
    )


def _clock(said: str) -> time | None:
    named = said.lower().removeprefix("12 ")
    if named in _NAMED:
        return _NAMED[named]
    if twelve := _AM_PM.fullmatch(said):
        hour, minute = int(twelve[1]), int(twelve[2] or 0)
        if not 1 <= hour <= 12 or minute > 59:
            return None
        return time(hour % 12 + 12 * (twelve[3] in "pP"), minute)
    if found := _COLON.fullmatch(said) or _DIGITS.fullmatch(said):
        return clock_of(int(found[1]), int(found[2]))
    if hour_alone := _HOUR.fullmatch(said):
        return clock_of(int(hour_alone[1]), 0)
    return None


def read_clocks(text: str) -> tuple[time, ...]:
    """Read a list of clock times in its order: ``07:00 18:00``, ``7 and 18``, ``7, 12 & 18``.

    Raises :class:`TimeError`, also for ``7 15``, which may be one time or two.
    """
    said = tidy(text)
    tokens, betweens, at = [], [], 0
    while at < len(said):
        found = _TOKEN.match(said, at)
        if found is None:
            raise TimeError(
                f"{quoted(said[at:])} is not a clock time: write times such as 07:00, 17:30"
            )
        tokens.append(found[0])
        at = found.end()
        if at < len(said):
            between = _BETWEEN.match(said, at)
            if between is None:
                raise TimeError(
                    f"{quoted(text)} is not understood: write times such as 07:00, 17:30"
                )
            betweens.append(between[0])
            at = between.end()
    if len(tokens) == 2 and all(map(_BARE.fullmatch, tokens)) and betweens[0] in (" ", ","):
        _refuse_two_readings(text, *tokens)
    halves = [bool(re.search(_TWELVE, token, _ANY)) for token in tokens]
    if any(halves) and any(_BARE.fullmatch(token) and 1 <= int(token) <= 12 for token in tokens):
        raise AmbiguousError(
            f"{quoted(text)}: write am or pm to each time, such as 7am, 6pm, or all as 07:00, 18:00"
        )
    return tuple(read_clock(token) for token in tokens)


def _refuse_two_readings(text: str, first: str, second: str) -> None:
    """Raise :class:`TimeError` for two bare numbers that could be one time."""
    hour, minute = int(first), int(second)
    if len(second) < 2 or hour > 23 or minute > 59:
        return
    both = f", or {first} and {second} for two" if minute < 24 else ""
    raise AmbiguousError(f"{quoted(text)}: write {hour:02d}:{minute:02d} for one time{both}")


def read_span(text: str) -> float:
    """Read a length of time, in minutes: ``90``, ``45 min``, ``1h30``, ``1 h 30``, ``1:30``.

    Raises :class:`TimeError`, also for ``1.5`` without a unit.
    """
    said = tidy(text)
    if said.lower() in _SAID:
        return _SAID[said.lower()]
    for pattern in _SPANS:
        found = pattern.fullmatch(said)
        if found:
            parts = found.groupdict()
            if parts.get("part"):
                return round(float(parts["part"].replace(",", ".")) * 60)
            return int(parts.get("h") or 0) * 60 + int(parts.get("m") or 0)
    raise TimeError(
        f"{quoted(text)} is not a length of time: write minutes or hours, such as 20 or 1h30"
    )
