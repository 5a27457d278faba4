"""Accidents as the patterns count them: what is known of the hour, the watch and the company."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from pottyboard.core import figures
from pottyboard.core.accidents.causes import CAUSE_WORDS, earliest_of
from pottyboard.core.accidents.places import place_of
from pottyboard.core.days import Day
from pottyboard.core.localtime import Minutes
from pottyboard.core.review.waking import Waking, minute_of_day


@dataclass(frozen=True, slots=True)
class Incident:
    """One accident; entries so close together that they were one count once.

    ``minute`` of the day is None where the hour is not known or the dog slept, and so are ``who``
    had charge and whether it was ``alone``; ``room`` and ``cause`` (in words) are empty where
    nobody knows them.
    """

    t: Minutes
    minute: float | None = None
    who: str | None = None
    alone: bool | None = None
    room: str = ""
    cause: str = ""


def incidents(days: Sequence[Day], near: range, awake: Waking) -> tuple[Incident, ...]:
    """Return the accidents of the days of ``near``; what another dog may have done is left out."""
    found = (accident for index in near for accident in days[index].accidents)
    sure = [accident for accident in found if not accident.event.unsure]
    told: list[Incident] = []
    for accident in sure:
        event = accident.event
        if told and event.t - told[-1].t <= figures.ONE_OUTING:
            continue
        minute, who, alone = _watched(earliest_of(event), event.t, awake)
        place = place_of(event.place)
        told.append(
            Incident(
                event.t,
                minute,
                who,
                alone if event.alone is None or alone is None else event.alone,
                place.room if place else "",
                "" if accident.why.cause == "unknown" else CAUSE_WORDS[accident.why.cause],
            )
        )
    return tuple(told)


def _watched(
    first: Minutes | None, last: Minutes, awake: Waking
) -> tuple[float | None, str | None, bool | None]:
    """Return the minute of the day, the person and the company of what happened meanwhile."""
    if first is None or awake.at(last) is None:
        return None, None, None
    pieces = awake.between(first, last) if first < last else (awake.at(last),)
    people = {piece.who for piece in pieces if piece}
    alone = {piece.alone for piece in pieces if piece}
    return (
        minute_of_day((first + last) / 2, awake.zone)
        if last - first <= figures.PATTERN_KNOWN
        else None,
        people.pop() if len(people) == 1 else None,
        alone.pop() if len(alone) == 1 else None,
    )


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
