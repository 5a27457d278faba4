"""The routine of one local day: bedtime, meals, the night, and where the day begins."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from pottyboard.core.model.localtime import Minutes, instant_of, minutes_of
from pottyboard.core.model.plan import DayPlan, date_at, plan_for
from tests.core.diary import DAY_1, Diary, diary


def plan_of(page: Diary, day: int) -> DayPlan:
    """Return the plan of a day by its number."""
    return plan_for(page.settings, page.on(day).date, page.entries)


def wall(page: Diary, at: Minutes) -> str:
    """Return the local date and time of an instant."""
    return f"{instant_of(at).astimezone(page.settings.zone):%d %H:%M}"


def test_the_routine_of_a_day() -> None:
    page = diary()
    plan = plan_of(page, 3)
    assert (plan.date, plan.number) == (DAY_1 + timedelta(days=2), 3)
    assert [wall(page, at) for at in (plan.last_bed, plan.start, plan.bed, plan.next_up)] == [
        "03 22:30",
        "04 06:30",
        "04 22:30",
        "05 06:30",
    ]
    assert [wall(page, at) for at in plan.meals] == ["04 07:00", "04 17:30"]
    assert plan.absences == ()
    assert plan.next_up - plan.bed == 8 * 60


@pytest.mark.parametrize(
    ("bed", "shown", "night"),
    [
        ("22:30", "04 22:30", 480),
        ("23:59", "04 23:59", 391),
        ("00:00", "05 00:00", 390),
        ("01:15", "05 01:15", 315),
    ],
)
def test_a_bedtime_after_midnight_ends_the_day_before(bed: str, shown: str, night: int) -> None:
    page = diary(bed=bed)
    plan = plan_of(page, 3)
    assert (wall(page, plan.bed), plan.next_up - plan.bed) == (shown, night)


def test_a_meal_after_midnight_belongs_to_the_evening() -> None:
    page = diary(bed="01:15", meals="00:20,07:00,18:00")
    assert [wall(page, at) for at in plan_of(page, 3).meals] == ["04 07:00", "04 18:00", "05 00:20"]


def test_the_first_day_begins_with_the_arrival() -> None:
    page = diary(arrived="14:10").on(1).at("14:30", "up")
    assert wall(page, plan_of(page, 1).start) == "02 14:10"


def test_a_planned_absence() -> None:
    page = diary(away="08:30-17:00", away_from=5)
    assert plan_of(page, 4).absences == ()
    (absence,) = plan_of(page, 5).absences
    assert [wall(page, at) for at in absence] == ["06 08:30", "06 17:00"]


def test_an_absence_over_midnight() -> None:
    page = diary(away="22:00-06:00", bed="01:00")
    (absence,) = plan_of(page, 3).absences
    assert [wall(page, at) for at in absence] == ["04 22:00", "05 06:00"]


@pytest.mark.parametrize(("clock", "evening"), [("21:44", False), ("21:45", True), ("23:00", True)])
def test_what_counts_as_evening(clock: str, evening: bool) -> None:
    page = diary().on(3)
    assert plan_of(page, 3).is_evening(minutes_of(page.instant(clock))) is evening


@pytest.mark.parametrize(
    ("day", "clock", "belongs"),
    [
        (1, "05:00", 1), (1, "23:59", 1), (2, "00:00", 1), (2, "06:29", 1), (2, "06:30", 2),
        (3, "03:00", 2), (3, "12:00", 3),
    ],
)  # fmt: skip
def test_the_date_of_an_instant(day: int, clock: str, belongs: int) -> None:
    page = diary().on(day)
    found = date_at(page.settings, minutes_of(page.instant(clock)), page.entries)
    assert found == DAY_1 + timedelta(days=belongs - 1)


def test_every_instant_of_a_year_has_a_day() -> None:
    page = diary(zone="America/New_York", on=date(2026, 1, 1))
    settings = page.settings
    start, last = minutes_of(page.instant("12:00")), settings.first_date
    for hour in range(0, 366 * 24, 5):
        day = date_at(settings, start + 60 * hour, ())
        assert day - last in (timedelta(0), timedelta(days=1))
        last = day
    assert last == date(2027, 1, 2)
