"""When stool comes indoors: ready after a meal or at the dog's hours, then held for a while."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.estimate.bowel import NO_HOURS, Bowel, Hours
from pottyboard.core.estimate.learning import Estimate, EvidenceSoFar
from pottyboard.core.log.waits import Digested, Stool, Wait
from pottyboard.core.model import priors
from tests.core.diary import MORNING, Diary, diary

NOON = 1440.0 * 20_000 + 720
"""Some noon, in epoch minutes."""


def bowel(*waits: Wait, days: int = 0) -> Bowel:
    """Return the bowel of a medium dog after these waits, so many days ago."""
    evidence_so_far = EvidenceSoFar.of(waits)
    for _ in range(days):
        evidence_so_far = evidence_so_far.a_day_older()
    return Estimate(diary().settings.dog, evidence_so_far).bowel


def at_four(days: int) -> tuple[Stool, ...]:
    """Return a stool at 16:00 on each of the days before."""
    return tuple(Stool(NOON + 240 - 1440 * day) for day in range(1, days + 1))


# --- After a meal ---------------------------------------------------------------------------------


def after_meal(own: Bowel, bare: float, by: float, nap: tuple[float, float] = (0, 0)) -> float:
    """Return the chance of stool indoors ``by`` minutes after a meal, an outing without stool
    ``bare`` minutes after it, and a nap between those minutes."""
    return own.after_meal(NOON, NOON + bare, NOON + by, ((NOON + nap[0], NOON + nap[1]),))


def test_right_after_an_outing_without_stool_there_is_no_risk() -> None:
    own = bowel()
    assert after_meal(own, 60, 60) == 0
    assert after_meal(own, 60, 70) < 0.01 < after_meal(own, 60, 120)


def test_a_meal_that_brought_nothing_for_hours_brings_nothing() -> None:
    own = bowel()
    within_an_hour = [after_meal(own, bare, bare + 60) for bare in (180, 240, 300, 420)]
    assert within_an_hour == sorted(within_an_hour, reverse=True)
    assert within_an_hour[-1] < within_an_hour[0] / 3


def test_the_share_of_meals_with_stool_is_learnt() -> None:
    with_stool = bowel(*(Digested(30, 60) for _ in range(10)))
    without = bowel(*(Digested(300) for _ in range(10)))
    assert without.some < bowel().some < with_stool.some
    assert after_meal(without, 0, 120) < after_meal(with_stool, 0, 120)


def test_an_accident_soon_after_a_bare_outing_shortens_the_hold() -> None:
    held = bowel(Digested(40, 90))
    slipped = bowel(Digested(40, 90, indoors=True))
    assert after_meal(slipped, 0, 90) > after_meal(held, 0, 90)


@given(st.floats(0, 900), st.floats(0, 900), st.floats(0, 300), st.floats(0, 600))
def test_a_chance_never_falls_as_time_goes_by(
    bare: float, by: float, more: float, slept: float
) -> None:
    own = bowel(Digested(20, 80), Digested(300), *at_four(3))
    nap = (slept, slept + 90)
    sooner, later = (after_meal(own, bare, until, nap) for until in (by, by + more))
    assert 0 <= sooner <= later + 1e-9 <= 1 + 1e-9
    since, at, sleeps = NOON + bare, NOON + by, [(NOON + nap[0], NOON + nap[1])]
    sooner, later = (own.by_hours(since, None, until, sleeps) for until in (at, at + more))
    assert 0 <= sooner <= later + 1e-9 < 1
    meals = [(NOON, NOON + min(bare, by))]
    assert 0 <= own.comes_by(meals, NOON, None, at) <= 1


def summed(own: Bowel, bare: float, by: float, nap: tuple[float, float] = (0, 0)) -> float:
    """Return the chance after a meal from its definition, half a minute after the other.

    A meal brings stool or not. An outing without stool at ``bare`` leaves the meals that bring
    none, those whose stool is later, and those whose stool was ready, held, and missed outside; of
    these, stool that is ready at some minute is held until it comes.
    """
    ready, gives_way = own.ready.conditional(), own.stool_hold.conditional()

    def held(since: float, until: float) -> float:
        asleep = max(0.0, min(until, nap[1]) - max(since, nap[0]))
        awake = until - since - asleep
        return 1 - gives_way.chance_by(awake + asleep * priors.STOOL_SLEEP_SHARE)

    comes = left = 0.0
    for step in range(int(by * 2)):
        start = step / 2
        share = ready.chance_by(start + 0.5) - ready.chance_by(start)
        if start < bare:
            share *= priors.STOOL_MISSED * held(start + 0.25, bare)
            left += share
            comes += share * (1 - held(start + 0.25, by) / held(start + 0.25, bare))
        else:
            comes += share * (1 - held(start + 0.25, by))
    left += 1 - ready.chance_by(bare)
    return own.some * comes / (1 - own.some + own.some * left)


@pytest.mark.parametrize("nap", [(0, 0), (70, 110), (130, 260)])
@pytest.mark.parametrize("bare", [0, 60, 100, 200])
@pytest.mark.parametrize("wait", [60, 120, 260])
def test_the_chance_after_a_meal_is_that_of_the_meals_with_none_so_far(
    bare: float, wait: float, nap: tuple[float, float]
) -> None:
    for own in (bowel(), bowel(*[Digested(40, 80)] * 4, Digested(30, 90, indoors=True))):
        by_hand = summed(own, bare, bare + wait, nap)
        assert after_meal(own, bare, bare + wait, nap) == pytest.approx(by_hand, rel=0.07, abs=3e-3)


def test_stool_that_was_missed_outside_comes_sooner_than_any_other() -> None:
    """Dogs forget outside and go when they are back in (common practice, no source)."""
    own = bowel(*[Digested(40, 80)] * 8)
    soon = after_meal(own, 150, 180)  # by then it was ready, almost surely, and did not come
    assert soon > 2 * after_meal(own, 20, 50)


def test_asleep_a_dog_holds_stool_for_longer() -> None:
    own = bowel()
    assert after_meal(own, 30, 180, nap=(60, 150)) < 0.6 * after_meal(own, 30, 180)
    own = bowel(*at_four(4), days=4)
    awake, dozed = (
        own.by_hours(NOON + 200, None, NOON + 380, sleeps)
        for sleeps in ((), ((NOON + 250, NOON + 340),))
    )
    assert 0 < dozed < 0.8 * awake


# --- By its hours ---------------------------------------------------------------------------------


def test_the_hours_of_earlier_days_count() -> None:
    own = bowel(*at_four(4), days=4)
    at_its_hour = own.by_hours(NOON + 210, None, NOON + 300)
    assert at_its_hour > 5 * own.by_hours(NOON - 60, None, NOON + 30)
    assert own.comes_by((), NOON + 210, None, NOON + 300) > 0


def test_soon_after_a_stool_there_is_little_for_the_next() -> None:
    own = bowel(*at_four(4), days=4)
    just_been = own.by_hours(NOON + 210, NOON + 205, NOON + 300)
    assert 0 < just_been < own.by_hours(NOON + 210, NOON - 300, NOON + 300) / 2


def test_the_more_days_the_more_they_count() -> None:
    few, many = (
        bowel(*at_four(days), days=days).comes_by((), NOON + 210, None, NOON + 300)
        for days in (1, 6)
    )
    assert 0 < few < many


def test_without_earlier_days_only_meals_count() -> None:
    own = bowel()
    assert own.hours == NO_HOURS
    assert own.comes_by((), NOON, None, NOON + 400) == 0
    meals = [(NOON, NOON)]
    assert own.comes_by(meals, NOON, None, NOON + 90) == pytest.approx(after_meal(own, 0, 90))


def test_hours_fade_and_are_forgotten() -> None:
    hours = Hours(((NOON, 1.0),))
    for _ in range(40):
        hours = hours.a_day_older(priors.KEPT_A_DAY)
    assert hours.seen == ()
    assert hours.days < 1 / (1 - priors.KEPT_A_DAY)


# --- A wet night ----------------------------------------------------------------------------------


def nights(wet_at: str = "") -> Diary:
    """Return three nights of a large dog, the last one perhaps wet, and the evening after them."""
    page = replace(diary(30, bed="22:00"), learn=True)
    for day in (1, 2, 3):
        page = page.on(day).all_at(*MORNING, "21:50 pee", "22:00 settled")
    page = page.on(4)
    if wet_at:
        page = page.at(wet_at, "pee-inside").at("03:30", "settled")
    return page.all_at(*MORNING, "21:50 pee", "22:00 settled").on(5)


def test_nobody_is_woken_sooner_for_a_dry_dog() -> None:
    assert nights().dues("01:00") == replace(nights(), learn=False).dues("01:00")


def test_a_wet_night_brings_the_break_forward() -> None:
    page = nights("03:00")
    by_rule = replace(page, learn=False).dues("01:00")["night"]
    due = page.dues("01:00")["night"]
    assert "02:00" < due < "04:30" < by_rule == "05:50"
    shown = page.read("01:00").next_break
    assert shown.reasons[0].code == "night"
    assert "from its own nights" in shown.reasons[0].words
    assert shown.at - page.on(4).instant("21:50") >= timedelta(minutes=priors.NIGHT_LEAST)
