"""What a file adds to a log: entries that are there already are left out, clashes are named."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields
from operator import attrgetter
from typing import Any, Final

from msgspec import Struct

from pottyboard.core.model.events import Event, EventError
from pottyboard.core.transfer.incoming import Line, Problem

_LABELS: Final = frozenset({"id", "zone", "logged"})
"""Fields that say nothing of what happened."""

_SAYS: Final[Callable[[Event], tuple[Any, ...]]] = attrgetter(
    *(spec.name for spec in fields(Event) if spec.compare and spec.name not in _LABELS)
)


class Addition(Struct, frozen=True):
    """The entries to add, how many were left out as exact duplicates, and ids that clash."""

    events: tuple[Event, ...]
    skipped: int
    problems: tuple[Problem, ...]


def addition(lines: Iterable[Line], log: Sequence[Event]) -> Addition:
    """Return what the lines of a file add to ``log``.

    An entry of the same instant, kind and details (its author and note among them) is a duplicate;
    one that has an id of its own is compared within the file by that id, since a log may well hold
    two of a kind in one minute.
    """
    by_id = {event.id: event for event in log}
    said = {_SAYS(event) for event in log}
    new: list[Event] = []
    problems: list[Problem] = []
    skipped = 0
    in_file: set[tuple[Any, ...]] = set()
    for line, event in lines:
        known = by_id.get(event.id) if event.id else None
        if known is not None:
            if _SAYS(known) == _SAYS(event):
                skipped += 1
            else:
                words = "there is another entry with this id: correct that one, or empty the id"
                problems.append(Problem(line, "id", event.id, words))
            continue
        says = _SAYS(event)
        if says in said or (not event.id and says in in_file):
            skipped += 1
            continue
        in_file.add(says)
        if event.id:
            by_id[event.id] = event
        new.append(event)
    return Addition(tuple(new), skipped, tuple(problems))


_ALL_THERE: Final = "All of this message is in the log already: nothing saved."


def not_in(events: Iterable[Event], log: Iterable[Event]) -> tuple[Event, ...]:
    """Return the entries of a message that the log does not hold: the same one told twice, word for
    word, is one. Two of a kind within the message are two."""
    said = {_SAYS(event) for event in log}
    return tuple(event for event in events if _SAYS(event) not in said)


def fresh_in(events: Sequence[Event], log: Iterable[Event]) -> tuple[Event, ...]:
    """Return what a message adds to the log; raise ``EventError`` if that is nothing."""
    fresh = not_in(events, log)
    if not fresh:
        raise EventError(_ALL_THERE)
    return fresh


def left_out_words(count: int) -> str:
    """Return how many entries of a message were left out, in words; empty for none."""
    return f"Left out: {count}, in the log already." if count else ""
