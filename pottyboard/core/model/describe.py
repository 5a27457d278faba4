"""How an entry reads in a few words, on the board, on the command line and on every paper.

:data:`FIELDS_IN_WORDS` says each field that a kind may carry; a new field is one more row there.
What a person wrote is shown by the rule of :mod:`~pottyboard.core.model.printable`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from typing import Any, Final

from pottyboard.core.model.events import UNKNOWN_DOG, Event
from pottyboard.core.model.localtime import span_words
from pottyboard.core.model.printable import MOST_LETTERS, printable
from pottyboard.core.model.settings import Settings

CAUSE_WORDS: Final = {
    "marking": "marking",
    "greeting": "excited at a greeting",
    "leak": "in its sleep",
    "sign": "a sign was missed",
    "late": "the break was late",
    "unwell": "it may be unwell",
    "empty": "free after nothing came",
    "woke": "just awake",
    "meal": "soon after a meal",
    "drink": "after a long drink",
    "play": "during or after play",
    "alone": "soon after it was left",
    "longer": "longer than it can hold yet",
    "unknown": "not clear",
}
"""How each of ``events.CAUSES`` reads, in the order in which they are offered."""

SURFACE_WORDS: Final = {
    "sealed": "tiles or vinyl", "wood": "wood", "carpet": "carpet", "fabric": "fabric or bedding",
}  # fmt: skip
"""How each of ``events.SURFACES`` reads after "on"."""

FINDING_WORDS: Final = {
    "straining": "straining to pee",
    "blood": "blood",
    "pain": "pain",
    "small-pees": "many small pees",
    "vomiting": "vomiting",
    "loose-stool": "loose stool",
    "off-food": "off food",
    "listless": "listless",
    "distress": "distress when left",
    "other": "something else",
}
"""How each of ``events.FINDINGS`` reads."""

MEASURE_WORDS: Final = {
    "earlier": "a break every day",
    "after-meal": "out sooner after meals",
    "before-leaving": "a break right before leaving",
    "watch": "in arm's reach after nothing came",
    "block": "the way there blocked",
}
"""How each of ``events.MEASURES`` reads."""


NAME_LETTERS: Final = 24
"""Letters that a name or a place takes where room is short."""


def describe(event: Event, settings: Settings, *, whole: bool = False) -> str:
    """Return an entry in a few words: its kind, then whatever it carries, then the note.

    ``whole`` is for paper: it adds who logged it, puts the note between quotation marks, and cuts
    no name or place short.
    """
    room = MOST_LETTERS if whole else NAME_LETTERS
    by, note = printable(event.by, room), printable(event.note)
    if event.kind == "duty":
        named, by = [f"{by or 'nobody'} on duty"], ""
    elif event.kind == "note" and note and not whole:
        return note
    else:
        named = [event.row.words, *details_of(event, settings, room)]
    if not whole:
        return ", ".join(filter(None, (*named, note)))
    return ", ".join((*named, *([f"by {by}"] if by else ()), *([f"“{note}”"] if note else ())))


def details_of(event: Event, settings: Settings, room: int) -> Iterator[str]:
    """Yield what an entry carries, field by field; a place takes at most ``room`` letters."""
    for name in FIELDS_IN_WORDS:
        if words := words_of(event, name, settings):
            yield printable(words, room if name == "place" else MOST_LETTERS)


def words_of(event: Event, name: str, settings: Settings) -> str:
    """Return one field of an entry in words, empty where it says nothing."""
    value = getattr(event, name)
    return "" if value is None or value == "" else FIELDS_IN_WORDS[name](value, event, settings)


_InWords = Callable[[Any, Event, Settings], str]


def _either(yes: str, no: str) -> _InWords:
    return lambda value, event, settings: yes if value else no


def _chosen(words: Mapping[str, str], before: str = "", after: str = "") -> _InWords:
    return lambda value, event, settings: f"{before}{words.get(value, value)}{after}"


def _clock(value: datetime, event: Event, settings: Settings) -> str:
    return f"dry at {settings.clock(value)}"


def _alone(value: bool, event: Event, settings: Settings) -> str:
    """Return whether the dog was alone; what was seen happening had somebody beside it."""
    if value:
        return "alone"
    return "" if event.found is False else "not alone"


def _millilitres(after: str) -> _InWords:
    return lambda value, event, settings: f"{value:g} ml{after}"


def _about(value: str, event: Event, settings: Settings) -> str:
    """Return which warning was noted; the id of an accident would tell nobody anything."""
    return value.replace("-", " ") if event.kind == "noted" else ""


FIELDS_IN_WORDS: Final[dict[str, _InWords]] = {
    "sleep": _chosen({}),
    "sign": _chosen({}),
    "place": _chosen({}),
    "finding": _chosen(FINDING_WORDS),
    "measure": _chosen(MEASURE_WORDS),
    "found": _either("found", "seen"),
    "dry": _clock,
    "alone": _alone,
    "cause": _chosen(CAUSE_WORDS),
    "amount": _chosen({}, after=" amount"),
    "upright": _either("upright", "on the floor"),
    "surface": _chosen(SURFACE_WORDS, before="on "),
    "unsure": _either(UNKNOWN_DOG, ""),
    "ml": _millilitres(""),
    "rest": _millilitres(" left before"),
    "minutes": lambda value, event, settings: span_words(value),
    "about": _about,
}
"""Each field of ``Event`` that a kind may carry, in the order in which they are said."""
