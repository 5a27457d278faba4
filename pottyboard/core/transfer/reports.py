"""Visit reports: a helper's message as it comes, turned into entries with the helper as author.

    12:10 pee, 12:14 poop, water 200 ml, all calm

Commas, semicolons, new lines, full stops and "then" part it into bits. A bit is a time (which holds
for what follows), a kind of entry, and what else there is to say; a bit that is neither is kept as
a note in its own words. What cannot be read is named in place, and then there is no entry at all:
nothing is half saved.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Final

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import only_instant, read_when
from pottyboard.core.model.permitted import check_said
from pottyboard.core.model.printable import is_visible, shown_letters
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.report_words import KINDS_SHORT, Named, ReportError, named_in, note_of
from pottyboard.core.written.clocks import CLOCK, read_clock
from pottyboard.core.written.dates import LEADING, date_written, read_day
from pottyboard.core.written.text import TimeError


class ReportProblem(Struct, frozen=True):
    """A bit of the text that cannot be read: where (from 1), which, and what to write instead."""

    line: int
    column: int
    text: str
    words: str

    def __str__(self) -> str:
        """Return the message with its place."""
        shown = f"“{self.text}”: " if self.text else ""
        return f"line {self.line}, column {self.column}: {shown}{self.words}"


class Report(Struct, frozen=True):
    """What a message says: entries in its order, or the problems that keep all of it out."""

    entries: tuple[Event, ...] = ()
    problems: tuple[ReportProblem, ...] = ()


class _UntimedError(ReportError):
    """A bit before any time."""


class _Bit(Struct, frozen=True):
    """A part of the message between separators, and where it begins (both from 0)."""

    text: str
    line: int
    column: int


_SEPARATOR: Final = re.compile(r"(?<!\d),|,(?!\d)|[;\n\r\u2028\u2029]|\.\s|\bthen\b", re.IGNORECASE)
"""A comma between two digits is a decimal one."""
_LEADING: Final = " \t\u00a0•*-–—."
_GOES_ON: Final = re.compile(r"\d|[:.,/]\d")
_LIKE_A_TIME: Final = re.compile(r"\d{1,2}\s*(?:[:.h]\s*\d|[-–]|o['’]?clock)|\d", re.IGNORECASE)
_UNTIL: Final = re.compile(
    r"\s*(?:[-–&+]|\b(?:to|until|and)\b)\s*\d|\s+\d{1,2}[:.h]\d{2}", re.IGNORECASE
)
_NUMBER: Final = re.compile(r"\d{1,3}", re.ASCII)
_CLOCK: Final = re.compile(CLOCK, re.IGNORECASE | re.ASCII)
_AMOUNT: Final = re.compile(r"(?:ml|dl|l|g|litres?|liters?)\b", re.IGNORECASE)
_NEAR: Final = frozenset({"today", "yesterday"})
_A_COUNT: Final = 4
"""The largest number that may tell how often something came, and not when (our own choice)."""


def read_report(
    text: str,
    by: str,
    settings: Settings,
    now: datetime,
    *,
    day: date | None = None,
    at: datetime | None = None,
) -> Report:
    """Return what a helper's message says; ``now`` is aware.

    ``by`` becomes the author. ``day`` is the local date that clock times are of (by default the
    last 24 hours); ``at`` the time of what comes before any time in the text, such as the planned
    visit's. Never raises for any text.
    """
    reader = _Reader(by, settings, now, day, at)
    entries: list[Event] = []
    problems: list[ReportProblem] = []
    for bit in _bits(text):
        try:
            entries.extend(reader.read(bit.text))
        except (ReportError, EventError, TimeError) as error:
            if isinstance(error, _UntimedError) and problems:
                continue  # it had the time of the bit before, which cannot be read
            shown = "".join(shown_letters(bit.text))
            problems.append(ReportProblem(bit.line + 1, bit.column + 1, shown, _sentence(error)))
    if not entries and not problems:
        problems.append(
            ReportProblem(1, 1, "", "nothing to read: write such as 12:10 pee, 12:14 poop")
        )
    return Report((), tuple(problems)) if problems else Report(tuple(entries))


def _bits(text: str) -> Iterator[_Bit]:
    """Yield the parts of the message that hold anything, each from its first visible character."""
    line, line_start, start = 0, 0, 0
    cuts = [(found.start(), found.end()) for found in _SEPARATOR.finditer(text)]
    for cut, following in (*cuts, (len(text), len(text))):
        begin = start
        while begin < cut and (text[begin] in _LEADING or not is_visible(text[begin])):
            begin += 1
        if begin < cut:
            yield _Bit(text[begin:cut], line, begin - line_start)
        for index in range(cut, following):
            pair = text[index : index + 2] == "\r\n"
            if text[index] in "\n\r\u2028\u2029" and not pair:
                line, line_start = line + 1, index + 1
        start = following


def _sentence(error: ValueError) -> str:
    """Return a message without the text that its place already shows."""
    return str(error).rpartition("”: ")[2] or str(error)


class _Reader:
    """Reads bit after bit; the last time stays in force for what follows."""

    def __init__(
        self, by: str, settings: Settings, now: datetime, day: date | None, at: datetime | None
    ) -> None:
        self.by, self.settings, self.now, self.day, self.at = by, settings, now, day, at

    def read(self, text: str) -> list[Event]:
        """Return the entries of one bit; raise the errors that say what is wrong with it."""
        text = "".join(shown_letters(text))
        if self._take_day(text):
            return []
        rest = self._take_time(text)
        timed = rest != text
        words = rest.strip(" .!-–—")
        if not words:
            if timed:
                return []
            raise ReportError(f"cannot be read: write a time and {KINDS_SHORT}")
        named = named_in(words) or (note_of(words, timed=timed),)
        return [self._entry(each) for each in named]

    def _take_day(self, text: str) -> bool:
        """Take in a day that stands alone, for the times that follow."""
        said = text.strip(" :.,-–—")
        near = said.casefold() in _NEAR and self.at is None
        if not near and (_CLOCK.fullmatch(said) or not date_written(said, "day-first")):
            return False
        self.day = read_day(said, self.now.astimezone(self.settings.zone).date(), "past")
        return True

    def _take_time(self, text: str) -> str:
        """Take a leading time in, and return what follows it."""
        found = LEADING.match(text)
        if found is None or _GOES_ON.match(text, found.end()):
            if _LIKE_A_TIME.match(text):
                raise ReportError("write the time as hours and minutes, such as 12:10")
            return text
        rest, clock = text[found.end() :], found["clock"]
        if _UNTIL.match(rest):
            raise ReportError("write one time for each thing, such as 07:00 pee, 18:00 pee")
        rest = rest.lstrip(" :-–—")
        if not found["day"] and _NUMBER.fullmatch(clock):
            _check_number(clock, rest, said_at=text[:2].casefold() == "at")
        self.at = self._instant(found["day"], clock)
        return rest

    def _instant(self, day: str | None, clock: str) -> datetime:
        zone, clock_time = self.settings.zone, read_clock(clock)
        if day:
            at = read_when(f"{day} {clock}", self.now, zone)
        elif self.day is not None:
            at = only_instant(datetime.combine(self.day, clock_time), zone)
        else:
            at = read_when(clock, self.now, zone)
        if at > self.now + timedelta(minutes=1):
            raise ReportError("that time is still to come")
        if at < self.settings.dog.arrived - timedelta(minutes=1):
            raise ReportError("that is before the dog arrived")
        return at

    def _entry(self, named: Named) -> Event:
        if self.at is None:
            raise _UntimedError("when was that? Begin with a time, such as 12:10")
        if len(named.details.get("note", "")) > figures.REPORT_NOTE_MOST:
            most = f"{figures.REPORT_NOTE_MOST:g}"
            raise ReportError(f"too long for one note: at most {most} characters")
        zone = self.settings.home.zone
        event = Event(named.kind.code, self.at, by=self.by, zone=zone, **named.details)
        return check_said(event, self.settings.dog)


def _check_number(number: str, rest: str, *, said_at: bool) -> None:
    """Raise :class:`ReportError` unless a number before ``rest`` can only be the time of day."""
    kinds = named_in(rest) if rest else ()
    clock = f"{read_clock(number):%H:%M}"
    if len(number) == 3 and (
        _AMOUNT.match(rest) or any("ml" in each.kind.carries for each in kinds)
    ):
        raise ReportError(f"a time or an amount? Write {clock}, or the amount after the word")
    if said_at or (kinds and (len(number) == 3 or int(number) > _A_COUNT)):
        return
    raise ReportError(f"if that is a time, write {clock}; if it is how often, leave it out")
