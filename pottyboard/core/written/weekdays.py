"""Days of the week, as people write them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from pottyboard.core.written.text import TimeError, tidy

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

DAY: Final = (
    r"(?:mon(?:days?)?|tue(?:s|sdays?)?|wed(?:s|nesdays?)?|thu(?:r|rs|rsdays?)?|fri(?:days?)?"
    r"|sat(?:urdays?)?|sun(?:days?)?)"
)
"""A pattern for one day of the week, from three letters on."""
_GROUPS: Final = {
    "weekdays": "mon-fri", "weekday": "mon-fri", "working days": "mon-fri", "workdays": "mon-fri",
    "weekends": "sat-sun", "weekend": "sat-sun",
    "every day": "mon-sun", "daily": "mon-sun", "all days": "mon-sun", "everyday": "mon-sun",
}  # fmt: skip
GROUP: Final = "|".join(name.replace(" ", r"\s") for name in _GROUPS)
_NONE: Final = frozenset({"", "none", "no", "never"})
_ONE: Final = re.compile(rf"{DAY}|mo|tu|we|th|fr|sa|su", re.IGNORECASE)
_TO: Final = re.compile(r"\s*(?:-|\bto\b|\buntil\b)\s*", re.IGNORECASE)
_BETWEEN: Final = re.compile(r"\s*(?:[,;&+/]|\band\b)\s*|\s+", re.IGNORECASE)


def read_days(answer: str) -> frozenset[int]:
    """Read days of the week as ISO numbers (1 = Monday): ``Mon-Fri``, ``mon and thu``, ``weekend``.

    Empty or ``none`` is no day. Raises :class:`TimeError`.
    """
    said = tidy(answer).rstrip(".").lower()
    if said in _NONE:
        return frozenset()
    for name, meant in _GROUPS.items():
        said = re.sub(rf"(?<![a-z]){name}(?![a-z])", meant, said)
    days: set[int] = set()
    for part in _BETWEEN.split(_TO.sub("-", said)):
        if not part:
            continue
        ends = part.split("-")
        if len(ends) > 2 or not all(map(_ONE.fullmatch, ends)):
            raise TimeError("Write days such as mon-fri or mon,wed,fri, weekdays or weekend.")
        first, last = _number(ends[0]), _number(ends[-1])
        days.update((first + step) % 7 + 1 for step in range((last - first) % 7 + 1))
    return frozenset(days)


def _number(day: str) -> int:
    """Return a day's place in the week from 0, by its first two letters."""
    return next(at for at, name in enumerate(WEEKDAYS) if name[:2] == day[:2])


def weekday_named(text: str) -> int | None:
    """Return the ISO number of one day of the week, None if the text names none."""
    said = tidy(text).rstrip(".").lower()
    return _number(said) + 1 if re.fullmatch(DAY, said) else None


def days_words(days: Iterable[int]) -> str:
    """Return days of the week as text, ``mon-fri`` for a run of three or more."""
    runs: list[list[int]] = []
    for day in sorted(days):
        if runs and day == runs[-1][-1] + 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    words = []
    for run in runs:
        names = [WEEKDAYS[day - 1] for day in run]
        words.append(f"{names[0]}-{names[-1]}" if len(run) > 2 else ",".join(names))
    return ",".join(words)
