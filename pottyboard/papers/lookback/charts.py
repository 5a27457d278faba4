"""Bars by day and by hour, and each wait over the days: what a vet or a trainer looks at first.

Like every drawing they have a title and a description, tell marks apart by shape, and stand beside
a table with the same numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from msgspec import Struct

from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.review.outings import Counted, Waited
from pottyboard.papers.lookback.svg import label, line, mark, path, svg
from pottyboard.papers.page import Html, figure

_WIDE: Final = 460
_HIGH: Final = 236
_LEFT: Final = 40
_EDGE: Final = 452
_CEILING: Final = 16
_FLOOR: Final = 180
_LABELS: Final = 8
"""Words under the floor that have room side by side."""
_TALL_MARK: Final = 12
_BROADEST: Final = 26
"""A bar of one day alone is no wall."""


class Bar(Struct, frozen=True):
    """One bar: what stands under it, its full and its open part, and the accidents above it."""

    label: str
    full: int
    open: int
    accidents: int

    @property
    def height(self) -> int:
        """Full and open part."""
        return self.full + self.open


class Bars(Struct, frozen=True):
    """A drawing of bars: its ``name`` on the page, title, what it shows, and the words for the full
    and the open part."""

    name: str
    title: str
    caption: str
    words: tuple[str, str]
    bars: tuple[Bar, ...]

    @property
    def said(self) -> str:
        """The drawing in words, for those who do not see it."""
        full, hollow = self.words
        told = (
            f"{bar.label}: {bar.full} {full}, {bar.open} {hollow}, "
            f"{count_words(bar.accidents, 'accident')}"
            for bar in self.bars
            if bar.height or bar.accidents
        )
        return "; ".join(told) or "nothing"


class Waits(Struct, frozen=True):
    """A drawing of each wait by day: ``days`` are the dates with the interval at their end, 0 where
    it is not to be drawn."""

    waits: tuple[Waited, ...]
    days: tuple[tuple[date, int], ...]
    caption: str = (
        "Each wait by day from pee to pee, on its day from left to right; the line is the interval."
    )


Chart = Bars | Waits


def chart_figure(shown: Chart) -> Html:
    """Return a chart as a figure with its caption."""
    drawn = bars_plot(shown) if isinstance(shown, Bars) else waits_plot(shown.waits, shown.days)
    return figure(drawn, shown.caption)


def outings_by_day(days: Sequence[date], counts: Sequence[Counted]) -> Bars:
    """Return outings and accidents, day by day."""
    return Bars(
        "days",
        "Outings and accidents by day",
        "Outings of each day, full where something came; each triangle is an accident.",
        _OUTINGS,
        tuple(
            Bar(f"{day.day} {day:%b}", one.brought, one.empty, one.accidents)
            for day, one in zip(days, counts, strict=True)
        ),
    )


def outings_by_hour(counts: Sequence[Counted]) -> Bars:
    """Return outings and accidents of all days together, by the hour of the clock."""
    return Bars(
        "hours",
        "Outings and accidents by the hour",
        "All days together by the hour of the clock; each triangle is an accident, at the hour at "
        "which it was seen or found.",
        _OUTINGS,
        tuple(
            Bar(f"{hour:02}", one.brought, one.empty, one.accidents)
            for hour, one in enumerate(counts)
        ),
    )


_OUTINGS: Final = ("something came", "nothing came")


def bars_plot(shown: Bars) -> Html:
    """Return the bars as a drawing."""
    most = max((bar.height for bar in shown.bars), default=0)
    stack = max((bar.accidents for bar in shown.bars), default=0)
    step = next(step for step in (1, 2, 5, 10, 20, 50, 100, 1000) if most <= 5 * step)
    top = max(step, -(-most // step) * step)
    ceiling = _CEILING + _TALL_MARK * min(stack, _MOST_MARKS)
    parts = list(_levels(top, step, ceiling))
    wide = (_EDGE - _LEFT) / max(1, len(shown.bars))
    every = max(1, -(-len(shown.bars) // _LABELS))
    for place, bar in enumerate(shown.bars):
        left = _LEFT + wide * place
        broad = min(0.7 * wide, _BROADEST)
        parts += _bar(bar, left + (wide - broad) / 2, broad, (_FLOOR - ceiling) / top)
        if place % every == 0:
            middle = left + wide / 2
            parts.append(line(middle, _FLOOR, middle, _FLOOR + 4, "axis"))
            parts.append(label(middle, _FLOOR + 18, bar.label, "middle", "dim"))
    parts += _legend(shown.words)
    return svg(shown.name, shown.title, shown.said, (_WIDE, _HIGH), parts)


_MOST_MARKS: Final = 4
"""Triangles that stand above one bar; of more the number is written."""


def _levels(top: int, step: int, ceiling: float) -> Iterator[str]:
    for level in range(0, top + 1, step):
        y = _FLOOR - (_FLOOR - ceiling) * level / top
        yield line(_LEFT, y, _EDGE, y, "grid")
        yield label(_LEFT - 6, y + 4, str(level), "end", "dim")


def _bar(bar: Bar, left: float, wide: float, unit: float) -> Iterator[str]:
    full, whole = unit * bar.full, unit * bar.height
    if bar.full:
        yield _box(left, _FLOOR - full, wide, full, "bar")
    if bar.open:
        yield _box(left, _FLOOR - whole, wide, whole - full, "hollow")
    middle, above = left + wide / 2, _FLOOR - whole
    for place in range(min(bar.accidents, _MOST_MARKS)):
        yield mark("accident", middle, above - 7 - _TALL_MARK * place)
    if bar.accidents > _MOST_MARKS:
        yield label(
            middle, above - 14 - _TALL_MARK * (_MOST_MARKS - 1), str(bar.accidents), "middle"
        )


def _box(left: float, top: float, wide: float, tall: float, kind: str) -> str:
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{tall:.1f}" '
        f'class="{kind}"/>'
    )


def _legend(words: tuple[str, str]) -> Iterator[str]:
    y, left = _FLOOR + 46, float(_LEFT)
    for kind, said in zip(("bar", "hollow"), words, strict=True):
        yield _box(left, y - 10, 12, 10, kind)
        yield label(left + 17, y, said, kind="dim")
        left += 34 + 6.8 * len(said)
    yield mark("accident", left + 6, y - 4)
    yield label(left + 17, y, "accident", kind="dim")


# --- The waits over the days ----------------------------------------------------------------------


def waits_plot(waits: Sequence[Waited], days: Sequence[tuple[date, int]]) -> Html:
    """Return each wait by day as a mark, beside the interval of its day as a line.

    ``days`` are the dates with the interval (minutes) at their end.
    """
    longest = max((wait.minutes for wait in waits), default=0)
    top = max(60, -(-max(longest, *(interval for _, interval in days)) // 60) * 60)
    wide = (_EDGE - _LEFT) / len(days)
    places = {day: _LEFT + wide * place for place, (day, _) in enumerate(days)}

    def y(minutes: float) -> float:
        return _FLOOR - (_FLOOR - _CEILING) * minutes / top

    parts = []
    for minutes in range(0, top + 1, 60 if top <= 480 else 120):
        parts.append(line(_LEFT, y(minutes), _EDGE, y(minutes), "grid"))
        words = span_words(minutes) if minutes else "0"
        parts.append(label(_LEFT - 6, y(minutes) + 4, words, "end", "dim"))
    every = max(1, -(-len(days) // _LABELS))
    for place, (day, interval) in enumerate(days):
        left = places[day]
        if interval:
            parts.append(path([(left, y(interval)), (left + wide, y(interval))], "line"))
        if place % every == 0:
            words = f"{day.day} {day:%b}"
            parts.append(label(left + wide / 2, _FLOOR + 18, words, "middle", "dim"))
    for wait in sorted(waits, key=lambda wait: wait.indoors):
        x = places[wait.date] + wide * (0.1 + 0.8 * wait.share)
        if wait.indoors:
            parts.append(mark("accident", x, y(wait.minutes)))
        else:
            parts.append(f'<circle cx="{x:.1f}" cy="{y(wait.minutes):.1f}" r="2.4" class="dot"/>')
    parts += _waits_legend(told=any(interval for _, interval in days))
    ended = sum(wait.indoors for wait in waits)
    dry = max((wait.minutes for wait in waits if not wait.indoors), default=0)
    said = (
        f"{count_words(len(waits), 'wait')} by day, {ended} of them ended indoors; the longest "
        f"that ended outside is {span_words(dry) if dry else 'none'}."
    )
    return svg("waits", "Each wait over the days", said, (_WIDE, _HIGH), parts)


def _waits_legend(*, told: bool) -> Iterator[str]:
    y = _FLOOR + 46
    yield f'<circle cx="{_LEFT + 6}" cy="{y - 4}" r="2.4" class="dot"/>'
    yield label(_LEFT + 14, y, "ended outside", kind="dim")
    yield mark("accident", _LEFT + 120, y - 4)
    yield label(_LEFT + 131, y, "ended indoors", kind="dim")
    if told:
        yield line(_LEFT + 232, y - 4, _LEFT + 256, y - 4, "line")
        yield label(_LEFT + 262, y, "interval", kind="dim")
