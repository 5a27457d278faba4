"""Ways of calling breaks: timetables, the board, and an owner who can look inside the dog."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from inspect import signature
from math import inf
from typing import Protocol

from pottyboard.core.events import Event
from pottyboard.core.settings import Risk, Settings
from pottyboard.core.situation import Situation, situation

from dogs.life import Span
from dogs.population import MIDNIGHT, Traits

LEARNS = "learn" in signature(situation).parameters
"""Whether the core can switch its estimate off: without that there is only the rule."""

Situate = Callable[[Settings, Iterable[Event], datetime], Situation]


class Policy(Protocol):
    """When the owner is called: minutes since the midnight of day 1."""

    def due(self, now: int, night: bool) -> float:
        """Return when the next break is due, as known at ``now``.

        At ``night`` the household sleeps: it gets up for a break planned at bedtime, nothing else.
        """

    def look(self) -> None:
        """Look again at what it says: the owner is at the door."""

    def went(self, now: int) -> None:
        """Take in that the dog was taken out."""

    def ate(self, now: int) -> None:
        """Take in that the dog was fed."""

    def interval(self, now: int) -> float:
        """Return the interval in force, in minutes."""


@dataclass
class Timetable:
    """A fixed timetable: first thing, every ``every`` minutes, last thing.

    An owner with sense does not go at a time of the table that comes within ten minutes after an
    outing, nor shortly before the last one of the day. ``after_meals`` adds one 15 minutes after.
    """

    days: list[Span]
    every: float
    after_meals: bool = False
    slots: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        for span in self.days:
            slot = span.up + self.every
            self.slots.append(span.up)
            while slot < span.bed - min(45, self.every / 2):
                self.slots.append(slot)
                slot += self.every
            self.slots.append(span.bed)

    def due(self, now: int, night: bool) -> float:
        return self.slots[0] if self.slots else inf

    def look(self) -> None:
        pass

    def went(self, now: int) -> None:
        while self.slots and self.slots[0] <= now + 10:
            self.slots.pop(0)

    def ate(self, now: int) -> None:
        if self.after_meals and not any(now + 5 <= slot <= now + 25 for slot in self.slots):
            self.slots = sorted([*self.slots, now + 15])

    def interval(self, now: int) -> float:
        return self.every


@dataclass
class BoardCalls:
    """The real board: the owner goes when it says so. ``situate`` is the core's function."""

    settings: Settings
    log: list[Event]
    situate: Situate
    _known: tuple[int, float] = (-1, 0.0)
    _look_again: float = 0.0

    def situation(self, now: float) -> Situation:
        """Return what the board shows."""
        return self.situate(self.settings, self.log, MIDNIGHT + timedelta(minutes=now))

    def due(self, now: int, night: bool) -> float:
        length, at = self._known
        if length != len(self.log) or now >= self._look_again:
            due = self.situation(now).next_break
            at = (due.at - MIDNIGHT).total_seconds() / 60
            if night and all(reason.code != "night" for reason in due.reasons):
                at = now + 20.0
            self._known = len(self.log), at
            self._look_again = at if at > now else inf
        return at

    def look(self) -> None:
        self._known = (-1, 0.0)

    def went(self, now: int) -> None:
        pass

    def ate(self, now: int) -> None:
        pass

    def interval(self, now: int) -> float:
        return self.situation(now).interval.minutes


class AllKnowing:
    """An owner who sees bladder and bowel: goes when one of them is about to give way."""

    def due(self, now: int, night: bool) -> float:
        return inf

    def look(self) -> None:
        pass

    def went(self, now: int) -> None:
        pass

    def ate(self, now: int) -> None:
        pass

    def interval(self, now: int) -> float:
        return 0.0


Maker = Callable[[Traits, list[Span], list[Event]], Policy]


def _fixed(every: float, _: Traits, days: list[Span], log: list[Event]) -> Policy:
    return Timetable(days, every)


def _by_size(traits: Traits, days: list[Span], log: list[Event]) -> Policy:
    every = {"small": 180.0, "medium": 210.0, "large": 240.0}[traits.size]
    return Timetable(days, 120.0 if traits.prone else every, after_meals=True)


def _board(risk: Risk, learn: bool, traits: Traits, days: list[Span], log: list[Event]) -> Policy:
    situate: Situate = partial(situation, learn=learn) if LEARNS else situation
    return BoardCalls(traits.settings(risk), log, situate)


def _knows(traits: Traits, days: list[Span], log: list[Event]) -> Policy:
    return AllKnowing()


FIXED = (60, 90, 120, 180, 240)
RISKS: tuple[Risk, ...] = ("careful", "balanced", "easy")

POLICIES: dict[str, Maker] = {
    **{f"every {every} min": partial(_fixed, float(every)) for every in FIXED},
    "by size, after meals": _by_size,
    "board, rule alone": partial(_board, "balanced", False),
    **({f"board, {risk}": partial(_board, risk, True) for risk in RISKS} if LEARNS else {}),
    "all-knowing owner": _knows,
}
