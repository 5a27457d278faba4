"""Fourteen days as rows of clock time: what happened when, so that patterns show to the eye.

A row shows 24 hours of the local clock from :attr:`Fortnight.starts` on; everything stands where
the clock on the wall stood. On the two days a year that are shorter or longer, the hour that the
clock skips stays empty, and the one that it shows twice holds what happened in both.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from typing import Final, Literal

from msgspec import Struct
from pendulum import Timezone

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.history import History
from pottyboard.core.engine.interval import top_interval
from pottyboard.core.engine.stretches import SpanKind, stretches
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, local, minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.last_days import last_day

MarkKind = Literal["accident", "pee", "poop", "pad", "nothing", "meal", "visit"]
"""What a mark stands for; *poop* is an outing that brought stool, with pee or without."""


ROW: Final = 1440
"""Minutes of the clock in a row."""

DAYS: Final = int(figures.PROGRAMME_DAYS)
_BEFORE_UP: Final = 120
"""A row begins at a full hour, so many minutes or more before the household gets up."""


class Mark(Struct, frozen=True):
    """One entry, ``minute`` minutes of the clock from the left end of its row."""

    minute: float
    kind: MarkKind
    event: Event


class RowSpan(Struct, frozen=True):
    """A stretch of one row from ``start`` to ``end``, in minutes of the clock from its left end."""

    start: float
    end: float
    kind: SpanKind


class FortnightDay(Struct, frozen=True):
    """One row: the day's verdict, the clear days in a row at its end, and what is drawn.

    ``indoors`` are the day's accidents. A day lasts until the dog gets up, so one of the night is
    counted here though it is drawn in the next row.
    """

    summary: DaySummary
    streak: int
    indoors: tuple[Event, ...]
    marks: tuple[Mark, ...]
    spans: tuple[RowSpan, ...]

    @property
    def date(self) -> date:
        """The local date at the left end of the row."""
        return self.summary.date


class Fortnight(Struct, frozen=True):
    """Up to fourteen days in order, seen at ``now``.

    ``starts`` is the clock time at the left end of each row, in minutes after midnight (below 0
    where it is the evening before); ``top`` the widest interval of the rule in minutes; ``first``
    and ``today`` are the ends of the log.
    """

    now: datetime
    settings: Settings
    starts: int
    top: int
    days: tuple[FortnightDay, ...]
    first: date
    today: date

    @property
    def has_earlier(self) -> bool:
        """Whether the log goes back further."""
        return self.days[0].date > self.first

    @property
    def has_later(self) -> bool:
        """Whether the log goes on after these days."""
        return self.days[-1].date < self.today


def fortnight(
    settings: Settings,
    events: Iterable[Event],
    now: datetime,
    last: date | None = None,
    days: int = DAYS,
) -> Fortnight:
    """Return the ``days`` days up to ``last`` (today, or the last entry if that is long ago).

    They are those of the log alone; ``last`` is brought within the log. Raises ``TimeError`` if
    ``now`` (aware) has no time zone.
    """
    at = minutes_of(now)
    history = History.of(settings, tuple(events), at)
    known = history.days
    end = (last_day(known) - known[0].plan.date).days
    if last is not None:
        end = min(max((last - known[0].plan.date).days, 0), len(known) - 1)
    start = max(0, end - days + 1)
    if last is not None:
        end = min(start + days, len(known)) - 1 if end < days - 1 else end
    # What the evening before and the morning after reach into these rows is drawn in them too.
    near = range(max(0, start - 1), min(end + 2, len(known)))
    starts = _starts(settings)
    marks: dict[date, list[Mark]] = {}
    spans: dict[date, list[RowSpan]] = {}
    for index in near:
        for event in known[index].events:
            kind = _mark_kind(event)
            if kind is not None:
                row, minute = _place(event.t, starts, settings.zone)
                marks.setdefault(row, []).append(Mark(minute, kind, event))
    for begin, stop, what in stretches(known, near, at):
        for row, span in _rows(begin, stop, what, starts, settings.zone):
            spans.setdefault(row, []).append(span)
    return Fortnight(
        now=now,
        settings=settings,
        starts=starts,
        top=round(top_interval(settings.dog)),
        days=tuple(
            FortnightDay(
                day.summary,
                day.streak,
                tuple(accident.event for accident in day.accidents),
                tuple(marks.get(day.plan.date, ())),
                tuple(spans.get(day.plan.date, ())),
            )
            for day in known[start : end + 1]
        ),
        first=known[0].plan.date,
        today=known[-1].plan.date,
    )


def _starts(settings: Settings) -> int:
    up = settings.home.up
    return (60 * up.hour + up.minute - _BEFORE_UP) // 60 * 60


def _mark_kind(event: Event) -> MarkKind | None:
    row = event.row
    if row.is_accident:
        return "accident"
    if row.is_outing:
        if event.on_pad:
            return "pad"
        return "poop" if "poop" in row.resets else "pee" if row.is_success else "nothing"
    return "meal" if event.kind == "meal" else "visit" if event.kind == "visit" else None


def _place(at: Minutes, starts: int, zone: Timezone) -> tuple[date, float]:
    """Return the row that an instant falls into, and its minute there."""
    shifted = local(at, zone).replace(tzinfo=None) - timedelta(minutes=starts)
    since = shifted - datetime.combine(shifted.date(), time())
    return shifted.date(), since / timedelta(minutes=1)


def _rows(
    begin: Minutes, stop: Minutes, what: SpanKind, starts: int, zone: Timezone
) -> Iterator[tuple[date, RowSpan]]:
    """Yield a stretch of time cut where a row ends and the next begins."""
    row, start = _place(begin, starts, zone)
    last, end = _place(stop, starts, zone)
    while row < last:
        yield row, RowSpan(start, ROW, what)
        row, start = row + timedelta(days=1), 0.0
    # Where the clock goes back meanwhile, the end can stand before the start.
    yield row, RowSpan(min(start, end), max(start, end), what)
