"""The plan for the days away: every gap kept with the fewest visits, or what would keep it."""

from __future__ import annotations

import json
import time as wall_time
from datetime import UTC, date, datetime, time, timedelta
from itertools import combinations, pairwise
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import settings as tries
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.away.schedule import AwayDay, AwayPlan, as_json
from pottyboard.core.away.visits import alone_limit, plan_visits
from pottyboard.core.log.agreed import agreed_in
from pottyboard.core.model.events import Event
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.rota import read_helpers
from pottyboard.core.model.settings import Helper, OwnHours, Settings

NOW = datetime(2026, 3, 2, 5, tzinfo=UTC)
MONDAY = date(2026, 3, 2)


def household(**answers: str) -> Settings:
    """Return a household in Oslo, away 08:30 to 17:00 on working days, with a medium dog."""
    given = {"arrived": "2026-03-02 05:00", "absent-from": "1", "workdays": "mon-fri"}
    given |= {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from(default_answers(NOW, "Europe/Oslo") | given, NOW)


def plan(interval: float = 180, days: int = 1, now: datetime = NOW, **answers: Any) -> AwayPlan:
    return plan_visits(household(**answers), now, interval, days=days)


def day_of(interval: float = 180, **answers: Any) -> AwayDay:
    (day,) = plan(interval, **answers).days
    return day


def clock(at: datetime) -> str:
    return f"{at + timedelta(hours=1):%H:%M}"


def visits(day: AwayDay) -> list[tuple[str, str]]:
    """Return (clock time, helper) of each visit."""
    return [(clock(visit.at), visit.helper) for visit in day.visits]


def gaps(day: AwayDay) -> list[float]:
    """Return the minutes from break to break while away: leaving, visits, return."""
    found = []
    for away in day.alone:
        marks = [b.at for b in day.breaks if away.start - timedelta(minutes=15) <= b.at <= away.end]
        found += [(b - a).total_seconds() / 60 for a, b in pairwise(marks)]
    return found


# --- The fewest visits ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("interval", "number"), [(90, 5), (120, 4), (150, 3), (180, 2), (210, 2), (240, 2)]
)
def test_the_fewest_visits_that_keep_every_gap(interval: float, number: int) -> None:
    day = day_of(interval, helpers="Mina 8:00-18:00 10")
    assert len(day.visits) == number
    assert max(gaps(day)) <= interval
    assert (day.covered, day.cost) == (True, number * 10)


def test_never_over_four_hours_alone_whatever_the_interval() -> None:
    day = day_of(600, helpers="Mina 8:00-18:00")
    assert day.limit == 240
    assert max(gaps(day)) <= 240
    assert alone_limit(150, expected=100) == 100
    assert alone_limit(90, expected=100) == 90


def test_the_log_s_estimate_can_only_shorten() -> None:
    settings = household(helpers="Mina 8:00-18:00")
    short, long, without = (
        plan_visits(settings, NOW, 180, expected=expected, days=1).days[0].limit
        for expected in (120, 230, None)
    )
    assert (short, long, without) == (120, 180, 180)


def test_nobody_away_needs_nobody() -> None:
    assert day_of(workdays="").visits == ()
    assert plan(workdays="").words() == "0 visits"


def test_the_last_break_goes_with_the_leaving_where_that_saves_a_visit() -> None:
    early, late = (
        day_of(120, helpers="Mina 8:00-18:00", **{"return": back}) for back in ("10:15", "10:25")
    )
    assert (visits(early), clock(early.breaks[0].at)) == ([], "08:15")
    assert (visits(late), clock(late.breaks[0].at)) == ([], "08:25")
    assert len(day_of(120, helpers="Mina 8:00-18:00", **{"return": "10:30"}).visits) == 1


def test_a_visit_near_the_middle_of_a_long_absence() -> None:
    day = day_of(240, leave="08:00", helpers="Mina 8:00-18:00", **{"return": "16:00"})
    middle = datetime(2026, 3, 2, 11, tzinfo=UTC)
    assert any(abs(visit.at - middle) <= timedelta(minutes=90) for visit in day.visits)
    edges = "Ida 8:00-10:10; Per 13:45-16:00"
    missed = day_of(240, leave="08:00", helpers=edges, **{"return": "16:00"})
    (shortfall,) = missed.shortfalls
    assert (shortfall.cause, shortfall.over) == ("middle", 15)
    assert shortfall.words == "nobody there around the middle, from 10:30 to 13:30"
    assert day_of(240, leave="08:10", helpers=edges, **{"return": "16:00"}).covered


def test_a_night_counts_by_how_long_the_dog_holds_asleep() -> None:
    shift: dict[str, Any] = {"workdays": "mon", "leave": "22:00", "return": "04:00"}
    shift["helpers"] = "Mina 0:00-23:55"
    assert day_of(120, bed="22:30", **shift).visits == ()
    assert len(day_of(120, bed="22:30", weight="6", **shift).visits) == 1


# --- Who and when ---------------------------------------------------------------------------------


def test_the_cheapest_helper_and_the_first_named_among_equals() -> None:
    dear_first = "Ida 8:00-18:00 20; Mina 8:00-18:00 10; Otto 8:00-18:00 10"
    assert {helper for _, helper in visits(day_of(helpers=dear_first))} == {"Mina"}


def test_the_fewest_visits_first_or_the_least_money_if_the_household_wants_that() -> None:
    helpers = "Ida 12:00-12:20 30; Mina 10:30-10:50 5; Otto 14:00-14:20 5"
    away = {"leave": "08:30", "return": "15:30", "helpers": helpers}
    assert visits(day_of(240, **away)) == [("12:00", "Ida")]
    cheapest = day_of(240, visits="cheapest", **away)
    assert visits(cheapest) == [("10:30", "Mina"), ("14:00", "Otto")]
    assert cheapest.cost == 10


def test_a_visit_lies_whole_within_the_helper_s_hours_and_days() -> None:
    away = {"leave": "10:00", "return": "14:30"}
    (visit,) = day_of(180, helpers="Mina 12:30-13:15 40min", **away).visits
    assert (clock(visit.at), clock(visit.until)) == ("12:30", "13:10")
    assert day_of(180, helpers="Mina 12:30-13:15 40min tue", **away).visits == ()


def test_the_least_notice_until_the_helper_was_told() -> None:
    helpers = "Mina 8:00-18:00 5 notice 24h; Otto 8:00-18:00 9 notice 2h"
    week = plan(240, days=3, helpers=helpers)
    assert [{name for _, name in visits(day)} for day in week.days] == [
        {"Otto"}, {"Mina"}, {"Mina"},
    ]  # fmt: skip
    at = datetime(2026, 3, 2, 11, 45, tzinfo=UTC)
    told = Event("told", NOW, id="a", whom="Mina", comes=at)
    agreed = agreed_in([told])
    (day,) = plan_visits(household(helpers=helpers), NOW, 240, days=1, agreed=agreed).days
    assert ("12:45", "Mina") in visits(day)


def test_an_absence_under_way_keeps_the_plan_it_was_left_with() -> None:
    helpers = "Mina 8:00-18:00 5 notice 1h"
    before = plan(180, helpers=helpers)
    noon = plan(180, helpers=helpers, now=datetime(2026, 3, 2, 12, tzinfo=UTC))
    assert noon.days[0].visits[0].at < datetime(2026, 3, 2, 12, tzinfo=UTC)
    assert noon.days[0].visits == before.days[0].visits


def test_an_absence_from_yesterday_is_shown_while_it_runs() -> None:
    shift: dict[str, Any] = {"workdays": "mon", "leave": "22:00", "return": "06:00"}
    night = plan(days=2, now=datetime(2026, 3, 3, 2, tzinfo=UTC), **shift)
    morning = plan(days=2, now=datetime(2026, 3, 3, 6, tzinfo=UTC), **shift)
    assert (night.days[0].date, morning.days[0].date) == (MONDAY, MONDAY + timedelta(days=1))


def test_the_same_clock_times_on_working_days_where_that_costs_nothing() -> None:
    week = plan(180, days=5, people="Ana, Ben", helpers="Mina 8:00-18:00 10",
                own_hours="Ben mon,wed 08:45-17:15; Ben tue,thu,fri 08:00-17:30")  # fmt: skip
    assert len({tuple(clock(v.at) for v in day.visits) for day in week.days}) == 1
    assert week.usual == tuple(time.fromisoformat(clock(visit.at)) for visit in week.days[0].visits)


def test_a_month_over_the_change_of_the_clocks_keeps_its_clock_times() -> None:
    settings = household(helpers="Mina 8:00-18:00")
    month = plan_visits(settings, NOW, 180, days=35)
    zone = settings.zone
    clocks = {
        tuple(f"{visit.at.astimezone(zone):%H:%M}" for visit in day.visits)
        for day in month.days
        if day.visits
    }
    assert len(clocks) == 1


def test_an_evening_away_over_the_change_of_the_clocks_counts_real_minutes() -> None:
    for day, length in ((date(2026, 3, 28), 5), (date(2026, 10, 24), 7)):
        settings = household(
            workdays="", bed="04:00", up="11:00", meals="12:00", helpers="Mina 0:00-23:55",
            exceptions=f"{day} 23:00-05:00",
        )  # fmt: skip
        now = datetime(2026, day.month, 20, tzinfo=UTC)
        (found,) = plan_visits(settings, now, 120, first=day, days=1).days
        (away,) = found.alone
        assert away.end - away.start == timedelta(hours=length)
        assert found.covered


# --- Meals ----------------------------------------------------------------------------------------


def meals(day: AwayDay) -> list[str]:
    return [clock(meal.at) for meal in day.meals]


def test_the_meal_before_leaving_gets_its_lead_where_the_household_is_up_early_enough() -> None:
    moved = day_of(up="06:00", meals="08:00,17:30", leave="09:30")
    assert meals(moved) == ["06:30", "17:30"]
    assert moved.meals[0].words == "3 h before leaving"
    assert meals(day_of(up="05:00", meals="06:00,17:30", leave="09:30")) == ["06:00", "17:30"]


def test_otherwise_the_last_break_covers_it_if_need_be_after_an_earlier_meal() -> None:
    assert meals(day_of(meals="07:00,17:30")) == ["07:00", "17:30"]
    moved = day_of(meals="07:45,17:30")
    assert meals(moved) == ["07:10", "17:30"]
    assert moved.meals[0].words == "earlier, so that the break before leaving covers it"


def test_otherwise_a_visit_covers_the_break_after_it() -> None:
    late_up = {"up": "08:00", "meals": "08:20,19:00", "leave": "08:30", "return": "13:00"}
    day = day_of(240, helpers="Mina 8:00-18:00", **late_up)
    (visit,) = day.visits
    assert visit.why == "after the meal at 08:20"
    assert "09:25" <= clock(visit.at) <= "11:20"
    missed = day_of(240, helpers="Mina 11:45-18:00", **late_up)
    (shortfall,) = missed.shortfalls
    assert (shortfall.cause, shortfall.over) == ("meal", 25)
    assert shortfall.words == "nobody from 09:25 to 11:20, after the meal at 08:20"


def test_a_meal_in_the_absence_is_given_on_return_and_the_next_keeps_away() -> None:
    assert meals(day_of(meals="07:00,12:00,18:00")) == ["07:00", "17:15", "19:15"]
    assert [meal.words for meal in day_of(meals="07:00,12:00,18:00").meals] == [
        "", "on return", "later, to keep the meals apart",
    ]  # fmt: skip


# --- What cannot be covered -----------------------------------------------------------------------


def remedies(day: AwayDay) -> dict[str, str]:
    return {remedy.code: remedy.words for remedy in day.remedies}


def test_nobody_to_visit_names_the_gap_and_what_would_close_it() -> None:
    day = day_of(180, **{"return": "12:30"})
    (shortfall,) = day.shortfalls
    assert shortfall.words == "no break from 08:25 to 12:30: 4 h 05, 1 h 05 too long"
    found = remedies(day)
    assert found["back"] == "be back by 11:25, 1 h 05 earlier"
    assert found["leave"] == "leave at 09:35, 1 h 05 later"
    assert found["helper"] == "one more helper at 10:30"
    assert "indoors is allowed" in found["pad"]
    assert [remedy.code for remedy in day.remedies][-1] == "pad"


def test_a_helper_who_could_come_a_little_longer() -> None:
    day = day_of(180, helpers="Mina 10:00-13:00 10")
    assert visits(day) == [("11:00", "Mina"), ("12:40", "Mina")]
    (shortfall,) = day.shortfalls
    assert (shortfall.cause, shortfall.over) == ("gap", 80)
    hours = next(remedy for remedy in day.remedies if remedy.code == "hours")
    assert (hours.words, hours.minutes, hours.cost) == ("Mina until 14:20, 1 h 20 longer", 80, 0)


def test_every_remedy_covers_what_it_says() -> None:
    answers = {"helpers": "Mina 10:00-13:00 10; Otto 9:00-9:30 3"}
    day = day_of(150, **answers)
    assert not day.covered
    found = {remedy.code: remedy for remedy in day.remedies}
    back = day_of(150, **answers, **{"return": found["back"].words[11:16]})
    assert back.covered
    mina = found["hours"].words
    assert mina.startswith("Mina until ")
    longer = answers["helpers"].replace("13:00", mina[11:16])
    assert day_of(150, helpers=longer).covered
    times = found["helper"].words.removeprefix("one more helper at ").split(" and ")
    more = "; ".join(f"New {at}-{add(at, 20)} 0" for at in times)
    assert day_of(150, helpers=f"{answers['helpers']}; {more}").covered


def add(clock_time: str, minutes: int) -> str:
    at = datetime.fromisoformat(f"2026-03-02 {clock_time}") + timedelta(minutes=minutes)
    return f"{at:%H:%M}"


def test_remedies_come_smallest_first_and_the_pad_last() -> None:
    day = day_of(150, helpers="Mina 10:00-13:00 10; Otto 9:00-9:30 3")
    small = [r.minutes for r in day.remedies if r.code not in ("home", "helper", "pad")]
    assert small == sorted(small)
    assert [r.code for r in day.remedies][-2:] == ["helper", "pad"]


# --- As good as trying everything -----------------------------------------------------------------


@st.composite
def random_days(draw: st.DrawFn) -> tuple[Settings, float]:
    """A day of two people and up to three helpers with few slots each, on a coarse grid."""
    half_hours = st.integers(14, 36).map(lambda step: f"{step // 2:02}:{step % 2 * 30:02}")
    spans = []
    for name in ("Ana", "Ben"):
        leave, back = sorted(draw(st.lists(half_hours, min_size=2, max_size=2, unique=True)))
        spans.append(f"{name} {leave}-{back}")
    rota = []
    for name in draw(st.lists(st.sampled_from(["Ida", "Mina", "Otto"]), max_size=3)):
        start = draw(half_hours)
        rota.append(f"{name} {start}-{add(start, draw(st.sampled_from([20, 25])))} "
                    f"{draw(st.sampled_from([0, 5, 5, 8, 20]))}")  # fmt: skip
    settings = household(
        people="Ana, Ben", own_hours="; ".join(spans), helpers="; ".join(rota), up="05:30",
        meals=draw(st.sampled_from(["06:00,18:30", "07:30,18:30", "21:00"])),
        visits=draw(st.sampled_from(["fewest", "cheapest"])),
    )  # fmt: skip
    return settings, draw(st.sampled_from([45, 60, 90, 120, 150, 180, 240]))


def by_trying(settings: Settings, day: AwayDay, interval: float) -> tuple[float, float] | None:
    """Return the best (visits, cost) of all plans of a day, written from the rule alone."""
    at = {
        datetime.combine(MONDAY, helper.start, UTC) - timedelta(hours=1, minutes=-step): helper
        for helper in sorted(settings.home.helpers, key=lambda helper: -helper.cost)
        for step in range(0, 10, 5)
        if datetime.combine(MONDAY, helper.start, UTC) + timedelta(minutes=step + helper.lasts)
        <= datetime.combine(MONDAY, helper.end, UTC)
    }
    total = (0.0, 0.0)
    for away in day.alone:
        slots = [slot for slot in sorted(at) if away.start <= slot < away.end]
        ways = []
        for ahead in (15, 10, 5):
            for count in range(len(slots) + 1):
                for tried in combinations(slots, count):
                    if not are_apart([(slot, at[slot].name) for slot in tried]):
                        continue
                    marks = [away.start - timedelta(minutes=ahead), *tried, away.end]
                    if kept(day, away.start, marks, interval):
                        ways.append((count, sum(at[slot].cost for slot in tried)))
        if not ways:
            return None
        cheapest = settings.home.visits == "cheapest"
        count, cost = min(ways, key=lambda way: way[::-1] if cheapest else way)
        total = (total[0] + count, total[1] + cost)
    return total


def are_apart(tried: list[tuple[datetime, str]]) -> bool:
    """Whether visits by one helper lie at least 90 minutes apart."""
    return all(
        b - a >= timedelta(minutes=90)
        for (a, one), (b, other) in combinations(tried, 2)
        if one == other
    )


def kept(day: AwayDay, leave: datetime, marks: list[datetime], interval: float) -> bool:
    """Whether breaks at ``marks`` keep every gap, the meal's window and the middle."""
    limit = timedelta(minutes=min(interval, 240))
    if any(b - a > limit for a, b in pairwise(marks)):
        return False
    fed = [meal.at for meal in day.meals if meal.at <= leave]
    windows = []
    if fed and max(fed) + timedelta(hours=3) > leave:
        windows.append((max(fed) + timedelta(minutes=65), max(fed) + timedelta(hours=3)))
    middle = leave + (marks[-1] - leave) / 2
    if marks[-1] - leave >= timedelta(hours=8):
        windows.append((middle - timedelta(minutes=90), middle + timedelta(minutes=90)))
    return all(
        marks[0] >= opens or marks[-1] <= closes or any(opens <= m <= closes for m in marks)
        for opens, closes in windows
    )


@tries(max_examples=1200)
@given(random_days())
def test_a_day_s_plan_is_the_best_of_all_plans(case: tuple[Settings, float]) -> None:
    settings, interval = case
    (day,) = plan_visits(settings, NOW, interval, days=1, digestion=75, remedies=False).days
    best = by_trying(settings, day, interval)
    assert day.covered == (best is not None)
    if best is not None:
        assert [len(day.visits), day.cost] == [*best]
        for away in day.alone:
            start = away.start - timedelta(minutes=15)
            marks = [b.at for b in day.breaks if start <= b.at <= away.end]
            assert kept(day, away.start, marks, interval)


@tries(max_examples=600)
@given(random_days(), st.integers(0, 2))
def test_a_wider_interval_one_more_helper_or_wider_hours_never_cost_more(
    case: tuple[Settings, float], which: int
) -> None:
    settings, interval = case
    home, wider = settings.home, interval
    if which == 0:
        wider = interval + 30
    elif which == 1:
        home = replace(home, helpers=(*home.helpers, *read_helpers("Zoe 11:00-11:30 7")))
    else:
        home = replace(home, helpers=tuple(widened(helper) for helper in home.helpers))
    (before,) = plan_visits(settings, NOW, interval, days=1, remedies=False).days
    (after,) = plan_visits(replace(settings, home=home), NOW, wider, days=1, remedies=False).days
    assert over(after) <= over(before)
    if before.covered:
        assert after.covered
        fewest = (len(after.visits), after.cost) <= (len(before.visits), before.cost)
        assert after.cost <= before.cost if home.visits == "cheapest" else fewest


def over(day: AwayDay) -> int:
    return sum(shortfall.over for shortfall in day.shortfalls)


def widened(helper: Helper) -> Helper:
    day = datetime(2026, 3, 2)
    start = datetime.combine(day, helper.start) - timedelta(minutes=20)
    end = datetime.combine(day, helper.end) + timedelta(minutes=35)
    return replace(helper, start=start.time(), end=end.time())


def test_a_month_with_four_helpers_is_planned_quickly() -> None:
    settings = household(
        people="Ana, Ben",
        own_hours="Ben mon,wed 08:10-16:20; Ben tue,thu 09:00-18:00; Ben fri 07:40-15:00",
        helpers="Mina 10:00-15:00 12.50 mon-fri 30min notice 24h; Otto 9-18 15 notice 2 days; "
        "Per 7:00-10:00 3; Ida 12:00-17:00 14",
    )
    took = []
    for turn in range(5):
        start = wall_time.process_time()
        month = plan_visits(settings, NOW, 100 + turn, days=30)
        took.append(wall_time.process_time() - start)
    assert len(month.visits) > 60
    assert min(took) < 0.1, "a quiet machine needs a third of that: see .bench/away.py"


# --- The value ------------------------------------------------------------------------------------


def test_lanes_hold_everybody_and_the_breaks_are_in_order() -> None:
    day = day_of(people="Ana, Ben", own_hours="Ben 10:00-18:00", helpers="Mina 8:00-18:00")
    assert [(p.name, [(clock(a.start), clock(a.end)) for a in p.away]) for p in day.people] == [
        ("Ana", [("08:30", "17:00")]),
        ("Ben", [("10:00", "18:00")]),
    ]
    assert [b.kind for b in day.breaks] == ["leaving", "visit", "visit", "back"]
    assert [visit.number for visit in day.visits] == [1, 2]
    assert (clock(day.up), clock(day.bed)) == ("06:30", "22:30")


def test_the_plan_as_json_is_plain() -> None:
    made = plan(180, days=2, helpers="Mina 10:00-13:00 10", people="Ana")
    value = json.loads(json.dumps(as_json(made, household().zone)))
    assert (value["schema"], value["covered"], value["cost"]) == (1, False, made.cost)
    assert value["days"][0]["visits"][0]["at"] == "2026-03-02T11:00+01:00"
    assert value["days"][0]["shortfalls"][0]["cause"] == "gap"
    assert value["days"][0]["people"] == {
        "Ana": [{"leave": "2026-03-02T08:30+01:00", "back": "2026-03-02T17:00+01:00"}]
    }


@tries(max_examples=60)
@given(st.integers(0, 27), st.sampled_from([45, 120, 240]))
def test_any_week_of_the_year_can_be_planned(start: int, interval: float) -> None:
    own = (OwnHours("Ana", frozenset({1, 4, 7}), time(20), time(9)),)
    home = replace(household().home, people=("Ana",), own_hours=own,
                   helpers=read_helpers("Mina 0:00-23:55 5"))  # fmt: skip
    settings = replace(household(), home=home)
    first = MONDAY + timedelta(days=start * 13)
    made = plan_visits(settings, NOW, interval, first=first, days=7)
    assume(any(day.alone for day in made.days))
    assert made.covered is (interval >= 90)  # one helper comes every 90 minutes at most


@pytest.mark.parametrize("interval", [95.36123456789, 287 / 3, 101.23712345678])
def test_a_wait_that_is_too_long_is_no_want_of_somebody_around_the_middle(interval: float) -> None:
    answers = {"leave": "08:30", "return": "17:00", "helpers": "Mina 10:00-16:00 10"}
    day = day_of(interval, **answers)
    assert len(day.visits) >= 3
    assert any("11:15" <= clock(visit.at) <= "14:15" for visit in day.visits)
    assert {shortfall.cause for shortfall in day.shortfalls} == {"gap"}
    assert "around the middle" not in day.lacks
