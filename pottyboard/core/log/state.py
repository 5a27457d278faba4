"""What the log says at an instant: the running facts that every reason for a break looks at.

:mod:`pottyboard.core.log.take_in` moves them, one entry after the other, in order of time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import Literal

from pottyboard.core.log.measures import NO_MEASURES, Measures
from pottyboard.core.log.places import Uses
from pottyboard.core.model import figures
from pottyboard.core.model.events import Clock, Event
from pottyboard.core.model.localtime import Minutes, minutes_of
from pottyboard.core.model.plan import DayPlan

Sleep = Literal["", "nap", "night"]


def for_the_night(settled: Event, plan: DayPlan) -> bool:
    """Whether the dog settled down for the night; where nobody said so, by the hour."""
    return settled.sleep == "night" or (not settled.sleep and plan.is_evening(settled.t))


Sleeping = tuple[Minutes, Minutes]
"""From when to when a dog slept."""


@dataclass(slots=True)
class LogState:
    """The running facts, instants in epoch minutes; None where the log says nothing yet.

    ``last_pee`` is the last pee that emptied the bladder, ``last_small`` a small one outside since.
    ``tries`` are the outings since that brought nothing; ``dry_out`` is the last outing, if it
    brought no pee since, ``bare_out`` the last one without stool and ``bare_before`` the one
    before that. ``asks_up`` is the last waking that asks for a break; ``fed``, ``drank``,
    ``played`` and ``back`` are the entries of their kind that may ask still, ``sign`` the first one
    unanswered. ``meals`` are the meals that no stool has followed yet. ``nap_in_hold`` are the
    minutes slept since the last pee outside a night; ``night_in_hold`` whether a night lies within.
    ``woke`` is when the last sleep of a night ended, ``stirred`` the last sleep of all, ``napped``
    the last nap, ``slept`` the sleeps since the last pee and of the last day, ``asleep_at`` the
    last word that the dog sleeps. ``last_sign`` is the last sign,
    ``last_entry`` the last entry of any kind; ``silent_from`` since when the log fell silent within
    the hold, if it did. ``dirty`` are the accidents whose spot is not cleaned up yet. ``greeted``
    is the last greeting, visit or play (``greeted_by`` its kind);
    ``last_left`` and ``last_back`` the last time alone, ``times_alone`` all that ended today since
    the last outing; ``longest_hold`` the longest hold by day
    that ended outside, in waking minutes, ``longest_night`` the same over a night, in all its
    minutes. ``ill`` is when a sign of illness was last noted. ``mishaps`` are the accidents of the
    last two weeks, ``places`` all that had one, ``measures`` the changes of the routine in force.
    """

    last_pee: Minutes | None = None
    last_small: Minutes | None = None
    last_poop: Minutes | None = None
    last_meal: Minutes | None = None
    last_water: Minutes | None = None
    last_out: Minutes | None = None
    last_accident: Minutes | None = None
    last_success: Minutes | None = None
    last_active: Minutes | None = None
    last_night_accident: Minutes | None = None
    dry_out: Minutes | None = None
    bare_out: Minutes | None = None
    bare_before: Minutes | None = None
    tries: tuple[Minutes, ...] = ()
    asks_up: Minutes | None = None
    sign: Minutes | None = None
    sign_words: str = ""
    last_sign: Minutes | None = None
    last_entry: Minutes | None = None
    silent_from: Minutes | None = None
    fed: tuple[Minutes, ...] = ()
    drank: tuple[Minutes, ...] = ()
    played: tuple[Minutes, ...] = ()
    back: tuple[Minutes, ...] = ()
    left: Minutes | None = None
    sleep: Sleep = ""
    slept_from: Minutes | None = None
    asleep_at: Minutes | None = None
    napped: tuple[Minutes, Minutes] | None = None
    slept: tuple[Sleeping, ...] = ()
    meals: tuple[Minutes, ...] = ()
    nap_in_hold: float = 0.0
    night_in_hold: bool = False
    woke: Minutes | None = None
    stirred: Minutes | None = None
    on_duty: str = ""
    dirty: tuple[Event, ...] = ()
    seen_by_vet: bool = False
    greeted: Minutes | None = None
    greeted_by: str = ""
    last_left: Minutes | None = None
    last_back: Minutes | None = None
    times_alone: tuple[tuple[Minutes, Minutes], ...] = ()
    longest_hold: float = 0.0
    longest_night: float = 0.0
    ill: Minutes | None = None
    mishaps: tuple[Event, ...] = ()
    places: Mapping[str, Uses] = field(default_factory=dict)
    measures: Measures = NO_MEASURES

    def copy(self) -> LogState:
        """Return an independent copy, to look ahead with."""
        return LogState(*_fields(self))

    def since(self, now: Minutes) -> dict[Clock, float | None]:
        """Return the minutes since each clock was last set back, None where it never was."""
        last: dict[Clock, Minutes | None] = {
            "pee": self.last_small or self.last_pee,
            "poop": self.last_poop,
            "meal": self.last_meal,
            "water": self.last_water,
            "out": self.last_out,
            "accident": self.last_accident,
        }
        return {clock: None if at is None else now - at for clock, at in last.items()}

    @property
    def waiting_meals(self) -> tuple[Minutes, ...]:
        """The meals that still wait for stool: one is forgotten at an outing 6 h later, not before,
        so that a break that is due stands until somebody goes out."""
        out = self.last_out or 0.0
        return tuple(meal for meal in self.meals if out - meal < figures.DIGESTION_FORGOTTEN)

    def asleep_in_hold(self, now: Minutes) -> float:
        """Return the minutes slept since the last pee, up to ``now``."""
        asleep = self.nap_in_hold
        if self.sleep and self.slept_from is not None:
            asleep += max(0.0, self.slept_until(now) - max(self.slept_from, self.last_pee or 0.0))
        return asleep

    def sleeps_until(self, wakes: Minutes) -> tuple[Sleeping, ...]:
        """Return the sleeps of late, the one that is logged now taken to last until ``wakes``."""
        if not self.sleep or self.slept_from is None:
            return self.slept
        return (*self.slept, (self.slept_from, max(wakes, self.slept_from)))

    def slept_until(self, now: Minutes) -> Minutes:
        """Return until when the sleep that is logged lasted at ``now``, a nap 3 h at most."""
        if self.sleep != "nap":
            return now
        said = max(self.slept_from or 0.0, self.asleep_at or 0.0)
        return min(now, said + figures.NAP_ASLEEP_MOST)

    def by_night(self, accident: Event, plan: DayPlan) -> bool:
        """Whether it happened in the night; one found before the first outing of the day did."""
        if self.sleep == "night" or accident.t >= plan.bed:
            return True
        if accident.found is False:
            return False
        if accident.dry is not None:
            return minutes_of(accident.dry) < plan.start
        return bool(accident.found) and plan.number > 1 and (self.last_out or 0.0) < plan.start

    def sleep_at(self, plan: DayPlan, now: Minutes) -> Sleep:
        """Return *night*, *nap* or nothing at ``now``.

        Tired people forget to log the night: after bedtime, a dog that has been out is taken to
        sleep once nothing more is logged, and an evening nap runs on into the night. They forget
        the morning too: a night does not outlast the start of the next day.
        """
        asleep = self.sleep
        if asleep == "night" and (self.slept_from or 0.0) < plan.start:
            asleep = ""
        if asleep == "night" or not plan.bed <= now < plan.next_up:
            return asleep
        return "night" if now - self.quiet_from(plan) >= self._quiet_enough(plan) else asleep

    def _quiet_enough(self, plan: DayPlan) -> float:
        """Return for how long nothing must be logged after bedtime to say that the dog sleeps."""
        if self.is_up_at_night(plan):
            been_out = self.goes_back_to_bed(plan)
        else:
            been_out = (self.last_out or 0.0) >= plan.bed - figures.LAST_THING_FROM
            been_out = been_out and not self.tries
        return figures.QUIET_AFTER_OUTING if been_out else figures.QUIET_NIGHT

    def is_up_at_night(self, plan: DayPlan) -> bool:
        """Whether the dog has already slept in the night after ``plan``, and woken."""
        return self.woke is not None and self.woke >= plan.bed

    def goes_back_to_bed(self, plan: DayPlan) -> bool:
        """Whether the last entry was an outing or an accident in this night, or the last outing of
        the evening: sleep follows."""
        if self.is_up_at_night(plan):
            return self.last_active in (self.last_out, self.last_accident)
        last_thing = (self.last_out or 0.0) >= plan.bed - figures.SERVES_WITHIN
        return last_thing and self.last_active == self.last_out and not self.tries

    def asleep_from(self, plan: DayPlan, now: Minutes) -> Minutes | None:
        """Return since when the dog sleeps at ``now`` (see :meth:`sleep_at`), None while awake."""
        if not self.sleep_at(plan, now):
            return None
        return self.slept_from if self.sleep else self.quiet_from(plan)

    def quiet_from(self, plan: DayPlan) -> Minutes:
        """Return since when nothing has been logged after the bedtime of ``plan``."""
        return max(plan.bed, self.last_active or plan.bed)

    def alone_from(self, plan: DayPlan, now: Minutes) -> Minutes | None:
        """Return since when the dog is alone at ``now``, for an entry made then; None if not."""
        return None if self.left is None or self.came_back(plan, now) else self.left

    def came_back(self, plan: DayPlan, t: Minutes) -> bool:
        """Whether an entry at ``t`` shows that somebody is back, though nobody logged it.

        A visit stands in meanwhile; after the planned return, or on the next day, it is no visit.
        """
        left = self.left or 0.0
        return left < plan.start or any(left < back <= t for _, back in plan.absences)


_fields = attrgetter(*(one.name for one in fields(LogState)))
"""All fields at once: a day copies the facts at every outing."""
