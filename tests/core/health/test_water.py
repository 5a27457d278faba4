"""What the dog drank: drinks with an amount, bowls filled and measured, and whole days."""

from __future__ import annotations

from datetime import date

import pytest

from pottyboard.core.health.water import Drunk, intake
from tests.core.diary import DAY_1, Diary, diary


def drunk(page: Diary) -> dict[int, Drunk]:
    """Return what was drunk by the number of the day."""
    return {
        page.settings.day_number(day): amount
        for day, amount in intake(page.settings, page.entries).items()
    }


def bowls(page: Diary, *entries: str) -> Diary:
    """Fill and measure the bowl: each entry is ``clock filled left``, ``-`` for not said."""
    for entry in entries:
        clock, *amounts = entry.split()
        ml, rest = (None if amount == "-" else float(amount) for amount in amounts)
        page = page.at(clock, "bowl", ml=ml, rest=rest)
    return page


def test_nothing_is_known_without_amounts() -> None:
    page = diary().on(2).all_at("08:00 water", "12:00 bowl", "20:00 bowl")
    assert drunk(page) == {}
    assert drunk(bowls(page, "21:00 500 -")) == {}, "filled, but never measured"


def test_drinks_add_up_by_day_and_are_the_least_that_was_drunk() -> None:
    page = diary(kg=10).on(2).at("08:00", "water", ml=150).at("19:00", "water", ml=250)
    page = page.on(3).at("00:30", "water", ml=100).at("09:00", "water", ml=50)
    assert drunk(page) == {2: Drunk(500, 50, False), 3: Drunk(50, 5, False)}


def test_a_bowl_is_what_went_in_less_what_was_left() -> None:
    page = bowls(diary(kg=10).on(2), "06:30 800 -", "14:00 600 300", "22:30 - 200")
    assert drunk(page) == {2: Drunk(900, 90, True)}
    assert list(intake(page.settings, page.entries)) == [date(2026, 3, 3)]


def test_a_reading_leaves_in_the_bowl_what_is_left() -> None:
    page = bowls(diary(kg=10).on(2), "06:30 800 -", "14:00 - 500", "22:30 - 350")
    assert drunk(page) == {2: Drunk(450, 45, True)}


def test_a_day_is_whole_where_the_bowl_covers_it() -> None:
    early = bowls(diary(kg=10).on(2).at("06:30", "up"), "07:00 800 -", "22:00 - 300")
    late = bowls(diary(kg=10).on(2).at("06:30", "up"), "07:00 800 -", "21:59 - 300")
    assert drunk(early)[2].whole
    assert not drunk(late)[2].whole


def test_a_bowl_over_two_days_is_shared_by_the_waking_time() -> None:
    page = bowls(diary(kg=10).on(2), "06:30 1000 -").on(3)
    page = bowls(page.at("06:30", "up"), "14:30 - 0")  # 16 h awake on one day, 8 h on the next
    shares = drunk(page)
    assert shares[2].ml == pytest.approx(1000 * 16 / 24)
    assert shares[3].ml == pytest.approx(1000 * 8 / 24)
    assert (shares[2].whole, shares[3].whole) == (True, False)


def test_what_was_drunk_in_the_night_belongs_to_the_day_before() -> None:
    page = bowls(diary(kg=10).on(2), "22:40 500 -").on(3)
    assert drunk(bowls(page, "06:00 - 420")) == {2: Drunk(80, 8, False)}


def test_a_drink_out_of_the_measured_bowl_is_not_counted_twice() -> None:
    page = bowls(diary(kg=10).on(2), "08:00 500 -", "12:00 - 200")
    assert drunk(page.at("10:00", "water", ml=150))[2].ml == 300
    assert drunk(page.at("10:00", "water", ml=400))[2].ml == 400, "more than the bowl held"
    assert drunk(page.at("13:00", "water", ml=150))[2].ml == 450, "after the reading"


def test_a_bowl_that_cannot_be_told_is_left_out() -> None:
    day = diary(kg=10).on(2)
    assert drunk(bowls(day, "08:00 500 -", "12:00 500 -", "18:00 - 100"))[2].ml == 400
    assert drunk(bowls(day, "08:00 300 -", "12:00 - 500")) == {}, "somebody topped it up"
    assert drunk(bowls(bowls(day, "08:00 900 -").on(5), "08:00 - 100")) == {}, "stood three days"


def test_the_order_of_the_entries_does_not_matter() -> None:
    page = bowls(diary(kg=10).on(2), "06:30 800 -", "14:00 600 300", "22:30 - 200")
    assert intake(page.settings, page.entries[::-1]) == intake(page.settings, page.entries)
    assert page.settings.first_date == DAY_1
