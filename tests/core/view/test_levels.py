"""What each level of care means for one dog: breaks and accidents a day, from logs made for it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from msgspec.structs import replace

from pottyboard.core.estimate.learning import estimate_of
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.view.levels import LevelMeaning, level_meaning, predicted_and_had
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

PEES = [entry.replace("both", "pee") for entry in CLEAR_DAY if "meal" not in entry]
PEES = [entry for entry in PEES if "poop" not in entry]


def meaning(page: Diary, clock: str = "22:45") -> LevelMeaning:
    return level_meaning(page.settings, page.entries, page.instant(clock))


def after(days: int, *entries: str, page: Diary | None = None) -> Diary:
    """Return the diary of so many days, all with the same entries."""
    page = Diary(diary().settings, learn=True) if page is None else page
    for day in range(1, days + 1):
        page = page.on(day).all_at(*entries)
    return page


def test_it_is_too_early_to_say_before_the_log_knows_the_dog() -> None:
    seen = meaning(after(1, *CLEAR_DAY))
    assert seen.levels == ()
    assert seen.words.startswith("Too soon to say what balanced means for Bramble")
    assert seen.sentences == (seen.words,)


def test_the_breaks_of_the_level_in_force_are_those_of_the_last_days() -> None:
    page = after(6, *CLEAR_DAY).on(7).all_at(*MORNING)
    own = next(one for one in meaning(page, "12:00").levels if one.level == "balanced")
    assert own.breaks == page.read("12:00").days[-2].outings == 11


def test_with_too_few_days_the_breaks_are_those_of_the_plan() -> None:
    page = after(3, *CLEAR_DAY)
    own = next(one for one in meaning(page).levels if one.level == "balanced")
    every = page.read("22:45").interval.minutes
    morning = page.at("22:46", "interval", minutes=every).on(4).all_at("06:30 up", "06:30 pee")
    assert morning.read("06:31").interval.minutes == every, "the same day, but for what was learned"
    planned = [row for row in morning.planned("06:31") if row[1] == "break"]
    assert own.breaks == pytest.approx(len(planned) + 1, abs=1)


def test_more_care_is_more_breaks_and_fewer_accidents() -> None:
    page = after(4, *CLEAR_DAY).on(5).all_at(*MORNING).at("07:50", "pee-inside")
    careful, balanced, easy = meaning(page, "08:00").levels
    assert (careful.level, balanced.level, easy.level) == ("careful", "balanced", "easy")
    assert careful.breaks >= balanced.breaks >= easy.breaks
    assert careful.accidents < balanced.accidents < easy.accidents


def test_the_accidents_are_the_chances_at_the_breaks_of_such_a_day() -> None:
    """By hand: the sum of -ln(1 - chance) over a planned day's waits, each kept late as usual."""
    page = after(3, *PEES, page=replace(diary(meals=""), learn=True))
    own = next(one for one in meaning(page).levels if one.level == "balanced")
    morning = page.on(4).all_at("06:30 up", "06:30 pee")
    clocks = ["06:30", *(row[0] for row in morning.planned("06:31") if row[1] == "break")]
    times = [minutes_of(morning.instant(clock)) for clock in clocks]
    learned = page.days("22:45")[-1].evidence_so_far
    estimate = estimate_of(page.settings.dog, learned)
    waits = [later - one + learned.lateness.usual for one, later in pairwise(times)]
    by_hand = -sum(math.log1p(-estimate.pees_by(wait)) for wait in waits)
    assert own.accidents == pytest.approx(by_hand, rel=0.1)


def test_what_was_predicted_stands_beside_what_came() -> None:
    dry = after(4, *CLEAR_DAY)
    wet = dry.at("16:00", "pee-inside").on(5).all_at(*MORNING).at("08:00", "pee-inside")
    predicted, had = predicted_and_had(dry.days("22:45"))
    assert had == 0
    assert 0 < predicted < 1
    more, had = predicted_and_had(wet.days("09:00"))
    assert had == 2
    assert more > predicted
    seen = meaning(wet, "09:00")
    assert seen.had == 2
    assert seen.so_far.endswith("indoors by day; had: 2.")


def test_it_is_said_with_its_range_and_never_as_a_promise() -> None:
    seen = meaning(after(6, *CLEAR_DAY))
    assert seen.low < 1 < seen.high
    assert "about 11 breaks a day at home" in seen.words
    assert "so few days leave it between" in seen.words
    assert seen.words.endswith("That is no promise.")
    assert "Careful: about" in seen.others
    assert "Easy: about" in seen.others
    assert seen.brief.startswith("as the log stands careful ")


def test_where_the_interval_calls_first_the_levels_are_said_to_be_one() -> None:
    page = after(9, *CLEAR_DAY).at("22:46", "interval", minutes=45)
    assert meaning(page, "22:50").others == (
        "Careful and easy would mean the same now: the interval calls before the chance does."
    )
