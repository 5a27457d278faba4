"""A new round: the programme starts again, the log and what it taught stay."""

from __future__ import annotations

from pottyboard.core.view.situation import situation
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def widened() -> Diary:
    """Four clear days: the interval stands at 2 h 30 on the fifth morning."""
    page = diary()
    for day in range(1, 5):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(5)


def test_the_interval_and_the_streak_begin_again_and_what_was_learned_stays() -> None:
    page = widened()
    before = page.read("12:00")
    after = page.at("12:00", "round").read("12:01")
    assert (before.interval.minutes, before.streak_days) == (150, 4)
    assert (after.interval.minutes, after.streak_days) == (120, 0)
    assert after.interval.last_change.words == "2 h again: a new round."
    assert after.hold.range80 == before.hold.range80
    assert after.hold.holds == before.hold.holds > 0
    assert (after.day, after.days[:4]) == (before.day, before.days[:4])


def test_the_day_it_begins_on_is_its_first() -> None:
    page = widened().all_at(*MORNING).at("12:00", "round").on(6).all_at(*MORNING)
    assert [day.round_from for day in page.days("08:00")] == [1, 1, 1, 1, 5, 5]


def test_the_interval_widens_again_after_two_clear_days() -> None:
    page = widened().at("06:20", "round").all_at(*CLEAR_DAY).on(6).all_at(*CLEAR_DAY).on(7)
    found = page.read("06:40").interval
    assert found.minutes == 150
    assert [change.cause for change in found.changes] == ["start", "wider", "start", "wider"]


def test_taken_back_it_never_was() -> None:
    page = widened()
    begun = page.at("12:00", "round", id="again")
    now = page.instant("12:30")
    assert situation(page.settings, begun.without("again").entries, now) == situation(
        page.settings, page.entries, now
    )


def test_an_accident_just_before_still_makes_it_an_accident_day() -> None:
    page = widened().all_at(*MORNING).at("08:00", "pee-inside").at("09:00", "round").on(6)
    day = page.days("08:00")[4]
    assert (day.verdict, day.streak, day.interval) == ("accident", 0, 120)
