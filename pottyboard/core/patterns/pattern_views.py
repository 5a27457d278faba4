"""The shape of what a look back shows of the patterns in a log; nothing here computes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal

from msgspec import Struct

PatternCode = Literal[
    "clock", "place", "cause", "duty", "alone", "drift", "late", "pee", "stool", "sign", "routine"
]
"""What a pattern is about: the first six are tested, the others are counts that are told as such.

*clock* when accidents come, *place* where, *cause* why, *duty* on whose watch, *alone* in company
or not, *drift* a time of the routine that wanders; *late* the punctuality of breaks, *pee* and
*stool* the waits between pees and from meal to stool, *sign* what followed a sign, *routine* how
regular a time of the day is."""


class Pattern(Struct, frozen=True):
    """One thing that the log shows, in one sentence (``words``) with its count and how sure it is.

    It was seen ``count`` times in ``of``; ``share`` is the 95 % range of that share (Wilson's),
    None where it is no share. ``subject`` is whom or what it is about: a room, a cause, a person, a
    sign, a time of the routine. ``test`` names the test, ``chance`` is what pure chance gives it
    and ``bound`` that chance with all questions allowed for; these are empty and None where it is
    only counted. ``sure`` says in words how sure it is.
    """

    code: PatternCode
    words: str
    sure: str
    count: int
    of: int
    subject: str = ""
    share: tuple[float, float] | None = None
    test: str = ""
    chance: float | None = None
    bound: float | None = None


class PatternAnswer(Struct, frozen=True):
    """One thing that was looked at: ``test`` on ``of`` entries, and what came of it.

    ``chance`` and ``bound`` are those of :class:`Pattern`; None where there are too few entries for
    any answer to stand, so that it was not asked. ``stated`` tells whether it became a pattern.
    """

    code: PatternCode
    subject: str
    test: str
    of: int
    chance: float | None
    bound: float | None
    stated: bool


class RoutineTime(Struct, frozen=True):
    """How regular one time of the day was, in minutes of the day, over ``days`` days.

    ``code`` is *up*, *first* (the first break), *meal-1* and so on, *last* (the last break) or
    *bedtime*; ``words`` names it; ``planned`` is its minute in the routine, None where it has none.
    ``mean`` and ``median`` are the usual time, ``spread`` the angular deviation in minutes, ``r``
    the length of the mean vector (1 is always the same minute), ``limits`` the 95 % limits of the
    mean, None where there are none. ``drift`` are the minutes that it moved each day, later
    positive; ``drifts`` whether that is a pattern that is stated.
    """

    code: str
    words: str
    days: int
    planned: float | None
    mean: float
    median: float
    spread: float
    r: float
    limits: tuple[float, float] | None
    drift: float = 0.0
    drifts: bool = False


class SignTally(Struct, frozen=True):
    """What followed one sign: ``shown`` times in all, before a success outside or an accident.

    ``lead_success`` and ``lead_accident`` are the least, median and most minutes until then, None
    where none came.
    """

    sign: str
    shown: int
    before_success: int
    before_accident: int
    lead_success: tuple[float, float, float] | None = None
    lead_accident: tuple[float, float, float] | None = None


class Patterns(Struct, frozen=True):
    """All that was looked at from ``first`` to ``last`` (local dates), and what the log shows.

    ``found`` are the patterns that the log carries, the surest first; ``told`` the counts, as such;
    ``questions`` what was looked at; ``footnote`` says how, in a few sentences. ``routine`` and
    ``signs`` are the figures behind their sentences.
    """

    first: date
    last: date
    found: tuple[Pattern, ...]
    told: tuple[Pattern, ...]
    questions: tuple[PatternAnswer, ...]
    routine: tuple[RoutineTime, ...]
    signs: tuple[SignTally, ...]
    footnote: str

    def __iter__(self) -> Iterator[Pattern]:
        """Go through what is stated: what is found first, then what is told."""
        yield from self.found
        yield from self.told
