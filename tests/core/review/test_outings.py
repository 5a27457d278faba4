"""By how much outings fall over the days."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.review.outings import outings_words
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
    assert outings_words(diary().settings, seen) == words


def test_a_day_of_arrival_that_was_no_whole_one_does_not_count() -> None:
    settings = diary(arrived="15:00").settings
    assert outings_words(settings, days(4, 12, 12, 12, 9)).startswith("9 today; 12 a day")


def test_a_day_of_which_too_little_is_known_does_not_count() -> None:
    seen = days(12, 12, 12, 9)
    seen[1] = DaySummary(seen[1].date, 2, "unknown", "", 3, 0, (), 120)
    assert outings_words(diary().settings, seen) == "9 today"
