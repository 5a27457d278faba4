"""The routine of one local day, and where the day begins.

A day belongs to the date on which the dog got up, so that an outing at 00:30 before bed belongs to
yesterday.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache
from operator import attrgetter

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.absence import Span, absences
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, local
from pottyboard.core.model.settings import Settings

_at = attrgetter("t")


class DayPlan(Struct, frozen=True):
    """The routine of one day, instants in epoch minutes.

    ``start`` is when the dog got up: the planned time, unless the log says that it was up earlier,
    or that it got up later (the arrival on day 1, unless that was in the middle of the night);
    ``up`` the planned time itself; ``bed`` the bedtime that ends the day; ``next_up`` the planned
    morning after; ``last_bed`` the bedtime before; ``absences`` the planned times alone that begin
    on this day, in order.
    """

    date: date
    number: int
    start: Minutes
    bed: Minutes
    next_up: Minutes
    last_bed: Minutes
    meals: tuple[Minutes, ...]
    absences: tuple[Span, ...]
    up: Minutes

    def is_evening(self, t: Minutes) -> bool:
        """Whether settling down at ``t`` is for the night."""
        return t >= self.bed - figures.LAST_THING_FROM

    @property
    def morning_from(self) -> Minutes:
        """From when what the dog asks for in the night is of this morning."""
        return max(self.last_bed, self.up - figures.UP_EARLIEST)

    @property
    def next_morning_from(self) -> Minutes:
        """The same of the morning after this day."""
        return max(self.bed, self.next_up - figures.UP_EARLIEST)

    def first_about(self, events: Sequence[Event]) -> Event | None:
        """Return the first of the day's ``events`` about the dog itself, None if none of them is of
        the morning: where it says so the dog got up then, otherwise it was up by then.

        On the day of arrival a dog is about before anybody gets up, and that says nothing.
        """
        for event in events:
            if not self.start <= event.t <= self.start + figures.UP_LATEST:
                continue
            arriving = self.number == 1 and event.t < self.up and event.kind != "up"
            if (event.stirs or event.kind == "settled") and not arriving:
                return event
        return None


@lru_cache(maxsize=64)
def _routine(settings: Settings, day: date) -> tuple[Minutes, DayPlan]:
    """Return the planned getting up of ``day`` and its plan with that as the start."""
    up = settings.up_on(day)
    after = day + timedelta(days=1)
    return up, DayPlan(
        date=day,
        number=settings.day_number(day),
        start=up,
        bed=settings.bed_on(day),
        next_up=settings.up_on(after),
        last_bed=settings.bed_on(day - timedelta(days=1)),
        meals=settings.meals_on(day),
        absences=tuple((alone.leave, alone.back) for alone in absences(settings, day, day)),
        up=up,
    )


def plan_for(settings: Settings, day: date, events: Sequence[Event]) -> DayPlan:
    """Return the plan of ``day``, started where ``events`` (sorted) say that the dog got up."""
    up, routine = _routine(settings, day)
    start = _got_up(up, events)
    if day == settings.first_date and settings.arrived > up - figures.UP_EARLIEST:
        start = settings.arrived
    if start == routine.start:
        return routine
    return DayPlan(
        day, routine.number, start, routine.bed, routine.next_up,
        routine.last_bed, routine.meals, routine.absences, up,
    )  # fmt: skip


def _got_up(up: Minutes, events: Sequence[Event]) -> Minutes:
    """Return the first waking that starts the day around the planned ``up``; ``up`` if none.

    Before ``up`` only getting up, an outing or a meal counts, unless the dog settled again. Later
    than ``up`` only getting up does, as the first entry: a meal at 08:22 does not say that the dog
    slept until then, and the break that was due in the morning has waited since.
    """
    first = bisect_left(events, up - figures.UP_EARLIEST, key=_at)
    for index in range(first, len(events)):
        event = events[index]
        if event.t > up + figures.UP_LATEST:
            break
        if event.t >= up:
            return event.t if event.kind == "up" else up
        early = event.t >= up - figures.OUTING_STARTS_DAY
        starts = event.kind == "up" or (early and (event.went_out or event.kind == "meal"))
        if starts and not _settled_again(events, index, up):
            return event.t
    return up


def _settled_again(events: Sequence[Event], index: int, up: Minutes) -> bool:
    """Whether the dog that was up at ``index`` went back to bed before the planned morning."""
    for event in events[index + 1 :]:
        if event.t >= up:
            return False
        if event.kind == "settled" and event.sleep != "nap":
            return True
    return False


def date_at(settings: Settings, now: Minutes, events: Sequence[Event]) -> date:
    """Return the date that the instant ``now`` belongs to, by when the dog got up."""
    day = local(now, settings.zone).date()
    if day <= settings.first_date:
        return day
    return day if now >= plan_for(settings, day, events).start else day - timedelta(days=1)
