"""The Hold screen: how long this dog can wait, what that rests on, and how it has moved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain
from textwrap import wrap
from typing import ClassVar, Final

from textual import events
from textual.binding import BindingType
from textual.content import Content

from pottyboard.board.screens.base import UNDO, UNDO_KEY, UNDOES, PageScreen, closing
from pottyboard.board.text.glyphs import GlyphSet, kind_glyph, sign
from pottyboard.board.text.inked import TEXT, Row, inked
from pottyboard.board.widgets.key_line import Key
from pottyboard.board.widgets.plot import Plot, bar, floor, labels, marks, place, sample
from pottyboard.core.model.events import KINDS
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.view.hold_report import hold_report
from pottyboard.core.view.levels import level_meaning
from pottyboard.core.view.situation_views import DRY_OF_100, FixedCall, HoldDay, HoldReport

LEAST_WIDTH: Final = 57
"""Cells under which the page no longer fits."""

_MOST_WIDTH: Final = 147
"""Further apart, a bar and its numbers are hard to follow across."""

_LEFT: Final = 8
_RIGHT: Final = 25
_NUMBER: Final = 8
_LEAST_ROWS, _MOST_ROWS = 8, 34
_DAYS_IN_VIEW: Final = 14
_FINE_FROM: Final = 12
_STEPS: Final = (60, 120, 240)
_TICK_ROOM: Final = 5

_STYLES: Final = {
    **TEXT,
    "estimate": "bold",
    "log": "$text-accent",
    "prior": "dim",
    "limit": "$text-warning",
    "interval": "$text-primary",
    "accident": "bold $text-error",
    "dry": "$text-success",
}
"""How each ink looks; every one of them has its own pen or mark as well."""


class HoldScreen(PageScreen[None]):
    """One page that scrolls; a digit turns one of the calls that it lists."""

    BINDINGS: ClassVar[list[BindingType]] = [UNDO, closing("hold")]

    def look(self) -> None:
        """Study the log."""
        log = self.entries
        self._report = hold_report(log.settings, log.events, self.situation.now)
        self._levels = level_meaning(log.settings, log.events, self.situation.now).sentences

    def ends(self) -> tuple[str, ...]:
        """Return the dog and the day."""
        day = f"day {self.situation.day}"
        return self.titled("how long the dog can wait"), day, self.titled("how long")

    def page(self, width: int, height: int) -> Content:
        """Return the report in curves, bars and words."""
        now = self.situation
        every, told = now.interval.minutes, (now.calls, self._levels)
        return inked(rows(self._report, every, width, height, self.glyphs, *told), _STYLES)

    def hints(self) -> Iterator[Key]:
        """Yield the ways on."""
        yield Key(self.arrows("up", "down"), "scroll")
        if calls := self.situation.calls:
            yield Key("1" if len(calls) == 1 else f"1-{len(calls)}", "what calls")
            yield UNDO_KEY

    def on_key(self, event: events.Key) -> None:
        """Ask a call back by its digit, or drop it again."""
        calls = {str(number): call for number, call in enumerate(self.situation.calls, 1)}
        if event.character in calls:
            event.stop()
            self.change(lambda: self._turn(calls[event.character or ""]))

    def _turn(self, call: FixedCall) -> str:
        self.entries.begin(self.entries.make("routine", measure=call.measure))
        return f"From now on: {call.change}. {UNDOES}"


# --- The page ------------------------------------------------------------------------------------


def rows(
    study: HoldReport,
    interval: int,
    width: int,
    height: int,
    glyphs: GlyphSet,
    calls: Sequence[FixedCall] = (),
    levels: Sequence[str] = (),
) -> tuple[Row, ...]:
    """Return the rows of the page, each as pieces of one ink; ``calls`` are what calls a break,
    ``levels`` the sentences that say what each level means."""
    width = min(_MOST_WIDTH, max(LEAST_WIDTH, width))
    drawing = _Drawing(study, interval, width - _LEFT - _RIGHT, glyphs)
    airy = height >= 30
    gap: tuple[Row, ...] = ((),) if airy else ()
    told = (*_paragraph(_lead(study), "lead", width), *_paragraph(_why(study), "", width))
    said = (study.estimate.proof, study.estimate.night)
    proof = tuple(row for words in said if words for row in _paragraph(words, "dim", width))
    calling = (*_levels(levels, width), *_calls(calls, width))
    days = min(len(study.days), _DAYS_IN_VIEW)
    others = len((*told, *proof, *calling)) + 7 + 3 * len(gap) + days
    tall = min(_MOST_ROWS, max(_LEAST_ROWS, height - others))
    return (
        *told,
        *gap,
        (("Of 100 waits, how many are dry so long after a pee", "heading"),),
        *drawing.curves(tall),
        *drawing.seen(),
        *proof,
        *(gap if calling else ()),
        *calling,
        *gap,
        *drawing.days(),
    )


def _lead(study: HoldReport) -> str:
    """Return what is believed, from how much."""
    words = study.estimate.words
    return f"{words[:1].upper()}{words[1:]}."


def _why(study: HoldReport) -> str:
    """Return what that means for the breaks."""
    if study.estimate.knows:
        return study.calling
    return f"{study.calling} The curve is little more than what is usual for a dog of this size."


def _levels(levels: Sequence[str], width: int) -> Iterator[Row]:
    if levels:
        yield (("How careful", "heading"),)
    for words in levels:
        yield from _paragraph(words, "", width)


def _calls(calls: Sequence[FixedCall], width: int) -> Iterator[Row]:
    """Yield what of the first days still calls a break and what does not, each with its digit."""
    if not calls:
        return
    yield (("What calls a break now; a digit changes it", "heading"),)
    for number, call in enumerate(calls, 1):
        change = f"Change to: {call.change}."
        for line in wrap(f"{number} {call.words} {change}", width, subsequent_indent="  "):
            yield ((line, ""),)


def _paragraph(text: str, ink: str, width: int) -> Iterator[Row]:
    for line in wrap(text, width):
        yield ((line, ink),)


class _Drawing:
    """The parts of the page that share the axis of time, ``width`` cells long."""

    def __init__(self, study: HoldReport, interval: int, width: int, glyphs: GlyphSet) -> None:
        self._study, self._interval = study, interval
        self._width = width
        self._glyphs: GlyphSet = glyphs
        self._x = (float(study.minutes[0]), float(study.minutes[-1]))

    def curves(self, tall: int) -> Iterator[Row]:
        """Yield the plot, ``tall`` rows, with its legend and the axis of time under it."""
        study, legend = self._study, self._legend()
        plot = Plot(self._x, (0, 100), self._width, tall, self._glyphs)
        plot.upright(self._interval, "interval")
        plot.level(100 * (1 - study.limit), "limit")
        plot.curve(self._points(study.prior), "dotted", "prior")
        plot.curve(self._points(study.posterior), "thin", "estimate")
        plot.curve(self._points(study.log), "thick", "log", stepped=True)
        step = 25 if tall >= _FINE_FROM else 50
        names = {plot.row_of(share): f"{share}" for share in range(0, 101, step)}
        for number, row in enumerate(plot.rows()):
            yield self._row(names.get(number, ""), row, next(legend, ()))
        ticks = list(self._ticks())
        margin = " " * (_LEFT - 1)
        columns = [column for column, _ in ticks]
        line = sign("corner", self._glyphs) + floor(columns, self._width, self._glyphs)
        yield ((margin + line, "dim"),)
        texts = ((_LEFT + column, text) for column, text in ticks)
        yield ((labels(texts, _LEFT + self._width + _RIGHT), "dim"),)

    def _points(self, shares: tuple[float | None, ...]) -> list[tuple[float, float | None]]:
        return [
            (minutes, None if share is None else 100 * share)
            for minutes, share in zip(self._study.minutes, shares, strict=True)
        ]

    def _legend(self) -> Iterator[Row]:
        """Yield what each line is."""
        glyphs, limit = self._glyphs, 100 * (1 - self._study.limit)
        yield ((sample("thin", glyphs), "estimate"), (" best guess", "estimate"))
        if any(share is not None for share in self._study.log):
            yield ((sample("thick", glyphs), "log"), (" the log only", "words"))
        yield ((sample("dotted", glyphs), "prior"), (" dogs this size", "dim"))
        yield ((3 * sign("level", glyphs), "limit"), (f" your limit: {limit:.3g} dry", "words"))
        yield (
            (f" {sign('upright', glyphs)} ", "interval"),
            (f" interval now {span_words(self._interval)}", "words"),
        )

    def _ticks(self) -> Iterator[tuple[int, str]]:
        """Yield the column and the text of each label of the axis, as dense as they fit."""
        last = self._x[1]
        room = self._width / _TICK_ROOM
        step = next((step for step in _STEPS if last / step <= room), _STEPS[-1])
        for minutes in range(0, int(last) + 1, step):
            text = span_words(minutes) if minutes else "0"
            yield place(minutes, self._x, self._width), text

    def seen(self) -> Iterator[Row]:
        """Yield a row with every accident, and one with the longest dry holds."""
        study = self._study
        accident, dry = (kind_glyph(KINDS[kind], self._glyphs) for kind in ("pee-inside", "pee"))
        number = count_words(len(study.accidents), "accident") if study.accidents else "none so far"
        row = marks(study.accidents, accident, self._x, self._width)
        yield self._row("indoors", ((row, "accident"),), ((f"{accident} {number}", "words"),), "")
        if study.longest:
            row = marks(study.longest, dry, self._x, self._width)
            longest = f"{dry} longest {span_words(study.longest[0])}"
            yield self._row("dry", ((row, "dry"),), ((longest, "words"),), "")

    def days(self) -> Iterator[Row]:
        """Yield a bar for each day, the newest first, under a heading."""
        heading = "Day by day: by when, of 100 waits"
        numbers = "".join(f"{f'{dry} dry':>{_NUMBER}}" for dry in DRY_OF_100)
        room = _LEFT + self._width + 1
        yield ((f"{heading:{room}}"[:room], "heading"), (numbers, "heading"))
        for day in reversed(self._study.days):
            yield self._day(day)

    def _day(self, day: HoldDay) -> Row:
        if not day.knows:
            words = f"{'too few waits':>{len(DRY_OF_100) * _NUMBER}}"
            return self._row(f"day {day.number}", ((" " * self._width, ""),), ((words, "dim"),), "")
        drawn, most = bar(*day.dry_until, self._x, self._width, self._glyphs), self._study.told_to
        numbers = (
            span_words(minutes) if minutes <= most else f"{span_words(most)}+"
            for minutes in day.dry_until
        )
        text = "".join(f"{number:>{_NUMBER}}" for number in numbers)
        return self._row(f"day {day.number}", ((drawn, "estimate"),), ((text, "words"),), "")

    def _row(self, name: str, drawn: Row, beside: Row, wall: str = "wall") -> Row:
        """Return a row of the page: a name, what is drawn, and what it is."""
        edge = sign(wall, self._glyphs) if wall else " "
        return tuple(chain(((f"{name:>{_LEFT - 1}}{edge}", "dim"),), drawn, ((" ", ""),), beside))
