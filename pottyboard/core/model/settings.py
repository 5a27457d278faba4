"""What is known before day 1: the dog, the home and how the board should behave."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import Final, Literal

from msgspec import Struct, field, structs
from pendulum import Timezone

from pottyboard.core.model import figures
from pottyboard.core.model.alarms import Alarms
from pottyboard.core.model.localtime import Minutes, at_clock, minutes_of, zone_named
from pottyboard.core.written.numbers import PhoneNumber

Size = Literal["small", "medium", "large"]
Age = Literal["young", "adult", "senior"]
Risk = Literal["careful", "balanced", "easy"]
Condition = Literal["water-medicine", "in-heat", "operated"]
"""What changes a dog's pees for a time: a medicine that makes it pass more water (whichever it is:
no medicine is named), being in heat, an operation of late."""

EVERY_DAY: Final = frozenset(range(1, 8))
"""All ISO weekdays, 1 = Monday."""


class Dog(Struct, frozen=True):
    """The dog: weight in kilograms, ``arrived`` a UTC instant (the start of day 1).

    ``weight_written`` is the weight as the household wrote it, where that was in pounds.
    """

    name: str
    weight_kg: float
    arrived: datetime
    age: Age = "adult"
    sex: Literal["female", "male"] = "female"
    neutered: bool = True
    prone: bool = False
    history: Literal["unknown", "home", "kennel", "outdoors"] = "unknown"
    vet: Literal["not yet", "booked", "done"] = "not yet"
    conditions: frozenset[Condition] = frozenset()
    weight_written: str = ""

    @property
    def weight_words(self) -> str:
        """The weight to read, in kilograms, and before them in pounds where it was written so."""
        kilograms = f"{self.weight_kg:g} kg"
        return f"{self.weight_written} ({kilograms})" if self.weight_written else kilograms

    @property
    def size(self) -> Size:
        """Small under 10 kg, large from 20 kg (our own choice)."""
        if self.weight_kg < figures.SMALL_BELOW_KG:
            return "small"
        return "large" if self.weight_kg >= figures.LARGE_FROM_KG else "medium"


class Work(Struct, frozen=True):
    """When the household is away: ISO weekdays (1 = Monday), local clock times.

    It holds for everybody who has no :class:`OwnHours`. ``from_day`` is the day number (arrival =
    1) from which absences begin, those of own hours too.
    """

    days: frozenset[int]
    leave: time
    back: time
    from_day: int = 5


class OwnHours(Struct, frozen=True):
    """When one person is away, where that differs from the household: ISO weekdays, local times.

    A person may have several; no days at all means never away.
    """

    person: str
    days: frozenset[int]
    leave: time
    back: time


class OtherDays(Struct, frozen=True):
    """An exception for the dates from ``first`` to ``last``: away at other times, or not at all.

    Without ``leave`` and ``back`` they are home. ``person`` empty means everybody.
    """

    first: date
    last: date
    person: str = ""
    leave: time | None = None
    back: time | None = None


class Helper(Struct, frozen=True):
    """Somebody who can visit, between local clock times, visits whole within them.

    ``cost`` of one visit in ``currency``, its sign or code (empty: not said); ``notice`` the least
    notice and ``lasts`` the length of a visit, in minutes; ``days`` the ISO weekdays. One name may
    stand for several rows of hours.
    """

    name: str
    start: time
    end: time
    cost: float = 0.0
    notice: Minutes = 0.0
    lasts: Minutes = float(figures.VISIT_LASTS)
    days: frozenset[int] = EVERY_DAY
    currency: str = ""


class Home(Struct, frozen=True):
    """The home and its routine, in local clock times of the IANA zone ``zone``.

    ``visits`` tells whether a plan has the fewest visits or the least money first. ``numbers`` are
    whom to call, the vet first: private, so that no export, diary or review has them.
    """

    zone: str
    up: time = time(6, 30)
    bed: time = time(22, 30)
    meals: tuple[time, ...] = (time(7, 0), time(17, 30))
    people: tuple[str, ...] = ()
    spot: str = ""
    cue: str = ""
    pads: bool = False
    work: Work | None = None
    helpers: tuple[Helper, ...] = ()
    own_hours: tuple[OwnHours, ...] = ()
    other_days: tuple[OtherDays, ...] = ()
    visits: Literal["fewest", "cheapest"] = "fewest"
    numbers: tuple[PhoneNumber, ...] = ()

    @property
    def currency(self) -> str:
        """The sign or code in which the helpers' costs were written, empty if in none."""
        return next((helper.currency for helper in self.helpers if helper.currency), "")


class Board(Struct, frozen=True):
    """How the board behaves: its alarms, the glyphs and the household's limit of risk."""

    alarms: Alarms = Alarms()
    glyphs: Literal["drawn", "ascii"] = "drawn"
    risk: Risk = "balanced"


class Settings(Struct, frozen=True, dict=True):
    """Everything that is known before day 1, and the local days that follow from it.

    ``unanswered`` counts the questions that a first start has left to the usual answers; ``apart``
    is what tells the dog from others of its name, empty where nothing has to.
    """

    dog: Dog
    home: Home
    board: Board = field(default_factory=Board)
    unanswered: int = 0
    apart: str = ""

    @property
    def called(self) -> str:
        """The dog's name, in brackets behind it what tells it from others of the name."""
        return f"{self.dog.name} ({self.apart})" if self.apart else self.dog.name

    @property
    def zone(self) -> Timezone:
        """The household's time zone."""
        return zone_named(self.home.zone)

    def clock(self, at: datetime) -> str:
        """Return the local clock time of an instant, such as ``07:05``."""
        return f"{at.astimezone(self.zone):%H:%M}"

    @property
    def arrived(self) -> Minutes:
        """The arrival in epoch minutes."""
        return minutes_of(self.dog.arrived)

    @cached_property
    def first_date(self) -> date:
        """The local date of day 1."""
        return self.dog.arrived.astimezone(self.zone).date()

    def day_number(self, day: date) -> int:
        """Return the number of a local date: 1 for the day of arrival."""
        return (day - self.first_date).days + 1

    def up_on(self, day: date) -> Minutes:
        """Return the planned instant of getting up on ``day``."""
        return at_clock(day, self.home.up, self.zone)

    def bed_on(self, day: date) -> Minutes:
        """Return the planned bedtime that ends ``day`` (after midnight where it is before up)."""
        later = timedelta(days=self.home.bed <= self.home.up)
        return at_clock(day + later, self.home.bed, self.zone)

    def meals_on(self, day: date) -> tuple[Minutes, ...]:
        """Return the planned meals of ``day`` in order (a clock before up is past midnight)."""
        home = self.home
        return tuple(
            sorted(
                at_clock(day + timedelta(days=clock < home.up), clock, self.zone)
                for clock in home.meals
            )
        )


def with_plain_glyphs(settings: Settings) -> Settings:
    """Return the settings as they hold on a terminal that shows no drawn glyphs."""
    return structs.replace(settings, board=structs.replace(settings.board, glyphs="ascii"))
