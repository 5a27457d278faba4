"""The days so far, one after the other, kept from call to call.

A day depends only on the day before and its own entries, so :class:`History` keeps the days it has
worked out and redoes those that an entry touches. A log of a year then costs as little at each new
entry as a log of two weeks.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from operator import attrgetter
from typing import ClassVar

from pottyboard.core.engine.days import Day, DayAtWork
from pottyboard.core.log.answers import answered
from pottyboard.core.model import figures
from pottyboard.core.model.events import ILLNESS, Event
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.model.plan import DayPlan, date_at, plan_for
from pottyboard.core.model.settings import Settings

_at = attrgetter("t")
_FEW = 50
"""So many new entries are put in their places one by one; more are sorted."""

_OPEN = timedelta(days=5)
"""Days so near to today may still be touched, and are gone on with rather than begun again."""

_DAY = 1440
_ASKED = figures.ASKED_FOR + figures.UP_LATEST
"""Minutes after which nothing that is logged touches a day any more."""

_MOST_KEPT = 6
"""So many histories are kept: those of the dogs of one home, with and without the estimate."""


def _order(event: Event) -> tuple[Minutes, bool, datetime, str, str]:
    """Return the place of an entry in the log; at one instant, by when it was typed.

    What answers another entry, such as a cleaning, follows it in any case.
    """
    after = "about" in event.row.carries
    return event.t, after, event.logged or event.at, event.id, event.kind


class History:
    """The days from the arrival to an instant, for one household and one log."""

    __slots__ = ("at_work", "days", "events", "learn", "settings")

    def __init__(
        self,
        settings: Settings,
        events: tuple[Event, ...],
        learn: bool = True,
        known: Iterable[Day] = (),
        at_work: Mapping[date, DayAtWork] | None = None,
    ) -> None:
        """Hold the sorted ``events``; ``known`` are the days that are already worked out.

        ``at_work`` are the days that entries may still touch, as they were worked out last. With
        ``learn`` false only the rule decides, without the estimate.
        """
        self.settings = settings
        self.events = events
        self.learn = learn
        self.days: list[Day] = list(known)
        self.at_work = dict(at_work or {})

    _last: ClassVar[dict[tuple[Settings, bool], tuple[tuple[Event, ...], History]] | None] = None
    """The last history of each household, so that a log that only grew costs only what is new."""

    @classmethod
    def of(
        cls, settings: Settings, events: Iterable[Event], now: Minutes, learn: bool = True
    ) -> History:
        """Return the history of ``events`` up to ``now``, building on the last one where it can."""
        given = tuple(events)
        kept, which = cls._last or {}, (settings, learn)
        before, last = kept.get(which, ((), None))
        if last is None:
            last = cls(settings, tuple(sorted(given, key=_order)), learn)
        elif before != given:
            in_order = _grown(last.events, before, given)
            last = cls(settings, in_order, learn, last.untouched_by(in_order), last.at_work)
        others = {key: known for key, known in kept.items() if key != which}
        cls._last = {**dict([*others.items()][1 - _MOST_KEPT :]), which: (given, last)}
        return last.until(now)

    def untouched_by(self, events: tuple[Event, ...]) -> list[Day]:
        """Return the days worked out here that hold for ``events`` too (sorted)."""
        same = _common(self.events, events)
        changed = min((e[same].t for e in (self.events, events) if same < len(e)), default=None)
        if changed is None:
            return self.days
        return [day for day in self.days if day.plan.next_up + _ASKED < changed]

    def until(self, now: Minutes) -> History:
        """Return the history as it stood at ``now``: entries after it are not seen."""
        events = self.events
        if events and events[-1].t > now:
            events = events[: bisect_left(events, now + 1e-6, key=_at)]
        today = max(date_at(self.settings, now, events), self.settings.first_date)
        known = self._settled(now, today)
        fresh = History(self.settings, events, self.learn, known, self.at_work)
        fresh._work_out(today)
        settled = fresh._settled(now, today)
        self.at_work = {day: work for day, work in fresh.at_work.items() if day > today - _OPEN}
        if len(settled) > len(self.days):
            self.days = settled
        return fresh

    def _settled(self, now: Minutes, today: date) -> list[Day]:
        """Return the days before ``today`` that no entry later than ``now`` can touch.

        An answer still touches the days that the board asks about.
        """
        number = bisect_left(self.days, now - _ASKED, key=lambda day: day.plan.next_up)
        return self.days[: min(number, (today - self.settings.first_date).days)]

    @property
    def today(self) -> Day:
        """The day that the instant belongs to, still open."""
        return self.days[-1]

    def _work_out(self, today: date) -> None:
        """Work out the days that are missing, up to ``today``."""
        settings = self.settings
        day = settings.first_date + timedelta(days=len(self.days))
        plan = plan_for(settings, day, self.events)
        while day <= today:
            following = plan_for(settings, day + timedelta(days=1), self.events)
            end = following.start if day < today else float("inf")
            low = bisect_left(self.events, plan.start, key=_at) if self.days else 0
            high = bisect_left(self.events, end, key=_at)
            self.days.append(self._day(plan, self.events[low:high], day < today))
            day, plan = day + timedelta(days=1), following

    def _day(self, plan: DayPlan, events: tuple[Event, ...], closed: bool) -> Day:
        """Return the next day; where it only grew since it was last asked for, go on from there."""
        before = self.days[-1] if self.days else None
        events = answered(events, self._between(plan.start, plan.next_up + _ASKED))
        work = self.at_work.get(plan.date)
        ill = self._ill_around(plan)
        if work is None or not work.goes_on(plan, before, events, ill):
            work = self.at_work[plan.date] = DayAtWork(self.settings, plan, before, self.learn, ill)
        return work.done(events, closed, self._answers_to(plan))

    def _ill_around(self, plan: DayPlan) -> tuple[Minutes, ...]:
        """Return the signs of illness that can bear on a day, its own and those around it."""
        return tuple(
            event.t
            for event in self._between(plan.start - _DAY, plan.next_up + _DAY)
            if event.kind == "health" and event.finding in ILLNESS
        )

    def _answers_to(self, plan: DayPlan) -> tuple[Minutes, ...]:
        """Return when the household said that nothing had happened in a silence of a day."""
        later = self._between(plan.start, plan.bed + figures.ASKED_FOR)
        return tuple(event.t for event in later if event.kind == "quiet")

    def _between(self, first: Minutes, last: Minutes) -> tuple[Event, ...]:
        low = bisect_left(self.events, first, key=_at)
        return self.events[low : bisect_left(self.events, last, lo=low, key=_at)]


def _grown(
    in_order: tuple[Event, ...], before: tuple[Event, ...], given: tuple[Event, ...]
) -> tuple[Event, ...]:
    """Return ``given`` sorted; where it is ``before`` and some more, from ``before`` in order."""
    more = given[len(before) :]
    if len(more) > _FEW or given[: len(before)] != before:
        return tuple(sorted(given, key=_order))
    grown = list(in_order)
    for event in more:
        insort(grown, event, key=_order)
    return tuple(grown)


def _common(one: Sequence[Event], other: Sequence[Event]) -> int:
    """Return the length of the common beginning of two sequences."""
    low, high = 0, min(len(one), len(other))
    if one[:high] == other[:high]:
        return high
    while low < high:
        middle = (low + high + 1) // 2
        if one[low:middle] == other[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low
