"""The outlook: visits and their cost day by day to day 14, as the interval moves by the rule.

Two courses: every day clear, with holds that reach the interval; and the same with one accident a
week, in the evening. Only the rule decides here, since nobody can know what the log will teach.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Literal

from msgspec import Struct

from pottyboard.core.away.schedule import AwayDay, visits_words
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.engine.interval import Evidence, narrowed, widened
from pottyboard.core.log.agreed import NOTHING_AGREED, Agreed
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import count_words, local, minutes_of
from pottyboard.core.model.settings import Settings

CourseCode = Literal["clear", "slips"]


class OutlookDay(Struct, frozen=True):
    """One day to come: its interval (minutes), visits and cost; ``slip`` marks an accident."""

    date: date
    number: int
    interval: int
    visits: int
    cost: float
    covered: bool
    slip: bool


class Course(Struct, frozen=True):
    """How the days go if nothing (*clear*) or one accident a week (*slips*) happens."""

    code: CourseCode
    days: tuple[OutlookDay, ...]

    @property
    def visits(self) -> int:
        """All visits."""
        return sum(day.visits for day in self.days)

    @property
    def cost(self) -> float:
        """What they cost in all."""
        return round(sum(day.cost for day in self.days), 2)

    @property
    def uncovered(self) -> int:
        """The number of days with a gap that cannot be kept."""
        return sum(not day.covered for day in self.days)

    def words(self, currency: str = "") -> str:
        """Return the course in one line, its cost in this currency."""
        name = {"clear": "if all goes well", "slips": "with one accident a week"}[self.code]
        text = f"{name}: {visits_words(self.visits, self.cost, currency)}"
        if self.uncovered:
            text += f", {count_words(self.uncovered, 'day')} not covered"
        return text


class AwayOutlook(Struct, frozen=True):
    """Both courses, over the same days."""

    clear: Course
    slips: Course


def outlook(
    settings: Settings,
    now: datetime,
    interval: float,
    evidence: Evidence | None = None,
    *,
    digestion: float | None = None,
    agreed: Agreed = NOTHING_AGREED,
) -> AwayOutlook:
    """Return the outlook from today to day 14 (for a week where that is past).

    ``interval`` is today's in minutes, ``evidence`` what the clear days before today show; visits
    that are ``agreed`` stay. Raises
    ``TimeError`` if ``now`` is naive.
    """
    today = max(local(minutes_of(now), settings.zone).date(), settings.first_date)
    last = int(figures.PROGRAMME_DAYS) - settings.day_number(today) + 1
    dates = [today + timedelta(days=step) for step in range(last if last > 0 else 7)]

    def course(code: CourseCode, slips: frozenset[date]) -> Course:
        so_far = evidence or Evidence()
        on = dict(zip(dates, _intervals(settings, dates, interval, so_far, slips), strict=True))
        plan = plan_visits(
            settings, now, lambda day: on.get(day, interval), first=today, days=len(dates),
            digestion=digestion, remedies=False, agreed=agreed,
        )  # fmt: skip
        return Course(code, tuple(_day(day, on[day.date], day.date in slips) for day in plan.days))

    first, every = int(figures.SLIP_FIRST), int(figures.SLIP_EVERY)
    return AwayOutlook(
        course("clear", frozenset()), course("slips", frozenset(dates[first - 1 :: every]))
    )


def _day(day: AwayDay, interval: float, slip: bool) -> OutlookDay:
    return OutlookDay(
        day.date, day.number, round(interval), len(day.visits), day.cost, day.covered, slip
    )


def _intervals(
    settings: Settings,
    dates: list[date],
    interval: float,
    evidence: Evidence,
    slips: frozenset[date],
) -> Iterator[float]:
    """Yield the interval of each date: the rule's steps, on days that go as assumed."""
    dog = settings.dog
    for day in dates:
        yield interval
        morning = settings.up_on(day + timedelta(days=1))
        if day in slips:
            evidence = Evidence()
            step = narrowed(interval, morning, "an accident")
        else:
            if _whole(settings, day):
                evidence = evidence.after_clear_day(interval)
            step = widened(dog, interval, evidence, morning)
            if step is not None:
                evidence = Evidence()
        interval = interval if step is None else step.after


def _whole(settings: Settings, day: date) -> bool:
    """Whether the dog is there from the morning on: the day of arrival is no clear day yet."""
    return settings.arrived <= settings.up_on(day)
