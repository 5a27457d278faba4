"""The sample logs that come with the program, and their copy for a demo.

A copy is moved by whole days, so that every clock time stays and the sample's last day is today,
and into the zone of whoever looks at it, so that the board's clock is theirs.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any, Final

from msgspec import Struct, structs

from pottyboard.core.model.events import INSTANTS, Event
from pottyboard.core.model.localtime import at_clock, instant_of, local, minutes_of, zone_named
from pottyboard.core.model.plan import date_at
from pottyboard.core.model.questions import answers_from, settings_from
from pottyboard.core.model.settings import Settings
from pottyboard.store.damage import SCHEMA, Tables, parse
from pottyboard.store.disk import make_folder
from pottyboard.store.documents import event_of
from pottyboard.store.dog_log import DogLog
from pottyboard.store.household import Household
from pottyboard.store.json_file import JsonFile
from pottyboard.store.system.errors import StoreError

_PACKAGE: Final = Path(__file__).parent.parent
_PLACES: Final = (_PACKAGE / "_sample_logs", _PACKAGE.parent / "sample_logs")
"""Where the samples are: within an installed package, or beside it in a checkout."""

SHOWN_AT: Final = time(17, 0)
"""Where a demo opens outside the hours of its last day: by then a day has most to show."""

_STILL_FRESH: Final = timedelta(hours=1)
_SHORTLY: Final = timedelta(minutes=5)


class Sample(Struct, frozen=True, dict=True):
    """A sample log as it was written: name, settings, entries in order, and the tables by file."""

    name: str
    settings: Settings
    events: tuple[Event, ...]
    books: tuple[Tables, ...]

    @property
    def last_date(self) -> date:
        """The date that the last entry belongs to."""
        return date_at(self.settings, self.events[-1].t, self.events)


class Demo(Struct, frozen=True):
    """A copied sample: its home, its record, and the instant (UTC) at which to open it."""

    household: Household
    dog_log: DogLog
    opens_at: datetime


def sample_names() -> tuple[str, ...]:
    """Return the names of the samples in order."""
    return tuple(sorted(_folders()))


def read_sample(name: str | None) -> Sample:
    """Return the sample of this name, the first one if None; raise :class:`StoreError` if none."""
    folders = _folders()
    if not folders:
        raise StoreError("The sample logs are missing: install the program again.")
    chosen = min(folders) if name is None else name
    if chosen not in folders:
        raise StoreError(f"No sample “{chosen}”. There is: {', '.join(sorted(folders))}.")
    folder = folders[chosen]
    answers = parse((folder / "settings.json").read_bytes())["answers"]["all"]
    books = tuple(parse(path.read_bytes()) for path in sorted(folder.glob("events-*.json")))
    events = (event_of(row) for book in books for row in book["entries"].values())
    ordered = tuple(sorted(events, key=lambda event: event.t))
    # The answers are as old as the sample: they are read as of its own first entry.
    return Sample(chosen, settings_from(answers, ordered[0].at), ordered, books)


def _folders() -> dict[str, Path]:
    for place in _PLACES:
        found = {path.parent.name: path.parent for path in place.glob("*/settings.json")}
        if found:
            return found
    return {}


def copy_sample(sample: Sample, home: Path, now: datetime, zone: str) -> Demo:
    """Copy ``sample`` into the folder ``home``, moved so that its last day is today in ``zone``.

    What would still be to come is left out. Outside the hours of the sample's last day the demo
    opens in the late afternoon (:data:`SHOWN_AT`) instead of at ``now``.
    """
    today = now.astimezone(zone_named(zone)).date()
    move = _Move(sample.settings.home.zone, zone, (today - sample.last_date).days)
    ats = [move.instant(event.at) for event in sample.events]
    opens_at = _opening([at for at in ats if _date(at, zone) == today], now, today, zone)
    folder = home / sample.name
    make_folder(folder)
    about = {"file": {"schema": SCHEMA}}
    answers = answers_from(move.settings(sample.settings))
    JsonFile(folder / "settings.json", dict).put({"about": about, "answers": {"all": answers}})
    months: dict[str, Tables] = defaultdict(lambda: {"about": about, "entries": {}, "trail": {}})
    for book in sample.books:
        for table, row_id, row in _known_by(opens_at, book, move):
            months[row["at"][:7]][table][row_id] = row
    for month, tables in months.items():
        JsonFile(folder / f"events-{month}.json", event_of).put(tables)
    household = Household(home)
    return Demo(household, household.dog_log(sample.name), opens_at)


def _opening(todays: list[datetime], now: datetime, today: date, zone: str) -> datetime:
    """Return ``now`` if the day's entries reach around it, else an instant of the afternoon."""
    if not todays or todays[0] <= now <= todays[-1] + _STILL_FRESH:
        return now
    shown = instant_of(at_clock(today, SHOWN_AT, zone_named(zone)))
    return max((at for at in todays if at <= shown), default=todays[0]) + _SHORTLY


def _known_by(
    opens_at: datetime, book: Tables, move: _Move
) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Yield the rows of a file, moved, without the entries that were touched after ``opens_at``."""
    tables = {
        name: {row_id: move.row(row) for row_id, row in book.get(name, {}).items()}
        for name in ("entries", "trail")
    }
    later = {
        row.get("entry", row_id)
        for rows in tables.values()
        for row_id, row in rows.items()
        if any(datetime.fromisoformat(row[name]) > opens_at for name in INSTANTS if name in row)
    }
    for name, rows in tables.items():
        for row_id, row in rows.items():
            if row.get("entry", row_id) not in later:
                yield name, row_id, row


class _Move(Struct, frozen=True):
    """A move by whole days, from one zone's clock to another's."""

    source: str
    target: str
    days: int

    def instant(self, at: datetime) -> datetime:
        """Return the instant at which the other clock shows the same time, some days later."""
        wall = local(minutes_of(at), zone_named(self.source))
        there = at_clock(self.date(wall.date()), wall.time(), zone_named(self.target))
        return instant_of(there)

    def date(self, day: date) -> date:
        """Return a calendar date, moved."""
        return day + timedelta(days=self.days)

    def weekdays(self, days: frozenset[int]) -> frozenset[int]:
        """Return ISO weekdays, moved along with the log."""
        return frozenset((day - 1 + self.days) % 7 + 1 for day in days)

    def row(self, row: Mapping[str, Any]) -> dict[str, Any]:
        """Return an entry or a line of the trail, with every instant in it moved."""
        moved = dict(row)
        for name in INSTANTS:
            if name in moved:
                moved[name] = self.instant(datetime.fromisoformat(moved[name])).isoformat()
        if "zone" in moved:
            moved["zone"] = self.target
        if "before" in moved:
            moved["before"] = self.row(moved["before"])
        return moved

    def settings(self, settings: Settings) -> Settings:
        """Return the settings with the arrival, every date and every weekday moved."""
        home = settings.home
        work = home.work and structs.replace(home.work, days=self.weekdays(home.work.days))
        moved_home = structs.replace(
            home,
            zone=self.target,
            work=work,
            own_hours=tuple(structs.replace(h, days=self.weekdays(h.days)) for h in home.own_hours),
            helpers=tuple(structs.replace(h, days=self.weekdays(h.days)) for h in home.helpers),
            other_days=tuple(
                structs.replace(d, first=self.date(d.first), last=self.date(d.last))
                for d in home.other_days
            ),
        )
        moved_dog = structs.replace(settings.dog, arrived=self.instant(settings.dog.arrived))
        return structs.replace(settings, dog=moved_dog, home=moved_home)


def _date(at: datetime, zone: str) -> date:
    return at.astimezone(zone_named(zone)).date()
