"""The statistics that people see: the bound after none, the chance, and what was shown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from pottyboard.core.statistics.proportion import bound_after_none
from tests.core.diary import Diary
from tests.core.hard_days.rows import Board, Check, at, chance_never_falls, row

_SPAN = re.compile(r"\b(?:(\d+) h(?: (\d\d))?|(\d+) min)\b")


def _exact_and_falling(page: Diary) -> Iterator[str]:
    """Yield where the bound is not 1 − 0.05^(1/n), or does not fall as the holds grow in number.

    The exact bound: Hanley and Lippman-Hand, JAMA 1983;249:1743-1745, and elementary probability.
    """
    for n in range(1, 400):
        if abs(bound_after_none(n) - (1 - 0.05 ** (1 / n))) > 1e-12:
            yield f"{bound_after_none(n):.5f} after none in {n}"
            break
    for n, more in pairwise(range(1, 400)):
        if bound_after_none(more) >= bound_after_none(n):
            yield f"{more} holds look no better than {n}"


def _spans(words: str) -> list[int]:
    """Return every length of time in a sentence, in minutes."""
    return [
        int(minutes) if minutes else 60 * int(hours) + int(rest or 0)
        for hours, rest, minutes in _SPAN.findall(words)
    ]


def nothing_past(instant: str) -> Check:
    """Return the check that no hold is named past 1.5 times the longest dry one."""

    def check(page: Diary) -> Iterator[str]:
        found = at(page, instant)
        longest = max((hold for day in found.days for hold in day.holds), default=0)
        past = [m for m in _spans(found.hold.words) if m > 1.5 * longest]
        if past:
            yield f"{instant}: “{found.hold.words}”, the longest dry hold is {longest} min"

    return check


def _acts_on_its_limit(day: int, first: int, last: int) -> Check:
    """Return the check that with the chance over the limit a break is due."""

    def check(page: Diary) -> Iterator[str]:
        for minute in range(first, last, 15):
            instant = f"d{day} {minute // 60:02}:{minute % 60:02}"
            found = at(page, instant)
            over = found.risk is not None and found.risk.now > found.risk.limit + 1e-9
            if over and found.next_break.minutes > 0 and found.risk is not None:
                yield f"{instant}: {found.risk.now:.3f} and {found.next_break.minutes} min to go"

    return check


SHORT_HOLDS = "06:30 up; 06:40-21:40/0:45 pee; 22:30 pee; 22:40 settled"

BOUND = (
    row("the-bound-after-none", "§5: the exact bound 1 − 0.05^(1/n) at every n",
        "d1 06:30 up", _exact_and_falling),
    row("holds-of-45-minutes", "§5: nothing is said beyond 1.5 times the longest dry hold",
        f"d1-4 {SHORT_HOLDS}; d5 06:30 up; 06:40 pee",
        nothing_past("d5 07:00"), learn=True),
    row("holds-of-two-hours", "§5: nothing is said beyond 1.5 times the longest dry hold",
        "d1-4 CLEAR; d5 06:30 up; 06:40 pee", nothing_past("d5 07:00"), learn=True),
    row("first-what-was-shown", "§5: first what was shown; a range of middles is not a promise",
        "d1-4 CLEAR; d5 06:30 up; 06:40 pee",
        Board("d5 07:00", words=("has held",), never=("likely holds",)), learn=True),
    row("few-entries", "§5: with few entries it says that it does not know yet",
        "d1 06:30 up; 06:40 pee; 08:30 pee",
        Board("d1 09:00", words=("does not know",), never=("likely holds",)), learn=True),
)  # fmt: skip

CHANCE = (
    row("chance-over-a-morning", "§5: the chance never falls while nobody goes out",
        "d1-5 CLEAR; d6 06:30 up; 06:35 pee; 07:00 meal",
        chance_never_falls("d6 06:40", "d6 12:00"), learn=True),
    row("chance-over-a-whole-day", "§5: counted for the whole wait since the last pee or stool",
        "d1-5 CLEAR; d6 06:30 up; 06:35 pee; 07:00 meal",
        chance_never_falls("d6 12:00", "d6 22:10"), learn=True),
    row("chance-after-an-afternoon-outing", "§5: the chance never falls while nobody goes out",
        "d1-5 CLEAR; d6 06:30 up; 06:35 pee; 07:00 meal; 09:00 pee; 12:00 pee",
        chance_never_falls("d6 12:00", "d6 22:10"), learn=True),
    row("chance-through-a-nap", "§5: the chance never falls while nobody goes out",
        "d1-5 CLEAR; d6 06:30 up; 06:35 both; 09:00 pee; 09:30 settled nap; 10:30 up",
        chance_never_falls("d6 09:00", "d6 12:00"), learn=True),
    row("chance-through-meal-play-and-drink", "§5: the chance never falls while nobody goes out",
        "d1-5 CLEAR; d6 06:30 up; 06:35 both; 12:00 pee; 17:30 meal; 17:40 play; 18:00 water",
        chance_never_falls("d6 16:00", "d6 22:10"), learn=True),
    row("over-the-limit-a-break-is-due", "§3: over the limit a break is due",
        "d1-5 CLEAR; d6 06:30 up; 06:35 both; 07:00 meal; 07:20 poop; 09:00 pee",
        _acts_on_its_limit(6, 9 * 60, 14 * 60), learn=True),
)  # fmt: skip

ROWS = (*BOUND, *CHANCE)
