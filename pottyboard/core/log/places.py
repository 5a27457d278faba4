"""Rooms and spots of the home, learned from what the household wrote for ``place``.

``kitchen`` is a room; ``kitchen: by the door`` and ``kitchen, by the door`` are a spot in it. Names
that differ only in capitals or spaces are one place, shown as it was written last. An accident in
the same room counts as beside a spot.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from functools import lru_cache
from typing import Final

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, count_words, instant_of, span_words

_BETWEEN: Final = (":", ",")


class Spot(Struct, frozen=True):
    """One room or spot of the home: its accidents, the newest, and whether one is to clean.

    ``days_since`` are whole days since the newest accident; ``repeats`` counts those of the last
    two weeks; ``blocked`` whether the household has blocked access; ``words`` say what to do where
    it repeats, empty otherwise.
    """

    name: str
    accidents: int
    newest: datetime
    days_since: int
    repeats: int
    to_clean: bool
    blocked: bool = False
    words: str = ""


class Place(Struct, frozen=True):
    """A room, or a spot in it (``spot`` empty: the room alone), as the household writes them."""

    room: str
    spot: str = ""

    @property
    def name(self) -> str:
        """How it reads and may be written again: ``kitchen`` or ``kitchen: by the door``."""
        return f"{self.room}: {self.spot}" if self.spot else self.room

    @property
    def key(self) -> str:
        """What two writings of one place have in common."""
        return self.name.casefold()

    @property
    def in_room(self) -> Place:
        """The room that it is in."""
        return Place(self.room)


@lru_cache(maxsize=512)
def place_of(text: str) -> Place | None:
    """Return the place that ``text`` names, None where it names none."""
    cut = min((at for mark in _BETWEEN if (at := text.find(mark)) >= 0), default=len(text))
    room, spot = (" ".join(part.split()) for part in (text[:cut], text[cut + 1 :]))
    if room and spot:
        return Place(room, spot)
    return Place(room or spot) if room or spot else None


def places_at(text: str) -> tuple[Place, ...]:
    """Return the room that ``text`` names and, where it names one, the spot in it."""
    place = place_of(text)
    if place is None:
        return ()
    return (place.in_room, place) if place.spot else (place,)


def known_places(events: Iterable[Event]) -> tuple[str, ...]:
    """Return the rooms and spots of all accidents among ``events``, the most used first.

    Of places used equally often the one used last comes first. Each is written as it may be logged
    again; a room that was only ever named with a spot is not among them.
    """
    uses: dict[str, tuple[int, Minutes, str]] = {}
    for event in events:
        place = place_of(event.place) if event.row.is_accident else None
        if place is None:
            continue
        count, newest, name = uses.get(place.key, (0, event.t, place.name))
        if event.t >= newest:
            newest, name = event.t, place.name
        uses[place.key] = (count + 1, newest, name)
    return tuple(name for _, _, name in sorted(uses.values(), reverse=True))


class Uses(Struct, frozen=True):
    """The accidents at one place: how many ever, and when the newest was."""

    place: Place
    accidents: int
    newest: Minutes


def marked(uses: Mapping[str, Uses], accident: Event) -> Mapping[str, Uses]:
    """Return ``uses`` (by the key of the place) after one more accident."""
    now = {
        place.key: Uses(place, known.accidents + 1 if known else 1, accident.t)
        for place in places_at(accident.place)
        for known in (uses.get(place.key),)
    }
    return {**uses, **now} if now else uses


def spots(
    uses: Mapping[str, Uses],
    recent: Iterable[Event],
    dirty: Iterable[Event],
    blocked: Mapping[str, Minutes],
    now: Minutes,
) -> tuple[Spot, ...]:
    """Return the rooms, each followed by its spots, those with the newest accident first.

    A room counts what happened at its spots too. ``recent`` are the accidents of the last two
    weeks, ``dirty`` those still to clean, ``blocked`` since when a place is blocked, by its key.
    Accidents with no place named are in none.
    """
    fortnight = _counts(recent)
    to_clean = _counts(dirty)
    rooms = {key: used.newest for key, used in uses.items() if not used.place.spot}

    def rank(used: Uses) -> tuple[float, str, bool, float]:
        room = used.place.in_room.key
        return -rooms.get(room, used.newest), room, bool(used.place.spot), -used.newest

    return tuple(
        Spot(
            name=used.place.name,
            accidents=used.accidents,
            newest=instant_of(used.newest),
            days_since=int((now - used.newest) // 1440),
            repeats=fortnight.get(used.place.key, 0),
            to_clean=used.place.key in to_clean,
            blocked=used.place.key in blocked,
            words=_words(used, fortnight, blocked.get(used.place.key), now),
        )
        for used in sorted(uses.values(), key=rank)
    )


def _counts(accidents: Iterable[Event]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for accident in accidents:
        for place in places_at(accident.place):
            counts[place.key] = counts.get(place.key, 0) + 1
    return counts


def _words(used: Uses, fortnight: Mapping[str, int], blocked: Minutes | None, now: Minutes) -> str:
    """Return what to do about a place, empty where nothing repeats there."""
    if blocked is not None:
        if used.newest > blocked:
            return "blocked, but it happened again: check the block, clean again"
        return f"blocked for {span_words(now - blocked)}"
    here = fortnight.get(used.place.key, 0)
    if here >= figures.REPEAT_FROM:
        return f"{count_words(here, 'accident')} in two weeks: clean again, block access"
    beside = fortnight.get(used.place.in_room.key, 0)
    if here and beside >= figures.REPEAT_FROM:
        return f"{count_words(beside, 'accident')} in this room in two weeks: clean again"
    return ""


def repeat_of(accident: Event, recent: Iterable[Event]) -> tuple[int, bool]:
    """Return which accident in two weeks this is at or beside its spot, and whether at the spot.

    ``recent`` are the accidents of the weeks before; with no place named it is the first.
    """
    place = place_of(accident.place)
    if place is None:
        return 1, True
    since = accident.t - figures.REPEAT_WITHIN * 1440
    before = [
        other
        for event in recent
        if event is not accident and since <= event.t <= accident.t
        for other in (place_of(event.place),)
        if other is not None and other.in_room.key == place.in_room.key
    ]
    here = sum(other.key == place.key for other in before)
    return (here + 1, True) if here else (len(before) + 1, not before)


def named_alike(one: str, other: str) -> bool:
    """Whether two texts name the same room or the same spot."""
    first, second = place_of(one), place_of(other)
    if first is None or second is None:
        return first is second
    return first.key == second.key
