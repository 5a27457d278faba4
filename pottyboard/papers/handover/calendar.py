"""The visits as an iCalendar file (RFC 5545), so that a second export updates the first.

A visit that a helper was told of is known by its agreement, another one by its date and its number
in the day. One that moves keeps its UID and gets a higher SEQUENCE (s3.8.7.4), one that is called
off stays with STATUS:CANCELLED (s3.8.1.11), one that stays as it was is written as it was. The log
counts the changes of an agreement; the earlier file is read back for all others.

The file names no METHOD: it is handed over, no scheduling transaction (s3.7.2), and has no
ORGANIZER, whom PUBLISH and CANCEL of RFC 5546 would require. Their rules for updates hold all the
same: the same UID, and the higher SEQUENCE counts.

The icalendar library is loaded only when a calendar is made.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING, Final
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from msgspec import Struct

from pottyboard.core.away.schedule import AwayPlan, Visit
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import clock_words, minutes_of
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.papers import PaperError

if TYPE_CHECKING:
    from icalendar import Calendar, Event, Timezone, TimezoneDaylight, TimezoneStandard

PRODUCT: Final = "-//pottyboard//visits 1//EN"
_NAMESPACE: Final = UUID("5f0f6c52-8d2e-4c0f-9a53-6f6a4b7f21d7")
"""Made up once for this program, so that its UIDs are nobody else's."""
_DAY: Final = "X-POTTYBOARD-DAY"
"""The date that a visit is planned for, which after midnight is not that of its start."""
_COMPARED: Final = ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "STATUS")


_UNREADABLE: Final = (ValueError, KeyError, IndexError, TypeError, AttributeError, OverflowError)
"""What the library raises for damaged files."""


class CalendarError(PaperError):
    """An earlier file that is no calendar of visits, with a message that says what to do."""


class _Known(Struct, frozen=True):
    """An entry of the earlier file: its ``content`` as lines, when it was made and last changed
    (UTC), and how often it was changed since."""

    entry: Event
    start: datetime
    content: tuple[str, ...]
    created: datetime
    changed: datetime
    sequence: int


def calendar(
    settings: Settings,
    plan: AwayPlan,
    now: datetime,
    *,
    household: str = "",
    earlier: bytes | None = None,
) -> bytes:
    """Return the visits of ``plan`` as a calendar in UTF-8.

    ``household`` is a name that stays the same, such as the dog's folder; ``earlier`` the file that
    this one replaces, if there is one. Only the days of the plan are in it, and no address. Raises
    :class:`CalendarError` if ``earlier`` is not a calendar of visits.
    """
    from icalendar import Calendar

    now = now.astimezone(UTC).replace(microsecond=0)
    known = {} if earlier is None else _read(earlier)
    made = Calendar()
    made.add("prodid", PRODUCT)
    made.add("version", "2.0")
    made.add("calscale", "GREGORIAN")
    made.add("x-wr-calname", f"Visits to {printable(settings.dog.name)}")
    entries = [_entry(settings, visit, household) for visit in plan.visits]
    least = {_uid(settings, household, visit): visit.sequence for visit in plan.visits}
    for day in plan.days:
        for visit in day.called_off:
            if visit.at > now:
                entries.append(_cancelled(_entry(settings, visit, household)))
                least[_uid(settings, household, visit)] = visit.sequence
    new = {str(entry["UID"]) for entry in entries}
    entries += [
        _cancelled(before.entry)
        for uid, before in known.items()
        if uid not in new and _still_matters(before, plan, now)
    ]
    if settings.home.zone not in ("UTC", "Etc/UTC") and entries:
        made.add_component(_zone(settings.zone, entries))
    for entry in sorted(entries, key=_order):
        uid = str(entry["UID"])
        _stamp(entry, known.get(uid), now, least.get(uid, 0))
        made.add_component(entry)
    return bytes(made.to_ical())


def uid_of(settings: Settings, household: str, day: date, number: int) -> str:
    """Return the UID of a day's visit with this number: the same in every export."""
    who = household or settings.dog.name
    arrived = settings.dog.arrived.astimezone(UTC).isoformat(timespec="minutes")
    return str(uuid5(_NAMESPACE, f"{who}|{arrived}|{day}|{number}"))


def _uid(settings: Settings, household: str, visit: Visit) -> str:
    """Return the UID of a visit: that of its agreement, where its helper was told of it."""
    if not visit.told:
        return uid_of(settings, household, visit.date, visit.number)
    return str(uuid5(_NAMESPACE, f"{household or settings.dog.name}|{visit.told}"))


# --- One visit ------------------------------------------------------------------------------------


def _entry(settings: Settings, visit: Visit, household: str) -> Event:
    from icalendar import Alarm, Event

    dog = printable(settings.dog.name)
    start, end = _as_written((visit.at, visit.until), settings.home.zone)
    entry = Event()
    entry.add("uid", _uid(settings, household, visit))
    entry.add("dtstart", start)
    entry.add("dtend", end)
    entry.add("summary", f"{printable(visit.helper)} visits {dog}")
    entry.add("description", _description(settings, visit.helper))
    entry.add("status", "CONFIRMED")
    entry.add("class", "PRIVATE")
    entry.add(_DAY, f"{visit.date:%Y%m%d}")
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", -timedelta(minutes=float(figures.VISIT_ALARM)))
    at = clock_words(minutes_of(visit.at), settings.zone)
    alarm.add("description", f"{printable(visit.helper)} visits {dog} at {at}")
    entry.add_component(alarm)
    return entry


def _description(settings: Settings, helper: str) -> str:
    """Return what to do, and whom ``helper`` can call."""
    home = settings.home
    spot = f" to the spot: {printable(home.spot)}" if home.spot else " to the spot"
    cue = f'\nSay "{printable(home.cue)}" once.' if home.cue else ""
    numbers = [n for n in home.numbers if n.name.casefold() != helper.casefold()]
    calls = "".join(f"\n{printable(str(number))}" for number in numbers)
    return f"Straight out{spot}.{cue}\nThen send what came, with the time.{calls}"


def _as_written(instants: tuple[datetime, ...], zone_name: str) -> list[datetime]:
    """Return instants in the household's zone, or in UTC where its clock would not tell them apart.

    A time that the clock shows twice means the first one (RFC 5545 s3.3.5), so that the second can
    only be written in UTC. One property in UTC brings the other along.
    """
    zone = ZoneInfo(zone_name)
    local = [instant.astimezone(zone) for instant in instants]
    if zone_name in ("UTC", "Etc/UTC") or any(wall.fold for wall in local):
        return [instant.astimezone(UTC) for instant in instants]
    return local


def _cancelled(entry: Event) -> Event:
    """Return the entry of a visit that fell away, without its alarm."""
    from icalendar import Event

    cancelled = Event()
    for name in ("UID", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "CLASS", _DAY):
        if name in entry:
            cancelled[name] = entry[name]
    cancelled.add("status", "CANCELLED")
    return cancelled


def _stamp(entry: Event, before: _Known | None, now: datetime, least: int) -> None:
    """Write when the entry changed: as before if it says the same as ``before``.

    ``least`` is how often it has been changed by the log.
    """
    created, changed, sequence = now, now, least
    if before is not None:
        created, changed, sequence = before.created, before.changed, before.sequence
        if _content(entry) != before.content:
            changed, sequence = now, max(sequence + 1, least)
    entry.add("created", created)
    entry.add("last-modified", changed)
    entry.add("dtstamp", changed)
    entry.add("sequence", sequence)


def _content(entry: Event) -> tuple[str, ...]:
    return tuple(str(entry.content_line(name, entry[name])) for name in _COMPARED if name in entry)


def _order(entry: Event) -> tuple[datetime, str]:
    return entry.decoded("DTSTART").astimezone(UTC), str(entry["UID"])


# --- The earlier file -----------------------------------------------------------------------------


def _read(earlier: bytes) -> dict[str, _Known]:
    """Return the entries of an earlier file by their UID."""
    from icalendar import Calendar

    try:
        read = Calendar.from_ical(earlier)
    except _UNREADABLE:
        read = None
    if not isinstance(read, Calendar) or str(read.get("PRODID", "")) != PRODUCT:
        raise CalendarError(
            "The file is not a calendar of visits: name another file, or move this one away."
        )
    return {str(known.entry["UID"]): known for known in _entries(read)}


def _entries(read: Calendar) -> Iterator[_Known]:
    """Yield the entries that are whole; a damaged one is as if it had never been written."""
    from icalendar import Event

    for entry in read.walk("VEVENT"):
        if not isinstance(entry, Event) or "UID" not in entry:
            continue
        try:
            start, created, changed = (
                entry.decoded(name).astimezone(UTC)
                for name in ("DTSTART", "CREATED", "LAST-MODIFIED")
            )
            sequence = int(entry.decoded("SEQUENCE"))
            entry.to_ical()
        except _UNREADABLE:
            continue
        yield _Known(entry, start, _content(entry), created, changed, sequence)


def _still_matters(known: _Known, plan: AwayPlan, now: datetime) -> bool:
    """Whether an entry that is no longer planned belongs in the file: to come, and asked for."""
    days = {f"{day.date:%Y%m%d}" for day in plan.days}
    return known.start > now and str(known.entry.get(_DAY, "")) in days


# --- The zone -------------------------------------------------------------------------------------


def _zone(zone: ZoneInfo, entries: list[Event]) -> Timezone:
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
