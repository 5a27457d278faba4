"""The risk of an accident by an instant: two clocks, and what the dog has proved so far."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.estimate.learning import Estimate, EvidenceSoFar
from pottyboard.core.estimate.risk import Risk, limit_of, risk_of
from pottyboard.core.log.waits import Digested, Hold, Wait
from pottyboard.core.model import priors
from pottyboard.core.model.localtime import minutes_of
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

NOON = 1440.0 * 20_000 + 720
"""Some noon, in epoch minutes."""

KNOWN: tuple[Wait, ...] = (
    *(Hold(NOON, 120, 0, "out") for _ in range(8)),
    Hold(NOON, 150, 0, "seen"),
    *(Digested(40, 80) for _ in range(4)),
    Digested(30, 90, indoors=True),
)


def estimate(*waits: Wait) -> Estimate:
    """Return what these waits teach of a medium dog."""
    return Estimate(diary().settings.dog, EvidenceSoFar.of(waits))


def risk(page: Diary, clock: str) -> Risk:
    """Return the risk at a clock time, for a dog whose waits are ``KNOWN``."""
    facts = page.days(clock)[-1].facts
    return risk_of(estimate(*KNOWN), facts, facts.last_pee, minutes_of(page.instant(clock)))


def minute(page: Diary, clock: str) -> float:
    return minutes_of(page.instant(clock))


@pytest.mark.parametrize(
    ("level", "limit"),
    [
        ("careful", priors.LIMIT_CAREFUL),
        ("balanced", priors.LIMIT_BALANCED),
        ("easy", priors.LIMIT_EASY),
    ],
)
def test_the_limit_is_the_household_s(level: str, limit: float) -> None:
    settings = diary().settings
    chosen = replace(settings, board=replace(settings.board, risk=level))
    assert limit_of(chosen) == limit


# --- By an instant --------------------------------------------------------------------------------


def test_neither_the_bladder_nor_the_bowel_stays_quiet() -> None:
    own = estimate(*KNOWN)
    both = Risk(own, NOON, NOON + 30, ((NOON, NOON + 20),), NOON + 20, None)
    pee, stool = own.pees_by(100, 30), own.bowel.after_meal(NOON, NOON + 20, NOON + 100)
    assert 0 < pee < 1
    assert 0 < stool < 1
    assert both.chance_by(NOON + 100) == pytest.approx(1 - (1 - pee) * (1 - stool))


def test_of_a_dog_without_a_pee_only_the_bowel_is_asked() -> None:
    own = estimate(*KNOWN)
    assert Risk(own, None, None, (), NOON, None).chance_by(NOON + 500) == 0
    meal = Risk(own, None, None, ((NOON, NOON),), NOON, None)
    assert meal.chance_by(NOON + 100) == pytest.approx(own.bowel.after_meal(NOON, NOON, NOON + 100))


@given(st.floats(0, 300), st.floats(0.005, 0.2))
def test_the_latest_minute_is_the_last_within_the_limit(held: float, limit: float) -> None:
    now = Risk(estimate(*KNOWN), NOON, NOON + held, ((NOON, NOON + 40),), NOON + 40, None)
    start, end = NOON + max(held, 40.0), NOON + 420
    latest = now.latest(limit, start, end)
    if latest is None:
        assert now.chance_by(end) <= limit
        return
    assert start <= latest < end
    assert now.chance_by(latest + 1) > limit
    assert latest == start or now.chance_by(latest) <= limit


def test_a_limit_that_is_past_already_gives_the_start() -> None:
    now = Risk(estimate(*KNOWN), NOON, None, (), NOON, None)
    assert now.latest(0.0001, NOON + 200, NOON + 300) == NOON + 200
    assert now.latest(0.0001, NOON + 200, NOON + 200) == NOON + 200


# --- Asleep ---------------------------------------------------------------------------------------


def curve(page: Diary, clock: str) -> dict[datetime, float]:
    """Return the chance by each instant that is shown at a clock time."""
    found = page.read(clock).risk
    assert found is not None
    return dict(found.curve)


def of_a_week() -> Diary:
    """Return five days that the log knows, and the morning after them."""
    page = replace(diary(), learn=True)
    for day in range(1, 6):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(6).all_at(*MORNING, "07:00 meal", "07:20 nothing")


def test_the_chance_by_an_instant_stays_what_it_is_while_nobody_logs() -> None:
    """Asleep too, and past the end of a nap that nobody ended."""
    page = of_a_week().at("07:40", "pee").at("08:20", "settled")
    before = curve(page, "08:25")
    for clock in ("09:00", "09:40", "10:40", "11:20", "12:10"):
        after = curve(page, clock)
        assert before.keys() & after.keys()
        for at in before.keys() & after.keys():
            assert after[at] == pytest.approx(before[at])


def test_a_nap_is_counted_whatever_is_logged_after_it() -> None:
    napped = of_a_week().at("07:50", "settled").at("10:40", "up")
    at_once = napped.read("10:45").risk
    again = napped.at("10:45", "settled").read("10:45").risk
    left = of_a_week().all_at("07:45 left", "07:50 settled", "10:40 up").read("10:45").risk
    assert at_once is not None
    assert again is not None
    assert left is not None
    assert again.now == left.now == pytest.approx(at_once.now)


def test_a_dog_that_sleeps_on_is_drier_than_one_that_is_awake() -> None:
    awake = of_a_week().at("07:40", "pee")
    asleep = awake.at("08:20", "settled")
    by = awake.instant("10:00")
    at_eight = {page: curve(page, "08:25")[by] for page in (awake, asleep)}
    assert 0 < at_eight[asleep] < 0.7 * at_eight[awake]


@given(st.floats(0, 400), st.floats(0, 200), st.floats(0, 300))
def test_asleep_too_the_chance_never_falls(by: float, more: float, sleep: float) -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "09:00 pee", "09:30 settled")
    now = minute(page, "10:00")
    facts = page.days("10:00")[-1].facts
    sleeps = risk_of(estimate(*KNOWN), facts, minute(page, "09:00"), now + sleep)
    assert sleeps.chance_by(now + by) <= sleeps.chance_by(now + by + more) + 1e-9


# --- As the log stands ----------------------------------------------------------------------------


def test_the_bladder_s_clock_starts_with_the_last_pee() -> None:
    page = diary().all_at(*MORNING, "09:00 pee")
    assert (risk(page, "10:00").pee, risk(page, "10:00").held) == (minute(page, "09:00"), 0)
    assert risk(diary(), "10:00").pee is None


def test_an_outing_without_pee_proves_that_it_could_wait() -> None:
    page = diary().all_at(*MORNING, "09:00 pee")
    tried = page.at("10:40", "nothing")
    assert risk(tried, "10:41").held == 100
    later = minute(page, "11:30")
    assert risk(tried, "10:41").chance_by(later) < risk(page, "10:41").chance_by(later)


def test_minutes_asleep_count_less() -> None:
    page = diary().all_at(*MORNING, "09:00 pee", "09:30 settled", "10:30 water")
    saved = 60 * (1 - priors.SLEEP_SHARE)
    assert 0 < saved < 60
    found = risk(page, "10:40")
    assert (found.pee, found.held) == (minute(page, "09:00"), 0)
    own, at = estimate(*KNOWN), minute(page, "11:30")
    assert found.pees_by(at) == own.pees_by(150 - saved)
    tried = risk(page.at("10:50", "nothing"), "10:51")
    assert tried.held == pytest.approx(110 - saved)
    napped = diary().all_at(*MORNING, "09:00 pee", "09:12 nothing", "09:13 settled")
    assert risk(napped, "11:30").held == 12


def test_a_meal_s_clock_starts_again_at_an_outing_without_stool() -> None:
    page = diary().all_at(*MORNING, "07:00 meal")
    seven = minute(page, "07:00")
    assert risk(page, "07:30").meals == ((seven, seven),)
    out = page.at("07:40", "pee")
    assert risk(out, "07:41").meals == ((seven, seven + 40),)
    assert risk(out.at("07:55", "poop"), "08:00").meals == ()


def test_by_the_clock_none_was_ready_at_the_last_outing_stool_or_waking() -> None:
    page = diary().all_at("06:30 up", "06:35 poop")
    assert risk(page, "07:00").stool == risk(page, "07:00").bare == minute(page, "06:35")
    assert risk(page.at("08:00", "nothing"), "08:10").bare == minute(page, "08:00")
    night = diary().all_at(*MORNING, "22:20 pee", "22:40 settled").on(2).at("06:30", "up")
    assert risk(night, "06:32").bare == minute(night, "06:30")
    assert risk(night, "06:32").stool == minute(night.on(1), "06:35")


# --- What it is of --------------------------------------------------------------------------------


def test_a_break_for_the_chance_of_poop_says_so() -> None:
    page = replace(diary(), learn=True)
    for day in range(1, 9):
        page = page.on(day).all_at(*CLEAR_DAY)
    page = page.on(9).all_at(*MORNING, "07:00 meal", "08:35 pee")
    words = {one.code: one.words for one in page.read("08:40").next_break.reasons}
    assert "poop indoors gets too likely (over 4 in 100)" in words["model"]
    dry = page.on(9).at("09:00", "poop").read("09:05")
    later = {one.code: one.words for one in (*dry.next_break.reasons, *dry.next_break.later)}
    assert "poop" not in later.get("model", "")
