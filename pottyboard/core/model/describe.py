"""How an entry reads in a few words, on the board, on the command line and on every paper.

:data:`FIELDS_IN_WORDS` says each field that a kind may carry; a new field is one more row there.
What a person wrote is shown by the rule of :mod:`~pottyboard.core.model.printable`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from typing import Any, Final

from pottyboard.core.model.events import CHOICES, UNKNOWN_DOG, Event
from pottyboard.core.model.localtime import span_words
from pottyboard.core.model.printable import MOST_LETTERS, printable
from pottyboard.core.model.settings import Settings

OTHER: Final = "other"
"""How a choice reads that only a newer version knows, or that somebody wrote by hand."""


class Words(dict[str, str]):
    """Words by code, with :data:`OTHER` for a code of which nothing is known."""

    def __missing__(self, code: str) -> str:
        """Return the word for an unknown code."""
        return OTHER


CAUSE_WORDS: Final = Words({
    "marking": "marking",
    "greeting": "excited at a greeting",
    "leak": "in its sleep",
    "sign": "a signal was missed",
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
})  # fmt: skip
"""How each of ``events.CAUSES`` reads, in the order in which they are offered."""

SURFACE_WORDS: Final = Words({
    "sealed": "tiles or vinyl", "wood": "wood", "carpet": "carpet", "fabric": "fabric or bedding",
})  # fmt: skip
"""How each of ``events.SURFACES`` reads after "on"."""

FINDING_WORDS: Final = Words({
    "straining": "straining to pee",
    "blood": "blood",
    "pain": "pain",
    "small-pees": "many small pees",
    "vomiting": "vomiting",
    "loose-stool": "loose stool",
    "off-food": "off food",
    "listless": "listless",
    "straining-stool": "straining to pass stool",
    "distress": "distress when left",
    "other": "something else",
})  # fmt: skip
"""How each of ``events.FINDINGS`` reads."""

MEASURE_WORDS: Final = Words({
    "earlier": "a break every day",
    "after-meal": "out sooner after meals",
    "before-leaving": "a break right before leaving",
    "watch": "in arm's reach after nothing came",
    "block": "the way there blocked",
    "call-meal": "a break after each meal again",
    "call-drink": "a break after each long drink again",
    "call-play": "a break after play again",
    "drop-meal": "no break of its own after meals",
    "drop-drink": "no break of its own after long drinks",
    "drop-play": "no break of its own after play",
    "fixed-reasons": "breaks by the fixed reasons of the first days",
    "own-log": "breaks by its own log",
})  # fmt: skip
"""How each of ``events.MEASURES`` reads."""


MEANS_WORDS: Final = Words({"calendar": "by calendar", "sheet": "by sheet", "said": "in person"})
"""How each of ``events.MEANS`` reads."""

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
            yield printable(words, room if name in ("place", "whom") else MOST_LETTERS)


def words_of(event: Event, name: str, settings: Settings) -> str:
    """Return one field of an entry in words, empty where it says nothing."""
    value = getattr(event, name)
    return "" if value is None or value == "" else FIELDS_IN_WORDS[name](value, event, settings)


_InWords = Callable[[Any, Event, Settings], str]


def _either(yes: str, no: str) -> _InWords:
    return lambda value, event, settings: yes if value else no


def _chosen(field: str, words: Mapping[str, str], before: str = "", after: str = "") -> _InWords:
    def chosen(value: str, event: Event, settings: Settings) -> str:
        known = value in CHOICES[field]
        return f"{before}{words.get(value, value) if known else OTHER}{after}"

    return chosen


def _clock(value: datetime, event: Event, settings: Settings) -> str:
    return f"dry at {settings.clock(value)}"


def day_clock(at: datetime, settings: Settings) -> str:
    """Return an instant with its day of the week, such as ``Mon 12:45``."""
    return f"{at.astimezone(settings.zone):%a %H:%M}"


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
    "sleep": _chosen("sleep", {}),
    "sign": _chosen("sign", {}),
    "place": lambda value, event, settings: str(value),
    "finding": _chosen("finding", FINDING_WORDS),
    "measure": _chosen("measure", MEASURE_WORDS),
    "found": _either("found", "seen"),
    "dry": _clock,
    "alone": _alone,
    "cause": _chosen("cause", CAUSE_WORDS),
    "amount": _chosen("amount", {}, after=" amount"),
    "upright": _either("upright", "on the floor"),
    "surface": _chosen("surface", SURFACE_WORDS, before="on "),
    "unsure": _either(UNKNOWN_DOG, ""),
    "ml": _millilitres(""),
    "rest": _millilitres(" left before"),
    "whom": lambda value, event, settings: str(value),
    "comes": lambda value, event, settings: day_clock(value, settings),
    "minutes": lambda value, event, settings: span_words(value),
    "about": _about,
    "means": _chosen("means", MEANS_WORDS),
}
"""Each field of ``Event`` that a kind may carry, in the order in which they are said."""
