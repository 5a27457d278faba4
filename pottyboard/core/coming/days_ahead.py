"""What the coming days hold, each piece with what it is known from.

Today comes from the log, tomorrow is what the board will say if all goes to plan until then. Of
later days nobody can know the breaks: there stands the routine alone, and the visits as planned.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from itertools import chain
from operator import attrgetter
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.away.overview import away_situation
from pottyboard.core.away.schedule import AwayDay
from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, instant_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.tomorrow import tomorrow
from pottyboard.core.view.situation import situation
from pottyboard.core.view.situation_views import Slot
from pottyboard.core.view.timeline import NOBODY_HOME

ComingKind = Literal["break", "last thing", "night", "meal", "visit"]
Basis = Literal["log", "plan", "routine"]
"""What a piece is known from: the *log* so far, tomorrow's *plan*, or the *routine* alone."""

_LAST_THING: Final = RULE_BY_CODE["bedtime"].title
_LEAVING: Final = RULE_BY_CODE["leaving"].title
_GOT_UP: Final = RULE_BY_CODE["up"].title
_BACK: Final = RULE_BY_CODE["back"].title
_SERVED: Final = timedelta(minutes=float(figures.SERVES_WITHIN))


class Coming(Struct, frozen=True):
    """One piece of a coming day: a break with its reasons as ``words``, a meal, or a visit.

    Instants are UTC. ``helper`` is who visits, ``told`` whether they know of it; ``in_quiet``
    whether it rings in the quiet hours too.
    """

    date: date
    kind: ComingKind
    at: datetime
    until: datetime
    words: str
    basis: Basis
    helper: str = ""
    told: bool = False
    in_quiet: bool = False


def days_ahead(
    settings: Settings, events: Iterable[Event], now: datetime, days: int
) -> tuple[Coming, ...]:
    """Return what the ``days`` from the one that ``now`` (aware) belongs to still hold, in order.

    What is due already is left out: the board calls that. Raises ``TimeError`` if ``now`` is naive.
    """
    log = tuple(event for event in events if event.at <= now)
    view = situation(settings, log, now)
    dates = [view.date + timedelta(days=step) for step in range(days)]
    away = away_situation(settings, log, now, first=view.date, days=days)
    plans = {day.date: day for day in away.plan.days}
    found = [_of_slots(plans[view.date], view.timeline, "log")]
    if days > 1:
        after = tomorrow(settings, log, now)
        rows = [row.slot for row in after.rows if row.change != "gone"]
        found.append(_of_slots(plans[after.date], rows, "plan"))
    found += [_of_routine(settings, plans[day]) for day in dates[2:]]
    found += [_visits(plans[day], basis) for day, basis in _bases(dates)]
    least = max(now, settings.dog.arrived)
    coming = [piece for piece in chain.from_iterable(found) if piece.at > least]
    return tuple(sorted(coming, key=attrgetter("at", "kind")))


def _bases(dates: Sequence[date]) -> Iterator[tuple[date, Basis]]:
    for place, day in enumerate(dates):
        yield day, ("log", "plan", "routine")[min(place, 2)]


def _of_slots(plan: AwayDay, slots: Iterable[Slot], basis: Basis) -> Iterator[Coming]:
    """Yield the breaks and meals of a day that the board has planned.

    A break that falls due while nobody is home stands only where no visit is planned: whoever
    visits goes out with the dog. Coming home is a break.
    """
    day = plan.date
    coming = [slot for slot in slots if slot.status in ("due", "planned")]
    breaks = [slot for slot in coming if slot.kind == "break"]
    if plan.visits:
        breaks = [slot for slot in breaks if not slot.words.startswith(NOBODY_HOME)]
    for slot in breaks:
        last, leaving = _LAST_THING in slot.words, _LEAVING in slot.words
        kind: ComingKind = "last thing" if last else "break"
        yield _piece(day, kind, slot.at, slot.words, basis, in_quiet=last or leaving)
    for slot in coming:
        if slot.kind == "meal":
            yield _piece(day, "meal", slot.at, slot.words, basis)
        elif slot.kind == "night":
            yield _piece(day, "night", slot.at, slot.words, basis, in_quiet=True)
        elif slot.kind == "back" and not any(
            timedelta() <= b.at - slot.at < _SERVED for b in breaks
        ):
            yield _piece(day, "break", slot.at, _BACK, basis)


def _of_routine(settings: Settings, plan: AwayDay) -> Iterator[Coming]:
    """Yield what a day holds by the set-up alone: morning, meals, leaving, return, last thing."""
    day = plan.date
    yield _piece(day, "break", _utc(settings.up_on(day)), _GOT_UP, "routine")
    for meal in plan.meals:
        words = f"meal, {meal.words}" if meal.words else "meal"
        yield _piece(day, "meal", meal.at, words, "routine")
    for each in plan.breaks:
        if each.kind == "leaving":
            yield _piece(day, "break", each.at, _LEAVING, "routine", in_quiet=True)
        elif each.kind == "back":
            yield _piece(day, "break", each.at, _BACK, "routine")
    bed = _utc(settings.bed_on(day))
    yield _piece(day, "last thing", bed, _LAST_THING, "routine", in_quiet=True)


def _visits(plan: AwayDay, basis: Basis) -> Iterator[Coming]:
    for visit in plan.visits:
        yield Coming(
            plan.date, "visit", visit.at, visit.until, visit.why, basis,
            helper=visit.helper, told=bool(visit.told),
        )  # fmt: skip


def _piece(
    day: date,
    kind: ComingKind,
    at: datetime,
    words: str,
    basis: Basis,
    *,
    in_quiet: bool = False,
) -> Coming:
    until = at + timedelta(minutes=float(figures.CALENDAR_LASTS))
    return Coming(day, kind, at, until, words, basis, in_quiet=in_quiet)


def _utc(at: Minutes) -> datetime:
    return instant_of(at)
