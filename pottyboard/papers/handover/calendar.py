"""The visits as an iCalendar file (RFC 5545), so that a second export updates the first.

A visit that a helper was told of is known by its agreement, another one by its date and its number
in the day. The log counts the changes of an agreement; the earlier file is read back for all
others (see :mod:`pottyboard.papers.calendars.renewal`).
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Final

from pottyboard.core.away.schedule import AwayPlan, Visit
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import clock_words, minutes_of
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.papers.calendars import renewal
from pottyboard.papers.calendars.renewal import DAY, Known

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT: Final = "-//pottyboard//visits 1//EN"
_OTHER: Final = "The file is not a calendar of visits: name another file, or move this one away."


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
    ``CalendarError`` if ``earlier`` is not a calendar of visits.
    """
    now = now.astimezone(UTC).replace(microsecond=0)
    known = {} if earlier is None else renewal.known_in(earlier, PRODUCT, _OTHER)
    entries = [_entry(settings, visit, household) for visit in plan.visits]
    least = {_uid(settings, household, visit): visit.sequence for visit in plan.visits}
    for day in plan.days:
        for visit in day.called_off:
            if visit.at > now:
                entries.append(renewal.cancelled(_entry(settings, visit, household)))
                least[_uid(settings, household, visit)] = visit.sequence
    new = {str(entry["UID"]) for entry in entries}
    entries += [
        renewal.cancelled(before.entry)
        for uid, before in known.items()
        if uid not in new and _still_matters(before, plan, now)
    ]
    made = renewal.empty(PRODUCT, f"Visits to {printable(settings.dog.name)}")
    return renewal.written(made, settings.home.zone, entries, now, known, least)


def uid_of(settings: Settings, household: str, day: date, number: int) -> str:
    """Return the UID of a day's visit with this number: the same in every export."""
    who = household or settings.dog.name
    arrived = settings.dog.arrived.astimezone(UTC).isoformat(timespec="minutes")
    return renewal.uid_from(who, arrived, day, number)


def _uid(settings: Settings, household: str, visit: Visit) -> str:
    """Return the UID of a visit: that of its agreement, where its helper was told of it."""
    if not visit.told:
        return uid_of(settings, household, visit.date, visit.number)
    return renewal.uid_from(household or settings.dog.name, visit.told)


def _entry(settings: Settings, visit: Visit, household: str) -> Event:
    from icalendar import Event

    dog = printable(settings.dog.name)
    start, end = renewal.as_written((visit.at, visit.until), settings.home.zone)
    entry = Event()
    entry.add("uid", _uid(settings, household, visit))
    entry.add("dtstart", start)
    entry.add("dtend", end)
    entry.add("summary", f"{printable(visit.helper)} visits {dog}")
    entry.add("description", _description(settings, visit.helper))
    entry.add("status", "CONFIRMED")
    entry.add("class", "PRIVATE")
    entry.add(DAY, f"{visit.date:%Y%m%d}")
    at = clock_words(minutes_of(visit.at), settings.zone)
    words = f"{printable(visit.helper)} visits {dog} at {at}"
    entry.add_component(renewal.alarm_before(float(figures.VISIT_ALARM), words))
    return entry


def _description(settings: Settings, helper: str) -> str:
    """Return what to do, and whom ``helper`` can call."""
    home = settings.home
    spot = f" to the spot: {printable(home.spot)}" if home.spot else " to the spot"
    cue = f'\nSay "{printable(home.cue)}" once.' if home.cue else ""
    numbers = [n for n in home.numbers if n.name.casefold() != helper.casefold()]
    calls = "".join(f"\n{printable(str(number))}" for number in numbers)
    return f"Straight out{spot}.{cue}\nThen send what came, with the time.{calls}"


def _still_matters(known: Known, plan: AwayPlan, now: datetime) -> bool:
    """Whether an entry that is no longer planned belongs in the file: to come, and asked for."""
    days = {f"{day.date:%Y%m%d}" for day in plan.days}
    return known.start > now and str(known.entry.get(DAY, "")) in days
