"""Drawings for a paper as inline SVG: the days as rows, the interval, the hold, the accident clock.

Every drawing has a title and a description for those who do not see it, tells its marks apart by
shape as well as by colour, and takes its colours from the page's frame. The data stand in tables
beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, time
from math import cos, pi, sin
from typing import Final

from msgspec import Struct

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import at_clock, count_words, minutes_of, span_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.fortnight import ROW, Fortnight, FortnightDay
from pottyboard.core.view.situation_views import Change, HoldReport
from pottyboard.papers.lookback.svg import label, line, mark, path, svg
from pottyboard.papers.page import Html, joined

_WORDS: Final = {
    "pee": "pee outside", "poop": "poop outside", "nothing": "nothing came", "meal": "meal",
    "visit": "visit", "pad": "pad", "accident": "accident", "found": "found",
}  # fmt: skip


# --- The days as rows of clock time ---------------------------------------------------------------

_TALL: Final = 22
_MIDNIGHT: Final = time()


class _Frame(Struct, frozen=True):
    """How wide the rows are drawn, in the units of the drawing; ``every`` is a line's minutes."""

    kind: str
    left: float
    day: float
    right: float
    every: int
    told: bool

    @property
    def wide(self) -> float:
        return self.left + self.day + self.right

    def x(self, minute: float) -> float:
        return self.left + self.day * minute / ROW


_ROWS: Final = _Frame("rows", 84, 552, 104, 180, told=True)
_NARROW: Final = _Frame("narrow", 62, 398, 20, 360, told=False)
"""For a phone: the dates are short, and what the table says of each day is left to the table."""


def fortnight_plot(fortnight: Fortnight) -> Html:
    """Return the days as rows of 24 hours, with what happened where the clock stood.

    It is drawn twice, once for a phone; the page shows one of them.
    """
    return joined(_rows(fortnight, shape) for shape in (_ROWS, _NARROW))


def _rows(fortnight: Fortnight, shape: _Frame) -> Html:
    days = fortnight.days
    bottom = 22 + _TALL * len(days)
    parts = list(_hours(fortnight.starts, bottom, shape))
    for place, day in enumerate(days):
        parts += _row(day, 22 + _TALL * place, shape)
    legend, lines = _legend(bottom + 22, shape)
    indoors = sum(len(day.indoors) for day in days)
    return svg(
        shape.kind,
        "The days as rows of 24 hours",
        f"{count_words(len(days), 'day')} from {days[0].date} to {days[-1].date}, with "
        f"{count_words(indoors, 'accident')}; the table “Day by day” says the same.",
        (shape.wide, bottom + 10 + 20 * lines),
        (*parts, *legend),
        shape.kind,
    )


def _hours(starts: int, bottom: float, shape: _Frame) -> Iterable[str]:
    """Yield an upright every few hours, with its clock time."""
    for minute in range(0, ROW + 1, shape.every):
        yield line(shape.x(minute), 18, shape.x(minute), bottom, "grid")
        hour = (starts + minute) // 60 % 24
        yield label(shape.x(minute), 12, f"{hour:02}:00", "middle", "dim")


def _row(day: FortnightDay, top: float, shape: _Frame) -> Iterable[str]:
    middle = top + _TALL / 2
    date = f"{day.date.day} {day.date:%b}"
    yield label(shape.left - 8, middle + 4, f"{day.date:%a} {date}" if shape.told else date, "end")
    for span in day.spans:
        wide = max(1.0, shape.x(span.end) - shape.x(span.start))
        low, tall = (top + 2, _TALL - 4) if span.kind != "alone" else (top + 4, _TALL - 8)
        yield (
            f'<rect x="{shape.x(span.start):.1f}" y="{low:.1f}" width="{wide:.1f}" '
            f'height="{tall:.1f}" class="{span.kind}"/>'
        )
    yield line(shape.left, middle, shape.left + shape.day, middle, "grid")
    for one in sorted(day.marks, key=lambda one: one.kind == "accident"):
        found = one.kind == "accident" and bool(one.event.found)
        yield mark("found" if found else one.kind, shape.x(one.minute), middle)
    if shape.told:
        said = f"{day.summary.verdict}, {span_words(day.summary.interval)}"
        yield label(shape.left + shape.day + 8, middle + 4, said)


def _legend(y: float, shape: _Frame) -> tuple[list[str], int]:
    """Return what the marks and the shades mean, and on how many lines that stands."""
    left = shape.left if shape.told else 6.0
    parts, x, lines = [], left, 1
    for kind, words in (*_WORDS.items(), ("night", "asleep"), ("alone", "alone")):
        shade = kind in ("night", "alone")
        wide = (40 if shade else 22) + (5.9 if shape.told else 7) * len(words)
        if x + wide > shape.wide or (kind == "night" and shape.told):
            x, y, lines = left, y + 20, lines + 1
        if shade:
            parts.append(
                f'<rect x="{x:.1f}" y="{y - 10:.1f}" width="18" height="12" class="{kind}"/>'
            )
        else:
            parts.append(mark(kind, x, y - 4))
        parts.append(label(x + (23 if shade else 9), y, words, kind="dim"))
        x += wide
    return parts, lines


# --- The smaller drawings -------------------------------------------------------------------------

_SMALL: Final = 460
_HIGH: Final = 230
_AXIS: Final = 52
_FLOOR: Final = 196
_EDGE: Final = 446


def interval_plot(
    changes: Sequence[Change], days: Sequence[DaySummary], top: int, settings: Settings,
    accidents: Sequence[Event], now: datetime,
) -> Html:  # fmt: skip
    """Return the interval over some days as steps, with the accidents under it."""
    zone = settings.zone
    start = at_clock(days[0].date, _MIDNIGHT, zone)
    last = at_clock(days[-1].date, _MIDNIGHT, zone) + ROW
    end = min(last, minutes_of(now))
    reach = max(top, *(change.after for change in changes)) + 15

    def x(at: float) -> float:
        return _AXIS + (_EDGE - _AXIS) * min(1.0, max(0.0, (at - start) / (last - start)))

    def y(minutes: float) -> float:
        return _FLOOR - (_FLOOR - 14) * minutes / reach

    parts = [
        part
        for minutes in range(0, int(reach) + 1, 60)
        for part in (
            line(_AXIS, y(minutes), _EDGE, y(minutes), "grid"),
            label(_AXIS - 6, y(minutes) + 4, span_words(minutes) if minutes else "0", "end", "dim"),
        )
    ]
    every = max(1, -(-len(days) // 7))
    for day in days[::every]:
        at = x(at_clock(day.date, _MIDNIGHT, zone))
        parts.append(line(at, _FLOOR, at, _FLOOR + 4, "axis"))
        noon = x(at_clock(day.date, _MIDNIGHT, zone) + ROW / 2)
        parts.append(label(noon, _FLOOR + 18, f"{day.date.day} {day.date:%b}", "middle", "dim"))
    parts += [
        line(_AXIS, y(top), _EDGE, y(top), "top"),
        label(_EDGE, y(top) - 4, f"the rule's top, {span_words(top)}", "end", "dim"),
    ]
    steps: list[tuple[float, float]] = []
    for change in changes:
        at = x(max(start, minutes_of(change.at)))
        if steps:
            steps.append((at, steps[-1][1]))
        steps.append((at, y(change.after)))
    steps.append((x(end), steps[-1][1]))
    parts.append(path(steps, "line"))
    parts += [mark("accident", x(event.t), _FLOOR - 6) for event in accidents]
    first, final = span_words(changes[0].after), span_words(changes[-1].after)
    return svg(
        "interval",
        "The interval over the days",
        f"From {first} to {final} in {count_words(len(changes) - 1, 'step')}; the triangles on the "
        f"floor are {count_words(len(accidents), 'accident')}. The table of its changes follows.",
        (_SMALL, _HIGH),
        parts,
    )


def hold_plot(study: HoldReport, interval: int) -> Html:
    """Return the curves of the hold awake: the log's own, the estimate, and what was believed."""
    last = study.minutes[-1]

    def x(minutes: float) -> float:
        return _AXIS + (_EDGE - _AXIS) * minutes / last

    def y(share: float) -> float:
        return _FLOOR - (_FLOOR - 14) * share

    parts = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        parts.append(line(_AXIS, y(share), _EDGE, y(share), "grid"))
        parts.append(label(_AXIS - 6, y(share) + 4, f"{share:.0%}", "end", "dim"))
    step = next((step for step in (60, 120, 240) if last / step <= 8), 240)
    for minutes in range(0, last + 1, step):
        words = span_words(minutes) if minutes else "0"
        parts.append(label(x(minutes), _FLOOR + 18, words, "middle", "dim"))
    curves = ((study.prior, "prior"), (study.log, "log"), (study.posterior, "line"))
    for shares, kind in curves:
        points = [
            (x(at), y(share))
            for at, share in zip(study.minutes, shares, strict=True)
            if share is not None
        ]
        parts.append(path(_stepped(points) if kind == "log" else points, kind))
    parts.append(line(x(interval), 14, x(interval), _FLOOR, "top"))
    parts.append(label(x(interval) + 4, _FLOOR - 22, f"interval {span_words(interval)}"))
    parts += [mark("accident", x(min(at, last)), _FLOOR - 6) for at in study.accidents]
    keys = (("line", "best guess"), ("log", "the log only"), ("prior", "dogs of this size"))
    for place, (kind, words) in enumerate(keys):
        left = _AXIS + 136 * place
        parts.append(line(left, _FLOOR + 32, left + 22, _FLOOR + 32, kind))
        parts.append(label(left + 27, _FLOOR + 36, words, kind="dim"))
    return svg(
        "hold",
        "How long the dog can wait",
        f"The share of waits that stay dry past a time: {study.estimate.words}. "
        "The table of the curve follows.",
        (_SMALL, _HIGH + 10),
        parts,
    )


def _stepped(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    steps: list[tuple[float, float]] = []
    for at, height in points:
        if steps:
            steps.append((at, steps[-1][1]))
        steps.append((at, height))
    return steps


# --- The accident clock ---------------------------------------------------------------------------

_DIAL: Final = 300
_RIM: Final = 112
_CLOSE: Final = 25
"""Accidents within so many minutes of the clock stand side by side, towards the middle."""


def accident_clock(accidents: Sequence[Event], settings: Settings) -> Html:
    """Return a dial of 24 hours with every accident at its clock time, midnight at the top."""
    home, clock = settings.home, _minute_of_day
    bed, up = (60 * at.hour + at.minute for at in (home.bed, home.up))
    parts = [
        f'<path d="{_wedge(bed, up)}" class="night"/>',
        f'<circle cx="{_DIAL / 2:g}" cy="{_DIAL / 2:g}" r="{_RIM}" class="line"/>',
    ]
    for hour in range(24):
        long = hour % 3 == 0
        parts.append(
            line(*_at(60 * hour, _RIM - (8 if long else 4)), *_at(60 * hour, _RIM), "axis")
        )
        if long:
            x, y = _at(60 * hour, _RIM + 17)
            parts.append(label(x, y + 4, f"{hour:02}", "middle", "dim"))
    spans, marks = [], []
    taken: list[tuple[float, int]] = []
    for event in sorted(accidents, key=lambda event: clock(event.at, settings)):
        minute = clock(event.at, settings)
        depth = next(
            place
            for place in range(len(accidents) + 1)
            if all(place != used or abs(minute - at) >= _CLOSE for at, used in taken)
        )
        taken.append((minute, depth))
        radius = max(14, _RIM - 20 - 15 * depth)
        if event.found and event.dry is not None:
            spans.append(_arc(clock(event.dry, settings), minute, radius))
        marks.append(mark("found" if event.found else "accident", *_at(minute, radius)))
    times = ", ".join(f"{event.at.astimezone(settings.zone):%H:%M}" for event in accidents)
    return svg(
        "clock",
        "The accidents around the clock",
        f"{count_words(len(accidents), 'accident')}: {times or 'none'}. Midnight is at the top, "
        "noon at the bottom; the night is shaded.",
        (_DIAL, _DIAL),
        (*parts, *spans, *marks),
        "dial",
    )


def _minute_of_day(at: datetime, settings: Settings) -> float:
    wall = at.astimezone(settings.zone)
    return 60.0 * wall.hour + wall.minute


def _at(minute: float, radius: float) -> tuple[float, float]:
    turn = 2 * pi * minute / ROW
    return _DIAL / 2 + radius * sin(turn), _DIAL / 2 - radius * cos(turn)


def _arc(start: float, end: float, radius: float) -> str:
    """Return the stretch in which an accident that was found happened."""
    (x1, y1), (x2, y2) = _at(start, radius), _at(end, radius)
    large = int((end - start) % ROW > ROW / 2)
    return (
        f'<path d="M{x1:.1f} {y1:.1f}A{radius:g} {radius:g} 0 {large} 1 {x2:.1f} {y2:.1f}" '
        'class="arc"/>'
    )


def _wedge(start: float, end: float) -> str:
    (x1, y1), (x2, y2) = _at(start, _RIM), _at(end, _RIM)
    large = int((end - start) % ROW > ROW / 2)
    middle = _DIAL / 2
    return f"M{middle:g} {middle:g}L{x1:.1f} {y1:.1f}A{_RIM} {_RIM} 0 {large} 1 {x2:.1f} {y2:.1f}z"
