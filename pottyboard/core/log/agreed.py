"""What was agreed with the helpers, as the log tells it: visits told of, moved, called off.

An agreement is known by the ``id`` of the entry that first told of its visit. Whatever is said of
it later names that id (``Event.about``): another time, that it is called off, or that it stays as
it is. Nothing else in a log moves a visit that somebody was told of.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, minutes_of


class ToldVisit(Struct, frozen=True):
    """A visit that ``helper`` was told of: from ``at`` (epoch minutes), for ``lasts`` minutes.

    ``root`` names the agreement, ``told`` is when it was last told, ``means`` how; ``sequence``
    counts how often it was changed since the first time.
    """

    root: str
    at: Minutes
    lasts: Minutes
    helper: str
    told: datetime
    means: str = ""
    sequence: int = 0


class Agreed(Struct, frozen=True):
    """What stands with the helpers: ``visits`` told of and ``called_off``, each by time.

    ``left`` are the agreements of which the household wants no more proposals; ``no_more`` the
    instants at which it wanted no further visit.
    """

    visits: tuple[ToldVisit, ...] = ()
    called_off: tuple[ToldVisit, ...] = ()
    left: frozenset[str] = frozenset()
    no_more: tuple[Minutes, ...] = ()


NOTHING_AGREED = Agreed()
"""Nobody was told of any visit."""


def agreed_in(events: Iterable[Event]) -> Agreed:
    """Return what was agreed by all of ``events``, in any order."""
    found: dict[str, list[Event]] = {}
    left: dict[str, Event] = {}
    no_more: list[Minutes] = []
    said = (event for event in events if event.is_agreement)
    for event in sorted(said, key=_when_said):
        root = event.about or event.id
        if event.kind != "left-so":
            found.setdefault(root, []).append(event)
            left.pop(root, None)  # what is agreed anew is open to proposals again
        elif event.about:
            left[root] = event
        elif event.comes is not None:
            no_more.append(minutes_of(event.comes))
    standing: dict[tuple[str, Minutes], ToldVisit] = {}
    called_off: list[ToldVisit] = []
    for root, entries in found.items():
        told = next((e for e in reversed(entries) if e.kind == "told" and e.comes), None)
        if told is None:
            continue
        visit = _told(root, told, entries)
        if entries[-1].kind == "called-off":
            called_off.append(visit)
        else:  # two people may have told of one visit: the first to do so names it
            standing.setdefault((visit.helper.casefold(), visit.at), visit)
    return Agreed(
        tuple(sorted(standing.values(), key=_order)),
        tuple(sorted(called_off, key=_order)),
        frozenset(left),
        tuple(no_more),
    )


def _when_said(event: Event) -> tuple[Minutes, datetime, bool, str]:
    """Return the order in which agreements were made: what is about another one comes after it."""
    return event.t, event.logged or event.at, bool(event.about), event.id


def _told(root: str, told: Event, entries: Sequence[Event]) -> ToldVisit:
    lasts = told.minutes or float(figures.VISIT_LASTS)
    assert told.comes is not None
    return ToldVisit(
        root, minutes_of(told.comes), lasts, told.whom, told.at, told.means, len(entries) - 1
    )


def _order(visit: ToldVisit) -> tuple[Minutes, str]:
    return visit.at, visit.root
