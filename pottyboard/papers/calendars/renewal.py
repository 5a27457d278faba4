"""A calendar that is written again over itself, so that a second export updates the first.

An entry keeps its UID. One that says something else than before gets a higher SEQUENCE (RFC 5545
s3.8.7.4), one that is called off stays with STATUS:CANCELLED (s3.8.1.11), one that stays as it was
is written as it was. The earlier file is the memory of all this.

The files name no METHOD: they are handed over, no scheduling transaction (s3.7.2), and have no
ORGANIZER, whom PUBLISH and CANCEL of RFC 5546 would require. Their rules for updates hold all the
same: the same UID, and the higher SEQUENCE counts.

The icalendar library is loaded only when a calendar is made.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Final
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from msgspec import Struct

from pottyboard.papers import PaperError
from pottyboard.papers.calendars.zone import zone_rules

if TYPE_CHECKING:
    from icalendar import Alarm, Calendar, Event

DAY: Final = "X-POTTYBOARD-DAY"
"""The date that an entry is planned for, which after midnight is not that of its start."""
_NAMESPACE: Final = UUID("5f0f6c52-8d2e-4c0f-9a53-6f6a4b7f21d7")
"""Made up once for this program, so that its UIDs are nobody else's."""
_IN_UTC: Final = ("UTC", "Etc/UTC")
_COMPARED: Final = ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "STATUS")
_UNREADABLE: Final = (ValueError, KeyError, IndexError, TypeError, AttributeError, OverflowError)
"""What the library raises for damaged files."""


class CalendarError(PaperError):
    """An earlier file that is not the calendar it should be, and what to do about it."""


class Known(Struct, frozen=True):
    """An entry of the earlier file: its ``content`` as lines, when it was made and last changed
    (UTC), and how often it was changed since."""

    entry: Event
    start: datetime
    content: tuple[str, ...]
    created: datetime
    changed: datetime
    sequence: int

    @property
    def is_called_off(self) -> bool:
        """Whether it fell away already."""
        return str(self.entry.get("STATUS", "")) == "CANCELLED"


def uid_from(*parts: object) -> str:
    """Return a UID that is the same for the same parts, and nobody else's (RFC 9562 version 5)."""
    return str(uuid5(_NAMESPACE, "|".join(map(str, parts))))


def empty(product: str, name: str) -> Calendar:
    """Return a calendar without entries, by the name of its ``product``."""
    from icalendar import Calendar

    made = Calendar()
    made.add("prodid", product)
    made.add("version", "2.0")
    made.add("calscale", "GREGORIAN")
    made.add("x-wr-calname", name)
    return made


def written(
    made: Calendar,
    zone_name: str,
    entries: Iterable[Event],
    now: datetime,
    known: Mapping[str, Known],
    least: Mapping[str, int] | None = None,
) -> bytes:
    """Return ``made`` with these entries, each stamped by what is ``known`` of it, in UTF-8.

    ``least`` is how often an entry was changed by the log, by UID.
    """
    now, rows = now.astimezone(UTC).replace(microsecond=0), sorted(entries, key=_order)
    if zone_name not in _IN_UTC and rows:
        made.add_component(zone_rules(ZoneInfo(zone_name), rows))
    for entry in rows:
        uid = str(entry["UID"])
        _stamp(entry, known.get(uid), now, (least or {}).get(uid, 0))
        made.add_component(entry)
    return bytes(made.to_ical())


def as_written(instants: tuple[datetime, ...], zone_name: str) -> list[datetime]:
    """Return instants in the household's zone, or in UTC where its clock would not tell them apart.

    A time that the clock shows twice means the first one (RFC 5545 s3.3.5), so that the second can
    only be written in UTC. One property in UTC brings the other along.
    """
    zone = ZoneInfo(zone_name)
    local = [instant.astimezone(zone) for instant in instants]
    if zone_name in _IN_UTC or any(wall.fold for wall in local):
        return [instant.astimezone(UTC) for instant in instants]
    return local


def alarm_before(minutes: float, words: str) -> Alarm:
    """Return an alarm that shows ``words`` so many minutes ahead of its entry (s3.6.6)."""
    from icalendar import Alarm

    made = Alarm()
    made.add("action", "DISPLAY")
    made.add("trigger", -timedelta(minutes=minutes))
    made.add("description", words)
    return made


def cancelled(entry: Event) -> Event:
    """Return an entry that fell away, without its alarm."""
    from icalendar import Event

    made = Event()
    for name in ("UID", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "CLASS", "TRANSP", DAY):
        if name in entry:
            made[name] = entry[name]
    made.add("status", "CANCELLED")
    return made


def _stamp(entry: Event, before: Known | None, now: datetime, least: int) -> None:
    """Write when the entry changed: as before if it says the same as ``before``."""
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
    """Return the lines by which an entry is the same as another, those of its alarms too."""
    own = (str(entry.content_line(name, entry[name])) for name in _COMPARED if name in entry)
    alarms = (part.to_ical().decode() for part in entry.walk("VALARM"))
    return (*own, *alarms)


def _order(entry: Event) -> tuple[datetime, str]:
    return entry.decoded("DTSTART").astimezone(UTC), str(entry["UID"])


# --- The earlier file -----------------------------------------------------------------------------


def known_in(earlier: bytes, product: str, words: str) -> dict[str, Known]:
    """Return the entries of an earlier file by their UID.

    Raises :class:`CalendarError`, with ``words``, unless it is a calendar of this ``product``.
    """
    from icalendar import Calendar

    try:
        read = Calendar.from_ical(earlier)
    except _UNREADABLE:
        read = None
    if not isinstance(read, Calendar) or str(read.get("PRODID", "")) != product:
        raise CalendarError(words)
    return {str(known.entry["UID"]): known for known in _entries(read)}


def _entries(read: Calendar) -> Iterator[Known]:
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
            content = _content(entry)
        except _UNREADABLE:
            continue
        yield Known(entry, start, content, created, changed, sequence)
