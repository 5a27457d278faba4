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

from msgspec import Struct

from pottyboard.core.away.absence_problem import (
    AbsenceProblem,
    best_timed,
    case_of,
    midnight_of,
    pose,
)
from pottyboard.core.away.cover import Hole
from pottyboard.core.away.feeding import Feeding, after_meal, feedings
from pottyboard.core.away.remedy import fixes, remedy_of
from pottyboard.core.away.rounds import rounds
from pottyboard.core.away.schedule import (
    Away,
    AwayDay,
    AwayPlan,
    Break,
    Meal,
    Person,
    Remedy,
    Shortfall,
    Visit,
)
from pottyboard.core.estimate.learning import ready_prior
from pottyboard.core.model import figures
from pottyboard.core.model.absence import Absence, absences, away_on, people_of
from pottyboard.core.model.localtime import (
    Minutes,
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

    ``meal`` is the last one before it; ``alike`` tells that no change of the clocks lies within.
    """

    absence: Absence
    case: AbsenceProblem
    midnight: Minutes
    meal: Minutes | None
    alike: bool


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
) -> AwayPlan:
    """Return the plan for ``days`` dates from ``first`` on (today, by default).

    ``interval`` is in minutes, one number or a function of the date; ``expected`` and ``digestion``
    are what the log has taught (see :func:`alone_limit`; the minutes from a meal to stool, by the
    dog's size if unknown). Raises ``TimeError`` if ``now`` is naive.
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
        tasks.extend(_task(settings, absence, limit, fed[day], digests, now) for absence in today)
    posed = [pose(task.case)[0] for task in tasks]
    cheapest = settings.home.visits == "cheapest"
    slots = rounds(posed, [task.alike for task in tasks], cheapest)
    planned: dict[date, list[tuple[_Task, tuple[int, ...]]]] = {day: [] for day in dates}
    for task, times in zip(tasks, slots, strict=True):
        planned[task.absence.date].append((task, times))
    plan = [
        _day(
            settings, day, alone_limit(interval_on(day), expected), fed[day], planned[day], remedies
        )
        for day in dates
    ]
    return AwayPlan(tuple(plan), _usual(slots), round(sum(day.cost for day in plan), 2))


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
) -> _Task:
    window = after_meal(fed, absence, digestion)
    span, meal = window if window else (None, None)
    case = case_of(settings, absence, limit, span, now)
    case = best_timed(case, settings.home.visits == "cheapest")
    leave, back = (local(at, settings.zone) for at in (absence.leave, absence.back))
    midnight = midnight_of(settings, absence)
    return _Task(absence, case, midnight, meal, leave.utcoffset() == back.utcoffset())


def _usual(slots: Sequence[tuple[int, ...]]) -> tuple[time, ...]:
    """Return the clock times of the visits that most days share."""
    counted = Counter(times for times in slots if times)
    if not counted:
        return ()
    (times, _), *_ = counted.most_common(1)
    return tuple(time(slot // 60 % 24, slot % 60) for slot in times)


# --- One day --------------------------------------------------------------------------------------


def _day(
    settings: Settings,
    day: date,
    limit: float,
    fed: Sequence[Feeding],
    planned: Sequence[tuple[_Task, tuple[int, ...]]],
    remedies: bool,
) -> AwayDay:
    visits: list[Visit] = []
    for task, times in planned:
        visits.extend(_visits(settings, day, task, times, len(visits)))
    shortfalls = [shortfall for task, _ in planned for shortfall in _shortfalls(settings, task)]
    breaks = [Break(visit.at, "visit", f"visit by {visit.helper}") for visit in visits]
    for task, _ in planned:
        leave = task.absence.leave
        breaks.append(Break(instant_of(leave - task.case.ahead), "leaving", "before leaving"))
        breaks.append(Break(instant_of(task.absence.back), "back", "on return"))
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
                instant_of(task.absence.leave), instant_of(task.absence.back),
                task.absence.leaves, task.absence.returns,
            )
            for task, _ in planned
        ),
        visits=tuple(visits),
        breaks=tuple(sorted(breaks, key=lambda planned_break: planned_break.at)),
        meals=tuple(Meal(instant_of(f.usual), instant_of(f.at), f.words) for f in fed),
        shortfalls=tuple(shortfalls),
        remedies=tuple(_remedies(settings, planned)) if remedies and shortfalls else (),
        cost=round(sum(visit.cost for visit in visits), 2),
    )  # fmt: skip


def _visits(
    settings: Settings, day: date, task: _Task, times: Sequence[int], before: int
) -> Iterator[Visit]:
    problem, who = pose(task.case)
    opening = dict(zip(problem.slots, who, strict=True))
    for number, slot in enumerate(times, before + 1):
        helper = settings.home.helpers[task.case.openings[opening[slot]].helper]
        at = task.midnight + slot
        yield Visit(
            date=day,
            number=number,
            at=instant_of(at),
            until=instant_of(at + helper.lasts),
            helper=helper.name,
            cost=helper.cost,
            why=_why(settings, task, slot),
        )


def _why(settings: Settings, task: _Task, slot: int) -> str:
    case = task.case
    meal, middle = case.meal, case.middle
    if meal is not None and task.meal is not None and case.begin < meal[0] <= slot <= meal[1]:
        return f"after the meal at {clock_words(task.meal, settings.zone)}"
    if middle is not None and middle[0] <= slot <= middle[1]:
        return f"near the middle of {span_words(case.back - case.leave)} away"
    return f"no longer than {span_words(case.limit)} alone"


def _shortfalls(settings: Settings, task: _Task) -> Iterator[Shortfall]:
    for hole in pose(task.case)[0].holes:
        yield _shortfall(settings, task, hole)


def _shortfall(settings: Settings, task: _Task, hole: Hole) -> Shortfall:
    case = task.case

    def clock(at: Minutes) -> str:
        return clock_words(task.midnight + at, settings.zone)

    start, end = instant_of(task.midnight + hole.after), instant_of(task.midnight + hole.until)
    over = round(hole.over)
    if hole.reach == case.holds_until(hole.after):
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
    words = f"nobody near the middle, from {clock(low)} to {clock(high)}"
    return Shortfall("middle", start, end, over, words)


def _remedies(
    settings: Settings, planned: Sequence[tuple[_Task, tuple[int, ...]]]
) -> Iterator[Remedy]:
    cheapest = settings.home.visits == "cheapest"
    for task, _ in planned:
        for fix in fixes(task.case, cheapest):
            yield remedy_of(fix, settings, task.midnight)
