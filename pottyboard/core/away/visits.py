"""The plan for the days away: the fewest visits that keep every gap within the day's limit.

The limit is the interval of that day for the time awake alone, at most 4 h in the first weeks. A
gap runs from break to break: the one ahead of leaving, the one on arrival of each visit, the one on
return. The plan is exact (see :mod:`pottyboard.core.away.cover`): least time over the limit where
it cannot be kept, then fewest visits, then least money (or money first, if the household wants
that), then the same clock times on all days.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime, time, timedelta

from msgspec import Struct, structs

from pottyboard.core.away.absence_problem import (
    AbsenceProblem,
    best_timed,
    case_of,
    midnight_of,
    pose,
)
from pottyboard.core.away.cover import Hole
from pottyboard.core.away.feeding import Feeding, after_meal, feedings
from pottyboard.core.away.proposals import Told, needless, proposal_for
from pottyboard.core.away.remedy import advice_of, fixes, remedy_of
from pottyboard.core.away.rounds import rounds
from pottyboard.core.away.schedule import (
    Away,
    AwayDay,
    AwayPlan,
    Break,
    Meal,
    Person,
    Proposal,
    Remedy,
    Shortfall,
    Visit,
)
from pottyboard.core.away.spacing import Stop, are_apart, holes_of, spaced
from pottyboard.core.estimate.learning import ready_prior
from pottyboard.core.log.agreed import NOTHING_AGREED, Agreed, ToldVisit
from pottyboard.core.model import figures
from pottyboard.core.model.absence import Absence, absences, away_on, people_of
from pottyboard.core.model.localtime import (
    Minutes,
    at_most_words,
    clock_words,
    instant_of,
    local,
    minutes_of,
    span_words,
)
from pottyboard.core.model.settings import Settings

IntervalOn = Callable[[date], float]
"""The interval in minutes that is in force on a date."""

_GRID = int(figures.VISIT_GRID)


def alone_limit(interval: float, expected: float | None = None) -> float:
    """Return the longest time alone awake in minutes: the interval, never over 4 h.

    ``expected`` is what the dog can be expected to hold by its own log, if that is known: it can
    only shorten.
    """
    return min(interval, figures.ALONE_MOST, math.inf if expected is None else expected)


class _Task(Struct, frozen=True):
    """One absence on the way to its visits; ``case`` counts its minutes from ``midnight``.

    ``meal`` is the last one before it; ``alike`` tells that no change of the clocks lies within;
    ``told`` are the visits that helpers were told of, ``agreed`` whether anybody was told anything.
    """

    absence: Absence
    case: AbsenceProblem
    midnight: Minutes
    meal: Minutes | None
    alike: bool
    told: tuple[ToldVisit, ...] = ()
    agreed: bool = False


class _Planned(Struct, frozen=True):
    """An absence with what is planned for it: the visits that nobody was told of yet, what cannot
    be kept, and the change that is proposed."""

    task: _Task
    stops: tuple[Stop, ...]
    holes: tuple[Hole, ...]
    proposal: Proposal | None = None


def plan_visits(
    settings: Settings,
    now: datetime,
    interval: float | IntervalOn,
    *,
    first: date | None = None,
    days: int = 14,
    expected: float | None = None,
    digestion: float | None = None,
    remedies: bool = True,
    agreed: Agreed = NOTHING_AGREED,
) -> AwayPlan:
    """Return the plan for ``days`` dates from ``first`` on (today, by default).

    ``interval`` is in minutes, one number or a function of the date; ``expected`` and ``digestion``
    are what the log has taught (see :func:`alone_limit`; the minutes from a meal to stool, by the
    dog's size if unknown). Visits that are ``agreed`` stay as they are: what the plan would change
    is proposed. Raises ``TimeError`` if ``now`` is naive.
    """
    start = first if first is not None else _first_date(settings, minutes_of(now))
    dates = [start + timedelta(days=step) for step in range(days)]
    interval_on = interval if callable(interval) else lambda _day: interval
    digests = ready_prior(settings.dog).median if digestion is None else digestion
    digests = math.ceil(digests / _GRID) * _GRID
    found = absences(settings, dates[0], dates[-1]) if dates else ()
    fed: dict[date, tuple[Feeding, ...]] = {}
    tasks: list[_Task] = []
    for day in dates:
        today = [absence for absence in found if absence.date == day]
        fed[day] = feedings(settings, day, today, digests)
        limit = alone_limit(interval_on(day), expected)
        tasks.extend(
            _task(settings, absence, limit, fed[day], digests, now, agreed) for absence in today
        )
    free = [task for task in tasks if not task.agreed]
    cheapest = settings.home.visits == "cheapest"
    slots = rounds([pose(task.case)[0] for task in free], [task.alike for task in free], cheapest)
    planned: dict[date, list[_Planned]] = {day: [] for day in dates}
    for task, times in zip(free, slots, strict=True):
        planned[task.absence.date].append(_freely(task, times, cheapest))
    for task in tasks:
        if task.agreed:
            planned[task.absence.date].append(_around(settings, task, agreed, minutes_of(now)))
    plan = [
        _day(
            settings, day, alone_limit(interval_on(day), expected), fed[day],
            sorted(planned[day], key=lambda one: one.task.absence.leave), agreed,
            minutes_of(now), remedies,
        )
        for day in dates
    ]  # fmt: skip
    usual = _usual([tuple(v.at for v in day.visits) for day in plan], settings)
    return AwayPlan(tuple(plan), usual, round(sum(day.cost for day in plan), 2))


def _freely(task: _Task, slots: tuple[int, ...], cheapest: bool) -> _Planned:
    """Return the plan of an absence of which nobody was told anything."""
    found = spaced(task.case, slots, cheapest)
    return _Planned(structs.replace(task, case=found.case), found.stops, found.holes)


def _around(settings: Settings, task: _Task, agreed: Agreed, now: Minutes) -> _Planned:
    """Return the plan of an absence around the visits that helpers were told of.

    Helpers who were told of none of them may come as well; a change of what was told is proposed.
    """
    marks = [visit.at - task.midnight for visit in task.told]
    aheads = range(int(figures.LAST_BREAK_LEAST), int(figures.BEFORE_LEAVING) + 1, _GRID)
    case = max(
        (structs.replace(task.case, ahead=float(ahead)) for ahead in aheads),
        key=lambda case: (-sum(hole.over for hole in holes_of(case, marks)), case.ahead),
    )
    asked = {visit.helper for visit in (*task.told, *_off_in(task, agreed))}
    names = [settings.home.helpers[opening.helper].name for opening in case.openings]
    stops: list[Stop] = []
    while found := _next_stop(case, marks, stops, [name not in asked for name in names]):
        stops = sorted((*stops, found), key=lambda stop: stop.at)
    told = Told(
        task.absence, case, task.midnight, task.told, tuple(float(stop.at) for stop in stops)
    )
    holes = holes_of(case, sorted(told.marks))
    task = structs.replace(task, case=case)
    return _Planned(task, tuple(stops), holes, proposal_for(settings, told, agreed, now))


def _next_stop(
    case: AbsenceProblem, told: Sequence[Minutes], stops: Sequence[Stop], free: Sequence[bool]
) -> Stop | None:
    """Return the further visit that spares most, by a helper who may be planned freely."""
    so_far = sorted((*told, *(stop.at for stop in stops)))
    holes = holes_of(case, so_far)
    over = sum(hole.over for hole in holes)
    if not over or not any(free):
        return None
    ways = []
    for number, opening in enumerate(case.openings):
        first = math.ceil(max(opening.first, opening.notice, case.leave) / _GRID) * _GRID
        last = math.floor(min(opening.last, case.back - 1)) if free[number] else -1
        for at in range(first, last + 1, _GRID):
            stop = Stop(at, number)
            if at in so_far or not are_apart(case, sorted((*stops, stop), key=lambda s: s.at)):
                continue
            left = sum(hole.over for hole in holes_of(case, sorted((*so_far, at))))
            far = min(abs(at - (hole.after + hole.until) / 2) for hole in holes)
            ways.append((left, opening.price, far, stop.at, stop))
    best = min(ways, key=lambda way: way[:4], default=None)
    return best[-1] if best is not None and over - best[0] >= figures.PROPOSAL_GAIN else None


def _off_in(task: _Task, agreed: Agreed) -> Iterator[ToldVisit]:
    """Yield the visits within an absence that were called off."""
    return (v for v in agreed.called_off if task.absence.leave <= v.at < task.absence.back)


def _first_date(settings: Settings, now: Minutes) -> date:
    """Return today, or yesterday while an absence that began then still runs."""
    today = max(local(now, settings.zone).date(), settings.first_date)
    before = today - timedelta(days=1)
    running = any(absence.back > now for absence in absences(settings, before, before))
    return before if running else today


def _task(
    settings: Settings,
    absence: Absence,
    limit: Minutes,
    fed: Sequence[Feeding],
    digestion: float,
    now: datetime,
    agreed: Agreed,
) -> _Task:
    window = after_meal(fed, absence, digestion)
    span, meal = window if window else (None, None)
    case = case_of(settings, absence, limit, span, now)
    case = best_timed(case, settings.home.visits == "cheapest")
    leave, back = (local(at, settings.zone) for at in (absence.leave, absence.back))
    midnight = midnight_of(settings, absence)
    task = _Task(absence, case, midnight, meal, leave.utcoffset() == back.utcoffset())
    told = tuple(v for v in agreed.visits if absence.leave <= v.at < absence.back)
    return structs.replace(task, told=told, agreed=bool(told or any(_off_in(task, agreed))))


def _usual(days: Sequence[tuple[datetime, ...]], settings: Settings) -> tuple[time, ...]:
    """Return the clock times of the visits that most days share."""
    clocks = (tuple(at.astimezone(settings.zone).time() for at in visits) for visits in days)
    counted = Counter(times for times in clocks if times)
    if not counted:
        return ()
    (times, _), *_ = counted.most_common(1)
    return times


# --- One day --------------------------------------------------------------------------------------


def _day(
    settings: Settings,
    day: date,
    limit: float,
    fed: Sequence[Feeding],
    planned: Sequence[_Planned],
    agreed: Agreed,
    now: Minutes,
    remedies: bool,
) -> AwayDay:
    at_home = tuple(
        visit for visit in agreed.visits
        if local(visit.at, settings.zone).date() == day
        and not any(visit.root == told.root for one in planned for told in one.task.told)
    )  # fmt: skip
    visits = [visit for one in planned for visit in _visits(settings, day, one)]
    visits += [_told(settings, day, visit, "somebody is home then") for visit in at_home]
    visits = [
        structs.replace(visit, number=number)
        for number, visit in enumerate(sorted(visits, key=lambda visit: visit.at), 1)
    ]
    ahead = [one for one in planned if one.task.absence.back > now]
    over = [one for one in planned if one.task.absence.back <= now]
    passed, shortfalls = ([*_shortfalls(settings, those)] for those in (over, ahead))
    breaks = [Break(visit.at, "visit", f"visit by {visit.helper}") for visit in visits]
    for one in planned:
        leave = one.task.absence.leave
        breaks.append(Break(instant_of(leave - one.task.case.ahead), "leaving", "before leaving"))
        breaks.append(Break(instant_of(one.task.absence.back), "back", "on return"))
    proposals = [one.proposal for one in planned]
    proposals += [needless(settings, visit, day, agreed, now) for visit in at_home]
    off = [v for v in agreed.called_off if local(v.at, settings.zone).date() == day]
    return AwayDay(
        date=day,
        number=settings.day_number(day),
        limit=math.floor(limit),
        up=instant_of(settings.up_on(day)),
        bed=instant_of(settings.bed_on(day)),
        people=tuple(
            Person(name, tuple(
                Away(instant_of(start), instant_of(end))
                for start, end in away_on(settings, name, day)
            ))
            for name in people_of(settings)
        ),
        alone=tuple(
            Away(
                instant_of(one.task.absence.leave), instant_of(one.task.absence.back),
                one.task.absence.leaves, one.task.absence.returns,
            )
            for one in planned
        ),
        visits=tuple(visits),
        breaks=tuple(sorted(breaks, key=lambda planned_break: planned_break.at)),
        meals=tuple(Meal(instant_of(f.usual), instant_of(f.at), f.words) for f in fed),
        shortfalls=tuple(shortfalls),
        passed=tuple(passed),
        over=bool(over) and not ahead,
        remedies=tuple(_remedies(settings, ahead)) if remedies and shortfalls else (),
        advice=_advice(settings, ahead) if remedies and shortfalls else "",
        cost=round(sum(visit.cost for visit in visits), 2),
        proposals=tuple(filter(None, proposals)),
        called_off=tuple(_told(settings, day, visit, "called off") for visit in off),
    )  # fmt: skip


def _visits(settings: Settings, day: date, planned: _Planned) -> Iterator[Visit]:
    task = planned.task
    for told in task.told:
        yield _told(settings, day, told, _why(settings, task, told.at - task.midnight))
    for stop in planned.stops:
        helper = settings.home.helpers[task.case.openings[stop.opening].helper]
        at = task.midnight + stop.at
        yield Visit(
            date=day,
            number=0,
            at=instant_of(at),
            until=instant_of(at + helper.lasts),
            helper=helper.name,
            cost=helper.cost,
            why=_why(settings, task, stop.at),
        )


def _told(settings: Settings, day: date, told: ToldVisit, why: str) -> Visit:
    """Return a visit that its helper was told of, at what a visit by that helper costs now."""
    helpers = settings.home.helpers
    cost = next((helper.cost for helper in helpers if helper.name == told.helper), 0.0)
    return Visit(
        day, 0, instant_of(told.at), instant_of(told.at + told.lasts), told.helper, cost, why,
        told.root, told.sequence,
    )  # fmt: skip


def _why(settings: Settings, task: _Task, slot: Minutes) -> str:
    case = task.case
    meal, middle = case.meal, case.middle
    if meal is not None and task.meal is not None and case.begin < meal[0] <= slot <= meal[1]:
        return f"after the meal at {clock_words(task.meal, settings.zone)}"
    if middle is not None and middle[0] <= slot <= middle[1]:
        return f"near the middle of {span_words(case.back - case.leave)} away"
    return f"at most {at_most_words(case.limit)} alone"


def _shortfalls(settings: Settings, planned: Sequence[_Planned]) -> Iterator[Shortfall]:
    return (_shortfall(settings, one.task, hole) for one in planned for hole in one.holes)


def _shortfall(settings: Settings, task: _Task, hole: Hole) -> Shortfall:
    case = task.case

    def clock(at: Minutes) -> str:
        return clock_words(task.midnight + at, settings.zone)

    start, end = instant_of(task.midnight + hole.after), instant_of(task.midnight + hole.until)
    over = round(hole.over)
    if math.isclose(hole.reach, case.holds_until(hole.after), abs_tol=1e-3):
        length = span_words(hole.until - hole.after)
        words = (
            f"no break from {clock(hole.after)} to {clock(hole.until)}: "
            f"{length}, {span_words(over)} too long"
        )
        return Shortfall("gap", start, end, over, words)
    meal, middle = case.meal, case.middle
    if meal is not None and hole.after < meal[0] and hole.reach == meal[1]:
        fed = "" if task.meal is None else f" at {clock_words(task.meal, settings.zone)}"
        words = f"nobody from {clock(meal[0])} to {clock(meal[1])}, after the meal{fed}"
        return Shortfall("meal", start, end, over, words)
    low, high = middle if middle is not None else (hole.after, hole.until)
    words = f"nobody there around the middle, from {clock(low)} to {clock(high)}"
    return Shortfall("middle", start, end, over, words)


def _advice(settings: Settings, planned: Sequence[_Planned]) -> str:
    """Return one line for the absence of the day that lacks most."""
    worst = max(planned, key=lambda one: sum(hole.over for hole in one.holes))
    found = fixes(worst.task.case, settings.home.visits == "cheapest")
    return advice_of(found, settings, worst.task.midnight)


def _remedies(settings: Settings, planned: Sequence[_Planned]) -> Iterator[Remedy]:
    cheapest = settings.home.visits == "cheapest"
    for one in planned:
        if one.holes:
            for fix in fixes(one.task.case, cheapest):
                yield remedy_of(fix, settings, one.task.midnight)
