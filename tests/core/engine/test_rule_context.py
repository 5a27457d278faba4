"""What the reasons for a break look at."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import Estimate, EvidenceSoFar, ready_prior
from pottyboard.core.log.waits import Digested
from pottyboard.core.model import priors
from pottyboard.core.model.localtime import minutes_of
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def context(page: Diary, clock: str, told: str = "") -> RuleContext:
    """Return what the reasons look at, by the log up to ``told``, or up to the clock time."""
    day = page.days(told or clock)[-1]
    now = minutes_of(page.instant(clock))
    return RuleContext(day.facts, day.plan, page.settings, 120, now)


def test_clock_times_are_the_household_s() -> None:
    page = diary(zone="America/St_Johns").all_at(*MORNING)
    assert context(page, "09:05").clock(minutes_of(page.instant("17:30"))) == "17:30"


def test_the_dog_sleeps_as_logged_or_by_the_hour() -> None:
    page = diary().all_at(*MORNING, "10:00 settled")
    assert (context(page, "09:59").sleep, context(page, "10:30").sleep) == ("", "nap")
    night = diary().all_at(*MORNING, "22:20 pee")
    asked = [context(night, clock, "22:30").sleep for clock in ("22:29", "22:30", "22:45")]
    assert asked == ["", "night", "night"]
    playing = night.at("22:32", "play")
    asked = [context(playing, clock, "22:40").sleep for clock in ("22:33", "22:46", "22:47")]
    assert asked == ["", "", "night"]


def test_what_came_before_the_last_waking_asks_no_more() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2)
    up = page.at("06:10", "up")
    assert context(up, "06:20").awake_since == minutes_of(page.instant("06:10"))
    assert context(page, "06:40").awake_since == minutes_of(page.instant("06:30"))
    again = up.at("06:15", "settled", sleep="night").at("07:30", "up")
    assert context(again, "07:40").awake_since == minutes_of(page.instant("07:30"))


@pytest.mark.parametrize(
    ("naps", "then"),
    [
        (["07:50 left", "08:00 settled", "11:00 back"], ["11:05 left", "11:20 back"]),
        (["08:00 settled", "08:20 left", "11:00 back", "11:05 up"], ["11:10 left"]),
        (
            ["08:00 settled", "08:20 left", "11:00 back", "11:05 up"],
            ["11:10 left", "11:12 back", "11:14 left", "11:15 back"],
        ),
    ],
)
def test_leaving_again_puts_no_break_off(naps: list[str], then: list[str]) -> None:
    # Our own choice: of a dog that is left alone nobody sees whether it sleeps.
    page = diary().on(2).all_at(*MORNING, *naps)
    assert page.dues("11:06")["hold"] == "08:35"
    assert page.all_at(*then).dues("11:21")["hold"] == "08:35"


def test_a_nap_while_alone_stays_one_when_the_dog_is_left_again() -> None:
    page = diary().on(2).all_at(*MORNING, "08:35 pee", "09:00 left", "09:30 settled")
    page = page.all_at("11:00 back", "11:10 up")
    assert page.dues("11:12")["hold"] == "10:35"
    assert page.at("11:15", "left").dues("11:16")["hold"] == "10:35"


def test_a_nap_with_somebody_home_puts_a_break_off_whoever_leaves_later() -> None:
    page = diary().on(2).all_at(*MORNING, "07:00 left", "07:20 back", "08:00 settled", "10:00 up")
    assert page.dues("10:01")["hold"] == "10:00"
    assert page.all_at("10:05 left", "10:10 back").dues("10:11")["hold"] == "10:00"
    out = page.all_at("10:05 left", "10:10 back", "10:12 pee", "10:20 settled", "12:30 up")
    assert out.dues("12:31")["hold"] == "12:30"


@pytest.mark.parametrize("kg", [6, 15, 30])
def test_digestion_is_the_size_s_until_the_log_knows_better(kg: float) -> None:
    page = diary(kg).all_at(*MORNING)
    alone = context(page, "09:00")
    usual = ready_prior(page.settings.dog).median
    assert alone.digestion == usual
    few = EvidenceSoFar.of([Digested(30, 40)] * (int(priors.STOOLS_TO_KNOW) - 1))
    many = EvidenceSoFar.of([Digested(30, 40)] * 12)
    dog = page.settings.dog
    assert replace(alone, estimate=Estimate(dog, few)).digestion == usual
    assert replace(alone, estimate=Estimate(dog, many)).digestion < usual
