"""What the log teaches: the hold, the digestion, the risk, and what the estimate may do with it."""

from __future__ import annotations

import dataclasses
import math
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.estimate.learning import (
    Estimate,
    EvidenceSoFar,
    censored_hold,
    hold_prior,
    ready_prior,
    stool_hold_prior,
)
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.log.take_in import take_in
from pottyboard.core.log.waits import Digested, Hold
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import in_100, minutes_of, span_words
from pottyboard.core.model.questions import settings_from
from pottyboard.core.view.hold_report import hold_report
from pottyboard.core.view.situation import as_json, situation
from pottyboard.core.view.situation_views import DRY_OF_100
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def learned(page: Diary) -> Diary:
    """Return the same page, read with the estimate."""
    return replace(page, learn=True)


def clear_days(last: int, kg: float = 15) -> Diary:
    """Return a diary of whole clear days, 1 to ``last``."""
    page = diary(kg)
    for day in range(1, last + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return learned(page)


def dry(minutes: float) -> Hold:
    """Return a hold that ended outside."""
    return Hold(0, minutes, 0, "out")


def seen(minutes: float) -> Hold:
    """Return a hold that ended indoors, seen."""
    return Hold(0, minutes, 0, "seen")


def after(*waits: Hold | Digested, **dog: object) -> Estimate:
    """Return the estimate after these waits, for a medium dog."""
    return Estimate(diary(**dog).settings.dog, EvidenceSoFar.of(waits))  # type: ignore[arg-type]


# --- What an entry says ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hold", "low", "high"),
    [
        (Hold(0, 130, 0, "out"), 130, math.inf),
        (Hold(0, 100, 60, "out"), 130, math.inf),  # an hour asleep counts as half an hour awake
        (Hold(0, 130, 0, "seen"), 130, 130),
        (Hold(0, 130, 0, "found", dry=90), 90, 130),
        (Hold(0, 130, 0, "found"), 0, 130),
        (Hold(0, 300, 0, "out"), 240, math.inf),  # perhaps two, with a forgotten pee between
        (Hold(0, 60, 420, "out", night=True), 480, math.inf),
    ],
)
def test_a_hold_says_at_least_exactly_or_between(hold: Hold, low: float, high: float) -> None:
    observed = censored_hold(hold)
    assert (observed.low, observed.high) == (low, high)


@pytest.mark.parametrize(
    ("entries", "ready", "stool_hold"),
    [
        # A stool outside came "by now", and could have waited.
        (("07:00 meal", "07:20 poop"), (0, 20), (10, math.inf)),
        # An outing without stool says "not yet".
        (("07:00 meal", "07:20 pee", "08:10 poop"), (20, 70), (25, math.inf)),
        # Pee and stool of one outing are one outing.
        (("07:00 meal", "07:20 pee", "07:24 poop"), (0, 24), (12, math.inf)),
        # Long waits prove no more than an hour.
        (("07:00 meal", "10:20 poop"), (0, 200), (60, math.inf)),
        # Indoors: held no longer than since the outing without.
        (("07:00 meal", "07:20 pee", "08:10 poop-inside"), (20, 70), (0, 50)),
    ],
)
def test_a_stool_tells_of_the_meal_before(
    entries: tuple[str, ...], ready: tuple[float, float], stool_hold: tuple[float, float]
) -> None:
    page = diary().on(2).all_at(*entries)
    facts, plan = page.days("06:30")[-1].facts.copy(), page.days("09:00")[-1].plan
    ended = [w for e in page.entries for w in take_in(facts, e, plan) if isinstance(w, Digested)]
    assert [(w.ready.low, w.ready.high) for w in ended] == [ready]
    held = [w.stool_hold for w in ended]
    assert [(one.low, one.high) for one in held if one is not None] == [stool_hold]


def test_a_stool_between_two_meals_leaves_the_first_at_not_yet() -> None:
    page = diary().on(2).all_at("07:00 meal", "07:20 pee", "09:00 meal", "09:30 poop")
    facts, plan = page.days("06:30")[-1].facts.copy(), page.days("10:00")[-1].plan
    ended = [w for e in page.entries for w in take_in(facts, e, plan) if isinstance(w, Digested)]
    assert ended == [Digested(20), Digested(0, 30)]


@pytest.mark.parametrize("cause", ["marking", "greeting", "leak"])
def test_another_cause_says_nothing_about_holding(cause: str) -> None:
    page = learned(diary()).on(2).all_at(*MORNING)
    other = page.at("08:00", "pee-inside", cause=cause).read("12:00").hold
    assert (other.holds, other.accidents) == (page.read("12:00").hold.holds, 0)


def test_an_accident_after_a_late_break_tells_how_long_it_held() -> None:
    page = learned(diary()).on(2).all_at("06:30 up", "06:35 pee").at("11:35", "pee-inside")
    assert page.read("12:00").interval.minutes == 120
    assert page.read("12:00").hold.accidents == 1


def test_an_accident_right_after_a_pee_is_no_hold() -> None:
    page = learned(diary()).on(2).all_at(*MORNING)
    before = page.read("08:30").hold
    soon = page.all_at("08:00 pee").at("08:05", "pee-inside", found=False).read("08:30").hold
    assert (soon.holds, soon.accidents) == (before.holds + 1, 0)
    later = page.all_at("08:00 pee").at("08:45", "pee-inside", found=False).read("08:50").hold
    assert (later.holds, later.accidents) == (before.holds + 2, 1)


def test_two_pees_of_one_outing_are_no_hold() -> None:
    page = learned(diary()).on(2).all_at(*MORNING, "08:30 pee")
    holds = page.read("09:00").hold.holds
    assert page.at("08:38", "both").read("09:00").hold.holds == holds
    assert page.at("08:45", "pee").read("09:00").hold.holds == holds + 1


# --- Properties -----------------------------------------------------------------------------------

lengths = st.floats(1, 3000)
holds = st.lists(st.builds(Hold, st.just(0.0), lengths, st.just(0.0),
                           st.sampled_from(["out", "seen", "found"])), max_size=20)  # fmt: skip


@given(holds, lengths, st.floats(0, 3000), st.floats(1, 600))
def test_more_and_longer_dry_holds_never_raise_the_risk(
    waits: list[Hold], length: float, longer: float, at: float
) -> None:
    risk = after(*waits).pees_by(at)
    one_more = after(*waits, dry(length)).pees_by(at)
    assert one_more <= risk + 1e-9
    assert after(*waits, dry(length + longer)).pees_by(at) <= one_more + 1e-9


@given(holds, lengths, st.floats(1, 600))
def test_an_accident_in_place_of_a_dry_hold_never_lowers_the_risk(
    waits: list[Hold], length: float, at: float
) -> None:
    length = min(length, figures.MOST_INTERVAL)
    assert after(*waits, seen(length)).pees_by(at) >= after(*waits, dry(length)).pees_by(at) - 1e-9


@given(st.permutations([dry(90), dry(200), seen(120), Hold(0, 150, 20, "found", dry=60)]))
def test_order_does_not_matter(waits: list[Hold]) -> None:
    assert after(*waits).pees_by(130) == pytest.approx(after(*sorted(waits, key=repr)).pees_by(130))


def test_an_empty_log_gives_the_prior() -> None:
    empty = after()
    for posterior, prior in (
        (empty.hold, hold_prior(empty.dog)),
        (empty.ready, ready_prior(empty.dog)),
        (empty.bowel.stool_hold, stool_hold_prior(empty.dog)),
    ):
        assert posterior.median == pytest.approx(prior.median, rel=0.01)
    assert empty.digestion == figures.DIGESTION_MEDIUM


def test_older_days_count_less() -> None:
    fresh = EvidenceSoFar.of([seen(90)])
    dog = diary().settings.dog
    chances = [
        Estimate(dog, evidence_so_far).pees_by(120)
        for evidence_so_far in (fresh, fresh.a_day_older())
    ]
    assert chances[0] > chances[1] > after().pees_by(120)


@pytest.mark.parametrize(
    "shorter",
    [{"kg": 8}, {"prone": True}, {"age": "senior"}],
    ids=["small", "prone", "senior"],
)
def test_a_dog_that_holds_less_is_expected_to(shorter: dict[str, object]) -> None:
    assert after(**shorter).pees_by(120) > after().pees_by(120)


# --- What the estimate may do ---------------------------------------------------------------------


def test_it_calls_no_break_before_it_has_seen_enough_holds() -> None:
    page = learned(diary(kg=8)).on(1).all_at(*MORNING)
    view = page.read("07:00")
    assert "model" not in page.dues("07:00")
    assert not view.hold.knows
    assert "does not know Bramble yet" in view.confidence


def careful(page: Diary) -> Diary:
    """Return the same log for a household that allows the least chance."""
    board = replace(page.settings.board, risk="careful")
    return replace(page, settings=replace(page.settings, board=board))


WAITS_OF_LATE = tuple(f"{clock} pee" for clock in ("07:20", "08:05", "08:50", "09:35", "10:20"))


def wider(day: int) -> Diary:
    """Return a morning of many short waits whose household wants breaks up to 3 h 30 apart."""
    page = careful(clear_days(day - 1).on(day)).all_at(*MORNING)
    return page.at("06:41", "interval", minutes=210).all_at(*WAITS_OF_LATE)


def test_in_the_first_days_it_calls_little_before_the_interval_however_much_is_logged() -> None:
    """The first days stay close to the fixed reasons of the trade (a choice of ours, no source)."""
    assert wider(2).read("10:30").hold.holds > priors.HOLDS_TO_KNOW
    three_quarters = timedelta(minutes=math.ceil(210 * priors.FIRST_DAYS_SHARE))
    called = {day: wider(day).instant(wider(day).dues("10:30")["model"]) for day in (2, 3)}
    assert called[2] - wider(2).instant("10:20") == three_quarters
    assert called[3] - wider(3).instant("10:20") < three_quarters


def test_it_brings_a_break_forward_to_the_limit_and_no_further() -> None:
    page = wider(3)
    due = page.dues("10:30")
    assert due["hold"] == "13:50"
    assert "11:05" < due["model"] < "13:50"
    risk = page.read("10:30").risk
    assert risk is not None
    assert risk.at_due <= risk.limit
    # It is called so much ahead that a household that is a little late stays within the limit.
    a_minute_later = page.instant(due["model"]) + timedelta(minutes=priors.KEPT_LATE + 1)
    view = situation(page.settings, page.entries, a_minute_later)
    assert view.risk is not None
    assert view.risk.now > risk.limit


@given(
    st.lists(st.tuples(st.integers(0, 900), st.sampled_from(
        ["pee", "poop", "both", "nothing", "pee-inside", "poop-inside", "meal", "water", "sign"]
    )), max_size=30),
    st.integers(0, 1200),
)  # fmt: skip
def test_the_rule_stays_in_command(entries: list[tuple[int, str]], later: int) -> None:
    page = clear_days(2).on(3)
    start = page.instant("06:30")
    for minutes, kind in entries:
        page = replace(page, entries=(*page.entries, dataclasses.replace(
            page.entries[0], kind=kind, at=start + timedelta(minutes=minutes),
            id=f"x{len(page.entries)}",
        )))  # fmt: skip
    now = start + timedelta(minutes=later)
    with_model = situation(page.settings, page.entries, now)
    reasons = (*with_model.next_break.reasons, *with_model.next_break.later)
    hold = [r.at for r in reasons if r.code == "hold"]
    for model in (r.at for r in reasons if r.code == "model"):
        assert model <= min(hold)


def test_a_night_is_no_hold_awake_for_it_to_end() -> None:
    page = clear_days(3).on(4)
    assert "up" in page.dues("06:31")
    assert "model" not in page.dues("06:31")


def test_it_learns_the_dogs_own_digestion() -> None:
    page = learned(diary(meals="07:00"))
    for day in range(1, 7):
        page = page.on(day).all_at(
            "06:30 up", "06:35 pee", "07:00 meal", "07:15 pee", "08:20 pee", "09:10 pee",
            "09:55 poop", "12:00 pee", "15:00 pee", "18:00 pee", "21:00 pee", "22:30 pee",
        )  # fmt: skip
    page = page.on(7).all_at("06:30 up", "06:35 pee", "07:00 meal", "07:20 pee")
    view = page.read("07:30")
    own = page.instant(page.dues("07:30")["digestion"]) - page.instant("07:00")
    assert timedelta(minutes=100) < own <= timedelta(minutes=180)
    assert replace(page, learn=False).dues("07:30")["digestion"] == "08:15"
    assert view.settings.dog.size == "medium"


def test_it_may_hold_a_wider_interval_back() -> None:
    page = diary(kg=8)
    for day in (1, 2):
        page = page.on(day).all_at("06:30 up", "06:35 pee")
        for hour in range(8, 20):
            page = page.at(f"{hour:02}:05", "pee-inside")
        page = page.all_at("20:30 pee", "22:30 pee", "22:40 settled")
    page = page.on(3).at("06:31", "interval", minutes=120)
    for day in (3, 4, 5):
        page = page.on(day).all_at(*CLEAR_DAY)
    morning = page.on(6).at("06:30", "up")
    assert morning.read("06:40").interval.minutes == 150
    held = learned(morning)
    assert held.read("06:40").interval.minutes == 120
    assert "2 h 30 has to wait" in held.days("06:40")[-1].held_back


# --- In words and as JSON -------------------------------------------------------------------------


def test_it_says_what_it_believes_from_how_much_and_how_sure() -> None:
    view = clear_days(4).on(5).all_at(*MORNING).read("07:30")
    assert view.hold.words == (
        "Bramble has held 2 h so far, 4 times; an estimate: 97 of 100 waits stay dry to 3 h"
    )
    assert view.risk is not None
    assert in_100(view.risk.at_due) in view.confidence
    assert view.confidence.endswith("; Bramble has held 2 h so far, 4 times")


def test_no_accident_in_so_many_holds_is_not_no_risk() -> None:
    """The exact bound 1 - 0.05 ** (1/n): Hanley and Lippman-Hand, JAMA 1983;249:1743-1745 (read
    in a second source); 11 holds leave 24 %, computed from the formula: 7 of 10 are sure."""
    page = learned(diary()).on(1).all_at("06:30 up", "06:35 pee")
    for step in range(1, 12):
        clock = f"{6 + (35 + step * 80) // 60:02}:{(35 + step * 80) % 60:02}"
        page = page.at(clock, "pee")
    page = page.at("21:20", "interval", minutes=100)
    assert page.read("21:30").hold.proof == (
        "11 dry waits of 1 h 20 or longer: alone they prove no more than that 7 of 10 such waits "
        "stay dry"
    )


def test_an_accident_that_says_how_long_it_holds_stands_beside_the_dry_waits() -> None:
    """A greeting says nothing about it, so that the words must not mean just any accident."""
    page = learned(diary()).on(1).all_at("06:30 up", "06:35 pee")
    page = page.at("08:30", "pee-inside", found=False)
    page = page.all_at("10:30 pee", "12:30 pee", "14:30 pee")
    page = page.at("15:00", "pee-inside", found=False, cause="greeting").at("15:30", "pee")
    proof = page.at("15:40", "interval", minutes=120).read("15:45").hold.proof
    assert proof.startswith("3 dry waits of 1 h 15 or longer: ")


def test_the_json_carries_hold_and_risk() -> None:
    view = clear_days(3).on(4).all_at(*MORNING).read("07:30")
    found = as_json(view)
    assert set(found["hold"]) == {"median_minutes", "range80", "holds", "accidents"}
    assert set(found["risk"]) == {"now", "at_due", "limit", "over_from"}
    assert 0 <= found["risk"]["now"] <= found["risk"]["at_due"] <= 1
    assert found["hold"]["accidents"] == 0


def test_no_number_is_told_past_half_as_long_again_as_the_longest_dry_hold() -> None:
    """In a week without an accident half of the waits would last 17 h by the estimate alone."""
    dry = clear_days(6).on(7).all_at(*MORNING)
    hold, study = dry.read("07:30").hold, hold_report(
        dry.settings, dry.entries, dry.instant("07:30")
    )  # fmt: skip
    assert (hold.median_minutes, hold.range80) == (None, (None, None))
    assert hold.safe == study.told_to == 180
    forgot = dry.all_at(
        "08:35 pee", "11:00 meal", "13:00 water", "14:30 meal", "16:00 water", "20:00 pee"
    )
    study = hold_report(forgot.settings, forgot.entries, forgot.instant("20:10"))
    assert study.estimate.safe <= study.told_to
    assert study.told_to < 300
    wet = dry.all_at("08:30 pee-inside", "10:00 pee-inside", "11:30 pee-inside").read("12:00").hold
    (low, _), middle = wet.range80, wet.median_minutes
    assert low is not None
    assert low <= 180
    assert middle is None or low < middle <= 180


def test_an_empty_log_tells_no_wait() -> None:
    study = hold_report(diary().settings, (), diary().instant("12:00"))
    assert study.told_to == 0
    assert not any(day.knows for day in study.days)


def test_the_night_has_no_risk_and_the_rule_alone_has_none() -> None:
    page = clear_days(2)
    assert page.on(3).read("02:00").risk is None
    assert replace(page, learn=False).on(2).read("12:00").risk is None


@pytest.mark.parametrize("level", ["careful", "balanced", "easy"])
def test_three_levels_with_a_number_behind_each(level: str) -> None:
    page = diary()
    settings = replace(page.settings, board=replace(page.settings.board, risk=level))
    assert 0 < limit_of(settings) <= 0.2
    assert priors.LIMIT_CAREFUL < priors.LIMIT_BALANCED < priors.LIMIT_EASY


# --- Bad logs -------------------------------------------------------------------------------------


def _finite(page: Diary, clock: str) -> None:
    view = page.read(clock)
    numbers = [*_ended_by(page, clock)]
    if view.risk is not None:
        numbers += [view.risk.now, view.risk.at_due, *(chance for _, chance in view.risk.curve)]
        assert all(0 <= chance <= 1 for _, chance in view.risk.curve)
    assert all(math.isfinite(number) for number in numbers)


def _ended_by(page: Diary, clock: str) -> tuple[float, float, float]:
    """Return the minutes by which 1, 5 and 9 of 10 waits have ended indoors."""
    estimate = Estimate(page.settings.dog, page.days(clock)[-1].evidence_so_far)
    return estimate.wait_within(0.1), estimate.wait_within(0.5), estimate.wait_within(0.9)


def _width(page: Diary, clock: str) -> float:
    low, _, high = _ended_by(page, clock)
    return high / low


def test_only_found_accidents_leave_a_wide_range() -> None:
    page = learned(diary()).on(1).at("06:35", "pee")
    for hour in (9, 12, 15, 18):
        page = page.at(f"{hour:02}:00", "pee-inside", found=True)
    _finite(page, "19:00")
    assert _width(page, "19:00") > 1.5


def test_impossible_holds_and_days_without_entries_teach_little() -> None:
    page = learned(diary()).on(1).all_at("06:35 pee", "08:30 pee")
    gone = page.on(5).all_at("06:30 up", "19:00 pee")
    _finite(gone, "19:30")
    assert gone.read("19:30").hold.holds == page.read("09:00").hold.holds
    assert _width(gone, "19:30") >= _width(page, "09:00") * 0.9
    night = censored_hold(Hold(0, 600, 3000, "out", night=True))
    assert night.low == figures.NIGHT_MOST


def test_a_gap_by_day_is_named() -> None:
    page = (
        learned(diary())
        .on(2)
        .all_at(*MORNING, "10:00 play", "13:00 note", "16:30 play", "20:00 pee")
    )
    assert "1 silence in the log counted low" in page.read("20:30").hold.words


def test_an_accident_after_a_gap_does_not_prove_a_long_hold() -> None:
    page = clear_days(3).on(4).all_at(*MORNING)
    after_gap = page.at("20:00", "pee-inside", found=False)
    before, after = (one.read("20:10").hold for one in (page, after_gap))
    assert after.accidents == before.accidents + 1
    assert _ended_by(after_gap, "20:10")[1] <= _ended_by(page, "07:00")[1]


def test_duplicates_do_no_harm() -> None:
    page = clear_days(2)
    twice = replace(page, entries=tuple(
        dataclasses.replace(e, id=f"{e.id}{copy}") for e in page.entries for copy in "ab"
    ))  # fmt: skip
    _finite(twice.on(2), "22:00")
    assert twice.on(2).read("22:00").hold.accidents == 0


# --- The study ------------------------------------------------------------------------------------


def test_the_study_draws_the_log_the_estimate_and_the_prior() -> None:
    page = clear_days(3).on(4).all_at(*MORNING, "08:30 pee-inside")
    study = hold_report(page.settings, page.entries, page.instant("09:00"))
    assert len(study.minutes) == len(study.log) == len(study.posterior) == len(study.prior)
    assert study.log[0] == study.posterior[0] == study.prior[0] == 1
    for curve in (study.posterior, study.prior, [c for c in study.log if c is not None]):
        assert list(curve) == sorted(curve, reverse=True)
    assert study.accidents == (115,)
    assert study.longest == (120, 120, 120)
    assert [day.number for day in study.days] == [1, 2, 3, 4]


def test_the_study_is_of_the_chance_that_calls_the_breaks() -> None:
    """One belief: the curve, its days, the words and "How sure" cannot tell different numbers."""
    page = learned(diary())
    for day in (1, 2, 3, 4):
        page = page.on(day).all_at("06:30 up", "06:35 pee", "08:30 pee", "10:25 pee", "12:20 pee")
    page = page.all_at("12:00 pee-inside")
    now = page.instant("12:30")
    study, view = hold_report(page.settings, page.entries, now), page.read("12:30")
    at = dict(zip(study.minutes, study.posterior, strict=True))
    assert view.risk is not None
    since = [(round(minutes_of(when) - minutes_of(page.instant("12:20"))), chance)
             for when, chance in view.risk.curve]  # fmt: skip
    drawn = [(minutes, chance) for minutes, chance in since if minutes in at]
    assert drawn
    assert all(at[minutes] == pytest.approx(1 - chance) for minutes, chance in drawn)
    told = dict(zip(DRY_OF_100, study.days[-1].dry_until, strict=True))
    assert at[told[97] // 10 * 10] >= 0.97 >= at[told[97] // 10 * 10 + 10]
    assert at[told[90] // 10 * 10] >= 0.90 >= at[told[90] // 10 * 10 + 10]
    assert study.estimate.safe <= told[97]
    assert f"97 of 100 waits stay dry to {span_words(study.estimate.safe)}" in view.hold.words
    assert view.hold.median_minutes in (None, told[50])


def test_the_study_of_an_empty_log_is_the_prior() -> None:
    settings = settings_from({"name": "Bramble"}, diary().instant("06:30"))
    study = hold_report(settings, (), diary().instant("12:00"))
    assert study.posterior == pytest.approx(study.prior)
    assert set(study.log) == {None}


def test_what_the_estimate_called_early_does_not_excuse_an_accident_inside_the_interval() -> None:
    page = wider(3)
    called = page.dues("10:30")["model"]
    assert page.instant("13:40") - page.instant(called) > timedelta(minutes=15)
    wet = page.at("13:40", "pee-inside")
    assert wet.read("13:41").interval.minutes == 180
    assert replace(wet, learn=False).read("13:41").interval.minutes == 180


def test_every_meal_that_waits_counts_until_somebody_goes_out() -> None:
    page = clear_days(2).on(3).all_at(*MORNING, "07:00 meal", "07:20 pee", "12:00 meal")
    one = page.without(page.entries[-1].id)
    risks = [p.read("13:05").risk for p in (one, page)]
    assert risks[0] is not None
    assert risks[1] is not None
    assert risks[1].now > risks[0].now


def test_the_morning_after_has_no_risk_before_the_first_break() -> None:
    page = clear_days(2).on(3).at("06:30", "up")
    assert page.read("06:31").risk is None
    assert page.at("06:35", "pee").read("06:40").risk is not None


def test_nights_are_told_apart_once_there_are_three() -> None:
    assert (
        clear_days(3).on(4).all_at(*MORNING).read("07:00").hold.night
        == "Over a night it has held 8 h 05 so far, 3 times"
    )
    assert clear_days(2).on(3).all_at(*MORNING).read("07:00").hold.night == ""


def test_nothing_soon_after_a_pee_is_no_failed_try() -> None:
    known = clear_days(2).on(3).all_at(*MORNING)
    assert "retry" not in known.at("07:25", "nothing").dues("07:26")
    assert known.at("07:55", "nothing").dues("07:56")["retry"] == "08:25"
    rule = replace(known, learn=False)
    assert "retry" not in rule.at("07:25", "nothing").dues("07:26")
    assert rule.at("07:55", "nothing").dues("07:56")["retry"] == "08:10"
