"""How long a dog is left alone, against the trade's published guidance.

The grades differ (humane societies, rescues, a trainer's digest), and the sources disagree. The
plan has to stay inside what they all allow a dog that is still being house-trained.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest

from pottyboard.core.away.outlook import outlook
from pottyboard.core.away.schedule import AwayDay
from pottyboard.core.away.visits import alone_limit, plan_visits
from pottyboard.core.engine.interval import start_interval, top_interval
from pottyboard.core.model.permitted import household_limit
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings

NOW = datetime(2026, 3, 2, 5, tzinfo=UTC)
AROUND_THE_CLOCK = "Mina 0:00-23:55 10"


def household(**answers: str) -> Settings:
    given = {
        "arrived": "2026-03-02 05:00", "absent-from": "1", "workdays": "mon-sun",
        "helpers": AROUND_THE_CLOCK,
    }  # fmt: skip
    given |= {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from(default_answers(NOW, "Europe/Oslo") | given, NOW)


def longest_gap(day: AwayDay) -> float:
    """Return the longest time without a break while away, from the plan's own breaks, in hours."""
    gaps = [
        (b - a).total_seconds() / 3600
        for away in day.alone
        for a, b in pairwise(
            planned.at
            for planned in day.breaks
            if away.start - timedelta(minutes=15) <= planned.at <= away.end
        )
    ]
    return max(gaps, default=0)


DOGS = [{"weight": "5"}, {"weight": "15"}, {"weight": "35"}, {"weight": "35", "age": "senior"},
        {"weight": "5", "prone": "yes"}]  # fmt: skip


@pytest.mark.parametrize("dog", DOGS)
@pytest.mark.parametrize("leave", ["07:00", "08:30", "10:00"])
def test_two_hours_at_most_while_a_new_dog_settles(dog: dict[str, str], leave: str) -> None:
    # We Foster Dogs, wefosterdogs.org (read): 2 h at most; the Italian Greyhound Club of Canada,
    # igcc.ca (read), the same for a small breed.
    settings = household(leave=leave, **dog)
    (day,) = plan_visits(settings, NOW, start_interval(settings.dog), days=1).days
    assert day.covered
    assert longest_gap(day) <= 2


@pytest.mark.parametrize("dog", DOGS)
def test_never_over_four_hours_in_these_weeks(dog: dict[str, str]) -> None:
    # Crate-training guidance matching HSUS (seen unattributed; the attribution is from memory):
    # 3 to 4 h for adults in house-training.
    settings = household(**dog)
    for interval in (household_limit(settings.dog), 600):
        for day in plan_visits(settings, NOW, interval, days=7).days:
            assert day.covered
            assert longest_gap(day) <= 4
    assert alone_limit(600, 600) == 4 * 60


def test_so_it_is_never_over_the_limits_for_a_crate() -> None:
    # Silicon Valley Pet Project (read): 4 to 5 h; Minnesota Sheltie Rescue (read): 4 to 6 h at a
    # stretch even for the fully trained; Coval, countrysidevets.com (read): 6 to 8 h for the used.
    assert alone_limit(10_000) / 60 <= min(5, 6, 8)


def test_nor_over_eight_hours_by_day() -> None:
    # Daytona News-Journal humane-society column, 2019 (read): 8 h usually doable, some use 4 to 6;
    # a trainer's digest, carriesdogwalkpetsit.com (read): 8 h is the limit by day at any age.
    settings = household(helpers="", leave="07:00", **{"return": "16:00"})
    (day,) = plan_visits(settings, NOW, 240, days=1).days
    assert not day.covered
    assert day.shortfalls[0].over > 0


@pytest.mark.parametrize(("weight", "hours"), [("15", 8), ("5", 6)])
def test_a_night_alone_is_at_most_what_a_dog_holds_asleep(weight: str, hours: int) -> None:
    # carriesdogwalkpetsit.com (read): 8 to 10 h asleep. The plan stays at the lower end, two hours
    # below for a small dog (our own choice).
    settings = household(
        workdays="", weight=weight, bed="20:00", up="08:00", meals="09:00",
        exceptions="2026-03-03 21:00-07:30", helpers=AROUND_THE_CLOCK,
    )  # fmt: skip
    (day,) = plan_visits(settings, NOW, 240, first=date(2026, 3, 3), days=1).days
    assert day.covered
    assert longest_gap(day) <= hours <= 10
    assert longest_gap(day) > 4


@pytest.mark.parametrize("hours", [8, 8.5, 9, 10])
@pytest.mark.parametrize("interval", [120, 180, 240])
def test_at_least_one_visit_near_the_middle_of_8_to_10_hours(hours: float, interval: int) -> None:
    # Common practice, no source. "Near" is within 90 min, our own choice.
    back = datetime(2026, 3, 2, 8) + timedelta(hours=hours)
    settings = household(leave="08:00", **{"return": f"{back:%H:%M}"})
    (day,) = plan_visits(settings, NOW, interval, days=1).days
    (away,) = day.alone
    middle = away.start + (away.end - away.start) / 2
    assert min(abs(visit.at - middle) for visit in day.visits) <= timedelta(minutes=90)


def test_a_visit_every_couple_of_hours_at_first_and_later_every_four() -> None:
    # Common practice, no source: every couple of hours in the first days, later every 4 h or once
    # at midday.
    settings = household(weight="35", up="05:00", leave="08:00", **{"return": "15:30"})
    days = outlook(settings, NOW, start_interval(settings.dog)).clear.days
    assert (days[0].interval, days[0].visits) == (120, 3)
    assert (days[-1].interval, days[-1].visits) == (top_interval(settings.dog), 1)


def test_meals_breaks_and_visits_at_the_same_times_every_day() -> None:
    # Common practice, no source.
    settings = household(workdays="mon-fri")
    week = plan_visits(settings, NOW, 150, days=5).days
    clocks = {
        tuple(at.time() for at in (*(v.at for v in d.visits), *(m.at for m in d.meals)))
        for d in week
    }
    assert len(clocks) == 1


def test_the_morning_meal_about_three_hours_ahead_of_leaving_then_out_just_before() -> None:
    # Common practice, no source; out before being left: ASPCA, as carried by medicinenet.com.
    settings = household(up="05:00", meals="07:00,18:00", leave="09:00")
    (day,) = plan_visits(settings, NOW, 150, days=1).days
    (away,) = day.alone
    assert away.start - day.meals[0].at == timedelta(hours=3)
    assert timedelta(0) < away.start - day.breaks[0].at <= timedelta(minutes=15)


def test_out_at_once_on_return() -> None:
    # RSPCA, Toilet training your dog (read): on return.
    (day,) = plan_visits(household(), NOW, 150, days=1).days
    assert day.breaks[-1].at == day.alone[-1].end


@pytest.mark.parametrize(("pads", "back"), [("no", "17:00"), ("yes", "17:00")])
def test_a_pad_is_only_offered_where_the_absence_is_longer_than_the_dog_can_hold(
    pads: str, back: str
) -> None:
    # Silicon Valley Pet Project (read): for absences longer than the dog can hold, bed at one end.
    # Ahimsa Rescue Foundation (read): it teaches that indoors is allowed.
    short = household(pads=pads, helpers="", leave="09:00", **{"return": "10:30"})
    (day,) = plan_visits(short, NOW, 120, days=1).days
    assert day.remedies == ()
    (day,) = plan_visits(
        household(pads=pads, helpers="", **{"return": back}), NOW, 120, days=1
    ).days
    pad = day.remedies[-1]
    assert pad.code == "pad"
    assert "bed at one end" in pad.words
    assert "indoors is allowed" in pad.words
    assert [remedy.code for remedy in day.remedies].count("pad") == 1
