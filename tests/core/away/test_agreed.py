"""Visits that a helper was told of: facts, whatever the log says later; changes are proposals.

"Agreed times are kept; a change is asked for" is common practice among walkers, no source.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st

from pottyboard.core.away.overview import away_situation
from pottyboard.core.away.schedule import AwayDay, Proposal
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.log.agreed import agreed_in
from pottyboard.core.model.events import Event
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings

FRIDAY = datetime(2026, 2, 27, 19, tzinfo=UTC)
MONDAY = datetime(2026, 3, 2, tzinfo=UTC)


def household(**answers: str) -> Settings:
    """Return a household in Oslo, away 08:30 to 17:00 on working days, with a medium dog."""
    given = {"arrived": "2026-02-23 09:00", "absent-from": "1", "workdays": "mon-fri"}
    given |= {"helpers": "Mina 9:00-17:00 10 notice 24h"}
    given |= {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from(default_answers(FRIDAY, "Europe/Oslo") | given, FRIDAY)


def told(clock: str, id_: str, **details: Any) -> Event:
    """Return the entry of Friday evening that tells Mina of a visit on Monday."""
    hour, minute = map(int, clock.split(":"))
    comes = MONDAY + timedelta(hours=hour - 1, minutes=minute)
    given = {"whom": "Mina", "minutes": 20.0, "means": "sheet", "at": FRIDAY, "kind": "told"}
    return Event(id=id_, comes=comes, **{**given, **details})


def day_of(interval: float, *entries: Event, now: datetime = FRIDAY, **answers: str) -> AwayDay:
    (day,) = plan_visits(
        household(**answers), now, interval, first=MONDAY.date(), days=1, agreed=agreed_in(entries)
    ).days
    return day


def times(day: AwayDay) -> list[str]:
    return [f"{visit.at + timedelta(hours=1):%H:%M}" for visit in day.visits]


def proposal(day: AwayDay) -> Proposal:
    (found,) = day.proposals
    return found


TWO = (told("11:15", "a"), told("14:00", "b"))


@pytest.mark.parametrize("interval", [45, 90, 120, 150, 180, 240])
def test_what_was_told_stays_whatever_the_interval(interval: float) -> None:
    day = day_of(interval, *TWO)
    assert times(day) == ["11:15", "14:00"]
    assert [visit.told for visit in day.visits] == ["a", "b"]


def test_it_stays_on_the_day_itself_though_the_notice_has_passed() -> None:
    day = day_of(180, *TWO, now=MONDAY + timedelta(hours=6))
    assert times(day) == ["11:15", "14:00"]
    assert day.covered
    assert not day_of(180, now=MONDAY + timedelta(hours=6)).visits


def test_it_stays_without_the_absence_and_without_the_helper() -> None:
    home = day_of(180, *TWO, exceptions="2026-03-02 home")
    assert times(home) == ["11:15", "14:00"]
    assert [found.code for found in home.proposals] == ["drop", "drop"]
    assert home.proposals[0].words == ("not Mina at Mon 11:15, 10.00 less: somebody is home then")
    assert times(day_of(180, *TWO, helpers="Otto 9:00-17:00 5")) == ["11:15", "14:00"]


def test_a_shorter_interval_proposes_one_change_with_cost_and_until_when() -> None:
    found = proposal(day_of(150, *TWO))
    assert (found.code, found.helper, found.cost) == ("add", "Mina", 10)
    assert found.ask_by == found.to - timedelta(hours=24)
    assert found.words == (
        "Mina also at Mon 15:30, 10.00 more: spares it 30 min of waiting too long"
    )


def test_another_time_comes_before_one_visit_more_where_it_spares_as_much() -> None:
    day = day_of(180, told("11:15", "a"), told("13:00", "b"))
    found = proposal(day)
    assert (found.code, found.about, found.cost) == ("move", "b", 0)
    assert found.words == "Mina at 14:00 instead of Mon 13:00: then no wait is too long"
    assert found.ask_by == found.at - timedelta(hours=24)
    assert times(day) == ["11:15", "13:00"]


def test_a_longer_interval_proposes_to_call_off_what_is_no_longer_needed() -> None:
    entries = [told(clock, id_) for clock, id_ in (("10:15", "a"), ("12:15", "b"), ("14:15", "c"))]
    found = proposal(day_of(240, *entries))
    assert (found.code, found.about, found.cost) == ("drop", "b", -10)
    assert found.words == "not Mina at Mon 12:15, 10.00 less: no wait gets over 4 h without it"


def test_within_the_notice_nothing_is_proposed_and_the_gap_is_told() -> None:
    day = day_of(120, *TWO, now=MONDAY + timedelta(hours=5))
    assert day.proposals == ()
    assert not day.covered
    assert day.lacks


def test_a_move_that_was_agreed_keeps_the_agreement_and_counts() -> None:
    later = FRIDAY + timedelta(hours=1)
    day = day_of(180, *TWO, told("13:30", "c", about="b", at=later))
    assert times(day) == ["11:15", "13:30"]
    assert [(visit.told, visit.sequence) for visit in day.visits] == [("a", 0), ("b", 1)]


def test_what_is_called_off_comes_no_more_and_nothing_takes_its_place_unasked() -> None:
    later = FRIDAY + timedelta(hours=1)
    day = day_of(180, *TWO, told("14:00", "c", kind="called-off", about="b", at=later))
    assert times(day) == ["11:15"]
    assert [(visit.told, visit.sequence) for visit in day.called_off] == [("b", 1)]
    assert proposal(day).code == "add"
    both = [told("11:15", f"x{id_}", kind="called-off", about=id_, at=later) for id_ in "ab"]
    assert day_of(120, *TWO, *both).visits == ()


def test_what_the_household_leaves_as_agreed_is_not_proposed_again() -> None:
    one = (told("11:15", "a"), told("13:00", "b"))
    left = told("13:00", "c", kind="left-so", about="b", at=FRIDAY + timedelta(hours=1))
    day = day_of(180, *one, left)
    assert all(found.about != "b" for found in day.proposals)
    no_more = told("12:40", "d", kind="left-so", at=FRIDAY + timedelta(hours=1))
    assert day_of(150, *TWO, no_more).proposals == ()


def test_one_visit_told_twice_is_one_visit() -> None:
    day = day_of(180, *TWO, told("14:00", "c", means="calendar"))
    assert [visit.told for visit in day.visits] == ["a", "b"]


def test_another_helper_who_was_told_nothing_may_still_be_planned() -> None:
    rota = "Mina 9:00-12:30 10; Otto 12:30-17:00 5"
    day = day_of(180, told("11:15", "a"), helpers=rota)
    assert [visit.helper for visit in day.visits] == ["Mina", "Otto"]
    assert [bool(visit.told) for visit in day.visits] == [True, False]
    assert day.covered


def test_agreements_say_nothing_of_the_dog() -> None:
    settings = household()
    log = [Event("pee", FRIDAY - timedelta(hours=1)), Event("meal", FRIDAY - timedelta(hours=2))]
    bare = away_situation(settings, log, FRIDAY)
    with_told = away_situation(settings, [*log, told("11:15", "a")], FRIDAY)
    assert bare.standing == with_told.standing


# --- One helper, far enough apart -----------------------------------------------------------------


@pytest.mark.parametrize("interval", [45, 60, 75, 90, 120])
def test_visits_by_one_helper_lie_90_minutes_apart(interval: float) -> None:
    day = day_of(interval, helpers="Mina 11:00-15:00 10")
    assert day.visits
    for one, other in combinations(day.visits, 2):
        assert other.at - one.at >= timedelta(minutes=90)


def test_what_cannot_be_kept_is_one_line_with_one_line_of_advice() -> None:
    day = day_of(90, helpers="Mina 11:00-15:00 10")
    assert len(day.shortfalls) > 1
    assert day.lacks.endswith(f"(and {len(day.shortfalls) - 1} more like it)")
    assert "\n" not in day.advice
    assert len(day.advice) <= 120
    assert day.advice.endswith("or a pad for now")
    near = day_of(180, helpers="Mina 10:00-13:00 10")
    assert near.advice == (
        "be back by 15:40, 1 h 20 earlier, or one more helper at 14:15, or a pad for now"
    )


def test_a_second_helper_makes_room() -> None:
    alone = day_of(60, helpers="Mina 8:30-17:00 10")
    both = day_of(60, helpers="Mina 8:30-17:00 10; Otto 8:30-17:00 12")
    assert not alone.covered
    assert both.covered
    for one, other in combinations(both.visits, 2):
        if one.helper == other.helper:
            assert other.at - one.at >= timedelta(minutes=90)


# --- Any later log --------------------------------------------------------------------------------

LATER = st.lists(
    st.builds(
        Event,
        st.sampled_from(["pee", "poop", "nothing", "pee-inside", "meal", "water", "settled", "up"]),
        st.integers(1, 60 * 60).map(lambda m: FRIDAY + timedelta(minutes=m)),
    ),
    max_size=25,
)


@tries(max_examples=60, deadline=None)
@given(
    LATER,
    st.sets(st.integers(6, 38).map(lambda step: f"{7 + step // 4:02}:{step % 4 * 15:02}"),
            min_size=1, max_size=4),
    st.integers(0, 72),
)  # fmt: skip
def test_told_visits_are_in_the_plan_for_any_later_log(
    log: list[Event], clocks: set[str], hours: int
) -> None:
    entries = [told(clock, f"id{clock}") for clock in sorted(clocks)]
    now = FRIDAY + timedelta(hours=hours)
    plan = away_situation(household(), [*entries, *log], now, first=MONDAY.date(), days=1).plan
    assert times(plan.days[0]) == sorted(clocks)
    for found in plan.proposals:
        assert found.ask_by > now
        assert found.code == "add" or found.about.startswith("id")
