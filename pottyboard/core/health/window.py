"""What the rules of the warnings look at: a stretch of the log, seen at an instant."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from functools import cached_property
from itertools import chain, pairwise
from operator import attrgetter
from typing import Final, NamedTuple

from msgspec import Struct

from pottyboard.core.engine.days import Accident, Day, Outing
from pottyboard.core.engine.history import History
from pottyboard.core.health.health_views import Level
from pottyboard.core.health.water import Portion, portions
from pottyboard.core.model import figures
from pottyboard.core.model.events import ILLNESS, KINDS, Event
from pottyboard.core.model.localtime import Minutes, clock_words, date_words, local
from pottyboard.core.model.settings import Settings

_at = attrgetter("t")

OUTINGS: Final = tuple(row.code for row in KINDS.values() if row.is_outing)
PEES: Final = tuple(row.code for row in KINDS.values() if "pee" in row.resets)
STOOLS: Final = tuple(row.code for row in KINDS.values() if "poop" in row.resets)


def key(event: Event) -> tuple[Minutes, str, str]:
    """Tell an entry: days that were kept hold equal entries of an earlier reading of the log."""
    return event.t, event.id, event.kind


class Mark(NamedTuple):
    """Something that raises a warning, once it was logged ``at`` (epoch minutes).

    ``because`` says what in the log it is. ``grade`` is how bad it is; ``until`` when it ended by
    itself, None where only time or a vet ends it.
    """

    at: Minutes
    level: Level
    because: str
    grade: float = 1.0
    until: Minutes | None = None


class Absence(NamedTuple):
    """One time alone; ``back`` is None while it runs."""

    left: Minutes
    back: Minutes | None
    note: str = ""


class Look(Struct, frozen=True, dict=True):
    """A stretch of the log up to ``now``: ``events`` sorted, ``days`` those that they fall on."""

    settings: Settings
    events: tuple[Event, ...]
    days: tuple[Day, ...]
    now: Minutes

    @classmethod
    def at(
        cls,
        history: History,
        now: Minutes,
        typed_by: datetime | None = None,
        since: Minutes | None = None,
    ) -> Look:
        """Return what can be seen at ``now``, two weeks back unless ``since`` says otherwise.

        With ``typed_by`` entries that were typed later are not seen, whenever they happened.
        """
        if since is None:
            since = now - figures.WARNING_LOOKS_BACK * 1440
        low = bisect_left(history.events, since, key=_at)
        high = bisect_right(history.events, now + 1e-6, key=_at)
        events: Iterable[Event] = history.events[low:high]
        if typed_by is not None:
            events = (event for event in events if (event.logged or event.at) <= typed_by)
        first = bisect_left(history.days, since, key=lambda day: day.plan.next_up)
        last = bisect_right(history.days, now, key=lambda day: day.plan.start)
        return cls(history.settings, tuple(events), tuple(history.days[first:last]), now)

    # --- What was logged --------------------------------------------------------------------------

    @cached_property
    def of_kind(self) -> dict[str, list[Event]]:
        """The events by their kind, each list in order."""
        found: dict[str, list[Event]] = {kind: [] for kind in KINDS}
        for event in self.events:
            found[event.kind].append(event)
        return found

    def kinds(self, *kinds: str) -> list[Event]:
        """Return the events of some kinds, in order."""
        lists = [found for kind in kinds if (found := self.of_kind[kind])]
        return lists[0] if len(lists) == 1 else sorted(chain(*lists), key=_at)

    @cached_property
    def notes(self) -> tuple[Event, ...]:
        """The health notes about the body, in order."""
        return tuple(e for e in self.of_kind["health"] if e.finding in ILLNESS)

    @cached_property
    def outings(self) -> list[Event]:
        """Every entry of an outing, to the pad too, in order."""
        return self.kinds(*OUTINGS)

    @cached_property
    def accidents(self) -> tuple[Accident, ...]:
        """The accidents that this dog had, in order, with why they happened."""
        seen = {key(event) for event in self.kinds("pee-inside", "poop-inside")}
        return tuple(
            accident
            for day in self.days
            for accident in day.accidents
            if accident.is_own and key(accident.event) in seen
        )

    def caused_by(self, *causes: str) -> list[Event]:
        """Return the accidents with one of these causes, likely or said."""
        return [a.event for a in self.accidents if a.why.cause in causes]

    @cached_property
    def happenings(self) -> dict[tuple[Minutes, str, str], Outing | Accident]:
        """The outings and accidents as the days worked them out, by :func:`key` of an entry."""
        found: dict[tuple[Minutes, str, str], Outing | Accident] = {}
        for day in self.days:
            found.update((key(event), out) for out in day.outings for event in out.events)
            found.update((key(accident.event), accident) for accident in day.accidents)
        return found

    @cached_property
    def pees(self) -> tuple[Event, ...]:
        """The pees, wherever they went; those of one outing count once."""
        return _once(self.kinds(*PEES))

    @cached_property
    def stools(self) -> tuple[Event, ...]:
        """The stools, wherever they went; those of one outing count once."""
        return _once(self.kinds(*STOOLS))

    @cached_property
    def portions(self) -> tuple[Portion, ...]:
        """The amounts of water, in the order in which they became known."""
        return portions(self.settings, self.events, self.kinds("water", "bowl"))

    @cached_property
    def absences(self) -> tuple[Absence, ...]:
        """The times alone, in order."""
        found: list[Absence] = []
        for event in self.kinds("left", "back"):
            if event.kind == "left":
                found.append(Absence(event.t, None))
            elif found and found[-1].back is None:
                found[-1] = Absence(found[-1].left, event.t, event.note)
        return tuple(found)

    @cached_property
    def wet_nights(self) -> tuple[Event, ...]:
        """The last accident of each night that had one, leaks left out."""
        at = {day.facts.last_night_accident for day in self.days}
        wet = [a.event for a in self.accidents if a.event.t in at and a.why.cause != "leak"]
        by_night = {self.night_of(event): event for event in wet}
        return tuple(by_night[night] for night in sorted(by_night))

    @property
    def is_frail(self) -> bool:
        """Whether the dog is a toy dog or a senior, which waits for no second day."""
        dog = self.settings.dog
        return dog.weight_kg < figures.TOY_BELOW_KG or dog.age == "senior"

    # --- When -------------------------------------------------------------------------------------

    @cached_property
    def settled_in(self) -> Minutes:
        """When the days of the first nerves are over, and patterns begin to count."""
        day = self.settings.first_date + timedelta(days=int(figures.SETTLING_DAYS))
        return self.settings.up_on(day) - figures.UP_EARLIEST

    @cached_property
    def vets(self) -> tuple[Minutes, ...]:
        """When a vet saw the dog."""
        return tuple(event.t for event in self.events if event.kind == "vet")

    def morning_of(self, at: Minutes) -> Minutes:
        """Return when the day of an instant began: at getting up, or before all that is seen."""
        number = bisect_right(self.days, at, key=lambda day: day.plan.start)
        return self.days[number - 1].plan.start if number else at

    def by_day(self, events: Sequence[Event]) -> list[tuple[Day, Sequence[Event]]]:
        """Return each day with those of ``events`` (sorted) that fall on it."""
        starts = [bisect_left(events, day.plan.start, key=_at) for day in self.days]
        spans = pairwise([*starts, len(events)])
        return [(day, events[low:high]) for day, (low, high) in zip(self.days, spans, strict=True)]

    def lately(
        self, events: Sequence[Event], at: Minutes, span: Minutes, *, vet: bool = True
    ) -> list[Event]:
        """Return those of ``events`` (sorted) within ``span`` up to ``at``, later than any vet."""
        start = at - span
        if vet:
            start = max([start, *(seen for seen in self.vets if seen < at)])
        return list(
            events[bisect_right(events, start, key=_at) : bisect_right(events, at, key=_at)]
        )

    def night_of(self, event: Event) -> date:
        """Return the date of the evening before an entry in the night; else its own."""
        return local(event.t - 12 * 60, self.settings.zone).date()

    def when(self, at: Minutes) -> str:
        """Return an instant in words, such as ``Tue 3 Mar 14:05``."""
        day = local(at, self.settings.zone).date()
        return f"{date_words(day, day)} {clock_words(at, self.settings.zone)}"

    def whens(self, events: Sequence[Event], most: int = 3) -> str:
        """Return when entries were, the last of them where there are many."""
        words = ", ".join(self.when(event.t) for event in events[-most:])
        return words if len(events) <= most else f"{len(events)} times, last {words}"


def _once(events: Iterable[Event]) -> tuple[Event, ...]:
    """Return the first entry of each outing; what another dog may have done is left out."""
    found: list[Event] = []
    for event in events:
        if event.unsure or (found and event.t - found[-1].t <= figures.ONE_OUTING):
            continue
        found.append(event)
    return tuple(found)
