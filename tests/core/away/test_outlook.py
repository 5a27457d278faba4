"""The outlook to day 14: the interval's own rule, and what the visits then cost."""

from __future__ import annotations

import json
import time
from datetime import timedelta

import pytest
from msgspec.structs import replace

from pottyboard.core.away.outlook import AwayOutlook, outlook
from pottyboard.core.away.overview import away_situation
from pottyboard.core.away.standing import standing_of
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.engine.interval import Evidence, start_interval, top_interval
from pottyboard.core.model.rota import read_helpers
from pottyboard.core.model.settings import Settings
from tests.core.diary import CLEAR_DAY, Diary, diary


def household(kg: float = 15, **options: object) -> Diary:
    """A dog alone 08:30 to 17:00 every day, with one helper at 10 a visit."""
    page = diary(kg, away="08:30-17:00", **options)  # type: ignore[arg-type]
    home = replace(page.settings.home, helpers=read_helpers("Mina 8:00-18:00 10"))
    return replace(page, settings=replace(page.settings, home=home))


def ahead(page: Diary, day: int = 2, interval: float = 120, clear_days: int = 0) -> AwayOutlook:
    """Return the outlook at 07:00 of a day."""
    evidence = Evidence(clear_days, (interval,) * 3 * clear_days)
    now = page.on(day).instant("07:00")
    return outlook(page.settings, now, interval, evidence, digestion=75)


def test_from_today_to_day_14_or_a_week_where_that_is_past() -> None:
    page = household()
    assert [day.number for day in ahead(page, 2).clear.days] == list(range(2, 15))
    assert [day.number for day in ahead(page, 14).clear.days] == [14]
    assert [day.number for day in ahead(page, 15).slips.days] == list(range(15, 22))


def test_two_clear_days_widen_the_interval_by_the_rule() -> None:
    days = ahead(household(), 2, 120).clear.days
    assert [day.interval for day in days[:7]] == [120, 120, 150, 150, 180, 180, 210]
    assert days[-1].interval == 210
    sooner = ahead(household(), 2, 120, clear_days=1).clear.days
    assert [day.interval for day in sooner[:3]] == [120, 150, 150]


def test_the_day_of_arrival_is_no_clear_day_yet() -> None:
    page = household(arrived="12:00")
    days = ahead(page, 1, 120).clear.days
    assert [day.interval for day in days[:4]] == [120, 120, 120, 150]


def test_a_slip_a_week_narrows_the_day_after() -> None:
    slips = ahead(household(), 2, 120).slips.days
    assert [day.number for day in slips if day.slip] == [5, 12]
    by_number = {day.number: day.interval for day in slips}
    assert (by_number[5], by_number[6], by_number[8]) == (150, 120, 150)


@pytest.mark.parametrize("kg", [6, 15, 30])
def test_never_below_the_start_without_a_slip_and_never_past_the_top(kg: float) -> None:
    page = household(kg)
    both = ahead(page, 1, start_interval(page.settings.dog))
    for day in (*both.clear.days, *both.slips.days):
        assert 45 <= day.interval <= top_interval(page.settings.dog)
    intervals = [day.interval for day in both.clear.days]
    assert intervals == sorted(intervals)


def test_the_days_cost_what_their_own_plan_costs_and_add_up() -> None:
    page = household()
    both = ahead(page, 2, 120)
    for day in both.clear.days:
        (planned,) = plan_visits(
            page.settings, page.on(2).instant("07:00"), day.interval, first=day.date, days=1
        ).days
        assert (day.visits, day.cost) == (len(planned.visits), planned.cost)
    assert both.clear.cost == sum(day.cost for day in both.clear.days) == 10 * both.clear.visits
    assert both.clear.cost <= both.slips.cost
    assert (
        both.clear.words() == f"if all goes well: {both.clear.visits} visits, {both.clear.cost:.2f}"
    )


def test_days_that_nobody_covers_are_counted() -> None:
    page = diary(15, away="08:30-17:00", away_from=13)
    course = ahead(page, 12, 120).clear
    assert (course.uncovered, course.cost) == (2, 0)
    assert course.words() == "if all goes well: 0 visits, 2 days not covered"


# --- From the log ---------------------------------------------------------------------------------


def three_clear_days() -> Diary:
    page = replace(household(), settings=replace(household().settings))
    for day in (1, 2, 3):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page


def test_where_the_dog_stands_comes_from_the_log() -> None:
    page = three_clear_days()
    now = page.on(4).instant("07:00")
    rule = standing_of(page.settings, page.entries, now, learn=False)
    assert (rule.interval, rule.expected, rule.evidence.clear_days) == (150, None, 1)
    learned = standing_of(page.settings, page.entries, now)
    assert learned.expected is not None
    assert learned.expected >= 45
    fresh = standing_of(page.settings, (), page.on(1).instant("07:00"))
    assert (fresh.interval, fresh.expected) == (120, None)


def test_everything_about_the_days_away_in_one_value() -> None:
    page = three_clear_days().on(4).all_at("06:30 up", "06:35 pee", "08:20 pee", "08:30 left")
    seen = away_situation(page.settings, page.entries, page.on(4).instant("09:00"), learn=False)
    assert len(seen.plan.days) == 7
    assert seen.outlook.clear.days[0].visits == len(seen.plan.days[0].visits)
    assert seen.watch is not None
    assert seen.watch.who == "Mina"
    assert seen.ladder.first == page.date
    home = page.on(4).all_at("17:00 back")
    later = away_situation(page.settings, home.entries, page.on(4).instant("17:30"), learn=False)
    assert later.watch is None


def test_entries_later_than_now_are_not_seen() -> None:
    page = three_clear_days().on(4).all_at("08:30 left")
    now = page.on(4).instant("08:00")
    assert away_situation(page.settings, page.entries, now).watch is None


def test_the_outlook_is_quick() -> None:
    page = household()
    took = []
    for turn in range(3):
        start = time.process_time()
        ahead(page, 2, 100 + turn)
        took.append(time.process_time() - start)
    assert min(took) < 0.2, "a quiet machine needs a tenth of that: see .bench/away.py"


def test_a_first_date_of_its_own_leaves_today_watched() -> None:
    page = three_clear_days().on(4).all_at("08:30 left")
    now = page.on(4).instant("09:00")
    later = page.date + timedelta(days=3)
    seen = away_situation(page.settings, page.entries, now, first=later, days=2)
    assert [day.date for day in seen.plan.days] == [later, later + timedelta(days=1)]
    assert seen.watch is not None
    assert seen.watch.visit is not None
    assert seen.watch.visit.date == page.date


def test_settings_stay_plain_values() -> None:
    settings: Settings = household().settings
    assert hash(settings) == hash(replace(settings))
    assert json.dumps([helper.cost for helper in settings.home.helpers]) == "[10.0]"
