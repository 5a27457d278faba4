"""A warning appears once: noted, it stays quiet until it is worse than it was then."""

from __future__ import annotations

import pytest

from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.core.health.raised import drinks, ill, loud, raised, seen, the


def noted(page: Diary, clock: str, code: str, note: str = "") -> Diary:
    """Note a warning."""
    return page.at(clock, "noted", about=code, note=note)


def morning(kg: float = 10) -> Diary:
    """Open the diary on the morning of day 5."""
    return diary(kg, vet="done").on(5).all_at(*MORNING)


def test_it_stays_until_it_is_noted_and_keeps_the_note() -> None:
    page = ill(morning(), "10:00 blood")
    assert loud(page.on(8)) == ["blood"]
    after = noted(page, "12:00", "blood", "appointment at four")
    assert loud(after, "11:59") == ["blood"]
    assert loud(after, "12:00") == []
    assert the("blood", after).noted == "appointment at four"
    assert loud(after.on(8)) == []
    assert raised(after.on(8)) == {"blood": "soon"}, "it still stands"


def test_it_may_be_noted_without_a_word() -> None:
    assert the("blood", noted(ill(morning(), "10:00 blood"), "12:00", "blood")).noted == ""


def test_noting_one_leaves_the_others() -> None:
    page = noted(ill(morning(), "10:00 blood", "10:00 pain"), "12:00", "blood")
    assert loud(page, "13:00") == ["pain"]


def test_it_comes_back_when_it_happens_again() -> None:
    page = noted(ill(morning(), "10:00 blood"), "12:00", "blood")
    again = ill(page, "15:00 blood")
    assert loud(again, "14:59") == []
    assert loud(again, "15:00") == ["blood"]
    assert loud(noted(again, "16:00", "blood"), "16:00") == []


def test_it_comes_back_at_a_graver_level() -> None:
    page = noted(ill(morning(), "10:00 vomiting"), "12:00", "vomiting")
    assert loud(page) == []
    assert loud(ill(page, "15:00 vomiting"), "16:00") == ["vomiting"]


@pytest.mark.parametrize(("more", "expected"), [(30, []), (60, ["drinking"])])
def test_it_does_not_come_back_for_a_little_more(more: float, expected: list[str]) -> None:
    page = noted(drinks(morning(), 1050, "12:00"), "13:00", "drinking")
    assert loud(drinks(page, more)) == expected


def test_it_comes_back_after_it_had_ended() -> None:
    page = noted(ill(morning(), "10:00 blood"), "12:00", "blood").at("15:00", "vet")
    assert loud(ill(page.on(7), "10:00 blood")) == ["blood"]
    week_later = noted(ill(morning(), "10:00 blood"), "12:00", "blood").on(14)
    assert loud(ill(week_later, "10:00 blood")) == ["blood"]


def test_what_was_typed_later_was_not_known_when_it_was_noted() -> None:
    page = ill(morning(), "10:00 blood").at("12:00", "noted", about="blood", logged="12:00")
    late = page.at("09:00", "health", finding="blood", logged="18:00")
    assert loud(page) == []
    assert loud(late) == ["blood"]
    early = page.at("09:00", "health", finding="blood", logged="11:00")
    assert loud(early) == []


def test_noted_before_it_was_raised_says_nothing() -> None:
    page = noted(morning(), "09:00", "blood")
    assert loud(ill(page, "10:00 blood")) == ["blood"]


def test_the_last_note_is_shown() -> None:
    page = noted(ill(morning(), "10:00 blood"), "11:00", "blood", "first")
    assert the("blood", noted(page, "12:00", "blood", "second")).noted == "second"


def test_a_leak_more_brings_it_back_another_accident_does_not() -> None:
    page = noted(seen(morning(), "10:00", cause="leak"), "12:00", "wet-bed")
    assert loud(seen(page, "14:00", cause="late")) == []
    assert loud(seen(page, "14:00", cause="leak")) == ["wet-bed"]


def test_it_stays_quiet_over_calm_days() -> None:
    page = noted(ill(morning(), "10:00 blood"), "12:00", "blood")
    for day in range(6, 12):
        page = page.on(day).all_at(*CLEAR_DAY)
        assert loud(page, "12:00") == [], day
