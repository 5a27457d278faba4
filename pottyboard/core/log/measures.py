"""The changes of the routine that the household has taken, and what each does to the breaks.

A measure only ever adds a break or calls one earlier: what the rules ask stands beside it, so that
no change can make a break later than the rule.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from datetime import date, time, timedelta
from functools import lru_cache

from msgspec import Struct, field, structs
from pendulum import Timezone

from pottyboard.core.log.places import place_of
from pottyboard.core.model import figures
from pottyboard.core.model.events import CALL_MEASURES, Event
from pottyboard.core.model.localtime import Minutes, at_clock, local


class Daily(Struct, frozen=True):
    """A break every day at the local clock time of the instant ``like``, from ``since`` on."""

    like: Minutes
    since: Minutes

    def on(self, day: date, up: time, zone: Timezone) -> Minutes:
        """Return its instant on the day that began on ``day``; a clock before ``up`` is past
        midnight."""
        return _on(self.like, day, up, zone)


@lru_cache(maxsize=256)
def _on(like: Minutes, day: date, up: time, zone: Timezone) -> Minutes:
    clock = local(like, zone).time()
    return at_clock(day + timedelta(days=clock < up), clock, zone)


class Measures(Struct, frozen=True):
    """What is in force.

    ``daily`` are the daily breaks, one for each accident. ``after_meal`` is the break after a meal
    and ``stool`` the second one, in minutes after the meal; ``last_break`` how close to leaving the
    last break is, in minutes; None where nothing was taken. ``watch`` is when the household decided
    to keep the dog in arm's reach after nothing came. ``blocked`` holds since when a place is
    blocked, by its key. ``taken`` are (measure, id of the accident) as they were taken. ``calls``
    are the fixed reasons that the household wants to be called for though the dog is known;
    ``fixed`` whether it wants all of them; ``chose_calls`` whether it has said what it wants there.
    """

    daily: tuple[Daily, ...] = ()
    after_meal: float | None = None
    stool: float | None = None
    last_break: float | None = None
    watch: Minutes | None = None
    blocked: Mapping[str, Minutes] = field(default_factory=dict)
    taken: frozenset[tuple[str, str]] = frozenset()
    calls: frozenset[str] = frozenset()
    fixed: bool = False
    chose_calls: bool = False

    def and_taken(self, entry: Event, accidents: Iterable[Event]) -> Measures:
        """Return what is in force after ``entry``, a change of the routine.

        A daily break and a block need the accident that they are about, among ``accidents``; where
        it was taken back they do nothing. The same taken twice, or two breaks at one time, count
        once; of two times after a meal or before leaving the stricter one holds.
        """
        if entry.measure in CALL_MEASURES:
            return self._with_calls(entry.measure)
        about = next((a for a in accidents if entry.about and a.id == entry.about), None)
        key = (entry.measure, entry.about)
        if entry.about and key in self.taken:
            return self
        now = structs.replace(self, taken=self.taken | {key}) if entry.about else self
        if entry.measure == "after-meal":
            return now._with_meal(entry.minutes or figures.SOONER_AFTER_MEAL)
        if entry.measure == "before-leaving":
            wanted = entry.minutes or figures.LAST_BREAK_LEAST
            close = min(max(wanted, figures.LAST_BREAK_LEAST), self.last_break or wanted)
            return structs.replace(now, last_break=max(close, figures.LAST_BREAK_LEAST))
        if entry.measure == "watch":
            return structs.replace(now, watch=entry.t)
        if about is None:
            return self
        if entry.measure == "block":
            place = place_of(about.place)
            return (
                now
                if place is None
                else structs.replace(now, blocked={**self.blocked, place.key: entry.t})
            )
        if entry.measure == "earlier":
            minutes = min(entry.minutes or figures.DAILY_MARGIN, figures.DAILY_MOST)
            like = math.floor(about.t) - minutes
            return structs.replace(now, daily=(*self.daily, Daily(like, entry.t)))
        return self

    def _with_calls(self, measure: str) -> Measures:
        """Return these with a fixed reason, or all of them, called for again or dropped."""
        if measure == "own-log":
            return structs.replace(self, calls=frozenset(), fixed=False, chose_calls=True)
        if measure == "fixed-reasons":
            return structs.replace(self, fixed=True, chose_calls=True)
        what, _, code = measure.partition("-")
        calls = self.calls | {code} if what == "call" else self.calls - {code}
        return structs.replace(self, calls=calls, chose_calls=True)

    def _with_meal(self, minutes: float) -> Measures:
        """Return these with a break ``minutes`` after each meal, at the soonest 5 min after it."""
        if minutes <= figures.AFTER_MEAL:
            least = figures.AFTER_MEAL - figures.SERVES_WITHIN
            return structs.replace(
                self,
                after_meal=max(least, min(minutes, self.after_meal or minutes)),
                calls=self.calls | {"meal"},
            )
        return structs.replace(self, stool=min(minutes, self.stool or minutes))

    def daily_on(self, day: date, up: time, zone: Timezone) -> tuple[Minutes, ...]:
        """Return the daily breaks of ``day`` in order, without those before they were decided."""
        instants = ((daily.on(day, up, zone), daily.since) for daily in self.daily)
        return tuple(sorted({at for at, since in instants if at >= since}))


NO_MEASURES = Measures()
