"""Accidents as the patterns count them: what is known of the hour, the watch and the company."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from pottyboard.core.engine.circumstances import earliest_of
from pottyboard.core.engine.days import Day
from pottyboard.core.log.places import place_of
from pottyboard.core.model import figures
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.patterns.exposure import TimeAtRisk, minute_of_day


class Incident(Struct, frozen=True):
    """One accident; entries so close together that they were one count once.

    ``by_day`` tells whether it happened outside the night, ``alone`` whether nobody was home, None
    where the log does not tell. The ``minute`` of the day and ``who`` had charge are known only of
    what happened in company by day; ``room`` and ``cause`` (in words) are empty where nobody knows.
    """

    t: Minutes
    by_day: bool = True
    alone: bool | None = None
    minute: float | None = None
    who: str = ""
    room: str = ""
    cause: str = ""


def incidents(days: Sequence[Day], near: range, awake: TimeAtRisk) -> tuple[Incident, ...]:
    """Return the accidents of the days of ``near``; what another dog may have done is left out."""
    told: list[Incident] = []
    for accident in (accident for index in near for accident in days[index].accidents):
        event = accident.event
        if event.unsure or (told and event.t - told[-1].t <= figures.ONE_OUTING):
            continue
        context = accident.circumstances.context
        by_day = not context.facts.by_night(event, context.plan)
        minute, who, alone = _watched(event, awake) if by_day else (None, "", None)
        place = place_of(event.place)
        told.append(
            Incident(
                event.t,
                by_day,
                alone,
                minute if alone is False else None,
                who if alone is False else "",
                place.room if place else "",
                "" if accident.why.cause == "unknown" else CAUSE_WORDS[accident.why.cause],
            )
        )
    return tuple(told)


def _watched(event: Event, awake: TimeAtRisk) -> tuple[float | None, str, bool | None]:
    """Return the minute of the day, the person in charge and whether nobody was home."""
    first, last = earliest_of(event), event.t
    pieces = () if first is None else awake.between(first, last)
    people, company = {piece.who for piece in pieces}, {piece.alone for piece in pieces}
    alone = event.alone
    if alone is None and len(company) == 1:
        alone = company.pop()
    known = first is not None and last - first <= figures.PATTERN_KNOWN
    known = known and awake.at(last) is not None
    minute = minute_of_day((first + last) / 2, awake.zone) if known and first is not None else None
    return minute, people.pop() if len(people) == 1 else "", alone


def rooms_alike(told: Iterable[Incident]) -> Iterator[tuple[str, int]]:
    """Yield each room as it was written last, with its accidents."""
    names: dict[str, str] = {}
    counts: dict[str, int] = {}
    for incident in told:
        if incident.room:
            key = incident.room.casefold()
            names[key], counts[key] = incident.room, counts.get(key, 0) + 1
    for key, count in counts.items():
        yield names[key], count
