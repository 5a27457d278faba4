"""Dates and clock times as people write them in a table, and in which order day and month stand."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, time
from typing import Final, Literal, NamedTuple

from pottyboard.core.model.localtime import TimeError, read_clock
from pottyboard.core.transfer.incoming import CellError

Order = Literal["day-first", "month-first"]
ORDERS: Final[tuple[Order, ...]] = ("day-first", "month-first")

_ISO: Final = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})")
_NUMBERS: Final = re.compile(r"(\d{1,2})([-/.])(\d{1,2})(?:[-/.](\d{4}|\d{2})?)?")
_WEEKDAY: Final = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[,.]?\s+", re.IGNORECASE)
_MONTHS: Final = (
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
)  # fmt: skip
_NAMED: Final = re.compile(
    r"(?:(\d{1,2})(?:st|nd|rd|th)?[\s.-]+([a-z]{3,9})|([a-z]{3,9})[\s.-]+(\d{1,2})(?:st|nd|rd|th)?)"
    r"\.?,?(?:[\s-]+(\d{4}|\d{2}))?",
    re.IGNORECASE,
)
_SECONDS: Final = re.compile(r"(\d{1,2}[:.]\d{2})[:.]\d{2}(?:\.\d+)?(\s*[ap].*)?", re.IGNORECASE)
_DATE_AND_CLOCK: Final = re.compile(r"(.*\S)(?:[ T,]\s*)(\d{1,2}(?:[:.h]\d{2}.*|\s*[ap]\.?m\.?))")
_OFFSET: Final = re.compile(r"\d(?:Z|[+-]\d{2}:?\d{2})$")


class Dates(NamedTuple):
    """The local dates that an entry may have: from the arrival to today."""

    first: date
    last: date

    def __contains__(self, day: object) -> bool:
        """Whether a date lies within."""
        return isinstance(day, date) and self.first <= day <= self.last


def clock_in(text: str) -> time:
    """Read ``7:05``, ``7.05``, ``19:20:00``, ``0705`` or ``7:05 pm``; raise :class:`CellError`."""
    text = text.strip()
    seconds = _SECONDS.fullmatch(text)
    try:
        return read_clock(seconds[1] + (seconds[2] or "") if seconds else text)
    except TimeError:
        raise CellError("no clock time: write hours and minutes, such as 19:20") from None


def split(text: str) -> tuple[str, str]:
    """Return date and clock time out of one cell; raise :class:`CellError` if it lacks one."""
    found = _DATE_AND_CLOCK.fullmatch(text.strip())
    if found is None:
        raise CellError("no date with a time: write such as 2026-03-02 10:05")
    return found[1], found[2]


def instant_in(text: str) -> datetime | None:
    """Return an instant that is written with its offset from UTC, None if it has none."""
    if not _OFFSET.search(text):
        return None
    try:
        return datetime.fromisoformat(text.strip().replace(" ", "T", 1))
    except ValueError:
        return None


def date_in(text: str, order: Order, span: Dates) -> date:
    """Read a date; without a year it is the one within ``span``. Raises :class:`CellError`."""
    parts = _parts(_WEEKDAY.sub("", text.strip()), order)
    if parts is None:
        raise CellError("no date: write such as 2026-03-02")
    year, month, day = parts
    try:
        if year is not None:
            return date(year + 2000 * (year < 100), month, day)
        years = range(span.last.year, span.first.year - 1, -1)
        fits = [found for each in years if (found := _on(each, month, day)) in span]
        return fits[0] if fits else date(span.last.year, month, day)
    except ValueError:
        other = next(each for each in ORDERS if each != order)
        swapped = year is None or month > 12 >= day
        hint = f", {order.replace('-', ' ')}: see --order {other}" if swapped else ""
        raise CellError(f"there is no such date{hint}") from None


def _on(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _parts(text: str, order: Order) -> tuple[int | None, int, int] | None:
    """Return year, month and day as numbers."""
    iso = _ISO.fullmatch(text)
    if iso:
        return int(iso[1]), int(iso[2]), int(iso[3])
    numbers = _NUMBERS.fullmatch(text)
    if numbers:
        first, second = int(numbers[1]), int(numbers[3])
        day, month = (first, second) if order == "day-first" else (second, first)
        return int(numbers[4]) if numbers[4] else None, month, day
    named = _NAMED.fullmatch(text)
    if named:
        name = (named[2] or named[3])[:3].casefold()
        if name in _MONTHS:
            year = int(named[5]) if named[5] else None
            return year, _MONTHS.index(name) + 1, int(named[1] or named[4])
    return None


def order_of(texts: Iterable[str], span: Dates) -> tuple[Order, str]:
    """Return whether day or month comes first in these dates, and what tells so (empty: nothing).

    Raises :class:`CellError` that names the option if both are possible.
    """
    cells = [_WEEKDAY.sub("", text.strip()) for text in texts]
    found = {cell: pair for cell in cells if (pair := _NUMBERS.fullmatch(cell))}
    if not found:
        return "day-first", ""
    too_large = {
        "day-first": [cell for cell, pair in found.items() if int(pair[3]) > 12],
        "month-first": [cell for cell, pair in found.items() if int(pair[1]) > 12],
    }
    day, month = (len(too_large[order]) for order in ORDERS)
    if day != month:
        order = ORDERS[day > month]
        return order, f"as in {too_large[ORDERS[day < month]][0]}"
    if day == month == 0:
        if all(pair[2] == "." for pair in found.values()):
            return "day-first", "written with dots"
        if all(pair[1] == pair[3] for pair in found.values()):
            return "day-first", ""
        fits = [order for order in ORDERS if all(_fits(cell, order, span) for cell in found)]
        if len(fits) == 1:
            return fits[0], "or some would be before the arrival or still to come"
    example = next((cell for cell, pair in found.items() if pair[1] != pair[3]), "")
    if day:
        example = too_large["day-first"][0]
        raise CellError(
            f"“{example}” has the month first and “{too_large['month-first'][0]}” the day: write "
            f"them alike, or say which is right with --order day-first or --order month-first"
        )
    read = (_read(example, order, span) for order in ORDERS)
    readings = " or ".join(f"{each.day} {each:%B}" for each in read if each is not None)
    raise CellError(
        f"“{example}” could be {readings}: say which with --order day-first or --order month-first"
    )


def _read(cell: str, order: Order, span: Dates) -> date | None:
    try:
        return date_in(cell, order, span)
    except CellError:
        return None


def _fits(cell: str, order: Order, span: Dates) -> bool:
    return _read(cell, order, span) in span
