"""Ways of calling breaks: timetables, the board, and an owner who can look inside the dog."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from math import inf, log1p
from typing import NamedTuple

from dogs.life import Span
from dogs.population import MIDNIGHT, Traits
from pottyboard.core.engine.history import History
from pottyboard.core.engine.reasons import first_due
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import estimate_of
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.settings import Risk
from pottyboard.core.view.situation import Situation, situation
from pottyboard.core.view.watch_window import watch_window


class Predicted(NamedTuple):
    """How many accidents of each kind were expected: the cumulative hazard, -ln(1 - chance)."""

    pee: float
    stool: float


class Policy:
    """A way of calling breaks; instants in minutes since the midnight of day 1.

    ``reason`` says why the next break is due; ``sees_inside`` is true of an owner who is not called
    but knows.
    """

    sees_inside = False
    reason = "timetable"

    def due(self, now: int, night: bool) -> float:
        """Return when the next break is due, as known at ``now``.

        At ``night`` the household sleeps: it gets up for a break planned at bedtime, nothing else.
        """
        return inf

    def watching(self, now: int) -> bool:
        """Return whether the owner was told to keep the dog in sight now."""
        return False

    def look(self) -> None:
        """Look again at what it says: the owner is at the door after a long delay."""

    def predicted(self, since: int, now: int) -> Predicted | None:
        """Return what it expected of the wait from ``since`` to ``now``; None if it says nothing.

        The log stands as it was just before ``now``.
        """
        return None

    def went(self, now: int) -> None:
        """Take in that the dog was taken out."""

    def ate(self, now: int) -> None:
        """Take in that the dog was fed."""

    def interval(self, now: int) -> float:
        """Return the interval in force, in minutes."""
        return 0.0


class Timetable(Policy):
    """A fixed timetable: first thing, every ``every`` minutes, last thing.

    An owner with sense does not go at a time of the table that comes within ten minutes after an
    outing, nor shortly before the last one of the day. ``after_meals`` adds one 15 minutes after.
    """

    def __init__(self, days: list[Span], every: float, after_meals: bool = False) -> None:
        self.every, self.after_meals = every, after_meals
        self.slots: list[float] = []
        for span in days:
            slot = span.up + every
            self.slots.append(span.up)
            while slot < span.bed - min(45, every / 2):
                self.slots.append(slot)
                slot += every
            self.slots.append(span.bed)

    def due(self, now: int, night: bool) -> float:
        return self.slots[0] if self.slots else inf

    def went(self, now: int) -> None:
        while self.slots and self.slots[0] <= now + 10:
            self.slots.pop(0)

    def ate(self, now: int) -> None:
        if self.after_meals and not any(now + 5 <= slot <= now + 25 for slot in self.slots):
            self.slots = sorted([*self.slots, now + 15])

    def interval(self, now: int) -> float:
        return self.every


class Board(Policy):
    """The real board: the owner goes when it says so.

    The owner looks at the next break alone, so the core is asked for no more than that; every so
    often the whole situation is worked out too, and must say the same.
    """

    CHECKED_EVERY = 40

    def __init__(
        self,
        traits: Traits,
        log: list[Event],
        risk: Risk,
        learn: bool = True,
        watches: bool = True,
        counts: bool = False,
    ) -> None:
        """Heed the watch window where the owner ``watches``; say what was expected if it counts."""
        self.settings, self.log, self.learn = traits.settings(risk), log, learn
        self.watches, self.counts = watches, counts
        self._seen, self._due, self._look_again = -1, 0.0, 0.0
        self._looks = 0

    def situation(self, now: float) -> Situation:
        """Return all that the board shows."""
        at = MIDNIGHT + timedelta(minutes=now)
        return situation(self.settings, self.log, at, learn=self.learn)

    def next_break(self, now: int) -> tuple[float, str]:
        """Return when the next break is due and the code of its first reason."""
        first = first_due(self._context(now)[0])
        self._looks += 1
        if self._looks % self.CHECKED_EVERY == 1:
            shown = self.situation(now).next_break
            assert abs(minutes_of(shown.at) - first.at) < 0.001
            assert shown.reasons[0].code == first.code
        return first.at - minutes_of(MIDNIGHT), first.code

    def _context(self, now: int) -> tuple[RuleContext, History]:
        at = minutes_of(MIDNIGHT) + now
        history = History.of(self.settings, self.log, at, self.learn)
        today = history.today
        estimate = estimate_of(self.settings.dog, today.evidence_so_far) if self.learn else None
        context = RuleContext(today.facts, today.plan, self.settings, today.interval, at, estimate)
        return context, history

    def due(self, now: int, night: bool) -> float:
        if self._seen != len(self.log) or now >= self._look_again:
            self._due, self.reason = self.next_break(now)
            if night and self.reason != "night":
                self._due = now + 20.0
            self._seen = len(self.log)
            self._look_again = self._due if self._due > now else inf
        return self._due

    def watching(self, now: int) -> bool:
        """Return whether the window is open; ``watches`` false: nobody heeds it."""
        if not (self.watches and self.learn):
            return False
        context, history = self._context(now)
        window = watch_window(context, first_due(context).at, history.events)
        return window is not None and minutes_of(window.since) <= context.now

    def look(self) -> None:
        self._seen = -1

    def predicted(self, since: int, now: int) -> Predicted | None:
        context, _ = self._context(now)
        risk = context.risk
        if not self.counts or risk is None or not risk.estimate.has_enough:
            return None
        begin = context.now - (now - since)
        pee = _hazard(risk.pees_by(context.now)) - _hazard(risk.pees_by(begin))
        stool = _hazard(risk.stool_by(context.now)) - _hazard(risk.stool_by(begin))
        return Predicted(max(0.0, pee), max(0.0, stool))

    def interval(self, now: int) -> float:
        return self.situation(now).interval.minutes


def _hazard(chance: float) -> float:
    return -log1p(-min(chance, 1 - 1e-9))


class AllKnowing(Policy):
    """An owner who sees bladder and bowel: goes when one of them is about to give way."""

    sees_inside = True
    reason = "knows"


Maker = Callable[[Traits, list[Span], list[Event]], Policy]

FIXED = (45, 60, 90, 120, 180, 240)
RISKS: tuple[Risk, ...] = ("careful", "balanced", "easy")


def _fixed(every: float) -> Maker:
    return lambda traits, days, log: Timetable(days, every)


def _by_size(traits: Traits, days: list[Span], log: list[Event]) -> Policy:
    every = {"small": 180.0, "medium": 210.0, "large": 240.0}[traits.size]
    return Timetable(days, 120.0 if traits.prone else every, after_meals=True)


def _board(risk: Risk, learn: bool, watches: bool = True) -> Maker:
    return lambda traits, days, log: Board(traits, log, risk, learn, watches)


POLICIES: dict[str, Maker] = {
    **{f"every {every} min": _fixed(every) for every in FIXED},
    "by size, after meals": _by_size,
    "board, rule alone": _board("balanced", learn=False),
    **{f"board, {risk}": _board(risk, learn=True) for risk in RISKS},
    "board, nobody watches": _board("balanced", learn=True, watches=False),
    "all-knowing owner": lambda traits, days, log: AllKnowing(),
}
