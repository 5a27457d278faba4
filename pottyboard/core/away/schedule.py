"""The shape of the plan for the days away: who is away, the visits, and what they cost.

:func:`pottyboard.core.away.visits.plan_visits` makes it; nothing here decides anything. Instants
are aware UTC ``datetime``, lengths whole minutes, money in the household's currency.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time
from typing import Any, Final, Literal

from msgspec import Struct
from pendulum import Timezone

from pottyboard.core.written.amounts import SIGNS

BreakKind = Literal["leaving", "visit", "back"]
SpanCause = Literal["gap", "meal", "middle"]
RemedyCode = Literal["back", "leave", "hours", "helper", "home", "pad"]
ProposalCode = Literal["move", "add", "drop"]

SCHEMA: Final = 1
"""Version of the plan as JSON (see :func:`as_json`)."""


class Away(Struct, frozen=True):
    """A time away: of one person, or of all of them (then the dog is alone).

    ``leaves`` and ``returns`` name who goes last and who is back first, where that is known.
    """

    start: datetime
    end: datetime
    leaves: str = ""
    returns: str = ""


class Person(Struct, frozen=True):
    """One person's lane of one day: the times away that begin on it."""

    name: str
    away: tuple[Away, ...]


class Visit(Struct, frozen=True):
    """One visit: who comes and when; the break is on arrival, at ``at``.

    ``number`` counts the visits of one day from 1; ``why`` says what it is for. ``told`` names the
    agreement where the helper was told of it, empty where nobody was; ``sequence`` counts how often
    it was changed since.
    """

    date: date
    number: int
    at: datetime
    until: datetime
    helper: str
    cost: float
    why: str = ""
    told: str = ""
    sequence: int = 0


class Proposal(Struct, frozen=True):
    """A change of what was agreed: *move* a visit from ``at`` to ``to``, *add* or *drop* one.

    ``lasts`` is in minutes; ``about`` names the agreement that it changes; ``cost`` what it costs
    more; ``ask_by`` until when the helper can be asked, by the notice.
    """

    code: ProposalCode
    date: date
    helper: str
    at: datetime
    to: datetime
    lasts: float
    about: str
    cost: float
    ask_by: datetime
    words: str


class Break(Struct, frozen=True):
    """One planned break around an absence: before leaving, at a visit, or on return."""

    at: datetime
    kind: BreakKind
    words: str


class Meal(Struct, frozen=True):
    """One meal: when it is ``usual``, when it is given, and why it was moved (if it was)."""

    usual: datetime
    at: datetime
    words: str = ""


class Shortfall(Struct, frozen=True):
    """What cannot be covered: no break from ``start`` to ``end``, ``over`` minutes too long.

    ``cause`` is the *gap* itself, or a window (after a *meal*, near the *middle*) without a visit.
    """

    cause: SpanCause
    start: datetime
    end: datetime
    over: int
    words: str


class Remedy(Struct, frozen=True):
    """A change that would cover an absence, in words.

    ``minutes`` is how much has to change; ``cost`` what its visits cost more than those planned,
    None where nobody can know.
    """

    code: RemedyCode
    words: str
    minutes: int
    cost: float | None


class AwayDay(Struct, frozen=True):
    """One day: the lanes of the people, when the dog is alone, and what is planned for it.

    ``limit`` is the longest time alone awake in minutes; ``up`` and ``bed`` the ends of the day.
    ``shortfalls`` are those of the times away that are not over yet, ``passed`` those of the
    others; ``over`` is true when all of them are. ``remedies`` come smallest first, and only where
    there is a shortfall; ``proposals`` are changes of what was agreed; ``called_off`` are visits
    that a helper was told of and that do not come; ``advice`` is one line of what would help.
    """

    date: date
    number: int
    limit: int
    up: datetime
    bed: datetime
    people: tuple[Person, ...]
    alone: tuple[Away, ...]
    visits: tuple[Visit, ...]
    breaks: tuple[Break, ...]
    meals: tuple[Meal, ...]
    shortfalls: tuple[Shortfall, ...]
    remedies: tuple[Remedy, ...]
    cost: float
    proposals: tuple[Proposal, ...] = ()
    called_off: tuple[Visit, ...] = ()
    advice: str = ""
    passed: tuple[Shortfall, ...] = ()
    over: bool = False

    @property
    def covered(self) -> bool:
        """Whether every gap to come is kept."""
        return not self.shortfalls

    @property
    def lacks(self) -> str:
        """What cannot be kept, in one line: the longest over its limit, and how many more."""
        if not self.shortfalls:
            return ""
        worst = max(self.shortfalls, key=lambda gap: gap.over)
        more = len(self.shortfalls) - 1
        return worst.words + (f" (and {more} more like it)" if more else "")


class AwayPlan(Struct, frozen=True):
    """The plan for some days in a row; ``usual`` are the local clock times that repeat most."""

    days: tuple[AwayDay, ...]
    usual: tuple[time, ...]
    cost: float

    @property
    def visits(self) -> tuple[Visit, ...]:
        """All visits, in order."""
        return tuple(visit for day in self.days for visit in day.visits)

    @property
    def proposals(self) -> tuple[Proposal, ...]:
        """What would be changed of what was agreed, in order."""
        return tuple(proposal for day in self.days for proposal in day.proposals)

    @property
    def untold(self) -> tuple[Visit, ...]:
        """The visits that nobody was told of yet, in order."""
        return tuple(visit for visit in self.visits if not visit.told)

    @property
    def covered(self) -> bool:
        """Whether every gap of every day is kept."""
        return all(day.covered for day in self.days)

    def words(self, currency: str = "") -> str:
        """Return the plan in one line, its cost in this currency."""
        text = visits_words(len(self.visits), self.cost, currency)
        short = sum(not day.covered for day in self.days)
        return text + (f", {short} day{'' if short == 1 else 's'} not covered" if short else "")


def visits_words(number: int, cost: float, currency: str = "") -> str:
    """Return a number of visits and what they cost; without any, no price."""
    text = f"{number} visit{'' if number == 1 else 's'}"
    return f"{text}, {money_words(cost, currency)}" if number else text


def money_words(amount: float, currency: str = "") -> str:
    """Return an amount of money, as ``12.50`` or ``€12.50``, ``free`` for nothing."""
    if not amount:
        return "free"
    sum_ = f"{amount:.2f}"
    return f"{currency}{sum_}" if currency in SIGNS else f"{sum_} {currency}".rstrip()


def as_json(plan: AwayPlan, zone: Timezone) -> dict[str, Any]:
    """Return the plan as plain values for JSON; instants are ISO 8601 with the home's offset."""

    def iso(at: datetime) -> str:
        return at.astimezone(zone).isoformat(timespec="minutes")

    def spans(away: Iterable[Away]) -> list[dict[str, str]]:
        return [{"leave": iso(span.start), "back": iso(span.end)} for span in away]

    return {
        "schema": SCHEMA,
        "covered": plan.covered,
        "visits": len(plan.visits),
        "cost": plan.cost,
        "usual": [f"{clock:%H:%M}" for clock in plan.usual],
        "days": [
            {
                "date": day.date.isoformat(),
                "day": day.number,
                "limit_minutes": day.limit,
                "people": {person.name: spans(person.away) for person in day.people},
                "alone": spans(day.alone),
                "visits": [
                    {
                        "at": iso(visit.at),
                        "until": iso(visit.until),
                        "helper": visit.helper,
                        "cost": visit.cost,
                        "why": visit.why,
                        "told": bool(visit.told),
                    }
                    for visit in day.visits
                ],
                "meals": [{"at": iso(meal.at), "words": meal.words} for meal in day.meals],
                "cost": day.cost,
                "covered": day.covered,
                "over": day.over,
                "shortfalls": [
                    {"cause": gap.cause, "from": iso(gap.start), "to": iso(gap.end),
                     "over_minutes": gap.over, "words": gap.words}
                    for gap in day.shortfalls
                ],
                "remedies": [
                    {"remedy": remedy.code, "words": remedy.words, "cost": remedy.cost}
                    for remedy in day.remedies
                ],
                "proposals": [
                    {"change": change.code, "helper": change.helper, "at": iso(change.at),
                     "to": iso(change.to), "cost": change.cost, "ask_by": iso(change.ask_by),
                     "words": change.words}
                    for change in day.proposals
                ],
            }
            for day in plan.days
        ],
    }  # fmt: skip
