"""The rules of a zone, as a calendar has to carry them (RFC 5545 s3.6.5).

The icalendar library is loaded only when they are made.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    from icalendar import Event, Timezone, TimezoneDaylight, TimezoneStandard


def zone_rules(zone: ZoneInfo, entries: Sequence[Event]) -> Timezone:
    """Return the zone's rules for the years of the entries.

    The library's own tables put a change forward at the clock time after it, where RFC 5545
    s3.6.5 wants the one before it, so that they are made here.
    """
    from icalendar import Timezone

    starts = [entry.decoded("DTSTART").astimezone(zone) for entry in entries]
    first = datetime(min(starts).year, 1, 1, tzinfo=zone)
    last = datetime(max(starts).year + 1, 1, 1, tzinfo=zone)
    made = Timezone()
    made.add("tzid", zone.key)
    made.add_component(_observance(first, first))
    before = first.astimezone(UTC)
    while before < last:
        after = before + timedelta(days=1)
        if _offset(before, zone) != _offset(after, zone):
            change = _change(before, after, zone)
            made.add_component(
                _observance(
                    (change - timedelta(minutes=1)).astimezone(zone), change.astimezone(zone)
                )
            )
        before = after
    return made


def _observance(old: datetime, new: datetime) -> TimezoneDaylight | TimezoneStandard:
    """Return the rules that hold from ``new`` on; ``old`` is a minute before in the old time."""
    from icalendar import TimezoneDaylight, TimezoneStandard

    onset = old if old is new else old + timedelta(minutes=1)
    made = TimezoneDaylight() if new.dst() else TimezoneStandard()
    made.add("dtstart", onset.replace(tzinfo=None))
    made.add("tzoffsetfrom", old.utcoffset() or timedelta())
    made.add("tzoffsetto", new.utcoffset() or timedelta())
    made.add("tzname", new.tzname() or "")
    return made


def _change(before: datetime, after: datetime, zone: ZoneInfo) -> datetime:
    """Return the first minute in UTC at which the offset is that of ``after``."""
    low, high = 0, int((after - before).total_seconds() // 60)
    while high - low > 1:
        middle = (low + high) // 2
        if _offset(before + timedelta(minutes=middle), zone) == _offset(before, zone):
            low = middle
        else:
            high = middle
    return before + timedelta(minutes=high)


def _offset(at: datetime, zone: ZoneInfo) -> timedelta | None:
    return at.astimezone(zone).utcoffset()
