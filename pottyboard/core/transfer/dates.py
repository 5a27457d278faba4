"""Dates and clock times as people write them in a table, and in which order day and month stand."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import Final, NamedTuple

from pottyboard.core.transfer.incoming import CellError
from pottyboard.core.written.clocks import read_clock
from pottyboard.core.written.dates import Order, date_written
from pottyboard.core.written.text import AmbiguousError, TimeError, tidy
from pottyboard.core.written.weekdays import weekday_named

ORDERS: Final[tuple[Order, ...]] = ("day-first", "month-first")

_NUMBERS: Final = re.compile(r"(\d{1,2})([-/.])(\d{1,2})(?:[-/.](\d{4}|\d{2})?)?")
_WEEKDAY: Final = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[,.]?\s+", re.IGNORECASE)
_CLOCK_SHAPED: Final = re.compile(
    r"\d{1,2}[:.h]\d{2}(?:[:.]\d{2}(?:\.\d+)?)?|\d{4}|\d{1,2}(?:[:.]?\d{2})?\s*[ap]\.?\s?m\.?|noon",
    re.IGNORECASE,
)
_DAY_FIRST_DAYS: Final = ("yesterday", "today", "tomorrow")
_OFFSET: Final = re.compile(r"\d(?:Z|[+-]\d{2}:?\d{2})$")


class Dates(NamedTuple):
    """The local dates that an entry may have: from the arrival to today."""

    first: date
    last: date

    def __contains__(self, day: object) -> bool:
        """Whether a date lies within."""
        return isinstance(day, date) and self.first <= day <= self.last


def clock_in(text: str) -> time:
    """Read a clock time, with seconds or without; raise :class:`CellError`."""
    try:
        return read_clock(text)
    except AmbiguousError as error:
        raise CellError(_words(error)) from None
    except TimeError:
        raise CellError("no clock time: write hours and minutes, such as 19:20") from None


def is_clock_shaped(text: str) -> bool:
    """Whether a cell is a clock time by its looks: a number alone may be anything."""
    return _CLOCK_SHAPED.fullmatch(tidy(text)) is not None


def _words(error: TimeError) -> str:
    """Return what an error says after the text, which its place in the table already shows."""
    return str(error).rpartition("” ")[2] or str(error)


def split(text: str) -> tuple[str, str]:
    """Return date and clock time out of one cell; raise :class:`CellError` if it lacks one.

    Either comes first. Where day and month could change places, that is asked of the date alone.
    """
    words = tidy(text).replace(",", " ").split()
    if words and (stuck := re.fullmatch(r"(\S*\d)[Tt](\d\S*)", words[0])):
        words[:1] = stuck.groups()
    cuts = [(" ".join(words[:cut]), " ".join(words[cut:])) for cut in range(1, len(words))]
    found = [
        (day, clock)
        for day, clock in (*cuts, *((after, before) for before, after in cuts))
        if _has_date(day) and _has_clock(clock)
    ]
    if not found:
        raise CellError("no date with a time: write such as 2026-03-02 10:05")
    if len(found) > 1:
        raise CellError("could be two times: write such as 2026-03-02 10:05")
    return found[0]


def _has_date(text: str) -> bool:
    bare = _WEEKDAY.sub("", text)
    return date_written(bare, "day-first") is not None or _is_near(text)


def _is_near(text: str) -> bool:
    return text.lower() in _DAY_FIRST_DAYS or weekday_named(text) is not None


def _has_clock(text: str) -> bool:
    try:
        read_clock(text)
    except TimeError:
        return False
    return True


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
    if _is_near(text):
        return _near_day(text, span)
    parts = date_written(_WEEKDAY.sub("", text.strip()), order)
    if parts is None:
        raise CellError("no date: write such as 2026-03-02")
    year, month, day = parts
    try:
        if year is not None:
            return date(year, month, day)
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


def _near_day(text: str, span: Dates) -> date:
    """Return the one date of the log on a day of the week; raise :class:`CellError` otherwise."""
    number = weekday_named(text)
    if number is None:
        raise CellError(f"{text.lower()} is of no known day in a table: write such as 2026-03-02")
    days = (span.first + timedelta(days=n) for n in range((span.last - span.first).days + 1))
    found = [day for day in days if day.isoweekday() == number]
    if len(found) != 1:
        examples = " or ".join(f"{day}" for day in found[-2:])
        raise CellError(f"write the date{f', such as {examples}' if examples else ''}")
    return found[0]


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
