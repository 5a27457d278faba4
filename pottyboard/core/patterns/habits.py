"""The times of the routine on one day, beside the plan and the days before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from pottyboard.core.engine.days import Day
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, local, minute_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.statistics.circular import clock_gap, clock_times


class Habit(Struct, frozen=True):
    """One time of the routine: ``planned`` and ``today`` as minutes of the day, None if not known.

    Where nobody logged that the dog got up, ``first`` is the morning's first entry about it;
    ``over`` tells that the time has passed. ``usual`` and ``spread`` are the mean clock time and
    the angular deviation of the ``days`` before, in minutes; None with fewer than two of them.
    """

    name: str
    planned: float
    today: float | None
    usual: float | None
    spread: float | None
    days: int
    first: float | None = None
    over: bool = False

    @property
    def off(self) -> float | None:
        """How much later than planned it was today, in minutes."""
        return None if self.today is None else clock_gap(self.today, self.planned)

    @property
    def told(self) -> str:
        """When it was today, in words."""
        if self.today is not None:
            return minute_words(self.today)
        if self.first is not None:
            return f"first entry {minute_words(self.first)}"
        return "not logged" if self.over else "not yet"


def habits(settings: Settings, today: Day, earlier: Sequence[Day], now: Minutes) -> Iterator[Habit]:
    """Yield what was planned since the arrival (up, meals, last outing), beside the days before."""
    past = [dict(_routine(settings, day)) for day in earlier]
    found, plan = dict(_routine(settings, today)), today.plan
    first = plan.first_about(today.events)
    wanted = {
        "up": (plan.up, plan.start + figures.UP_LATEST),
        "last": (plan.bed, float("inf")),
        **{f"meal {n}": (at, at + figures.MEAL_MATCH) for n, at in enumerate(plan.meals)},
    }

    def clock(at: Minutes) -> float:
        return 60 * (wall := local(at, settings.zone)).hour + wall.minute + wall.second / 60

    planned = sorted((at, name, latest) for name, (at, latest) in wanted.items())
    for at, name, latest in planned:
        if at < settings.arrived:
            continue
        times = [clock(before[name]) for before in past if name in before]
        usual = clock_times(times) if len(times) > 1 else None
        is_up = name == "up"
        yield Habit(
            {"up": "got up", "last": "last thing"}.get(name, "meal"),
            clock(at),
            clock(found[name]) if name in found else None,
            usual.mean if usual else None,
            usual.spread if usual else None,
            len(times),
            clock(first.t) if is_up and first is not None and name not in found else None,
            now > latest,
        )


def _routine(settings: Settings, day: Day) -> Iterator[tuple[str, Minutes]]:
    """Yield when each piece of the routine really was, as far as the log says."""
    plan = day.plan
    about = plan.first_about(day.events)
    if about is not None and about.kind == "up" and plan.up >= settings.arrived:
        yield "up", about.t
    for number, planned in enumerate(plan.meals):
        meals = [event.t for event in day.events if event.kind == "meal"]
        nearest = min(meals, key=lambda at, planned=planned: abs(at - planned), default=None)  # type: ignore[misc]
        if nearest is not None and abs(nearest - planned) <= figures.MEAL_MATCH:
            yield f"meal {number}", nearest
    last = [outing.at for outing in day.outings if plan.is_evening(outing.at)]
    if last:
        yield "last", last[0]
