"""Dates, and dates with a time, as people write them.

``3/4/2026`` may be 3 April or 4 March: it is refused with both, unless the writer's order of day
and month is known. A date with dots has the day first (common practice, no source).
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import Final, Literal, NamedTuple

from pottyboard.core.written.clocks import CLOCK, read_clock
from pottyboard.core.written.text import AmbiguousError, TimeError, quoted, tidy
from pottyboard.core.written.weekdays import DAY, weekday_named

Order = Literal["day-first", "month-first"]
Facing = Literal["past", "near", "coming"]
"""Which day a weekday means: the last one, either (then it is refused), or the next one."""

FIRST_YEAR: Final = 1900
LAST_YEAR: Final = 2999
"""Years that an instant of ours can have: far beyond them a day more leads out of all time."""

_ANY: Final = re.IGNORECASE | re.ASCII
MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
_MONTH: Final = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?"
    r"|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
)
_NTH: Final = r"\d{1,2}(?:st|nd|rd|th)?"
_YEAR: Final = r"(?:\d{4}|['’]?\d{2})"
_ISO: Final = r"\d{4}([-/.])\d{1,2}\1\d{1,2}"
_NUMBERS: Final = re.compile(r"(\d{1,2})\s?([-/.])\s?(\d{1,2})(?:\s?[-/.]\s?(\d{4}|\d{2})?)?", _ANY)
_DAY_MONTH: Final = re.compile(rf"({_NTH})[\s.-]*(?:of\s)?({_MONTH})(?:,?[\s-]*({_YEAR}))?", _ANY)
_MONTH_DAY: Final = re.compile(rf"({_MONTH})[\s-]*({_NTH})(?:(?:,\s?|[\s-])({_YEAR}))?", _ANY)
_WEEKDAY: Final = re.compile(rf"({DAY})\.?,?\s+(?=\S)", _ANY)
_NEAR: Final = {"the day before yesterday": -2, "yesterday": -1, "today": 0, "tomorrow": 1}
_DAYS_AGO: Final = re.compile(r"(\d{1,3}) days? ago", _ANY)
_ISO_DAY: Final = re.compile(r"(\d{4})-?(\d{2})-?(\d{2})", re.ASCII)
_OFFSET: Final = re.compile(r"\d{4}-?(?:\d{2}|W\d{2}).*(?:Z|[+-]\d{2}:?\d{2})", _ANY)

_A_DATE: Final = (
    rf"(?:(?:{DAY}\.?,?\s+)?(?:\d{{4}}-\d{{1,2}}-\d{{1,2}}|\d{{1,2}}[./-]\d{{1,2}}[./-]\d{{2,4}}"
    rf"|{_NTH}[\s.-]?(?:of\s)?{_MONTH}(?:,?\s\d{{4}})?|{_MONTH}\s?{_NTH}(?:,?\s\d{{4}})?)"
    rf"|the\sday\sbefore\syesterday|yesterday|today|(?:last\s)?{DAY})"
)
LEADING: Final = re.compile(
    rf"(?:at\s+|on\s+)?(?:(?P<day>{_A_DATE})(?:\s+at\s|[\s,T]\s*))?(?P<clock>{CLOCK})", _ANY
)
"""A time at the beginning of a text, with its day or without."""


class WrittenDate(NamedTuple):
    """A date as it was written: without a year where none was."""

    year: int | None
    month: int
    day: int


def date_written(text: str, order: Order | None = None) -> WrittenDate | None:
    """Return the date that a text writes in digits or with a month's name, None if it has no such
    shape; that there is such a day is not checked.

    Raises :class:`TimeError` where day and month could change places and no ``order`` is given.
    """
    said = tidy(text)
    if re.fullmatch(_ISO, said, _ANY):
        year, month, day = (int(part) for part in re.split(r"[-/.]", said))
        return WrittenDate(year, month, day)
    if re.fullmatch(r"(?:19|20)\d{6}", said, re.ASCII):
        return WrittenDate(int(said[:4]), int(said[4:6]), int(said[6:]))
    if numbers := _NUMBERS.fullmatch(said):
        first, second = int(numbers[1]), int(numbers[3])
        return WrittenDate(
            _year(numbers[4]), *_month_and_day(text, first, second, numbers[2], order, numbers[4])
        )
    if named := _DAY_MONTH.fullmatch(said):
        return WrittenDate(_year(named[3]), _month(named[2]), _number(named[1]))
    if named := _MONTH_DAY.fullmatch(said):
        return WrittenDate(_year(named[3]), _month(named[1]), _number(named[2]))
    return None


def _month_and_day(
    text: str, first: int, second: int, mark: str, order: Order | None, year: str | None
) -> tuple[int, int]:
    if order is None and mark != "." and first != second and max(first, second) <= 12:
        of_year = f" {_year(year)}" if year else ""
        one, other = (
            f"{day} {MONTHS[month - 1][:3]}{of_year}"
            for day, month in ((first, second), (second, first))
        )
        raise AmbiguousError(f"{quoted(text)} could be two days: write {one} or {other}")
    month_first = order == "month-first" or (order is None and first <= 12 < second and mark != ".")
    return (first, second) if month_first else (second, first)


def _year(text: str | None) -> int | None:
    if not text:
        return None
    number = int(text.lstrip("'’"))
    return number + 2000 * (number < 100)


def _month(name: str) -> int:
    return next(n for n, month in enumerate(MONTHS, 1) if month[:3].lower() == name[:3].lower())


def _number(text: str) -> int:
    return int(re.match(r"\d+", text)[0])  # type: ignore[index]


def read_day(text: str, today: date, facing: Facing = "near") -> date:
    """Read a date, ``today``, ``yesterday``, ``tomorrow`` or a day of the week.

    A date without a year is the nearest one. Raises :class:`TimeError`, also for a date that is not
    on the day of the week beside it.
    """
    found = _day(text, today, facing)
    if found is None:
        raise TimeError(
            f"{quoted(text)} is not a day: write 27 Nov, 2026-11-27, yesterday or a weekday"
        )
    return found


def is_day(text: str) -> bool:
    """Whether a text has the shape of a day, though perhaps of none that there is."""
    try:
        return _day(text, date(2024, 1, 1), "past") is not None
    except TimeError:
        return True


def _day(text: str, today: date, facing: Facing) -> date | None:
    """Return the day that is written, None for a text of another shape."""
    said = tidy(text).strip(" ,").lower()
    try:
        if said in _NEAR:
            return today + timedelta(days=_NEAR[said])
        if ago := _DAYS_AGO.fullmatch(said):
            return today - timedelta(days=int(ago[1]))
        if (found := _weekday(text, said, today, facing)) is not None:
            return found
        named = _WEEKDAY.match(said)
        written = date_written(said[named.end() :] if named else said)
        if written is None:
            return None
        day = _nearest(written, today)
    except OverflowError:
        day = None
    if day is None:
        raise _no_such_day(text)
    if named and weekday_named(named[1]) != day.isoweekday():
        raise TimeError(
            f"{quoted(text)}: {_plain(day)} {day.year} is a {day:%A}. Write the date without the "
            f"weekday"
        )
    return day


def _weekday(text: str, said: str, today: date, facing: Facing) -> date | None:
    last = said.startswith("last ")
    number = weekday_named(said.removeprefix("last "))
    if number is None:
        return None
    back = (today.isoweekday() - number) % 7
    if last:
        return today - timedelta(days=back or 7)
    before, after = today - timedelta(days=back), today + timedelta(days=(7 - back) % 7)
    if facing == "near" and back:
        raise AmbiguousError(
            f"{quoted(text)} could be two days: write {_plain(before)} or {_plain(after)}"
        )
    return after if facing == "coming" else before


def _plain(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def _nearest(written: WrittenDate, today: date) -> date | None:
    """Return the date, in the nearest year that has it where none is written."""
    years = [written.year] if written.year is not None else range(today.year - 4, today.year + 5)
    days = []
    for year in years:
        try:
            days.append(date(year, written.month, written.day))
        except ValueError:
            continue
    return min(days, key=lambda day: abs(day - today), default=None)


# --- A day with a time ----------------------------------------------------------------------------


def read_moment(text: str, today: date, facing: Facing = "past") -> datetime | time:
    """Read when something is: a clock time alone, or with its day, in either order.

    That is ``27 Nov 8am``, ``27.11.2026 8:00``, ``yesterday 22:40``, ``Fri 11:31``, or ISO 8601
    with an offset. The ``datetime`` is naive unless an offset was written.

    Raises :class:`TimeError`.
    """
    said = tidy(text)
    if _OFFSET.fullmatch(said):
        return _with_offset(said, text)
    said = re.sub(r"(?<=\d)[Tt](?=\d)", " ", said)
    words = said.replace(" at ", " ").replace(" on ", " ").split(" ")
    readings: list[datetime] = []
    for cut in range(1, len(words)):
        before, after = " ".join(words[:cut]), " ".join(words[cut:])
        for day_text, clock_text in ((before, after), (after, before)):
            found = _at(day_text, clock_text, today, facing)
            if found is not None and found not in readings:
                readings.append(found)
    if len(readings) > 1:
        forms = " or ".join(f"{_plain(each)} {each:%H:%M}" for each in readings[:2])
        raise AmbiguousError(f"{quoted(text)} could be two times: write {forms}")
    if readings:
        return readings[0]
    try:
        return read_clock(said)
    except AmbiguousError:
        raise
    except TimeError:
        pass
    day = _day(said, today, facing)
    if day is not None:
        raise TimeError(f"{quoted(text)} lacks the time: write {_plain(day)} 10:05")
    raise unreadable(text)


def _at(day_text: str, clock_text: str, today: date, facing: Facing) -> datetime | None:
    """Return a day with a time, None if one of the two is no such thing."""
    try:
        clock = read_clock(clock_text)
    except TimeError:
        return None
    day = _day(day_text, today, facing)
    if day is None:
        return None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise TimeError(f"{quoted(day_text)} is out of all range: write a day such as 27 Nov 2026")
    return datetime.combine(day, clock)


def _with_offset(said: str, text: str) -> datetime:
    try:
        found = datetime.fromisoformat(said.upper().replace(" ", "T", 1))
    except (ValueError, OverflowError):
        day = _ISO_DAY.match(said)
        if day is not None and _nearest(WrittenDate(*map(int, day.groups())), date.min) is None:
            raise _no_such_day(day[0]) from None
        raise unreadable(text) from None
    if found.tzinfo is None or not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise unreadable(text)
    return found


def _no_such_day(text: str) -> TimeError:
    """Return the error for a text that has the shape of a day, but of none that there is."""
    return TimeError(f"{quoted(text)}: there is no such day. Write one such as 27 Nov 2026")


def unreadable(text: str) -> TimeError:
    """Return the error for a text that is no time at all."""
    return TimeError(
        f"{quoted(text)} is not a time: write 10:05, “yesterday 10:05” or 2026-03-02 10:05"
    )
