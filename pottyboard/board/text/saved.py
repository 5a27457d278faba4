"""What the board answers to an entry: what was saved, when that was, and what to do now."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Final

from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH, name_of
from pottyboard.core.log.cleaning import repeat_words
from pottyboard.core.log.past_change import PastChange, what_words, whose_words
from pottyboard.core.log.places import known_places, repeat_of
from pottyboard.core.model import figures
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import day_clock_words, span_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation
from pottyboard.store import Undone

_LONGEST: Final = 200
"""Cells of what is said of a change that is taken back."""

_USUAL_ROOMS: Final = ("kitchen", "living room", "hall", "bedroom")
_MOST_PLACES: Final = 6
_FINISHED_OUTSIDE: Final = "Praise now, right there, outside."
_INDOORS: Final = "No scolding; enzyme cleaner, no ammonia."


def places_of(events: Sequence[Event]) -> tuple[str, ...]:
    """Return the rooms and spots of accidents, the most used first, then usual rooms."""
    alike: dict[str, str] = {}
    for place in (*known_places(events), *_USUAL_ROOMS):
        alike.setdefault(place.casefold(), place)
    return tuple(alike.values())[:_MOST_PLACES]


def saved_words(
    event: Event, log: Sequence[Event], view: Situation, now: datetime, *, several_dogs: bool
) -> str:
    """Return what was saved and what to do now, in a sentence or two; ``log`` has the others."""
    settings = view.settings
    when = when_words(event.at, now, settings)
    if event.kind == "duty":
        return f"{one_line(event.by, NAME_WIDTH) or 'Nobody'} is on duty."
    if event.kind == "note":
        return f"Saved, {when}: {one_line(event.note, 60)}"
    words = f"Saved: {name_of(settings)} {event.done}, {when}."
    if event.unsure and several_dogs:
        words = f"Saved for each dog: {describe(event, settings)}, {when}."
    if event.kind == "quiet":
        return f"Saved: {event.row.words} until {when}."
    if event.row.group in ("care", "company", "visits"):
        words = f"Saved: {describe(event, settings)}, {when}."
    if event.row.is_success and not event.on_pad:
        if view.day <= figures.PRAISE_DAYS and _is_fresh(event, now):
            words += f" {_FINISHED_OUTSIDE}"
    elif event.row.is_accident:
        words += f" {_INDOORS}{_repeat(event, log)}"
    return words


def when_words(at: datetime, now: datetime, settings: Settings) -> str:
    """Return when something happened, by day if need be, and how long ago that was."""
    clock, ago = day_clock_words(at, now, settings.zone), now - at
    minutes = int(ago.total_seconds() // 60)
    return f"{clock} ({span_words(minutes)} ago)" if minutes else clock


def _repeat(accident: Event, log: Sequence[Event]) -> str:
    """Return what to do where accidents repeat, as a sentence after a blank; empty if not."""
    others = (e for e in log if e.row.is_accident and e.id != accident.id)
    nth, at_spot = repeat_of(accident, others)
    words = repeat_words(nth, at_spot=at_spot)
    return f" {words[:1].upper()}{words[1:]}." if words else ""


def _is_fresh(event: Event, now: datetime) -> bool:
    return now - event.at < timedelta(minutes=figures.TRY_LASTS)


# --- Taking back ----------------------------------------------------------------------------------


def undo_question(
    past: PastChange | None, by: str, settings: Settings, now: datetime, *, refused: bool
) -> str:
    """Return what is to be asked before ``by`` takes a change back, empty where nothing is.

    Somebody else's change, an old one, and any after a key that saved nothing are asked for.
    """
    if past is None or not (refused or past.needs_asking(by, now)):
        return ""
    first = "Nothing was saved just now. " if refused else ""
    return _question(f"{first}Take back", past, settings, now)


def delete_question(past: PastChange, by: str, settings: Settings, now: datetime) -> str:
    """Return what is to be asked before ``by`` deletes an entry, empty where nothing is.

    ``past`` is the change that logged it: the rule is that of an undo.
    """
    return _question("Delete", past, settings, now) if past.needs_asking(by, now) else ""


def _question(first: str, past: PastChange, settings: Settings, now: datetime) -> str:
    what, whose = what_words(past, settings, now), whose_words(past, now)
    return one_line(f"{first}: {what}, {whose}?", _LONGEST)


def said_of(undone: Undone) -> str:
    """Return what an undo took back, or a redo made again, as a sentence."""
    return f"{one_line(undone.words, _LONGEST)}."
