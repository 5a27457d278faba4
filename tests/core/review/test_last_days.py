"""Looking back months later begins at the last days that were logged, not at empty weeks."""

from __future__ import annotations

from datetime import timedelta

import pytest

from pottyboard.core.review.diary import diary as diary_of
from pottyboard.core.review.fortnight import fortnight
from pottyboard.core.review.report import review
from tests.core.diary import CLEAR_DAY, DAY_1, Diary, diary


def logged(days: int) -> Diary:
    """Return a diary of so many days, all of them clear."""
    page = diary()
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page


@pytest.mark.parametrize("after", [4, 30, 200])
def test_long_after_the_last_entry_all_three_end_with_it(after: int) -> None:
    page, last = logged(16), DAY_1 + timedelta(days=15)
    now = page.on(16 + after).instant("12:00")
    view = fortnight(page.settings, page.entries, now)
    assert (view.days[0].date, view.days[-1].date) == (last - timedelta(days=13), last)
    assert view.has_later
    report = review(page.settings, page.entries, now)
    assert (report.days[0].date, report.days[-1].date) == (last - timedelta(days=13), last)
    assert diary_of(page.settings, page.entries, now).days[-1].date == last


@pytest.mark.parametrize("after", [0, 1, 3])
def test_as_long_as_something_was_logged_of_late_they_end_today(after: int) -> None:
    page, today = logged(16), DAY_1 + timedelta(days=15 + after)
    now = page.on(16 + after).instant("12:00")
    assert fortnight(page.settings, page.entries, now).days[-1].date == today
    assert review(page.settings, page.entries, now).days[-1].date == today
    assert diary_of(page.settings, page.entries, now).days[-1].date == today


def test_a_day_that_was_asked_for_is_shown_also_when_it_is_empty() -> None:
    page = logged(5)
    now, asked = page.on(60).instant("12:00"), DAY_1 + timedelta(days=40)
    assert fortnight(page.settings, page.entries, now, last=asked).days[-1].date == asked
    assert review(page.settings, page.entries, now, asked).days[0].date == asked
    assert diary_of(page.settings, page.entries, now, asked).days[0].date == asked


def test_an_empty_log_ends_today() -> None:
    page = diary()
    now = page.on(40).instant("12:00")
    assert fortnight(page.settings, page.entries, now).days[-1].date == DAY_1 + timedelta(days=39)
