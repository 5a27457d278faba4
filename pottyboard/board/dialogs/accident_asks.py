"""The questions about an accident, each answered by one key, and what they say of its entry.

Only the first has a default: any other may be left open, and asked again later.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from typing import Any, Final

from pottyboard.board.dialogs.questions import Answers, Ask, Choice
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH, name_of
from pottyboard.board.widgets.large_lines import LargeLine
from pottyboard.core.log.cleaning import first_words
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import TimeError, read_when
from pottyboard.core.model.settings import Settings

OPEN: Final = ""
"""The answer to a question that is left open."""

UNKNOWN: Final = "unknown"
_DRY: Final = {
    "15": "15 min before",
    "30": "30 min before",
    "60": "1 h before",
    "120": "2 h before",
}
_FLAGS: Final = {"yes": True, "no": False}

_LARGE: Final[Mapping[bool | None, tuple[str, ...]]] = {
    None: ("NO SCOLDING", "GOING? OUT", "DONE? CLEAN UP"),
    False: ("SAY AH ONCE", "CALMLY OUT", "PRAISE THERE"),
    True: ("SAY NOTHING", "LEAD IT AWAY", "CLEAN IT UP"),
}
"""The first words again, in so few letters that a window of 80 columns can draw them large."""


def first_lines(found: bool | None) -> tuple[LargeLine, ...]:
    """Return what to do in the first ten seconds: seen, found, or not said yet."""
    return tuple(map(LargeLine, _LARGE[found], first_words(found)))


def accident_asks(
    settings: Settings, places: tuple[str, ...], at: datetime, *, several_dogs: bool = False
) -> tuple[Ask, ...]:
    """Return the questions about an accident that was noticed ``at``."""
    rooms = tuple(
        Choice(str(number), place, one_line(place, NAME_WIDTH))
        for number, place in enumerate(places, 1)
    )
    before = tuple(
        Choice(str(number), minutes, words)
        for number, (minutes, words) in enumerate(_DRY.items(), 1)
    )

    def is_pee(answers: Answers) -> bool:
        return answers.get("kind") != "poop-inside"

    return (
        Ask("kind", "Pee or poop?", (
            Choice("p", "pee-inside", "pee"),
            Choice("o", "poop-inside", "poop"),
        ), "pee-inside"),
        Ask("found", "Seen happening, or found?", (
            Choice("s", "no", "seen happening"),
            Choice("f", "yes", "found later"),
        )),
        Ask("dry", "When was the floor last dry?", (*before, Choice("n", UNKNOWN, "don't know")),
            read=_dry_reader(settings, at), when=lambda answers: answers.get("found") == "yes"),
        Ask("place", "Where?", rooms, read=_place),
        Ask("alone", "Was the dog alone?", (
            Choice("y", "yes", "yes"),
            Choice("n", "no", "no, somebody was there"),
        )),
        Ask("amount", "How much?", (
            Choice("s", "small", "small"),
            Choice("u", "usual", "usual"),
            Choice("l", "large", "large"),
        ), when=is_pee),
        Ask("surface", "On what?", (
            Choice("s", "sealed", "tiles or vinyl"),
            Choice("w", "wood", "bare wood"),
            Choice("c", "carpet", "carpet or rug"),
            Choice("f", "fabric", "sofa or bedding"),
        )),
        Ask("upright", "Up against something (a leg, a wall), or flat on the floor?", (
            Choice("u", "yes", "upright"),
            Choice("f", "no", "floor"),
        ), when=is_pee),
        Ask("unsure", "Which dog was it?", (
            Choice("d", "no", name_of(settings)),
            Choice("n", "yes", "not known: another may have done it"),
        ), when=lambda answers: several_dogs),
    )  # fmt: skip


def changes_of(event: Event, asks: tuple[Ask, ...], answers: Answers) -> dict[str, Any]:
    """Return the fields of ``event`` that the answers change; what is left open stays as it is.

    What no longer fits is taken out, such as "last dry" of an accident that was seen.
    """
    changes: dict[str, Any] = {}
    for ask in asks:
        answer = answers.get(ask.name, OPEN)
        if not ask.when(answers):
            if ask.name in ("dry", "amount", "upright"):
                changes[ask.name] = Event.__dataclass_fields__[ask.name].default
        elif answer != OPEN:
            changes[ask.name] = _value(ask.name, answer, event.at)
    return {name: value for name, value in changes.items() if getattr(event, name) != value}


def answers_of(event: Event, asks: tuple[Ask, ...]) -> dict[str, str]:
    """Return the answers that an entry holds already."""
    words = {True: "yes", False: "no", None: OPEN}
    held: dict[str, str] = {}
    for ask in asks:
        value = getattr(event, ask.name)
        if isinstance(value, datetime):
            value = value.isoformat()
        elif not isinstance(value, str):
            value = words[value]
        if value != OPEN:
            held[ask.name] = value
    return held


def open_words(event: Event, asks: tuple[Ask, ...]) -> tuple[str, ...]:
    """Return the questions that an entry leaves open; "last dry" alone is not worth asking."""
    answers = answers_of(event, asks)
    left = [ask for ask in asks if ask.when(answers) and ask.name not in answers]
    return () if [ask.name for ask in left] == ["dry"] else tuple(ask.words for ask in left)


def _value(name: str, answer: str, at: datetime) -> Any:
    if name == "dry":
        return None if answer == UNKNOWN else _dry_at(answer, at)
    if name in ("found", "alone", "upright", "unsure"):
        return _FLAGS[answer]
    return answer


def _place(text: str) -> str:
    if not text.strip():
        raise ValueError("Type a room, or “room: spot”, or press escape and choose one.")
    return " ".join(text.split())


def _dry_reader(settings: Settings, at: datetime) -> Callable[[str], str]:
    def read(text: str) -> str:
        dry = read_when(text, at, settings.zone)
        if dry > at:
            raise TimeError(f"That is after {settings.clock(at)}: give an earlier time.")
        return dry.isoformat()

    return read


def _dry_at(answer: str, at: datetime) -> datetime:
    if answer in _DRY:
        return at - timedelta(minutes=int(answer))
    return datetime.fromisoformat(answer)
