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

from pottyboard.core.written.clocks import read_clock as read_clock
from pottyboard.core.written.clocks import read_span as read_span
from pottyboard.core.written.dates import FIRST_YEAR as FIRST_YEAR
from pottyboard.core.written.dates import LAST_YEAR as LAST_YEAR
from pottyboard.core.written.dates import Facing, read_moment, unreadable
from pottyboard.core.written.text import TimeError as TimeError

Minutes = float
_ROUND = 5
"""An instant in epoch minutes, or a length of time in minutes."""

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_AGO = re.compile(r"(.+?)\s+ago", re.IGNORECASE)
WHEN: Final = "10:05, “yesterday 10:05” or “2026-03-02 10:05”"
"""How a time is written, for the help."""


@lru_cache(maxsize=64)
def zone_named(name: str) -> Timezone:
    """Return the time zone that a name means; raise :class:`TimeError` with the nearest names."""
    try:
        return pendulum.timezone(name)
    except (ValueError, OSError):
        from pottyboard.core.written.zones import zone_name  # a name without a slip needs none

        return pendulum.timezone(zone_name(name))


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


def read_when(text: str, now: datetime, zone: Timezone, facing: Facing = "past") -> datetime:
    """Read when something happened, as people write it, and return the UTC instant.

    Understands a clock time (``10:05``: today, or yesterday where today's is over 12 hours ahead),
    a length of time with ``ago``, a day with a time (``yesterday 10:05``, ``27 Nov 8am``,
    ``Fri 11:31``, ``2026-03-02 10:05``), and ISO 8601 with an offset; ``facing`` says which day a
    weekday means. Raises :class:`TimeError` for anything else, and for a local time that the zone
    skips or shows twice, since only its writer knows which was meant.
    """
    span = _AGO.fullmatch(text.strip())
    if span:
        return now.replace(second=0, microsecond=0) - timedelta(minutes=read_span(span[1]))
    today = now.astimezone(zone).date()
    moment = read_moment(text, today, facing)
    if isinstance(moment, datetime):
        if moment.tzinfo is None:
            return only_instant(moment.replace(second=0, microsecond=0), zone)
        try:
            return moment.astimezone(UTC)
        except OverflowError:
            raise unreadable(text) from None
    instant = only_instant(datetime.combine(today, moment), zone)
    if instant > now + timedelta(hours=12):
        instant = only_instant(datetime.combine(today - timedelta(days=1), moment), zone)
    return instant


def last_at(clock: time, now: datetime, zone: Timezone) -> datetime:
    """Return the last instant (UTC) before or at ``now`` at which ``zone`` shows ``clock``.

    Of a time that is shown twice it is the first one, as RFC 5545 has it.
    """
    today = now.astimezone(zone).date()
    shown = (instant_of(at_clock(today - timedelta(days=back), clock, zone)) for back in (0, 1))
    return next(instant for instant in shown if instant <= now)


def read_on(text: str, day: date, now: datetime, zone: Timezone) -> datetime:
    """Read when something happened on ``day``: a clock time alone is of that day.

    Otherwise as :func:`read_when`, and with its errors.
    """
    try:
        clock = read_clock(text)
    except TimeError:
        return read_when(text, now, zone)
    return only_instant(datetime.combine(day, clock), zone)


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


# --- Writing time for people ---------------------------------------------------------------------


def clock_words(minutes: Minutes, zone: Timezone) -> str:
    """Return the local clock time of an instant, as ``07:05``."""
    return f"{local(minutes, zone):%H:%M}"


def day_clock_words(at: datetime, now: datetime, zone: Timezone) -> str:
    """Return a clock time with the day that it is of: ``22:40``, ``22:40 yesterday``, or
    ``Thu 5 Mar 22:40`` for any other than today or the day before."""
    wall, today = at.astimezone(zone), now.astimezone(zone).date()
    if wall.date() == today:
        return f"{wall:%H:%M}"
    if wall.date() == today - timedelta(days=1):
        return f"{wall:%H:%M} yesterday"
    return f"{wall:%a} {wall.day} {wall:%b %H:%M}"


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


def at_most_words(minutes: Minutes) -> str:
    """Return a length of time that must not be passed, for reading: five minutes down."""
    return span_words(minutes - minutes % _ROUND if minutes >= _ROUND else minutes)


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
