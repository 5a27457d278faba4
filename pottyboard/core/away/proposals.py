"""What the plan would change of visits that a helper was told of: one proposal for an absence.

A visit told of stays where it is. Where the waits around it have become too long, the one change
that spares the dog most is proposed: another time for one visit, or else one visit more; where
every wait is kept without a visit, that it could fall away. Each names whom to ask and until when,
by the helper's notice. Nothing here changes a plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime

from msgspec import Struct

from pottyboard.core.away.absence_problem import AbsenceProblem, Opening
from pottyboard.core.away.schedule import Proposal, Visit, money_words
from pottyboard.core.away.spacing import holes_of
from pottyboard.core.log.agreed import Agreed, ToldVisit
from pottyboard.core.model import figures
from pottyboard.core.model.absence import Absence
from pottyboard.core.model.describe import day_clock
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, count_words, instant_of, span_words
from pottyboard.core.model.settings import Settings

_GRID = int(figures.VISIT_GRID)
_NAMED = 4
"""Visits of one helper that are named one by one."""


class Told(Struct, frozen=True):
    """An absence with visits that helpers were told of; ``case`` counts from ``midnight``.

    ``visits`` are those that stand, in order; ``others`` the minutes of further visits that are
    planned but were not told.
    """

    absence: Absence
    case: AbsenceProblem
    midnight: Minutes
    visits: tuple[ToldVisit, ...]
    others: tuple[Minutes, ...] = ()

    def over(self, marks: Sequence[Minutes]) -> Minutes:
        """Return by how much waits are too long with visits at ``marks``, in any order."""
        return sum(hole.over for hole in holes_of(self.case, sorted(marks)))

    @property
    def marks(self) -> tuple[Minutes, ...]:
        """When the visits come, in minutes of the case."""
        return (*(visit.at - self.midnight for visit in self.visits), *self.others)


class _Change(Struct, frozen=True, order=True):
    """A change that could be proposed, the better one smaller."""

    over: Minutes
    price: int
    far: Minutes
    at: Minutes
    opening: int
    visit: int


def proposal_for(settings: Settings, told: Told, agreed: Agreed, now: Minutes) -> Proposal | None:
    """Return the one change to propose for an absence as seen at ``now``, None if there is none."""
    over = told.over(told.marks)
    if not over:
        return _drop(settings, told, agreed, now)
    moves = min(_moves(settings, told, agreed, now), default=None)
    adds = min(_adds(settings, told, agreed, now), default=None)
    best = moves if moves and (not adds or moves.over <= adds.over) else adds
    if best is None or over - best.over < figures.PROPOSAL_GAIN:
        return None
    helper = settings.home.helpers[told.case.openings[best.opening].helper]
    at = told.midnight + best.at
    gain = _gain_words(over, best.over)
    if best is moves:
        visit = told.visits[best.visit]
        when, other = (day_clock(instant_of(t), settings) for t in (visit.at, at))
        words = f"{helper.name} at {other.split()[1]} instead of {when}: {gain}"
        asked = min(visit.at, at) - helper.notice
        return Proposal(
            "move", told.absence.date, helper.name, instant_of(visit.at), instant_of(at),
            helper.lasts, visit.root, 0.0, instant_of(asked), words,
        )  # fmt: skip
    cost = f", {money_words(helper.cost, helper.currency)} more" if helper.cost else ""
    words = f"{helper.name} also at {day_clock(instant_of(at), settings)}{cost}: {gain}"
    return Proposal(
        "add", told.absence.date, helper.name, instant_of(at), instant_of(at), helper.lasts, "",
        helper.cost, instant_of(at - helper.notice), words,
    )  # fmt: skip


def needless(
    settings: Settings, visit: ToldVisit, day: date, agreed: Agreed, now: Minutes
) -> Proposal | None:
    """Return the proposal to call off a visit at a time when somebody is home."""
    return _off(settings, visit, day, "somebody is home then", agreed, now)


def _gain_words(before: Minutes, after: Minutes) -> str:
    if not after:
        return "then no wait is too long"
    return f"spares it {span_words(before - after)} of waiting too long"


def _drop(settings: Settings, told: Told, agreed: Agreed, now: Minutes) -> Proposal | None:
    """Return the dearest visit, the last of equals, without which every wait is kept."""
    ways = []
    for number, visit in enumerate(told.visits):
        marks = [mark for place, mark in enumerate(told.marks) if place != number]
        if not told.over(marks):
            limit = span_words(told.case.limit)
            why = f"no wait gets over {limit} without it"
            found = _off(settings, visit, told.absence.date, why, agreed, now)
            ways += [found] if found else []
    return max(ways, key=lambda way: (-way.cost, way.at), default=None)


def _off(
    settings: Settings, visit: ToldVisit, day: date, why: str, agreed: Agreed, now: Minutes
) -> Proposal | None:
    helper = next((h for h in settings.home.helpers if h.name == visit.helper), None)
    notice, cost = (helper.notice, helper.cost) if helper else (0.0, 0.0)
    if visit.root in agreed.left or visit.at - notice <= now:
        return None
    less = f", {money_words(cost, settings.home.currency)} less" if cost else ""
    at = instant_of(visit.at)
    words = f"not {visit.helper} at {day_clock(at, settings)}{less}: {why}"
    return Proposal(
        "drop", day, visit.helper, at, at, visit.lasts, visit.root, -cost,
        instant_of(visit.at - notice), words,
    )  # fmt: skip


def _moves(settings: Settings, told: Told, agreed: Agreed, now: Minutes) -> Iterator[_Change]:
    marks = told.marks
    for number, visit in enumerate(told.visits):
        if visit.root in agreed.left:
            continue
        for place, opening in enumerate(told.case.openings):
            helper = settings.home.helpers[opening.helper]
            if helper.name != visit.helper or visit.at - helper.notice <= now:
                continue
            others = [mark for one, mark in enumerate(marks) if one != number]
            own = [mark for one, mark in _marks_of(told, helper.name) if one != number]
            for at in _slots(told, opening, helper.notice, now, own):
                far = abs(at - marks[number])
                yield _Change(told.over([*others, at]), 0, far, at, place, number)


def _adds(settings: Settings, told: Told, agreed: Agreed, now: Minutes) -> Iterator[_Change]:
    leave, back = told.absence.leave, told.absence.back
    if any(leave <= at < back for at in agreed.no_more):
        return
    for place, opening in enumerate(told.case.openings):
        helper = settings.home.helpers[opening.helper]
        own = [mark for _, mark in _marks_of(told, helper.name)]
        for at in _slots(told, opening, helper.notice, now, own):
            marks = sorted((told.case.begin, *told.marks, told.case.back))
            before = max(mark for mark in marks if mark <= at)
            after = min(mark for mark in marks if mark >= at)
            far = abs(at - (before + after) / 2)
            yield _Change(told.over([*told.marks, at]), opening.price, far, at, place, -1)


def _marks_of(told: Told, helper: str) -> Iterator[tuple[int, Minutes]]:
    """Yield the visits of one helper by their number, in minutes of the case."""
    for number, visit in enumerate(told.visits):
        if visit.helper == helper:
            yield number, visit.at - told.midnight


def _slots(
    told: Told, opening: Opening, notice: Minutes, now: Minutes, own: Sequence[Minutes]
) -> Iterator[Minutes]:
    """Yield when a helper could still come, apart from that helper's ``own`` visits."""
    asked = now + notice - told.midnight
    first = math.ceil(max(opening.first, told.case.leave, asked + 1) / _GRID) * _GRID
    for at in range(first, math.floor(min(opening.last, told.case.back - 1)) + 1, _GRID):
        if at not in told.marks and all(abs(at - mark) >= figures.VISITS_APART for mark in own):
            yield float(at)


# --- As entries of the log ------------------------------------------------------------------------


def telling(visits: Iterable[Visit], now: datetime, means: str, by: str = "") -> tuple[Event, ...]:
    """Return the entries that say, at ``now``, that the helpers were told of these visits."""
    return tuple(
        Event(
            "told", now, by=by, whom=visit.helper, comes=visit.at, means=means,
            minutes=(visit.until - visit.at).total_seconds() / 60,
        )
        for visit in visits
    )  # fmt: skip


def agreeing(change: Proposal, now: datetime, by: str = "") -> Event:
    """Return the entry that makes a proposal an agreement."""
    if change.code == "drop":
        return Event(
            "called-off", now, by=by, whom=change.helper, comes=change.at, about=change.about
        )
    return Event(
        "told", now, by=by, whom=change.helper, comes=change.to, about=change.about, means="said",
        minutes=change.lasts,
    )  # fmt: skip


def leaving(change: Proposal, now: datetime, by: str = "") -> Event:
    """Return the entry that leaves what was agreed as it is, and ends the proposal."""
    return Event("left-so", now, by=by, whom=change.helper, comes=change.at, about=change.about)


def told_words(entries: Iterable[Event], settings: Settings) -> str:
    """Return which visits these entries tell of, helper by helper."""
    said: dict[str, list[str]] = {}
    for entry in entries:
        if entry.comes is not None:
            said.setdefault(entry.whom, []).append(day_clock(entry.comes, settings))
    return "; ".join(
        f"{helper} {', '.join(times)}"
        if len(times) <= _NAMED
        else f"{helper} {count_words(len(times), 'visit')}, {times[0]} to {times[-1]}"
        for helper, times in said.items()
    )


def ask_words(change: Proposal, settings: Settings) -> str:
    """Return a proposal whole: what, and until when to ask whom."""
    by = day_clock(change.ask_by, settings)
    return f"{change.words}. Ask {change.helper} by {by}"
