"""A situation in a word or two: for a window's title, a status line, a notice."""

from __future__ import annotations

from pottyboard.core.model.localtime import span_words
from pottyboard.core.model.printable import printable
from pottyboard.core.view.situation_views import Situation, State

_WHAT = {"visit": "visit", "return": "back", "retry": "next try"}
_WAITS = {"watching": "watching ", "alone": "alone "}

URGENCY: tuple[State, ...] = ("late", "due", "watching", "soon", "alone", "rest", "asleep")
"""The states, the most urgent first."""


def awaited(situation: Situation) -> str:
    """Return what the next break is: a break, the next try, or a lone dog's visit or company."""
    return _WHAT.get(situation.next_break.reasons[0].code, "break")


def in_short(situation: Situation) -> str:
    """Return how long it is to the next break: ``12 min``, ``DUE``, ``LATE 18``, ``asleep 06:30``.

    A length without a unit is in minutes.
    """
    due = situation.next_break
    if due.state == "due":
        return "DUE"
    if due.state == "late":
        late = -due.minutes
        return f"LATE {late}" if late < 60 else f"LATE {span_words(late)}"
    if due.state == "asleep":
        return f"asleep {situation.settings.clock(due.at)}"
    return f"{_WAITS.get(due.state, '')}{span_words(due.minutes)}"


def in_short_of(situation: Situation) -> str:
    """Return the same with the dog's name behind it, such as ``LATE 18, Bramble``."""
    return f"{in_short(situation)}, {_name(situation)}"


def with_clock(situation: Situation) -> str:
    """Return the dog, how long it is and until what, such as ``Bramble 12 min, break 15:20``."""
    at = situation.settings.clock(situation.next_break.at)
    return f"{_name(situation)} {in_short(situation)}, {awaited(situation)} {at}"


def called(situation: Situation) -> str:
    """Return what a notice says of a break that is due: ``Break due: Bramble``.

    It begins with a letter of ours, so that no program takes it for an option.
    """
    due, name = situation.next_break, _name(situation)
    is_late = due.state == "late"
    words = f"late by {span_words(due.minutes)}" if is_late else "due"
    return f"{awaited(situation).capitalize()} {words}: {name}"


def _name(situation: Situation) -> str:
    """Return the dog's name, with what tells it from others of the name."""
    dog, apart = situation.settings.dog, situation.settings.apart
    return printable(dog.name, 24) + (f" ({printable(apart, 24)})" if apart else "")
