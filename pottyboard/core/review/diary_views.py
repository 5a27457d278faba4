"""The shape of the health diary; nothing here computes."""

from __future__ import annotations

from datetime import date, datetime

from msgspec import Struct

from pottyboard.core.health.health_views import Warning
from pottyboard.core.health.water import Drunk
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.outings import Counted, Waited


class Mishap(Struct, frozen=True):
    """One accident: ``what`` came, why as far as known, and what was noted of it.

    ``cause`` is in words; ``said`` whether the household set it; ``own`` is false where another
    dog may have done it. ``details`` are short words, such as ``found`` or ``small``.
    """

    at: datetime
    what: str
    cause: str
    said: bool
    details: tuple[str, ...]
    note: str = ""
    own: bool = True


class Finding(Struct, frozen=True):
    """One health note: what was noticed (empty for a note in the household's words alone)."""

    at: datetime
    what: str
    note: str


class Night(Struct, frozen=True):
    """The night that began on a day: asleep from and to, breaks in it, and its accidents.

    ``logged`` tells whether somebody wrote down that the dog settled; otherwise the times are
    taken from the routine. ``to`` is None while it lasts.
    """

    asleep: datetime
    to: datetime | None
    breaks: int
    accidents: int
    logged: bool


class DiaryDay(Struct, frozen=True):
    """One day, from getting up to the next getting up.

    ``pees`` and ``stools`` are all that came, wherever; ``pees_inside``, ``stools_inside`` and
    ``on_pad`` those among them that went there. Entries within 10 min count once. ``small`` and
    ``large`` are pees noted so; ``nothing`` the outings that brought nothing. ``too_little`` says
    why the day cannot be counted on, empty where it can; ``longest`` is its longest time between
    two pees by day in minutes, None where no two are known.
    """

    date: date
    number: int
    entries: int
    too_little: str
    pees: int
    pees_inside: int
    stools: int
    stools_inside: int
    on_pad: int
    small: int
    large: int
    nothing: int
    longest: int | None
    water: Drunk | None
    meals: tuple[datetime, ...]
    accidents: tuple[Mishap, ...]
    findings: tuple[Finding, ...]
    night: Night | None

    @property
    def whole(self) -> bool:
        """Whether the day is over and has enough entries to count on."""
        return not self.too_little


class Spread(Struct, frozen=True):
    """So many times in minutes: the one in the middle, the least and the most."""

    number: int
    middle: int
    least: int
    most: int


class Unusual(Struct, frozen=True):
    """What was out of the ordinary on a day, against the dog's own other days."""

    date: date
    words: str


class Raised(Struct, frozen=True):
    """A warning that stood in the period, with what the household noted of it."""

    warning: Warning
    noted: tuple[tuple[datetime, str], ...]


class Diary(Struct, frozen=True):
    """The diary of the days from ``first`` to ``last``, seen at ``now``.

    ``between`` are the times between two pees by day, ``at_night`` those over a night, None where
    there is none; ``gaps`` counts those by day that are too long to be true and left out.
    ``hours`` count outings and accidents by the hour, ``waits`` are the waits by day.
    ``compared`` are the whole days that ``unusual`` is held against.
    """

    settings: Settings
    now: datetime
    days: tuple[DiaryDay, ...]
    between: Spread | None
    at_night: Spread | None
    gaps: int
    unusual: tuple[Unusual, ...]
    compared: int
    warnings: tuple[Raised, ...]
    hours: tuple[Counted, ...]
    waits: tuple[Waited, ...]

    @property
    def first(self) -> date:
        """The first day."""
        return self.days[0].date

    @property
    def last(self) -> date:
        """The last day."""
        return self.days[-1].date

    @property
    def whole(self) -> tuple[DiaryDay, ...]:
        """The days with enough entries."""
        return tuple(day for day in self.days if day.whole)
