"""The days away as lanes side by side: who is away, when the dog is alone, what is planned for it.

Each day is a field of equally many cells; a lane runs through all of them. What a cell holds is
told by its glyph; two or more marks that fall into one cell become their number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, time, timedelta
from typing import Final

from pottyboard.board.text.glyphs import GlyphSet, kind_glyph, sign
from pottyboard.board.text.inked import Row, Run
from pottyboard.board.text.safe_text import padded
from pottyboard.board.widgets.plot import labels, place
from pottyboard.core.away.schedule import Away, AwayDay, money_words
from pottyboard.core.model.events import KINDS
from pottyboard.core.model.settings import Settings

LEFT: Final = 8
"""Cells of the name before a lane."""

_HOURS_FROM: Final = 14
"""Cells of a day from which on its hours are written over it."""


def week(
    days: Sequence[AwayDay], settings: Settings, width: int, glyphs: GlyphSet
) -> Iterator[Row]:
    """Yield the lanes of ``days`` for ``width`` cells, each as pieces of one ink."""
    drawing = _Week(days, settings, max(4, (width - LEFT) // len(days) - 1), glyphs)
    visit, meal = (kind_glyph(KINDS[kind], glyphs) for kind in ("visit", "meal"))
    yield drawing.row("", [f"{day.date:%a} {day.date.day}" for day in days], "heading")
    if drawing.cells >= _HOURS_FROM:
        yield drawing.row("", [drawing.hours()] * len(days), "dim")
    for index, person in enumerate(days[0].people):
        away = (drawing.filled(day, day.people[index].away, "away") for day in days)
        yield drawing.row(person.name or "people", away, "away")
    yield drawing.row("alone", (drawing.filled(d, d.alone, "alone") for d in days), "alone")
    yield drawing.row(
        "visits", (drawing.marked(d, (v.at for v in d.visits), visit) for d in days), "visit"
    )
    yield drawing.row(
        "breaks",
        (drawing.marked(d, (b.at for b in d.breaks), sign("break", glyphs)) for d in days),
        "words",
    )
    yield drawing.row(
        "meals", (drawing.marked(d, (m.at for m in d.meals), meal) for d in days), "words"
    )
    yield drawing.row("covered", (_kept(day, glyphs) for day in days), "words")
    yield drawing.row(
        "cost", (money_words(day.cost) if day.visits else "" for day in days), "words"
    )


def legend(glyphs: GlyphSet) -> str:
    """Return what the glyphs of the lanes mean."""
    visit, meal = (kind_glyph(KINDS[kind], glyphs) for kind in ("visit", "meal"))
    return (
        f"{sign('away', glyphs)} away, {sign('alone', glyphs)} alone, {visit} visit, "
        f"{sign('break', glyphs)} break, {meal} meal; a digit: that many at about the same time"
    )


def _kept(day: AwayDay, glyphs: GlyphSet) -> str:
    """Return in a word whether every gap of a day to come is kept."""
    if not day.alone:
        return "home"
    if day.over:
        return "over"
    return "yes" if day.covered else f"{sign('problem', glyphs)} no"


class _Week:
    """Cells of the same length in every day, from the earliest morning to the latest bedtime."""

    def __init__(
        self, days: Sequence[AwayDay], settings: Settings, cells: int, glyphs: GlyphSet
    ) -> None:
        self.cells = cells
        self._settings = settings
        self._wall = sign("wall", glyphs)
        self._glyphs: GlyphSet = glyphs
        marks = [(self._clock(day, day.up), self._clock(day, day.bed)) for day in days]
        starts = [self._clock(day, away.start) for day in days for away in day.alone]
        self._x = (
            float(min([up for up, _ in marks] + starts) // 60 * 60),
            float(-(-max(bed for _, bed in marks) // 60) * 60),
        )

    def _clock(self, day: AwayDay, at: datetime) -> int:
        """Return the minutes of the local clock since the midnight that began ``day``."""
        wall = at.astimezone(self._settings.zone).replace(tzinfo=None)
        return int((wall - datetime.combine(day.date, time())) / timedelta(minutes=1))

    def row(self, name: str, fields: Iterable[str], ink: str) -> Row:
        """Return one lane: its name, then a field for each day."""
        runs: list[Run] = [(f"{padded(name, LEFT - 1)} ", "dim")]
        for text in fields:
            runs += [(self._wall, "dim"), (f"{text:{self.cells}}"[: self.cells], ink)]
        return tuple(runs)

    def hours(self) -> str:
        """Return some hours at their places."""
        step = 4 if self.cells < 2 * _HOURS_FROM else 2
        first, last = (int(end) // 60 for end in self._x)
        hours = (hour for hour in range(first + 1, last) if hour % step == 0)
        texts = ((self._cell(60 * hour), f"{hour % 24}") for hour in hours)
        return labels(texts, self.cells)

    def filled(self, day: AwayDay, spans: Iterable[Away], name: str) -> str:
        """Return a field with ``spans`` filled; each takes at least one cell."""
        row = [" "] * self.cells
        for span in spans:
            start, end = (self._clock(day, at) for at in (span.start, span.end))
            first, last = self._cell(start), self._cell(end - 1)
            row[first : last + 1] = sign(name, self._glyphs) * (last - first + 1)
        return "".join(row)

    def marked(self, day: AwayDay, instants: Iterable[datetime], mark: str) -> str:
        """Return a field with a mark at each instant, or the number of those in one cell."""
        found = [0] * self.cells
        for at in instants:
            found[self._cell(self._clock(day, at))] += 1
        return "".join(" " if not n else mark if n == 1 else f"{min(n, 9)}" for n in found)

    def _cell(self, clock: float) -> int:
        return place(clock, self._x, self.cells)
