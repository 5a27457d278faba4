"""Tomorrow as the board itself will see it in the morning: its interval, why, and its plan.

There is no second rule here: the rest of today is taken to go to plan, the night to be dry, and the
situation at tomorrow's getting up says the rest, by what the log has taught until now.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.engine.interval import why_it_stays
from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, instant_of, local, minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.statistics.alignment import aligned
from pottyboard.core.view.situation import situation
from pottyboard.core.view.situation_views import Situation, Slot

RowChange = Literal["same", "new", "moved", "gone"]

_MOVED_MOST: Final = 60
"""A row that stands this many minutes or more from today's is another one (our own choice)."""
_STOOL: Final = RULE_BY_CODE["digestion"].title
_LAST_THING: Final = RULE_BY_CODE["bedtime"].title


class PlannedRow(Struct, frozen=True):
    """One row of tomorrow's plan beside today's: what it is, and how it has changed.

    Less than 10 min are no change. A row that is ``gone`` stands at today's clock time; ``before``
    is today's instant of one that has moved, None for the others.
    """

    slot: Slot
    change: RowChange
    before: datetime | None = None


class Tomorrow(Struct, frozen=True):
    """Tomorrow's interval (minutes) beside this morning's, why, and its plan.

    ``words`` give the reason in one sentence. ``tonight`` are the breaks planned for this night.
    ``expected`` tells whether the rest of today was taken to go to plan, and ``today`` is the day
    as it then ends. ``compared`` is false after a day that was not a whole one: then no row of the
    plan counts as changed.
    """

    date: date
    number: int
    interval: int
    before: int
    words: str
    tonight: tuple[Slot, ...]
    rows: tuple[PlannedRow, ...]
    expected: bool
    today: DaySummary
    streak: int
    compared: bool


def tomorrow(settings: Settings, events: Iterable[Event], now: datetime) -> Tomorrow:
    """Return the day after the one that ``now`` (aware) belongs to, as planned from here."""
    at = minutes_of(now)
    log = tuple(event for event in events if event.t <= at)
    view = situation(settings, log, now)
    day = History.of(settings, log, at).today
    expected = tuple(_expected(view, day.plan.bed))
    after = day.plan.date + timedelta(days=1)
    up = settings.up_on(after)
    taught = day.evidence_so_far.a_day_older()  # what nobody has logged yet teaches nothing
    ahead = situation(settings, (*log, *expected), instant_of(up), taught=taught)
    morning = History.of(settings, (*log, *expected), up).today
    before = next(step.after for step in reversed(day.steps) if step.at <= day.plan.start)
    plan = _rows(ahead.timeline)
    todays = _as_planned(settings, log, day)
    return Tomorrow(
        date=after,
        number=ahead.day,
        interval=ahead.interval.minutes,
        before=round(before),
        words=_why(settings, morning, day),
        tonight=tuple(
            slot
            for slot in view.timeline
            if slot.kind == "night" and slot.status in ("due", "planned")
        ),
        rows=tuple(
            compared(plan, todays, settings)
            if todays
            else (PlannedRow(row, "same") for row in plan)
        ),
        expected=any(event.kind != "settled" for event in expected),
        today=ahead.days[-2],
        streak=ahead.streak_days,
        compared=bool(todays),
    )


def _expected(view: Situation, bed: Minutes) -> Iterator[Event]:
    """Yield the entries that the rest of the day brings if all goes to plan.

    Past ``bed`` only the last thing is still to come.
    """
    kinds = {"break": "pee", "visit": "pee", "meal": "meal", "leaving": "left", "back": "back"}
    for slot in view.timeline:
        if slot.status not in ("due", "planned"):
            continue
        if minutes_of(slot.at) > bed and _LAST_THING not in slot.words:
            continue
        if slot.kind == "bedtime":
            yield Event("settled", slot.at, sleep="night")
        elif slot.kind in kinds:
            stool = slot.kind == "break" and _STOOL in slot.words
            yield Event("both" if stool else kinds[slot.kind], slot.at)


def _as_planned(settings: Settings, log: Sequence[Event], day: Day) -> tuple[Slot, ...]:
    """Return today's plan as it stood at the hour of getting up; none on the day of arrival."""
    if day.plan.number == 1:
        return ()
    night = tuple(event for event in log if event.t < day.plan.start)
    return _rows(situation(settings, night, instant_of(settings.up_on(day.plan.date))).timeline)


def _rows(timeline: Sequence[Slot]) -> tuple[Slot, ...]:
    """Return what is still planned for the day itself."""
    return tuple(
        slot for slot in timeline if slot.status in ("due", "planned") and slot.kind != "night"
    )


# --- Why ------------------------------------------------------------------------------------------


def _why(settings: Settings, morning: Day, today: Day) -> str:
    """Return in one sentence why the interval is what it will be."""
    step = morning.steps[-1]
    if step.at > today.plan.start:
        return step.words
    return why_it_stays(settings.dog, morning.interval, morning.evidence, morning.held_back)


# --- Against today --------------------------------------------------------------------------------


def compared(
    plan: Sequence[Slot], today: Sequence[Slot], settings: Settings
) -> tuple[PlannedRow, ...]:
    """Return the rows of ``plan`` in order, each beside the row of ``today`` that it continues.

    Rows of one kind are matched in order so that as little as possible has to move.
    """
    found = []
    for kind in dict.fromkeys(slot.kind for slot in (*plan, *today)):
        ours = [slot for slot in plan if slot.kind == kind]
        theirs = [slot for slot in today if slot.kind == kind]
        found += _aligned(ours, theirs, settings)
    order = {id(row): _clock(row.slot.at, settings) for row in found}
    return tuple(sorted(found, key=lambda row: order[id(row)]))


def _aligned(ours: Sequence[Slot], theirs: Sequence[Slot], settings: Settings) -> list[PlannedRow]:
    """Match the rows of two days: each of ours with what has become of it, and what is gone."""
    clocks, before = ([_clock(slot.at, settings) for slot in side] for side in (ours, theirs))
    rows = []
    for mine, other in aligned(clocks, before, _MOVED_MOST):
        if mine is None:
            assert other is not None
            rows.append(PlannedRow(theirs[other], "gone"))
        elif other is None:
            rows.append(PlannedRow(ours[mine], "new"))
        elif abs(clocks[mine] - before[other]) >= figures.SERVES_WITHIN:
            rows.append(PlannedRow(ours[mine], "moved", theirs[other].at))
        else:
            rows.append(PlannedRow(ours[mine], "same"))
    return rows


def _clock(at: datetime, settings: Settings) -> float:
    """Return minutes of the local clock, those after midnight after those of the evening."""
    wall = local(minutes_of(at), settings.zone)
    up = 60 * settings.home.up.hour + settings.home.up.minute
    return (60 * wall.hour + wall.minute - up + figures.UP_EARLIEST) % 1440
