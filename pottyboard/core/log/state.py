"""What the log says at an instant: the running facts that every reason for a break looks at.

:class:`LogState` is fed one entry after the other, in order of time. It is the only place where an
entry changes anything; everything else reads.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import Literal

from pottyboard.core.log.measures import NO_MEASURES, Measures
from pottyboard.core.log.places import Uses, marked, named_alike
from pottyboard.core.log.waits import Digested, Hold, Stool, Wait
from pottyboard.core.model import figures
from pottyboard.core.model.events import Clock, Event
from pottyboard.core.model.localtime import Minutes, minutes_of
from pottyboard.core.model.plan import DayPlan

Sleep = Literal["", "nap", "night"]

_IDLE = frozenset(
    {
        "note",
        "health",
        "duty",
        "interval",
        "vet",
        "cleaned",
        "pad",
        "left",
        "back",
        "bowl",
        "routine",
        "noted",
        "round",
    }
)
"""Kinds that say nothing about whether the dog is awake."""
_GREETINGS = frozenset({"back", "visit", "play"})


def stirs(event: Event) -> bool:
    """Whether an entry shows that the dog is awake: an accident found or a leak does not."""
    if event.kind in _IDLE or event.kind == "settled":
        return False
    return not (event.row.is_accident and (event.found or event.cause == "leak"))


def for_the_night(settled: Event, plan: DayPlan) -> bool:
    """Whether the dog settled down for the night; where nobody said so, by the hour."""
    return settled.sleep == "night" or (not settled.sleep and plan.is_evening(settled.t))


@dataclass(slots=True)
class LogState:
    """The running facts, instants in epoch minutes; None where the log says nothing yet.

    ``empties`` counts the outings in a row that brought nothing; ``dry_out`` is the last outing, if
    it brought no pee since, ``bare_out`` the last one without stool and ``bare_before`` the one
    before that. ``asks_up`` is the last waking that asks for a break; ``fed``, ``drank``,
    ``played`` and ``back`` are the entries of their kind that may ask still, ``sign`` the first one
    unanswered. ``meals`` are the meals that no stool has followed yet. ``nap_in_hold`` are the
    minutes slept since the last pee outside a night; ``night_in_hold`` whether a night lies within.
    ``woke`` is when the last sleep of a night ended. ``dirty`` are the accidents whose spot is not
    cleaned up yet. ``greeted`` is the last greeting, visit or play (``greeted_by`` its kind);
    ``last_left`` and ``last_back`` the last time alone; ``longest_hold`` the longest hold by day
    that ended outside, in waking minutes. ``mishaps`` are the accidents of the last two weeks,
    ``places`` all that had one, ``measures`` the changes of the routine in force.
    """

    last_pee: Minutes | None = None
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
    empties: int = 0
    asks_up: Minutes | None = None
    sign: Minutes | None = None
    sign_words: str = ""
    fed: tuple[Minutes, ...] = ()
    drank: tuple[Minutes, ...] = ()
    played: tuple[Minutes, ...] = ()
    back: tuple[Minutes, ...] = ()
    left: Minutes | None = None
    sleep: Sleep = ""
    slept_from: Minutes | None = None
    meals: tuple[Minutes, ...] = ()
    nap_in_hold: float = 0.0
    night_in_hold: bool = False
    woke: Minutes | None = None
    on_duty: str = ""
    dirty: tuple[Event, ...] = ()
    seen_by_vet: bool = False
    greeted: Minutes | None = None
    greeted_by: str = ""
    last_left: Minutes | None = None
    last_back: Minutes | None = None
    longest_hold: float = 0.0
    mishaps: tuple[Event, ...] = ()
    places: Mapping[str, Uses] = field(default_factory=dict)
    measures: Measures = NO_MEASURES

    def copy(self) -> LogState:
        """Return an independent copy, to look ahead with."""
        return LogState(*_fields(self))

    def since(self, now: Minutes) -> dict[Clock, float | None]:
        """Return the minutes since each clock was last set back, None where it never was."""
        last: dict[Clock, Minutes | None] = {
            "pee": self.last_pee,
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
            asleep += max(0.0, now - max(self.slept_from, self.last_pee or 0.0))
        return asleep

    def feed(self, event: Event, plan: DayPlan) -> tuple[Wait, ...]:
        """Take in the next entry of the day that ``plan`` describes; return the waits it ended.

        The plan decides what an unqualified ``settled`` means and what counts as the night. What
        another dog may have done is cleaned up and says nothing else.
        """
        row, t = event.row, event.t
        if row.is_accident:
            self._mark_floor(event)
            if event.unsure:
                return ()
        ended: list[Wait] = []
        if "pee" in row.resets and self.last_pee is not None:
            hold = self._hold_ended(event, plan, self.last_pee)
            if not (hold.how == "out" and hold.length <= figures.ONE_OUTING):
                ended.append(hold)
            if hold.how == "out" and not hold.night and hold.awake <= figures.SILENCE_TOO_LONG:
                self.longest_hold = max(self.longest_hold, hold.awake)
        if "poop" in row.resets:
            ended.extend(self._digested(event))
            ended.append(self._stool(event))
        if event.kind not in _IDLE:
            self._take_for_asleep(plan, t)
            if self.left is not None and self._came_back(plan, t):
                self.left = None
            if event.kind == "settled":
                self._settle(t, for_the_night(event, plan))
            elif stirs(event):
                self._wake(t, got_up=event.kind == "up")
            self.last_active = t
        if event.on_pad:
            self.sign = None
            if "pee" in row.resets:
                self.empties = 0
        elif row.is_outing:
            self._go_out(event)
        elif row.is_accident:
            self.last_accident, self.sign = t, None
            if self.by_night(event, plan):
                self.last_night_accident = t
            if "pee" in row.resets:
                self.empties = 0
        elif event.kind == "meal":
            self.last_meal = t
            self.fed = (*self._asking(self.fed, figures.AFTER_MEAL, plan), t)
            ended.extend(self._without_stool())
            self.meals = (*self.waiting_meals, t)
        elif event.kind == "water":
            self.last_water = t
            self.drank = (*self._asking(self.drank, figures.AFTER_DRINK, plan), t)
        elif event.kind == "sign":
            asking = self.sign is not None and self.sign >= max(plan.start, self.woke or 0.0)
            if t != self.last_out and not asking:
                self.sign, self.sign_words = t, event.sign
        elif event.kind == "play":
            self.played = (*self._asking(self.played, figures.AFTER_PLAY, plan), t)
        elif event.kind == "left":
            self.left = self.last_left = t
        elif event.kind == "back":
            self.left, self.back = None, (*self._asking(self.back, 0, plan), t)
            self.last_back = t
        elif event.kind == "duty":
            self.on_duty = event.by
        elif event.kind == "cleaned":
            self.dirty = _still_dirty(self.dirty, event)
        elif event.kind == "vet":
            self.seen_by_vet = True
        elif event.kind == "routine":
            self.measures = self.measures.and_taken(event, self.mishaps)
        if event.kind in _GREETINGS:
            self.greeted, self.greeted_by = t, event.kind
        if "pee" in row.resets:
            self.last_pee, self.dry_out = t, None
            self.nap_in_hold, self.night_in_hold = 0.0, False
        if "poop" in row.resets:
            self.last_poop, self.meals = t, ()
        return tuple(ended)

    def _hold_ended(self, event: Event, plan: DayPlan, pee: Minutes) -> Hold:
        length = event.t - pee
        asleep = self.asleep_in_hold(event.t)
        night = self.night_in_hold or self.sleep == "night"
        if pee < plan.start:
            night = True
            asleep = max(asleep, min(plan.start, event.t) - max(pee, plan.last_bed))
        asleep = max(0.0, min(asleep, length))
        how: Literal["out", "seen", "found", "pad"] = "pad" if event.on_pad else "out"
        dry = 0.0
        if event.row.is_accident:
            how = "seen" if event.found is False else "found"
            if event.dry is not None:
                dry = max(0.0, minutes_of(event.dry) - pee)
        # So soon after a pee it is the rest of that one, or something else, and no hold.
        too_soon = event.row.is_accident and length < figures.FLOOR_INTERVAL
        other_cause = too_soon or not event.counts_against_plan
        return Hold(event.t, length - asleep, asleep, how, dry, night, other_cause)

    def _bare_before(self, event: Event) -> Minutes | None:
        """Return the last outing without stool before a stool; its own outing is none."""
        bare = self.bare_out
        if bare is not None and event.t - bare <= figures.ONE_OUTING and event.went_out:
            return self.bare_before
        return bare

    def _stool(self, event: Event) -> Stool:
        """Return when a stool was ready: on average half way back to the last outing without."""
        span = event.t - (self._bare_before(event) or 0.0)
        return Stool(event.t - min(span / 2, figures.STOOL_READY_BEFORE))

    def _without_stool(self) -> Iterator[Digested]:
        """Yield the meals that no stool has followed for so long that none will."""
        waiting, bare = self.waiting_meals, self.bare_out or 0.0
        for meal in self.meals:
            if meal not in waiting:
                yield Digested(max(0.0, bare - meal))

    def _digested(self, event: Event) -> Iterator[Digested]:
        """Yield what a stool says about the meals that waited: the last of them brought it."""
        t, bare = event.t, self._bare_before(event)
        yield from self._without_stool()
        waiting = self.waiting_meals
        for meal in waiting[:-1]:
            if bare is not None and bare > meal:
                yield Digested(bare - meal)
        for meal in waiting[-1:]:
            since = bare - meal if bare is not None and bare > meal else 0.0
            dry = max(0.0, minutes_of(event.dry) - meal) if event.dry is not None else None
            if event.row.is_accident and event.found is not False and dry is None:
                dry = since
            yield Digested(since, t - meal, event.row.is_accident, dry, event.on_pad)

    def _mark_floor(self, accident: Event) -> None:
        """Keep where it happened, for the cleaning and for the repeats of two weeks."""
        since = accident.t - figures.REPEAT_WITHIN * 1440
        self.mishaps = (*(one for one in self.mishaps if one.t >= since), accident)
        self.places = marked(self.places, accident)
        self.dirty = (*self.dirty, accident)

    def by_night(self, accident: Event, plan: DayPlan) -> bool:
        """Whether it happened in the night; one found before the first outing of the day did."""
        if self.sleep == "night" or accident.t >= plan.bed:
            return True
        if accident.found is False:
            return False
        if accident.dry is not None:
            return minutes_of(accident.dry) < plan.start
        return bool(accident.found) and plan.number > 1 and (self.last_out or 0.0) < plan.start

    def _go_out(self, event: Event) -> None:
        t, before = event.t, self.last_out
        same_outing = before is not None and t - before <= figures.ONE_OUTING
        if "poop" not in event.row.resets:
            if not same_outing:
                self.bare_before = self.bare_out
            self.bare_out = t
        if event.row.is_success:
            self.empties, self.last_success = 0, t
            if not (same_outing and self.dry_out is None):
                self.dry_out = t
        elif self.last_success is None or t - self.last_success > figures.ONE_OUTING:
            self.empties += not same_outing
            self.dry_out = t
        self.last_out, self.sign = t, None

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
        been_out = (self.last_out or 0.0) >= plan.bed - figures.LAST_THING_FROM
        enough = figures.QUIET_NIGHT
        if been_out and not self.empties:
            enough = figures.QUIET_AFTER_OUTING
        return "night" if now - self._quiet_from(plan) >= enough else asleep

    def asleep_from(self, plan: DayPlan, now: Minutes) -> Minutes | None:
        """Return since when the dog sleeps at ``now`` (see :meth:`sleep_at`), None while awake."""
        if not self.sleep_at(plan, now):
            return None
        return self.slept_from if self.sleep else self._quiet_from(plan)

    def _quiet_from(self, plan: DayPlan) -> Minutes:
        return max(plan.bed, self.last_active or plan.bed)

    def _take_for_asleep(self, plan: DayPlan, now: Minutes) -> None:
        """Keep what :meth:`sleep_at` assumed, before the next entry ends it."""
        if self.sleep != "night" and self.sleep_at(plan, now) == "night":
            self.slept_from = self.slept_from if self.sleep else self._quiet_from(plan)
            self.sleep = "night"

    def _asking(
        self, entries: tuple[Minutes, ...], wait: float, plan: DayPlan
    ) -> tuple[Minutes, ...]:
        """Return those ``entries`` of today that no outing after them has served yet."""
        since = max(plan.start, self.woke or 0.0)
        out = self.last_out or 0.0
        return tuple(
            entry
            for entry in entries
            if entry >= since and out < max(entry, entry + wait - figures.SERVES_WITHIN)
        )

    def alone_from(self, plan: DayPlan, now: Minutes) -> Minutes | None:
        """Return since when the dog is alone at ``now``, for an entry made then; None if not."""
        return None if self.left is None or self._came_back(plan, now) else self.left

    def _came_back(self, plan: DayPlan, t: Minutes) -> bool:
        """Whether an entry at ``t`` shows that somebody is back, though nobody logged it.

        A visit stands in meanwhile; after the planned return, or on the next day, it is no visit.
        """
        left = self.left or 0.0
        return left < plan.start or any(left < back <= t for _, back in plan.absences)

    def _settle(self, t: Minutes, night: bool) -> None:
        if not self.sleep:
            self.slept_from = t
        self.sleep, self.sign = "night" if night else "nap", None

    def _wake(self, t: Minutes, *, got_up: bool) -> None:
        slept = t - self.slept_from if self.sleep and self.slept_from is not None else None
        if self.sleep == "nap" and slept is not None:
            got_up = slept >= figures.LONG_NAP
        if got_up:
            self.asks_up = t
        if self.slept_from is not None:
            self.nap_in_hold += t - max(self.slept_from, self.last_pee or 0.0)
            if self.sleep == "night":
                self.night_in_hold, self.woke = True, t
        self.sleep, self.slept_from = "", None


def _still_dirty(dirty: tuple[Event, ...], cleaned: Event) -> tuple[Event, ...]:
    """Return the spots still to clean: ``cleaned`` ticks off the accident it is ``about``.

    Without one it ticks off all at its ``place``; without either, the oldest.
    """
    if cleaned.about:
        return tuple(accident for accident in dirty if accident.id != cleaned.about)
    if cleaned.place:
        return tuple(one for one in dirty if not named_alike(one.place, cleaned.place))
    return dirty[1:]


_fields = attrgetter(*(one.name for one in fields(LogState)))
"""All fields at once: a day copies the facts at every outing."""
