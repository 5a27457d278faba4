"""While the dog is alone: who is due next, and whether anybody has reported.

:func:`watch` answers for the instant; the board counts down to ``at`` of its answer.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final, Literal

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import clock_words, minutes_of, span_words
from pottyboard.core.model.settings import Settings

if TYPE_CHECKING:
    from pottyboard.core.away.schedule import Away, AwayPlan, Visit

AloneState = Literal["alone", "soon", "due", "late"]
"""*alone* over 15 min to go, *soon* 15 or less, *due* 0 to 15 past, *late* over 15 past."""

_MATCH: Final = timedelta(minutes=120)
"""Leaving this much earlier or later than planned is still that absence (our own choice)."""
_EARLY: Final = timedelta(minutes=float(figures.VISIT_ALARM))
"""A report this long before a visit's time still belongs to it."""


class Watch(Struct, frozen=True):
    """What a lone dog waits for: a ``visit``, or with None the return, at ``at``.

    ``minutes`` is how long to go (negative when past), ``alone`` how long it has been alone;
    ``who`` is the helper or whoever is back first, where known.
    """

    since: datetime
    alone: int
    at: datetime
    minutes: int
    state: AloneState
    who: str
    visit: Visit | None
    words: str


def watch(
    settings: Settings,
    plan: AwayPlan,
    events: Iterable[Event],
    since: datetime,
    now: datetime,
) -> Watch:
    """Return what the dog, alone ``since`` an instant, waits for at ``now``.

    A visit counts as reported once an outing, a visit or anything by its helper is logged around
    its time or later. Without a planned absence the limit itself is waited for.
    """
    here = [event for event in events if since <= event.at <= now]
    away = absence_begun((away for day in plan.days for away in day.alone), since)
    visits = () if away is None else _visits(plan, away, since)
    waiting = next((v for v in visits if not any(reports(event, v) for event in here)), None)
    alone = _whole_minutes(now - since)
    if waiting is not None:
        return _watch(settings, since, alone, waiting.at, now, waiting.helper, waiting)
    if away is not None:
        return _watch(settings, since, alone, away.end, now, away.returns, None)
    limit = max((day.limit for day in plan.days[:1]), default=int(figures.ALONE_MOST))
    outings = [event.at for event in here if event.went_out]
    return _watch(
        settings, since, alone, max([since, *outings]) + timedelta(minutes=limit), now, "", None,
        planned=False,
    )  # fmt: skip


def minutes_alone(events: Iterable[Event], event: Event) -> int | None:
    """Return how many minutes after leaving an entry happened, None if somebody was home."""
    since = alone_since(events, event.at)
    return None if since is None else _whole_minutes(event.at - since)


def alone_since(events: Iterable[Event], at: datetime) -> datetime | None:
    """Return since when the dog was alone ``at`` an instant, None if somebody was home."""
    before = (e for e in events if e.kind in ("left", "back") and e.at <= at)
    last = max(before, key=lambda e: e.at, default=None)
    return None if last is None or last.kind == "back" else last.at


def absence_begun(alone: Iterable[Away], since: datetime) -> Away | None:
    """Return the one of the planned times alone that began about ``since``, None if none did."""
    near = (
        away for away in alone if away.start - _MATCH <= since < max(away.end, away.start + _MATCH)
    )
    return min(near, key=lambda away: abs(away.start - since), default=None)


def _visits(plan: AwayPlan, away: Away, since: datetime) -> tuple[Visit, ...]:
    return tuple(v for v in plan.visits if away.start <= v.at < away.end and v.until > since)


def reports(event: Event, visit: Visit) -> bool:
    """Whether an entry can be the report of a visit: about its time or later, by its helper or an
    outing or a visit by anybody."""
    by_helper = event.went_out or event.kind == "visit" or event.by == visit.helper
    return by_helper and event.at >= visit.at - _EARLY


def _watch(
    settings: Settings,
    since: datetime,
    alone: int,
    at: datetime,
    now: datetime,
    who: str,
    visit: Visit | None,
    *,
    planned: bool = True,
) -> Watch:
    minutes = -_whole_minutes(now - at)
    clock = clock_words(minutes_of(at), settings.zone)
    if minutes < -figures.LATE:
        state: AloneState = "late"
    else:
        state = "due" if minutes <= 0 else "soon" if minutes <= figures.SOON else "alone"
    whom = who or ("a visit" if visit else "somebody")
    if not planned:
        words = f"no absence planned: {settings.dog.name} needs somebody by {clock}"
    elif state == "late":
        words = f"{whom} was due at {clock}, nothing reported for {span_words(minutes)}: call"
    else:
        words = f"{whom} is due at {clock}"
    return Watch(since, alone, at, minutes, state, who, visit, words)


def _whole_minutes(span: timedelta) -> int:
    return int(span.total_seconds() // 60)
