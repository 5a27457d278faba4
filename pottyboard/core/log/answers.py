"""What the household answers to the board's questions, and which entries were written twice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event

_HOW_NOTICED: Final = {"seen": False, "found": True}
_ABOUT_ANOTHER: Final = frozenset({*_HOW_NOTICED, "same"})
_RESETS_COMPARED: Final = ("pee", "poop")


def answered(events: tuple[Event, ...], later: Iterable[Event]) -> tuple[Event, ...]:
    """Return entries as the household has answered for them in ``later`` ones.

    An accident is seen or found as it says; of an entry written twice one stays. An answer reaches
    as far back as its question stands.
    """
    answers = {one.about: one for one in later if one.kind in _ABOUT_ANOTHER and one.about}
    return tuple(_with_answers(events, answers)) if answers else events


def _with_answers(events: Iterable[Event], answers: dict[str, Event]) -> Iterator[Event]:
    for event in events:
        answer = answers.get(event.id)
        if answer is None or not 0 <= answer.t - event.t <= figures.ASKED_FOR:
            yield event
        elif answer.kind in _HOW_NOTICED and event.row.is_accident:
            yield replace(event, found=_HOW_NOTICED[answer.kind])
        elif answer.kind != "same":
            yield event


def written_twice(events: Sequence[Event]) -> Iterator[tuple[Event, Event]]:
    """Yield two entries of one sort that two people made minutes apart, the later one second."""
    for place, later in enumerate(events):
        for before in reversed(events[:place]):
            if later.t - before.t > figures.SAME_WITHIN:
                break
            if later.by and before.by and later.by != before.by and _alike(before, later):
                yield before, later
                break


def _alike(one: Event, other: Event) -> bool:
    """Whether two entries say the same: pee or stool, both indoors, both outside or on the pad."""
    shared = one.row.resets & other.row.resets
    where = one.row.group == other.row.group and one.on_pad == other.on_pad
    return where and not shared.isdisjoint(_RESETS_COMPARED)
