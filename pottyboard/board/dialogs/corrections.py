"""An entry as lines of text to correct, and the changes that come out of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any, Final

from pendulum import Timezone

from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.form import Line
from pottyboard.core.model.events import (
    CHOICES,
    KINDS,
    Event,
    check_details,
    check_time,
)
from pottyboard.core.model.localtime import TimeError, read_clock, read_span, read_when
from pottyboard.core.model.permitted import check_said, read_millilitres
from pottyboard.core.model.settings import Settings

_WHOLE: Final = 100_000
_DAY: Final = timedelta(days=1)
_LONG_AGO: Final = timedelta(hours=12)
_OVER_MIDNIGHT: Final = timedelta(hours=4)
_YES_NO: Final = {"yes": True, "no": False, "": None}
_LINES: Final = {
    "place": Line("place", "Place", "a room, the spot outside, or pad"),
    "found": Line("found", "Found later", choices=("yes", "no", "")),
    "dry": Line("dry", "Last seen dry", "such as 10:05; empty if unknown"),
    "alone": Line("alone", "Alone", choices=("yes", "no", "")),
    "cause": Line("cause", "Cause", choices=("", *CHOICES["cause"])),
    "amount": Line("amount", "How much", choices=("", *CHOICES["amount"])),
    "surface": Line("surface", "On what", choices=("", *CHOICES["surface"])),
    "upright": Line("upright", "Up against something", choices=("yes", "no", "")),
    "unsure": Line("unsure", "Maybe another dog", choices=("yes", "no", "")),
    "sleep": Line("sleep", "Asleep for", choices=CHOICES["sleep"]),
    "sign": Line("sign", "Which signal", choices=("", *CHOICES["sign"])),
    "ml": Line("ml", "Millilitres"),
    "rest": Line("rest", "Millilitres left before"),
    "finding": Line("finding", "What about", choices=("", *CHOICES["finding"])),
    "measure": Line("measure", "Which change", choices=("", *CHOICES["measure"])),
    "minutes": Line("minutes", "Interval", "such as 90 or 1h30"),
    "whom": Line("whom", "Helper"),
    "comes": Line("comes", "Comes at", "such as 2026-03-05 12:45"),
    "means": Line("means", "Told by", choices=("", *CHOICES["means"])),
}


def lines_for(event: Event) -> tuple[Line, ...]:
    """Return the lines of the form: what every entry has, then what this one carries or holds."""
    held = [name for name in _LINES if name in event.row.carries]
    return (
        Line("kind", "What", choices=tuple(KINDS)),
        Line("at", "When", "such as 10:05 or yesterday 22:10"),
        *(_LINES[name] for name in held),
        Line("by", "Who"),
        Line("note", "Note"),
    )


def texts_of(event: Event, settings: Settings) -> dict[str, str]:
    """Return each field of an entry as text, safe to show; the same text means no change."""

    def text(value: object) -> str:
        if value is None or isinstance(value, bool):
            return next(word for word, meant in _YES_NO.items() if meant is value)
        if isinstance(value, datetime):
            return f"{value.astimezone(settings.zone):%Y-%m-%d %H:%M}"
        return f"{value:g}" if isinstance(value, float) else one_line(str(value), _WHOLE)

    return {name: text(getattr(event, name)) for name in ("kind", "at", "by", "note", *_LINES)}


def changes_from(
    event: Event, answers: Mapping[str, str], settings: Settings, now: datetime
) -> dict[str, Any]:
    """Return the fields that differ, read from text, and checked as a whole.

    What the entry carried and its new kind does not is dropped. Raises ``EventError`` or
    ``TimeError`` with a message.
    """

    def when(text: str) -> datetime | None:
        return _read_beside(text, event.at, now, settings.zone) if text.strip() else None

    def yes(text: str) -> bool | None:
        return _YES_NO[text]

    readers: dict[str, Callable[[str], Any]] = {
        "at": when, "dry": when, "comes": when, "minutes": _span,
        **dict.fromkeys(("ml", "rest"), read_millilitres),
        **dict.fromkeys(("found", "alone", "upright", "unsure"), yes),
    }  # fmt: skip
    before = texts_of(event, settings)
    changes: dict[str, Any] = {
        name: readers.get(name, str)(text) for name, text in answers.items() if text != before[name]
    }
    if "at" in changes and changes["at"] is None:
        raise TimeError("When was it? Write a time, such as 10:05.")
    kind = KINDS[answers["kind"]]
    for name in event.row.carries:
        if name not in kind.carries:
            changes.pop(name, None)
            empty = Event.__dataclass_fields__[name].default
            if getattr(event, name) != empty:
                changes[name] = empty
    if changes:
        after = check_details(replace(event, **changes))
        if not changes.keys() <= {"at", "by"}:  # an older entry may be moved as it stands
            check_said(after, settings.dog)
        check_time(after, now, settings.dog.arrived)
    return changes


def _read_beside(text: str, at: datetime, now: datetime, zone: Timezone) -> datetime:
    """Read a time; a clock time alone, for an entry of long ago, is on the entry's own day.

    It is on the day before or after where that is only over midnight.
    """
    try:
        clock = read_clock(text)
    except TimeError:
        return read_when(text, now, zone)
    if now - at < _LONG_AGO:
        return read_when(text, now, zone)
    own = at.astimezone(zone).replace(tzinfo=None)
    wall = datetime.combine(own.date(), clock)
    near = (other for other in (wall - _DAY, wall + _DAY) if abs(other - own) < _OVER_MIDNIGHT)
    return read_when(f"{next(near, wall):%Y-%m-%d %H:%M}", now, zone)


def _span(text: str) -> float | None:
    return read_span(text) if text.strip() else None
