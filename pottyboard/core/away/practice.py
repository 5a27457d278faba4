"""A gentle ladder of practice absences, so that the first long absence is not the first one.

Our own design: the first takes a minute; a calm one doubles the next, an uneasy one is repeated at
the same length, a distressed one halves it. How it went is the first word of the note at ``back``.
An absence of any sort counts as practice. The ladder ends at the longest time alone that the first
planned absence asks for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.away.schedule import AwayPlan
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import (
    at_most_words,
    count_words,
    local,
    minutes_of,
    span_words,
)
from pottyboard.core.model.settings import Settings

How = Literal["calm", "uneasy", "distressed", ""]
HOW: Final[tuple[How, ...]] = ("calm", "uneasy", "distressed")
"""How a practice went: the first word of the note; anything else is unknown."""

STEPS: Final = (
    "go out to the spot just before",
    "leave without fuss, and come back while all is calm",
    "come in quietly, then out to the spot at once",
    "write how it went: calm, uneasy or distressed",
)
"""What one practice looks like."""


class Practice(Struct, frozen=True):
    """One time alone: when it began, how long it took in minutes, and how it went."""

    at: datetime
    minutes: int
    how: How
    note: str


class Ladder(Struct, frozen=True):
    """Where the practice stands.

    ``rungs`` are the minutes still to climb, the next one first, empty when the ``target`` has been
    calm; ``reached`` the longest calm time. ``first`` is the date of the first planned absence,
    ``left_today`` how many practices today still has, ``enough`` whether the days before ``first``
    are enough. ``concern`` is empty, or defers to a professional.
    """

    rungs: tuple[int, ...]
    reached: int
    target: int
    first: date | None
    left_today: int
    enough: bool
    done: tuple[Practice, ...]
    words: str
    concern: str


def first_long_absence(plan: AwayPlan) -> tuple[date, int] | None:
    """Return the date of the first planned absence that is not over, and its longest time alone,
    in minutes."""
    for day in plan.days:
        if day.over:
            continue
        for away in day.alone:
            marks = [away.start, *(v.at for v in day.visits if away.start <= v.at < away.end)]
            ends = [*marks[1:], away.end]
            gaps = [
                (end - start).total_seconds() / 60 for start, end in zip(marks, ends, strict=True)
            ]
            return day.date, round(max(gaps))
    return None


def practices(events: Iterable[Event]) -> tuple[Practice, ...]:
    """Return the times alone in the log, in order; one still running is left out."""
    return tuple(_pairs(sorted(events, key=lambda event: event.t)))


def _pairs(events: list[Event]) -> Iterator[Practice]:
    left: Event | None = None
    for event in events:
        if event.kind == "left":
            left = event
        elif event.kind == "back" and left is not None:
            minutes = max(1, round(event.t - left.t))
            yield Practice(left.at, minutes, how_it_went(event.note), event.note)
            left = None


def how_it_went(note: str) -> How:
    """Return how a practice went by the first word of its note, empty if that says nothing."""
    words = note.casefold().replace(",", " ").replace(".", " ").replace(":", " ").split()
    return next((how for how in HOW if words and words[0] == how), "")


def ladder(settings: Settings, events: Iterable[Event], plan: AwayPlan, now: datetime) -> Ladder:
    """Return where the practice stands at ``now``, before the first absence of ``plan``."""
    done = tuple(p for p in practices(events) if p.at <= now)
    first, longest = first_long_absence(plan) or (None, 0)
    limit = plan.days[0].limit if plan.days else int(figures.ALONE_MOST)
    target = min(longest or limit, limit)
    reached = min(target, max((p.minutes for p in done if p.how == "calm"), default=0))
    rungs = () if reached >= target else tuple(_climb(_next(done, target), target))
    today = local(minutes_of(now), settings.zone).date()
    so_far = sum(local(minutes_of(p.at), settings.zone).date() == today for p in done)
    left_today = max(0, int(figures.PRACTICE_A_DAY) - so_far) if rungs else 0
    room = math.inf
    if first is not None:
        room = left_today + max(0, (first - today).days - 1) * figures.PRACTICE_A_DAY
        room = 0 if first <= today else room
    concern = _concern(settings, done)
    enough = len(rungs) <= room
    return Ladder(
        rungs, reached, target, first, left_today, enough, done,
        _words(rungs, target, first, enough), concern,
    )  # fmt: skip


def _next(done: tuple[Practice, ...], target: int) -> int:
    """Return the minutes of the next practice."""
    minutes = float(figures.PRACTICE_FIRST)
    for practice in done:
        if practice.how == "calm":
            minutes = max(minutes, practice.minutes * figures.PRACTICE_GROWS)
        elif practice.how == "distressed":
            minutes = min(minutes, practice.minutes * figures.PRACTICE_SHRINKS)
        minutes = min(max(minutes, figures.PRACTICE_FIRST), target)
    return max(1, round(minutes))


def _climb(minutes: int, target: int) -> Iterator[int]:
    while minutes < target:
        yield minutes
        minutes = round(minutes * figures.PRACTICE_GROWS)
    yield target


def _concern(settings: Settings, done: tuple[Practice, ...]) -> str:
    """Return who to ask after distress several times in a row: the board names no cause."""
    last = done[-int(figures.PRACTICE_REFER) :]
    if len(last) < figures.PRACTICE_REFER or any(p.how != "distressed" for p in last):
        return ""
    return (
        f"distressed {len(last)} times in a row when alone: leave {settings.dog.name} with company "
        f"for now, and ask your vet or a qualified behaviourist"
    )


def _words(rungs: tuple[int, ...], target: int, first: date | None, enough: bool) -> str:
    if not rungs:
        return f"practised: calm for {span_words(target)} alone"
    steps = count_words(len(rungs), "step")
    text = f"next {span_words(rungs[0])}; {steps} to {at_most_words(target)}"
    if first is None:
        return text
    away = f"the first day away ({first:%a} {first.day} {first:%b})"
    if enough:
        return f"{text} before {away}"
    return f"{text}, too many before {away}: add a visit or stay home longer"
