"""Local clock time and instants: the one room that knows about time zones.

Inside the core an instant is a ``float`` of minutes since 1970-01-01 00:00 UTC ("epoch minutes");
at the edges it is an aware ``datetime``. Clock changes follow RFC 5545 section 3.3.5: a local time
that occurs twice means the first one; a local time that is skipped is read with the offset in force
before the gap.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from typing import Final

import pendulum
from pendulum import Timezone
from pendulum.tz.exceptions import AmbiguousTime, NonExistingTime

Minutes = float
"""An instant in epoch minutes, or a length of time in minutes."""

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_CLOCK = re.compile(r"(\d{1,2})[:.h](\d{2})")
_TWELVE_HOURS = re.compile(r"(\d{1,2})(?:[:.](\d{2}))?\s*([ap])\.?\s?m\.?", re.IGNORECASE)
_BARE_CLOCK = re.compile(r"(\d{2})(\d{2})")
_DATED = re.compile(r"(\d{4})-(\d{2})-(\d{2})[T ]+(\d{1,2}):(\d{2})(?::\d{2}(?:\.\d+)?)?")
_OFFSET = re.compile(r"(?:Z|[+-]\d{2}:?\d{2})$")
_SPAN = re.compile(r"(?:(\d{1,3})\s*h)?\s*(?:(\d{1,4})\s*(?:m|min|minutes?)?)?", re.IGNORECASE)


WHEN: Final = "10:05, “yesterday 10:05” or “2026-03-02 10:05”"
"""How a time is written, for the help."""


class TimeError(ValueError):
    """A time that cannot be read, with a message that says what to write instead."""


@lru_cache(maxsize=64)
def zone_named(name: str) -> Timezone:
    """Return the IANA time zone ``name``; raise :class:`TimeError` with the nearest names."""
    try:
        return pendulum.timezone(name)
    except (ValueError, OSError):
        import difflib  # only to say what was meant: a start without a slip needs none of it

        near = difflib.get_close_matches(name, pendulum.timezones(), n=2, cutoff=0.5)
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        raise TimeError(
            f"“{name}” is not a time zone: write one such as Europe/Oslo.{hint}"
        ) from None


def minutes_of(instant: datetime) -> Minutes:
    """Return an aware ``datetime`` as epoch minutes; raise :class:`TimeError` if it is naive."""
    if instant.tzinfo is None:
        raise TimeError(f"the time {instant:%Y-%m-%d %H:%M} has no time zone: make it aware")
    return (instant - _EPOCH).total_seconds() / 60


def instant_of(minutes: Minutes) -> datetime:
    """Return epoch minutes as an aware UTC ``datetime``."""
    return _EPOCH + timedelta(minutes=minutes)


def local(minutes: Minutes, zone: Timezone) -> datetime:
    """Return epoch minutes as an aware ``datetime`` in ``zone``."""
    return datetime.fromtimestamp(minutes * 60, zone)


def at_clock(day: date, clock: time, zone: Timezone) -> Minutes:
    """Return the instant at which ``zone`` shows ``clock`` on ``day`` (RFC 5545 s3.3.5)."""
    wall = datetime.combine(day, clock, tzinfo=zone).replace(fold=0)
    return wall.timestamp() / 60


# --- Reading what people write -----------------------------------------------------------------


def read_clock(text: str) -> time:
    """Read a clock time such as ``7:05``, ``0705``, ``7.05 pm`` or ``7pm``.

    Raises :class:`TimeError`.
    """
    text = text.strip()
    twelve = _TWELVE_HOURS.fullmatch(text)
    if twelve and 1 <= int(twelve[1]) <= 12 and int(twelve[2] or 0) < 60:
        return time(int(twelve[1]) % 12 + 12 * (twelve[3] in "pP"), int(twelve[2] or 0))
    found = _CLOCK.fullmatch(text) or _BARE_CLOCK.fullmatch(text)
    if found:
        hour, minute = int(found[1]), int(found[2])
        if hour == 24 and minute == 0:
            return time(0, 0)
        if hour < 24 and minute < 60:
            return time(hour, minute)
    raise TimeError(f"“{text}” is not a clock time: write hours and minutes, such as 06:30")


def read_span(text: str) -> Minutes:
    """Read a length of time such as ``20``, ``45 min``, ``2h`` or ``1 h 30``, in minutes."""
    found = _SPAN.fullmatch(text.strip())
    if found and (found[1] or found[2]):
        return int(found[1] or 0) * 60 + int(found[2] or 0)
    raise TimeError(f"“{text}” is not a length of time: write minutes or hours, such as 20 or 1h30")


def read_when(text: str, now: datetime, zone: Timezone) -> datetime:
    """Read when something happened, as people write it, and return the UTC instant.

    Understands a clock time (``10:05``: today, or yesterday where today's is over 12 hours ahead),
    ``yesterday 10:05``, a local date and time (``2026-03-02 10:05``), and ISO 8601 with an offset
    (``2026-03-02T10:05+01:00``). Raises :class:`TimeError` for anything else, and for a local time
    that the zone skips or shows twice, since only its writer knows which was meant.
    """
    text = text.strip()
    if _OFFSET.search(text):
        try:
            return _near(datetime.fromisoformat(text.replace(" ", "T", 1)), text).astimezone(UTC)
        except (ValueError, OverflowError):
            raise _unreadable(text) from None
    dated = _DATED.fullmatch(text)
    if dated:
        try:
            year, month, day, hour, minute = (int(part) for part in dated.groups())
            wall = _near(datetime(year, month, day, hour, minute), text)
        except ValueError:
            raise _unreadable(text) from None
        return only_instant(wall, zone)
    today = now.astimezone(zone).date()
    word, _, rest = text.partition(" ")
    if word.lower() in ("today", "yesterday") and rest:
        day_meant = today - timedelta(days=word.lower() == "yesterday")
        return only_instant(datetime.combine(day_meant, read_clock(rest)), zone)
    try:
        clock = read_clock(text)
    except TimeError:
        raise _unreadable(text) from None
    instant = only_instant(datetime.combine(today, clock), zone)
    if instant > now + timedelta(hours=12):
        instant = only_instant(datetime.combine(today - timedelta(days=1), clock), zone)
    return instant


FIRST_YEAR = 1900
LAST_YEAR = 2999
"""Years that an instant of ours can have: far beyond them a day more leads out of all time."""


def _near(wall: datetime, text: str) -> datetime:
    if not FIRST_YEAR <= wall.year <= LAST_YEAR:
        raise ValueError(text)
    return wall


def only_instant(wall: datetime, zone: Timezone) -> datetime:
    """Return the one instant (UTC) at which ``zone`` shows a naive local time.

    Raises :class:`TimeError` for a time that the zone skips or shows twice.
    """
    try:
        return zone.convert(wall, raise_on_unknown_times=True).astimezone(UTC)
    except NonExistingTime:
        raise TimeError(
            f"{wall:%Y-%m-%d %H:%M} does not exist in {zone.key}: the clocks go forward over it. "
            f"Write the time that the clock showed after the change."
        ) from None
    except AmbiguousTime:
        first, second = (
            wall.replace(tzinfo=zone, fold=fold).isoformat(timespec="minutes") for fold in (0, 1)
        )
        raise TimeError(
            f"{wall:%Y-%m-%d %H:%M} happens twice in {zone.key}: the clocks go back over it. "
            f"Write {first} for the first or {second} for the second."
        ) from None


def _unreadable(text: str) -> TimeError:
    return TimeError(f"“{text}” is not a time: write 10:05, “yesterday 10:05” or 2026-03-02 10:05")


# --- Writing time for people ---------------------------------------------------------------------


def clock_words(minutes: Minutes, zone: Timezone) -> str:
    """Return the local clock time of an instant, as ``07:05``."""
    return f"{local(minutes, zone):%H:%M}"


def minute_words(minute: Minutes) -> str:
    """Return a minute of the day as a clock time, ``07:05``, to the nearest minute."""
    hours, minutes = divmod(round(minute) % (24 * 60), 60)
    return f"{hours:02d}:{minutes:02d}"


def date_words(first: date, last: date) -> str:
    """Return ``Mon 2 Mar``, ``Mon 2 to Wed 4 Mar`` or ``Sat 28 Feb to Sun 1 Mar``."""
    end = f"{last:%a} {last.day} {last:%b}"
    if first == last:
        return end
    month = "" if first.month == last.month else f" {first:%b}"
    return f"{first:%a} {first.day}{month} to {end}"


def span_words(minutes: Minutes) -> str:
    """Return a length of time for reading: ``45 min``, ``2 h``, ``1 h 30``, ``3 days``."""
    whole = int(abs(minutes))
    if whole < 60:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    if hours >= 48:
        return f"{hours // 24} days"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def percent_words(chance: float) -> str:
    """Return a chance that somebody has set, as it was set, such as ``3.5%``."""
    return f"{100 * chance:g}%"


def in_100(chance: float) -> str:
    """Return a chance as ``4 in 100``, to the nearest whole one, ``under 1 in 100`` below that."""
    whole = round(100 * chance)
    return f"{whole} in 100" if whole else "under 1 in 100"


def count_words(number: int, one: str, many: str = "") -> str:
    """Return ``1 day``, ``2 days``: a number with its noun (``many`` defaults to ``one`` + s)."""
    return f"{number} {one if number == 1 else many or one + 's'}"
