"""When the dog was awake, on whose watch and in whose company: what accidents are held against.

An hour of the night has few accidents because the dog sleeps, and whoever is on duty most sees
most. So a pattern is one only against the waking time in which it could have shown.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import accumulate, pairwise
from operator import attrgetter
from typing import Literal

from msgspec import Struct
from pendulum import Timezone

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.stretches import stretches
from pottyboard.core.model.localtime import Minutes, local
from pottyboard.core.statistics.circular import DAY, TURN, on_circle

_start = attrgetter("start")


class Piece(Struct, frozen=True):
    """A stretch of time awake in which nothing changed: ``who`` had charge (empty: not said)."""

    start: Minutes
    end: Minutes
    who: str
    alone: bool

    @property
    def length(self) -> Minutes:
        """How long it lasted, in minutes."""
        return self.end - self.start


class TimeAtRisk(Struct, frozen=True, dict=True):
    """The time awake of some days, piece after piece, seen on the clock of ``zone``."""

    pieces: tuple[Piece, ...]
    zone: Timezone

    def at(self, t: Minutes) -> Piece | None:
        """Return the piece around ``t``, None where the dog slept; on a border, the later one."""
        index = bisect_right(self.pieces, t, key=_start) - 1
        piece = self.pieces[index] if index >= 0 else None
        return piece if piece is not None and t <= piece.end else None

    @cached_property
    def in_company(self) -> TimeAtRisk:
        """The part of it in which somebody was home, to see what happened."""
        return TimeAtRisk(tuple(piece for piece in self.pieces if not piece.alone), self.zone)

    def between(self, first: Minutes, last: Minutes) -> tuple[Piece, ...]:
        """Return the pieces that touch the time from ``first`` to ``last``."""
        index = max(0, bisect_right(self.pieces, first, key=_start) - 1)
        high = bisect_right(self.pieces, last, key=_start)
        return tuple(piece for piece in self.pieces[index:high] if piece.end >= first)

    @cached_property
    def minutes(self) -> float:
        """The minutes awake in all."""
        return sum(piece.length for piece in self.pieces)

    @cached_property
    def alone(self) -> float:
        """The minutes awake and alone."""
        return sum(piece.length for piece in self.pieces if piece.alone)

    @cached_property
    def by_person(self) -> dict[str, float]:
        """The minutes awake on each person's watch; those of which nobody said so are left out."""
        minutes: dict[str, float] = {}
        for piece in self.pieces:
            if piece.who:
                minutes[piece.who] = minutes.get(piece.who, 0.0) + piece.length
        return minutes

    @cached_property
    def _up_to(self) -> tuple[float, ...]:
        """The minutes awake before each minute of the day, and in all."""
        steps = [0.0] * (int(DAY) + 1)
        for piece in self.pieces:
            first = int(minute_of_day(piece.start, self.zone))
            last = first + round(piece.length)
            for low, high in ((first, min(last, int(DAY))), (0, last - int(DAY))):
                if low < high:
                    steps[low] += 1
                    steps[high] -= 1
        return tuple(accumulate(accumulate(steps[:-1]), initial=0.0))

    def angle(self, minute: float) -> float:
        """Return a minute of the day on a circle on which the time awake is spread evenly."""
        before = self._up_to
        whole = int(minute)
        part = (minute - whole) * (before[whole + 1] - before[whole])
        return on_circle((before[whole] + part) / before[-1] * TURN) if before[-1] else 0.0

    def share(self, first: float, last: float) -> float:
        """Return the share of the time awake from one minute of the day to another, 0 to 1."""
        return on_circle(self.angle(last) - self.angle(first)) / TURN


def time_at_risk(days: Sequence[Day], near: range, now: Minutes, zone: Timezone) -> TimeAtRisk:
    """Return the time awake on the days of ``near`` up to ``now``.

    A day without any entry tells nothing and is left out, nights and naps are as the log has them.
    """
    if not near:
        return TimeAtRisk((), zone)
    return TimeAtRisk(tuple(_pieces(_changes(days, near, now), days, near)), zone)


class _Change(Struct, frozen=True):
    """At ``t`` somebody takes charge, or something begins (1) or ends (-1)."""

    t: Minutes
    what: Literal["who", "logged", "asleep", "alone"]
    step: int = 0
    who: str = ""


def _changes(days: Sequence[Day], near: range, now: Minutes) -> list[_Change]:
    """Return all changes on the days of ``near``, in order."""
    changes: list[_Change] = []
    for index in near:
        day = days[index]
        end = days[index + 1].plan.start if index + 1 < len(days) else now
        if day.events and day.plan.start < end:
            changes += [_Change(day.plan.start, "logged", 1), _Change(end, "logged", -1)]
        changes += [_Change(e.t, "who", who=e.by) for e in day.events if e.kind == "duty"]
    for start, end, kind in stretches(days, near, now):
        what: Literal["asleep", "alone"] = "alone" if kind == "alone" else "asleep"
        changes += [_Change(start, what, 1), _Change(end, what, -1)]
    return sorted(changes, key=lambda change: change.t)


def _pieces(changes: Iterable[_Change], days: Sequence[Day], near: range) -> Iterator[Piece]:
    who = days[near[0] - 1].facts.on_duty if near[0] else ""
    depth: Counter[str] = Counter()
    for change, following in pairwise(changes):
        if change.what == "who":
            who = change.who
        else:
            depth[change.what] += change.step
        awake = depth["logged"] > 0 and depth["asleep"] <= 0
        if awake and change.t < following.t:
            yield Piece(change.t, following.t, who, depth["alone"] > 0)


def minute_of_day(t: Minutes, zone: Timezone) -> float:
    """Return the minute of the local day at an instant, from 0 to 1440."""
    wall = local(t, zone)
    return wall.hour * 60 + wall.minute + wall.second / 60
