"""The fortnight: fourteen days side by side, any of which can be opened."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby
from textwrap import wrap
from typing import ClassVar, Final

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.base import PageScreen, closing
from pottyboard.board.text.glyphs import VERDICTS, GlyphSet, kind_glyph, sign
from pottyboard.board.text.inked import TEXT, Row, Run, inked
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.board.widgets.key_line import Key
from pottyboard.board.widgets.plot import labels, place
from pottyboard.core.engine.stretches import SpanKind
from pottyboard.core.model.events import KINDS
from pottyboard.core.model.localtime import count_words, date_words, span_words
from pottyboard.core.review.fortnight import (
    DAYS,
    ROW,
    Fortnight,
    FortnightDay,
    Mark,
    MarkKind,
    fortnight,
)

LEAST_WIDTH: Final = 57
"""Cells under which the page no longer fits."""

_LEFT: Final = 8
_WIDE_FROM: Final = 96
"""Cells from which the interval is drawn as a line beside its number."""
_INTERVAL: Final = 10
_NARROW_RIGHT: Final = 20
_GUIDE_HOURS: Final = 6
_LABEL_ROOM: Final = 4
_STEPS: Final = (1, 2, 3, 6)
_SUM_FROM: Final = 21
"""Rows from which there is room for the accidents of all days in one line."""
_LONGEST: Final = 300
_KEPT: Final = "\N{NO-BREAK SPACE}"

_GRAVEST_FIRST: Final[tuple[MarkKind, ...]] = (
    "accident", "poop", "pee", "pad", "meal", "visit", "nothing",
)  # fmt: skip
_KINDS: Final[dict[MarkKind, str]] = {
    "accident": "pee-inside", "poop": "poop", "pee": "pee", "pad": "pad", "meal": "meal",
    "visit": "visit", "nothing": "nothing",
}  # fmt: skip
_WORDS: Final[dict[MarkKind, str]] = {
    "nothing": "nothing came",
    "poop": "poop",
    "pad": "on the pad",
}
_SUMS: Final[dict[MarkKind, str]] = {"accident": "indoors", "poop": "poop", "meal": "meals"}
"""What is added up under the days, and how that line is called."""
_BARS: Final = "▁▂▃▄▅▆▇█"
_MOVES_OVER: Final = frozenset({"meal", "visit"})
_FILLS: Final[dict[SpanKind, str]] = {"night": "asleep", "nap": "asleep", "alone": "alone"}
_STYLES: Final = {
    **TEXT,
    "chosen": "bold reverse",
    "accident": "bold $text-error",
    "poop": "$text-success",
    "pee": "$text-success",
    "pad": "",
    "meal": "bold $text-warning",
    "visit": "bold $text-accent",
    "nothing": "dim",
    "asleep": "dim",
    "alone": "$text-primary",
    "clear": "$text-success",
    "unknown": "dim",
    "open": "",
}
"""How each ink looks; whatever it says is said by a glyph or a word as well."""


class FortnightScreen(PageScreen[None]):
    """A row for each day, one of them chosen; enter opens it."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        closing("fortnight"),
        Binding("up", "move(-1)", "the day before", show=False),
        Binding("down", "move(1)", "the day after", show=False),
        Binding("pageup,left", "turn(-1)", "fourteen days earlier", show=False),
        Binding("pagedown,right", "turn(1)", "fourteen days later", show=False),
        Binding("home", "go(-1)", "the first day", show=False),
        Binding("end", "go(1)", "today", show=False),
        Binding("enter", "open", "open the day", show=False),
    ]

    def __init__(self, entries: Entries) -> None:
        """Look back over the log of ``entries``, from today."""
        self._last: date | None = None
        super().__init__(entries)
        self._chosen = self._view.days[-1].date

    def look(self) -> None:
        """Look back from today, or from the day that was turned to."""
        log, now = self.entries, self.situation.now
        self._view = fortnight(log.settings, log.events, now, self._last)

    def ends(self) -> tuple[str, ...]:
        """Return the dog and which days are shown."""
        days, title = self._view.days, self.titled("fortnight")
        numbers = f"days {days[0].summary.number} to {days[-1].summary.number}"
        left = f"{title} {sign('between', self.glyphs)} {numbers}"
        return left, date_words(days[0].date, days[-1].date), title

    def page(self, width: int, height: int) -> Content:
        """Return the days as rows of clock time."""
        return inked(rows(self._view, self._chosen, width, height, self.glyphs), _STYLES)

    def in_view(self) -> tuple[int, int]:
        """Return the row of the chosen day."""
        row = 1 + max(0, (self._chosen - self._view.days[0].date).days)
        return row, row

    def hints(self) -> Iterator[Key]:
        """Yield the ways to move."""
        yield Key(self.arrows("up", "down"), "choose a day")
        yield Key("enter", "open it", "screen.open")
        if self._view.has_earlier:
            yield Key("pageup", "earlier", "screen.turn(-1)")
        if self._view.has_later:
            yield Key("pagedown", "later", "screen.turn(1)")

    # --- Moving -----------------------------------------------------------------------------------

    def action_move(self, step: int) -> None:
        """Choose the day before or after; past the first or last row, the days move on."""
        self._choose(self._chosen + timedelta(days=step))

    def action_turn(self, step: int) -> None:
        """Go fourteen days back or on."""
        self._choose(self._chosen + timedelta(days=step * DAYS), step * DAYS)

    def action_go(self, end: int) -> None:
        """Go to the first day of the log, or to today."""
        self._choose(self._view.first if end < 0 else self._view.today)

    def _choose(self, day: date, turned: int = 0) -> None:
        view = self._view
        self._chosen = min(max(day, view.first), view.today)
        last = view.days[-1].date + timedelta(days=turned)
        if turned == 0 and self._chosen < view.days[0].date:
            last = self._chosen + timedelta(days=DAYS - 1)
        self._last = max(last, self._chosen)
        self.look()
        self.show()

    def action_open(self) -> None:
        """Open the chosen day."""
        from pottyboard.board.screens.past_day import PastDayScreen

        def closed(day: date | None) -> None:
            if day is not None:
                self._choose(day)

        self.app.push_screen(PastDayScreen(self.entries, self._chosen), closed)


# --- The page ------------------------------------------------------------------------------------


def rows(
    view: Fortnight, chosen: date, width: int, height: int, glyphs: GlyphSet
) -> tuple[Row, ...]:
    """Return the rows of the page: hours, one row a day, what it means, the ``chosen`` day."""
    width = max(LEAST_WIDTH, width)
    drawing = _Drawing(view, width, glyphs)
    legend = wrap(drawing.legend(), width)
    meaning = [((line.replace(_KEPT, " "), "dim"),) for line in legend]
    lines = [drawing.hours(), *(drawing.day(day, day.date == chosen) for day in view.days)]
    room = height - len(lines) - len(meaning)
    told = _told(_chosen(view, chosen), view, width, room)
    spare = room - len(told)
    sums = [drawing.total(kind) for kind in _SUMS] if height >= _SUM_FROM else []
    lines += sums[: max(0, spare)]
    gap: list[Row] = [()] if spare - len(sums) > 1 else []
    return (*lines, *gap, *meaning, *gap, *(((line, "lead"),) for line in told))


def _chosen(view: Fortnight, chosen: date) -> FortnightDay:
    return next((day for day in view.days if day.date == chosen), view.days[-1])


def _told(day: FortnightDay, view: Fortnight, width: int, room: int) -> list[str]:
    """Return the lines about one day: as much of it as fits into ``room`` of them, if any does."""
    lines: list[str] = []
    for words in day_words(day, view):
        lines = wrap(words, width)
        if len(lines) <= room:
            break
    return lines


def day_words(day: FortnightDay, view: Fortnight) -> tuple[str, ...]:
    """Return one day in a sentence, from the longest to the shortest.

    That is the verdict and why, and when and where it went indoors; the longest names the date,
    the interval and the clear days too.
    """
    summary = day.summary
    date = f"{summary.date:%a} {summary.date.day} {summary.date:%b}"
    times, places = (_indoors(day, view, places=places) for places in (False, True))
    state = f"a break every {span_words(summary.interval)}, {count_words(day.streak, 'clear day')}"
    number = f"day {summary.number}: {summary.words}"
    return tuple(
        one_line(words, _LONGEST)
        for words in (
            f"{date}, {number}{places}; {state} in a row.",
            f"{date}, {number}{places}.",
            f"{date}, {number}{times}.",
            f"{number.capitalize()}.",
        )
    )


def _indoors(day: FortnightDay, view: Fortnight, *, places: bool) -> str:
    if not day.indoors:
        return ""
    told = []
    for event in day.indoors:
        at = event.at.astimezone(view.settings.zone)
        later = " the next morning" if at.date() > day.date else ""
        place = one_line(event.place, NAME_WIDTH) if places else ""
        told.append(f"{at:%H:%M}{later}{' ' + place if place else ''}")
    return f" ({', '.join(told)})"


class _Drawing:
    """Rows that share the axis of clock time, from the left end of the fortnight's rows."""

    def __init__(self, view: Fortnight, width: int, glyphs: GlyphSet) -> None:
        self._view = view
        self._glyphs: GlyphSet = glyphs
        self._wide = width >= _WIDE_FROM
        right = _NARROW_RIGHT + (_INTERVAL + 9) * self._wide
        self._cells = width - _LEFT - right - 2
        self._wall = sign("wall", glyphs)

    def _cell(self, minute: float) -> int:
        return min(self._cells - 1, int(minute * self._cells / ROW))

    # --- The axis ---------------------------------------------------------------------------------

    def hours(self) -> Row:
        """Return the line of hours over the days, with what stands beside them."""
        room = self._cells / _LABEL_ROOM
        step = next((step for step in _STEPS if 24 / step <= room), _STEPS[-1])
        first = self._view.starts // 60
        hours = (hour for hour in range(first, first + 24) if hour % step == 0)
        texts = ((self._cell(60 * (hour - first)), f"{hour % 24:02}") for hour in hours)
        beside = f" {'every':{_INTERVAL + 9}}in a row" if self._wide else "apart row"
        return (
            (" " * (_LEFT + 1), ""),
            (labels(texts, self._cells), "heading"),
            (f"  {'the day':10}{beside}", "heading"),
        )

    def _guides(self) -> Iterator[int]:
        first = self._view.starts // 60
        for hour in range(first + 1, first + 24):
            if hour % _GUIDE_HOURS == 0:
                yield self._cell(60 * (hour - first))

    # --- One day ----------------------------------------------------------------------------------

    def day(self, day: FortnightDay, chosen: bool) -> Row:
        """Return the row of one day."""
        pointer = sign("chosen", self._glyphs) if chosen else " "
        name = f"{pointer}{day.date:%a} {day.date.day:2}"
        return (
            (name, "chosen" if chosen else "words"),
            (f" {self._wall}", "dim"),
            *_runs(self._drawn(day)),
            (f"{self._wall} ", "dim"),
            *self._beside(day),
        )

    def _drawn(self, day: FortnightDay) -> list[Run]:
        cells: list[Run] = [(" ", "")] * self._cells
        for at in self._guides():
            cells[at] = (sign("upright", self._glyphs), "dim")
        for span in day.spans:
            fill = _FILLS[span.kind]
            for at in range(self._cell(span.start), self._cell(span.end) + 1):
                cells[at] = (sign(fill, self._glyphs), fill)
        taken: set[int] = set()
        for mark in sorted(day.marks, key=lambda mark: _GRAVEST_FIRST.index(mark.kind)):
            free = self._free_cell(mark, taken)
            if free is not None:
                taken.add(free)
                cells[free] = (self._glyph(mark.kind), mark.kind)
        return cells

    def _free_cell(self, mark: Mark, taken: set[int]) -> int | None:
        """Return the cell of a mark, None where a graver one stands."""
        at = self._cell(mark.minute)
        if at not in taken:
            return at
        if mark.kind in _MOVES_OVER:
            within = mark.minute * self._cells / ROW - at
            beside = at + 1 if within >= 0.5 else at - 1
            if 0 <= beside < self._cells and beside not in taken:
                return beside
        return None

    def _glyph(self, kind: MarkKind) -> str:
        return kind_glyph(KINDS[_KINDS[kind]], self._glyphs)

    def _beside(self, day: FortnightDay) -> Iterator[Run]:
        """Yield the verdict, the interval (as a line where there is room) and the clear days."""
        summary = day.summary
        glyph, word = VERDICTS[summary.verdict]
        yield f"{sign(glyph, self._glyphs)} {word:9}", summary.verdict
        if self._wide:
            end = place(summary.interval, (0, self._view.top), _INTERVAL)
            line = sign("line", self._glyphs) * end + sign("to", self._glyphs)
            yield f"{line:{_INTERVAL}} ", "dim"
            yield f"{span_words(summary.interval):8}{day.streak or '-':>8}", "words"
        else:
            hours, minutes = divmod(summary.interval, 60)
            yield f"{hours}h{minutes:02}{day.streak or '-':>4}", "words"

    # --- Under the days ---------------------------------------------------------------------------

    def total(self, kind: MarkKind) -> Row:
        """Return a row with how many marks of a kind there are at each time of the clock.

        Accidents are numbers, the others bars that are in proportion to the tallest.
        """
        found = [0] * self._cells
        for day in self._view.days:
            for mark in day.marks:
                found[self._cell(mark.minute)] += mark.kind == kind
        bars = kind != "accident" and self._glyphs != "ascii"
        most = max(found) if bars else 0
        text = "".join(_bar(number, most) if number else " " for number in found)
        return (
            (f"{_SUMS[kind]:>{_LEFT - 1}} ", "heading"),
            (self._wall, "dim"),
            (text, kind),
            (f"{self._wall} ", "dim"),
            (f"{sum(found)} in all", "heading"),
        )

    def legend(self) -> str:
        """Return what the glyphs mean, those that occur; what belongs together is kept so."""
        seen = {mark.kind for day in self._view.days for mark in day.marks} | {"accident", "pee"}
        parts = [
            f"{self._glyph(kind)} {_WORDS.get(kind, kind)}"
            for kind in _GRAVEST_FIRST
            if kind in seen
        ]
        fills = {_FILLS[span.kind] for day in self._view.days for span in day.spans} | {"asleep"}
        parts += [f"{sign(fill, self._glyphs)} {fill}" for fill in sorted(fills, reverse=True)]
        return "  ".join(part.replace(" ", _KEPT) for part in parts)


def _bar(number: int, most: int) -> str:
    """Return a bar as high as ``number`` is beside ``most``; the number where that is 0."""
    return _BARS[-(-number * len(_BARS) // most) - 1] if most else f"{min(number, 9)}"


def _runs(cells: Sequence[Run]) -> Iterator[Run]:
    for ink, group in groupby(cells, key=lambda cell: cell[1]):
        yield "".join(text for text, _ in group), ink
