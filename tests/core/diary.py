"""A log in the making, so that a test reads like a page of the household's diary.

    >>> diary(kg=8).on(2).at("06:30", "up").at("06:35", "pee").read("07:00").next_break.minutes
    95

A :class:`Diary` never changes: every call returns a longer one, so that a common beginning can be
shared. Clock times are the household's local ones on the day last named with :meth:`Diary.on`.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.model.events import KINDS, Event, check_details
from pottyboard.core.model.localtime import at_clock, instant_of, minutes_of, read_clock
from pottyboard.core.model.settings import Dog, Home, Settings, Work
from pottyboard.core.view.situation import Situation, situation

DAY_1 = date(2026, 3, 2)
"""A Monday, weeks away from any change of the clocks in Oslo."""


class Diary(Struct, frozen=True):
    """The settings, the entries so far, and the calendar day that the next clock time is on.

    With ``learn`` false the rules decide alone, without the estimate from the log.
    """

    settings: Settings
    entries: tuple[Event, ...] = ()
    date: date = DAY_1
    learn: bool = False

    def on(self, day: int) -> Diary:
        """Turn to the calendar day with this number (1 is the day of arrival)."""
        return replace(self, date=self.settings.first_date + timedelta(days=day - 1))

    def at(self, clock: str, kind: str, **details: Any) -> Diary:
        """Write an entry; ``dry`` and ``logged`` may be clock times of the same day.

        An accident is seen happening unless it says otherwise.
        """
        for name in ("dry", "logged"):
            if isinstance(details.get(name), str):
                details[name] = self.instant(details[name])
        details.setdefault("id", f"e{len(self.entries):04}")
        if KINDS[kind].is_accident:
            details.setdefault("found", False)
        event = check_details(Event(kind, self.instant(clock), **details))
        return replace(self, entries=(*self.entries, event))

    def all_at(self, *entries: str) -> Diary:
        """Write several plain entries, each as ``"07:05 pee"``."""
        page = self
        for entry in entries:
            page = page.at(*entry.split())
        return page

    def without(self, event_id: str) -> Diary:
        """Take the entry with this id out."""
        return replace(self, entries=tuple(e for e in self.entries if e.id != event_id))

    def instant(self, clock: str) -> datetime:
        """Return the UTC instant of a local clock time (``HH:MM`` or ``HH:MM:SS``)."""
        wall = read_clock(clock[:5]).replace(second=int(clock[6:] or 0))
        return instant_of(at_clock(self.date, wall, self.settings.zone))

    def read(self, clock: str) -> Situation:
        """Return the situation at a local clock time."""
        return situation(self.settings, self.entries, self.instant(clock), learn=self.learn)

    def days(self, clock: str) -> list[Day]:
        """Return the days so far, worked out up to a local clock time."""
        now = minutes_of(self.instant(clock))
        return History.of(self.settings, self.entries, now, self.learn).days

    def clock(self, instant: datetime) -> str:
        """Return the local clock time of an instant, with the date if it is another day."""
        wall = instant.astimezone(self.settings.zone)
        return f"{wall:%H:%M}" if wall.date() == self.date else f"{wall:%Y-%m-%d %H:%M}"

    def dues(self, clock: str) -> dict[str, str]:
        """Return every reason that stands at a clock time, and when it falls due."""
        found = self.read(clock).next_break
        return {r.code: self.clock(r.at) for r in (*found.reasons, *found.later)}

    def planned(self, clock: str) -> list[tuple[str, str, str]]:
        """Return the rows still to come as (clock time, kind, words)."""
        rows = self.read(clock).timeline
        return [(self.clock(s.at), s.kind, s.words) for s in rows if s.status in ("due", "planned")]


def diary(
    kg: float = 15,
    *,
    arrived: str = "06:30",
    on: date = DAY_1,
    zone: str = "Europe/Oslo",
    up: str = "06:30",
    bed: str = "22:30",
    meals: str = "07:00,17:30",
    away: str = "",
    away_from: int = 1,
    away_on: tuple[int, ...] = (1, 2, 3, 4, 5, 6, 7),
    **dog: Any,
) -> Diary:
    """Open the diary of a medium adult dog that arrived first thing on a Monday.

    ``away`` is a planned absence such as ``"08:30-17:00"``, from day ``away_from`` on.
    """
    work = None
    if away:
        leave, _, back = away.partition("-")
        work = Work(frozenset(away_on), read_clock(leave), read_clock(back), away_from)
    home = Home(
        zone=zone,
        up=read_clock(up),
        bed=read_clock(bed),
        meals=tuple(read_clock(meal) for meal in meals.split(",") if meal),
        work=work,
    )
    day_1 = Settings(Dog("Bramble", kg, datetime(2000, 1, 1, tzinfo=UTC)), home)
    instant = instant_of(at_clock(on, read_clock(arrived), day_1.zone))
    settings = replace(day_1, dog=Dog(name="Bramble", weight_kg=kg, arrived=instant, **dog))
    return Diary(settings, date=on)


MORNING = ("06:30 up", "06:35 both")
"""A day that has begun well: at an interval of 2 h the next break is due at 08:35."""

CLEAR_DAY = (
    *MORNING, "07:00 meal", "07:20 poop", "08:35 pee", "10:30 pee", "12:25 pee", "14:20 pee",
    "16:15 pee", "17:30 meal", "17:50 both", "19:45 pee", "21:30 pee", "22:30 pee", "22:40 settled",
)  # fmt: skip
"""A whole day without an accident: six holds of 1 h 55 to 2 h, three shorter ones."""
