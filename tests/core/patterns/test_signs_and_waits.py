"""What followed each sign, and the waits as counts."""

from __future__ import annotations

from pottyboard.core.patterns.pattern_views import SignTally
from pottyboard.core.patterns.signs import sign_tallies, signs_told
from pottyboard.core.patterns.wait_patterns import in_the_long_run, waits_told
from tests.core.diary import CLEAR_DAY, Diary, diary


def tallies(page: Diary) -> dict[str, SignTally]:
    return {tally.sign: tally for tally in sign_tallies(page.entries)}


def waits(page: Diary, clock: str = "23:00") -> dict[str, str]:
    days = page.days(clock)
    told = waits_told(days, range(len(days)), page.entries)
    return {pattern.code: pattern.words for pattern in told}


SIGNS = (
    diary()
    .at("07:00", "sign", sign="circling")
    .at("07:04", "pee")
    .at("09:00", "sign", sign="circling")
    .at("09:01", "nothing")
    .at("09:10", "poop")
    .at("11:00", "sign", sign="circling")
    .at("11:02", "pee-inside", found=False)
    .at("13:00", "sign", sign="circling")
    .at("13:31", "pee")
    .at("15:00", "sign", sign="door")
    .at("15:05", "pee-inside", found=True)
    .at("15:20", "pee")
    .at("17:00", "pee-inside", found=False)
    .at("19:00", "pee-inside", found=False)
)


def test_what_comes_next_within_half_an_hour_counts() -> None:
    circling = tallies(SIGNS)["circling"]
    assert (circling.shown, circling.before_success, circling.before_accident) == (4, 2, 1)
    assert circling.lead_success == (4.0, 7.0, 10.0)
    assert circling.lead_accident == (2.0, 2.0, 2.0)


def test_an_accident_only_found_may_be_older_than_the_sign() -> None:
    door = tallies(SIGNS)["door"]
    assert (door.before_success, door.before_accident) == (1, 0)
    assert door.lead_success == (20.0, 20.0, 20.0)


def test_signs_are_told_where_there_are_some() -> None:
    told = [pattern.words for pattern in signs_told(sign_tallies(SIGNS.entries), SIGNS.entries)]
    assert told == [
        "Circling was seen 4 times. Within 30 min it was followed twice by a success outside "
        "(typically after 7 min) and once by an accident (typically after 2 min).",
        "1 of 3 accidents that were seen came within 30 min of a signal in the log.",
    ]


def test_a_sign_that_nothing_follows_says_so() -> None:
    page = diary()
    for clock in ("08:00", "09:00", "10:00"):
        page = page.at(clock, "sign")
    (pattern,) = signs_told(sign_tallies(page.entries), page.entries)
    assert pattern.words == (
        "A signal without a name was seen 3 times. Within 30 min nothing followed."
    )


def test_waits_of_a_clear_day() -> None:
    told = waits(diary().all_at(*CLEAR_DAY))
    assert told["pee"] == (
        "Pee to pee by day: mostly 1 h 45 to 1 h 55, 1 h 55 in the middle "
        "(9 waits, from 1 h to 2 h)."
    )
    assert "stool" not in told
    assert told["late"] == "0 of 11 breaks came over 15 min late by the rule."


def test_meals_and_their_stools() -> None:
    page = diary()
    for day, minutes in enumerate(("20", "30", "40", "50", "55"), 1):
        page = page.on(day).all_at("07:00 meal", f"07:{minutes} poop", "08:00 poop")
    page = page.on(6).all_at("07:00 meal", "14:00 poop", "17:00 meal")
    page = page.at("17:20", "poop-inside", found=True)
    assert waits(page)["stool"] == (
        "Meal to poop: mostly 30 min to 50 min, 40 min in the middle "
        "(5 stools, from 20 min to 55 min)."
    )


def test_a_pee_twice_in_one_outing_is_no_wait() -> None:
    page = diary().all_at("06:30 pee", "06:35 pee", "08:00 pee", "08:05 pee", "10:00 pee")
    assert "pee" not in waits(page)


def test_the_range_of_a_share_in_words() -> None:
    assert in_the_long_run((0.061, 0.198)) == "in the long run probably 6 to 20 in 100"
