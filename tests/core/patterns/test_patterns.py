"""Patterns: what is planted is found, with its count, and what is not is passed over in silence."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from random import Random

import pytest

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.patterns.pattern_views import Pattern, Patterns
from pottyboard.core.patterns.patterns import patterns
from tests.core.patterns.fortnights import (
    DAYS,
    NOW,
    SETTINGS,
    accident,
    any_minute,
    event,
    fortnight,
    with_accidents,
    without_duty,
)

SEEDS = range(5)


def looked(log: Sequence[Event], **how: object) -> Patterns:
    return patterns(SETTINGS, log, NOW, learn=False, **how)  # type: ignore[arg-type]


def found(log: Sequence[Event]) -> dict[str, Pattern]:
    return {pattern.code: pattern for pattern in looked(log).found}


def told(log: Sequence[Event], code: str) -> list[str]:
    return [pattern.words for pattern in looked(log).told if pattern.code == code]


def spread(random: Random, number: int, **details: object) -> list[Event]:
    """Return accidents on different days at any hour awake."""
    days = random.sample(range(1, DAYS + 1), number)
    return [accident(day, any_minute(random), random, **details) for day in days]


def any_evening(random: Random) -> float:
    """Return a minute between five and ten in the evening."""
    return random.randint(17 * 60, 22 * 60) + 0.5


# --- What is planted ------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
def test_the_hour_that_accidents_like(seed: int) -> None:
    random = Random(seed)
    days = random.sample(range(1, DAYS + 1), 8)
    log = with_accidents(
        fortnight(random),
        [accident(day, 17 * 60 + random.randrange(60) + 0.5, random) for day in days],
    )
    pattern = found(log)["clock"]
    assert pattern.of == 8
    assert pattern.count >= 6
    assert "between 17:" in pattern.words
    assert pattern.bound is not None
    assert pattern.bound <= figures.PATTERN_LEVEL
    assert "chance alone would show it in at most 1 of" in pattern.sure


@pytest.mark.parametrize("seed", SEEDS)
def test_the_room_that_has_them_all(seed: int) -> None:
    random = Random(seed)
    log = with_accidents(fortnight(random), spread(random, 11, place="hall"))
    pattern = found(log)["place"]
    assert pattern.words == "Most accidents happen in one place, hall: 11 of 11."
    assert pattern.share == pytest.approx((0.741, 1), abs=1e-3)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_cause_behind_most(seed: int) -> None:
    random = Random(seed)
    log = with_accidents(fortnight(random), spread(random, 11, cause="late"))
    assert found(log)["cause"].words == (
        "Most accidents have the same likely cause, “the break was late”: 11 of 11."
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_the_watch_that_sees_them_all(seed: int) -> None:
    random = Random(seed)
    # Bo has charge from 16:00 at the latest on odd days, and always until 9:00 on even ones.
    accidents = [
        accident(day, random.randint(965, 1320) if day % 2 else random.randint(410, 530), random)
        for day in range(1, DAYS)
    ]
    log = fortnight(random)
    pattern = found(with_accidents(log, accidents))["duty"]
    assert pattern.subject == "Bo"
    assert (pattern.count, pattern.of) == (13, 13)
    assert "those hours may be the harder ones" in pattern.words


@pytest.mark.parametrize("seed", SEEDS)
def test_a_dog_that_only_goes_when_it_is_alone(seed: int) -> None:
    random = Random(seed)
    accidents = [accident(day, 545 + random.randrange(110), random) for day in range(1, 10)]
    pattern = found(with_accidents(fortnight(random), accidents))["alone"]
    assert pattern.subject == "alone"
    assert "9 of 9 accidents by day came while the dog was alone, which is 13% of" in pattern.words


@pytest.mark.parametrize("seed", SEEDS)
def test_a_breakfast_that_is_ten_minutes_later_each_day(seed: int) -> None:
    result = looked(fortnight(Random(seed), breakfast=10))
    assert [pattern.code for pattern in result.found] == ["drift"]
    assert result.found[0].words.startswith("Breakfast drifts: about ")
    assert result.found[0].words.endswith(" min later over 14 days.")
    breakfast = next(usual for usual in result.routine if usual.words == "Breakfast")
    assert breakfast.drifts
    assert breakfast.drift == pytest.approx(10, abs=1)
    assert sum(usual.drifts for usual in result.routine) == 1


def test_a_shift_of_a_few_minutes_is_not_worth_a_word() -> None:
    result = looked(fortnight(Random(1), breakfast=2))
    question = next(one for one in result.questions if one.subject == "Breakfast")
    assert question.bound is not None
    assert question.bound < figures.PATTERN_LEVEL
    assert not question.stated
    assert result.found == ()


# --- Silence --------------------------------------------------------------------------------------


def test_a_few_accidents_in_one_room_are_no_pattern() -> None:
    random = Random(4)
    log = with_accidents(fortnight(random), spread(random, 4, place="hall"))
    result = looked(log)
    assert result.found == ()
    question = next(one for one in result.questions if one.code == "place")
    assert (question.of, question.chance, question.stated) == (4, None, False)
    assert "too few entries to be answered" in result.footnote


def test_what_another_dog_may_have_done_is_no_evidence() -> None:
    random = Random(5)
    log = with_accidents(fortnight(random), spread(random, 11, place="hall", unsure=True))
    assert found(log) == {}


def test_two_entries_of_one_accident_count_once() -> None:
    random = Random(6)
    accidents = spread(random, 6, place="hall")
    twice = [
        event("poop-inside", int(one.id[:2]), float(one.id[3:10]) + 2, place="hall", found=False)
        for one in accidents
    ]
    result = looked(with_accidents(fortnight(random), [*accidents, *twice]))
    assert next(one for one in result.questions if one.code == "place").of == 6


def test_found_accidents_tell_no_hour() -> None:
    random = Random(7)
    accidents = [
        event("pee-inside", day, 17 * 60 + 30, found=True, place="hall") for day in range(1, 12)
    ]
    result = looked(with_accidents(fortnight(random), accidents))
    assert [pattern.code for pattern in result.found] == ["place"]
    assert not any(one.code in ("clock", "duty") for one in result.questions)
    assert next(one for one in result.questions if one.code == "alone").chance == 1
    assert (
        "11 accidents in the night, alone or of unknown hour count for no hour." in result.footnote
    )


def test_finding_it_later_makes_the_company_look_no_worse() -> None:
    """All that is seen is seen in company; what is found may have happened alone."""
    random = Random(3)
    seen = [accident(day, any_evening(random), random) for day in range(1, 8)]
    unknown = [
        event("pee-inside", day, 12 * 60 + 10, found=True, place=place)
        for day, place in enumerate(("hall", "den", "kitchen") * 4, 1)
    ]
    result = looked(with_accidents(fortnight(random), [*seen, *unknown]))
    question = next(one for one in result.questions if one.code == "alone")
    assert (question.of, question.chance) == (19, 1)


def test_an_accident_of_the_night_is_on_nobodys_watch() -> None:
    random = Random(2)
    accidents = [accident(day, 25 * 60 + 3 * day, random) for day in range(1, 12)]
    codes = {one.code for one in looked(with_accidents(fortnight(random), accidents)).questions}
    assert codes.isdisjoint({"clock", "duty", "alone"})


def test_without_duties_nobody_is_named() -> None:
    random = Random(8)
    log = with_accidents(without_duty(fortnight(random)), spread(random, 11))
    assert not any(one.code == "duty" for one in looked(log).questions)


def test_an_empty_log_is_looked_at_in_peace() -> None:
    result = looked(())
    assert (result.found, result.told, result.questions) == ((), (), ())
    assert result.footnote.endswith("0 accidents and the times of the routine, 0 questions in all.")


# --- What is told as a count ----------------------------------------------------------------------


def test_the_waits_are_told_with_their_counts() -> None:
    log = fortnight(Random(9))
    assert told(log, "pee")[0].startswith("Pee to pee by day: mostly 1 h")
    assert told(log, "stool")[0].startswith("Meal to poop: mostly 1")
    assert "(28 stools, from 1" in told(log, "stool")[0]
    assert len(told(log, "routine")) == 6


def test_the_punctuality_has_a_range() -> None:
    result = looked(fortnight(Random(10)))
    late = next(pattern for pattern in result.told if pattern.code == "late")
    assert late.words == f"{late.count} of {late.of} breaks came over 15 min late by the rule."
    assert late.share is not None
    low, high = late.share
    assert low <= late.count / late.of <= high
    assert late.sure == f"in the long run probably {100 * low:.0f} to {100 * high:.0f} in 100"


def test_whatever_is_told_says_what_it_is() -> None:
    random = Random(11)
    result = looked(with_accidents(fortnight(random), spread(random, 9)))
    for pattern in result:
        assert pattern.words.endswith(".")
        assert pattern.sure
        assert 0 <= pattern.count <= pattern.of
        assert (pattern.bound is None) == (pattern.test == "") == (pattern in result.told)


# --- The days that are looked at ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("first", "days", "ends"),
    [
        (None, None, (1, 14)),
        (None, 3, (12, 14)),
        (4, None, (4, 14)),
        (4, 5, (4, 8)),
        (-6, 9, (1, 2)),
        (40, 3, (14, 14)),
    ],
)
def test_the_days_are_brought_within_the_log(
    first: int | None, days: int | None, ends: tuple[int, int]
) -> None:
    day_1 = SETTINGS.first_date
    start = None if first is None else day_1 + timedelta(days=first - 1)
    result = looked(fortnight(Random(12)), first=start, days=days)
    assert tuple((end - day_1).days + 1 for end in (result.first, result.last)) == ends


def test_only_the_newest_eight_weeks_count_by_default() -> None:
    log = fortnight(Random(13), days=70)
    later = NOW + timedelta(days=56)
    result = patterns(SETTINGS, log, later, learn=False)
    assert (result.last - result.first).days + 1 == int(figures.PATTERN_DAYS)


def test_of_more_than_a_year_the_newest_year_is_looked_at() -> None:
    log = fortnight(Random(13), days=2)
    result = patterns(SETTINGS, log, NOW + timedelta(days=450), days=460, learn=False)
    assert (result.last - result.first).days + 1 == int(figures.PATTERN_MOST)


def test_the_order_of_the_log_does_not_matter() -> None:
    random = Random(14)
    log = list(with_accidents(fortnight(random), spread(random, 9, place="hall")))
    straight = looked(tuple(log))
    random.shuffle(log)
    assert looked(tuple(log)) == straight


def test_what_is_later_is_not_seen() -> None:
    log = fortnight(Random(15), breakfast=10)
    early = NOW - timedelta(days=11)
    until = tuple(one for one in log if one.at <= early)
    assert patterns(SETTINGS, log, early) == patterns(SETTINGS, until, early)


def test_midnight_is_no_border() -> None:
    """A bedtime on both sides of midnight has one usual time, and that is near midnight."""
    random = Random(16)
    log = [one for one in fortnight(random) if one.kind != "settled" or one.id[3:7] < "1300"]
    log += [
        event("settled", day, 24 * 60 + random.randint(-12, 12), sleep="night")
        for day in range(1, DAYS)
    ]
    bedtime = next(usual for usual in looked(log).routine if usual.code == "bedtime")
    assert min(bedtime.mean, 1440 - bedtime.mean) < 8
    assert bedtime.r > 0.999
    assert bedtime.spread == pytest.approx(7, abs=4)
