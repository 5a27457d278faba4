"""By how much outings fall over the days, and how they spread over the hours of the clock."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.model.events import Event
from pottyboard.core.review.outings import Counted, by_day, by_hour, outings_words, waits_by_day
from tests.core.diary import diary


def days(*outings: int, **today: Any) -> list[DaySummary]:
    """Return clear days with so many outings each; the last one as ``today`` says."""
    first = date(2026, 3, 2)
    made = [
        DaySummary(first + timedelta(days=n), n + 1, "clear", "", number, 0, (), 120)
        for n, number in enumerate(outings)
    ]
    last = made.pop()
    return [*made, DaySummary(last.date, last.number, today.get("verdict", "clear"), "",
                              last.outings, 0, (), 120)]  # fmt: skip


def at(seen: list[DaySummary], hour: int) -> datetime:
    """Return that hour of the last day, at which bedtime is 22:30."""
    return datetime(*seen[-1].date.timetuple()[:3], hour, tzinfo=UTC)


@pytest.mark.parametrize(
    ("seen", "words"),
    [
        (days(12), "12 today"),
        (days(12, 13, 12), "12 today"),
        (days(12, 13, 11, 9),
         "9 today; 12 a day in the first three whole days, 3 fewer now"),
        (days(8, 8, 8, 10), "10 today; 8 a day in the first three whole days, 2 more now"),
        (days(8, 8, 8, 8), "8 today; 8 a day in the first three whole days"),
        (days(12, 12, 12, 5, verdict="open"),
         "5 today; 12 a day in the first three whole days"),
    ],
)  # fmt: skip
def test_today_stands_beside_the_first_three_days(seen: list[DaySummary], words: str) -> None:
    assert outings_words(diary().settings, seen, at(seen, 23)) == words


def test_half_a_day_is_not_held_against_whole_ones_after_an_accident_either() -> None:
    seen = days(12, 12, 12, 5, verdict="accident")
    known = "5 today; 12 a day in the first three whole days"
    assert outings_words(diary().settings, seen, at(seen, 15)) == known
    assert outings_words(diary().settings, seen, at(seen, 23)) == f"{known}, 7 fewer now"


def test_a_day_of_arrival_that_was_no_whole_one_does_not_count() -> None:
    settings = diary(arrived="15:00").settings
    seen = days(4, 12, 12, 12, 9)
    assert outings_words(settings, seen, at(seen, 23)).startswith("9 today; 12 a day")


def test_a_day_of_which_too_little_is_known_does_not_count() -> None:
    seen = days(12, 12, 12, 9)
    seen[1] = DaySummary(seen[1].date, 2, "unknown", "", 3, 0, (), 120)
    assert outings_words(diary().settings, seen, at(seen, 23)) == "9 today"


def test_each_hour_of_the_clock_counts_what_came_and_what_did_not() -> None:
    page = diary().at("07:05", "pee").at("07:40", "nothing").at("09:59", "both")
    page = page.at("10:00", "pee-inside", found=False).at("12:00", "poop")
    hours = by_hour(page.days("14:00"), page.settings.zone)
    found = {hour: one for hour, one in enumerate(hours) if one.outings or one.accidents}
    assert found == {
        7: Counted(1, 1, 0), 9: Counted(1, 0, 0), 10: Counted(0, 0, 1), 12: Counted(1, 0, 0),
    }  # fmt: skip
    assert by_day(page.days("14:00")) == (Counted(3, 1, 1),)


def test_a_wait_stands_on_its_day_where_it_ended_and_says_how() -> None:
    page = diary().at("07:00", "pee").at("09:00", "pee").at("10:30", "pee-inside", found=False)
    first, second = waits_by_day(page.days("12:00"))
    assert (first.minutes, first.indoors, second.minutes, second.indoors) == (120, False, 90, True)
    assert 0 < first.share < second.share < 1


def test_the_hour_that_the_clock_shows_twice_is_one() -> None:
    # Oslo, 2026-10-25: 02:00 to 03:00 comes twice (tzdata 2025b).
    page = diary(on=date(2026, 10, 24)).at("22:00", "pee")
    start = page.instant("22:00")
    for hours in (3, 4, 5):  # 01:00, then 02:00 twice
        page = replace(page, entries=(*page.entries, Event("pee", start + timedelta(hours=hours))))
    found = by_hour(page.on(2).days("09:00"), page.settings.zone)
    assert (found[1].outings, found[2].outings, found[22].outings) == (1, 2, 1)
