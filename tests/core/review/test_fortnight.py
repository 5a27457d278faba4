"""The fortnight: every mark and stretch where the clock on the wall stood, in the right row."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

import pytest

from pottyboard.core.engine.history import History
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.review.fortnight import DAYS, ROW, Fortnight, FortnightDay, RowSpan, fortnight
from tests.core.diary import CLEAR_DAY, DAY_1, MORNING, Diary, diary


def look(page: Diary, clock: str, last: date | None = None) -> Fortnight:
    """Return the fortnight as seen at a clock time of the diary's present day."""
    return fortnight(page.settings, page.entries, page.instant(clock), last)


def clocks(view: Fortnight, day: FortnightDay) -> list[str]:
    """Return each mark of a row as the clock that it stands at, with its kind."""
    ends = [(mark.minute, mark.kind) for mark in day.marks]
    return [f"{as_clock(view, minute)} {kind}" for minute, kind in ends]


def as_clock(view: Fortnight, minute: float) -> str:
    """Return a place in a row as a clock time."""
    at = datetime.combine(DAY_1, time()) + timedelta(minutes=view.starts + minute)
    return f"{at:%H:%M}"


def spans(view: Fortnight, day: FortnightDay) -> list[str]:
    """Return each stretch of a row as clock times, with its kind."""
    return [
        f"{as_clock(view, span.start)}-{as_clock(view, span.end)} {span.kind}" for span in day.spans
    ]


def weeks(days: int, **settings: Any) -> Diary:
    """Return a diary of so many days, all of them clear."""
    page = diary(**settings)
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page


# --- Rows -----------------------------------------------------------------------------------------


def test_before_anything_is_logged_there_is_one_empty_row() -> None:
    view = look(diary(), "12:00")
    assert [day.summary.number for day in view.days] == [1]
    assert (view.days[0].marks, view.days[0].spans, view.days[0].streak) == ((), (), 0)
    assert not view.has_earlier
    assert not view.has_later


@pytest.mark.parametrize(
    ("up", "bed", "starts"),
    [("06:30", "22:30", 240), ("06:00", "22:00", 240), ("09:15", "01:00", 420),
     ("01:30", "17:00", -60)],
)  # fmt: skip
def test_a_row_begins_at_a_full_hour_two_hours_before_getting_up(
    up: str, bed: str, starts: int
) -> None:
    assert look(diary(up=up, bed=bed, meals="", arrived="12:00"), "13:00").starts == starts


def test_each_kind_of_entry_has_its_mark_at_its_clock_time() -> None:
    page = diary().all_at("06:30 up", "06:35 both", "07:01 meal", "08:00 nothing", "08:20 poop")
    page = page.at("09:00", "pee", place="pad").all_at("09:30 visit", "10:00 pee", "10:05 water")
    page = page.at("10:40", "poop-inside", place="hall")
    view = look(page, "11:00")
    assert clocks(view, view.days[0]) == [
        "06:35 poop", "07:01 meal", "08:00 nothing", "08:20 poop", "09:00 pad", "09:30 visit",
        "10:00 pee", "10:40 accident",
    ]  # fmt: skip
    assert [event.place for event in view.days[0].indoors] == ["hall"]


def test_what_happens_after_midnight_stands_in_the_row_of_the_evening() -> None:
    page = diary().all_at(*CLEAR_DAY[:-1]).on(2).all_at("00:20 pee", "03:59 pee", "04:00 pee")
    view = look(page.all_at("06:30 up"), "07:00")
    assert clocks(view, view.days[0])[-2:] == ["00:20 pee", "03:59 pee"]
    assert clocks(view, view.days[1]) == ["04:00 pee"]


def test_an_accident_of_the_night_counts_to_the_day_before_and_stands_at_its_clock() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).at("05:00", "pee-inside").all_at("06:30 up")
    view = look(page, "07:00")
    assert [len(day.indoors) for day in view.days] == [1, 0]
    assert clocks(view, view.days[1]) == ["05:00 accident"]
    assert view.days[0].summary.verdict == "accident"


# --- Which days -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def long_log() -> Diary:
    """A log of sixty days."""
    return weeks(60).on(60)


def test_the_last_fourteen_days_come_first(long_log: Diary) -> None:
    view = look(long_log, "23:00")
    assert [day.summary.number for day in view.days] == list(range(47, 61))
    assert view.has_earlier
    assert not view.has_later
    assert (view.first, view.today) == (DAY_1, DAY_1 + timedelta(days=59))


@pytest.mark.parametrize(
    ("last", "numbers"),
    [(59, (46, 59)), (30, (17, 30)), (14, (1, 14)), (3, (1, 14)), (-5, (1, 14)), (99, (47, 60))],
)
def test_any_other_days_can_be_had(long_log: Diary, last: int, numbers: tuple[int, int]) -> None:
    view = look(long_log, "23:00", DAY_1 + timedelta(days=last - 1))
    assert (view.days[0].summary.number, view.days[-1].summary.number) == numbers
    assert len(view.days) == DAYS


def test_a_short_log_shows_its_days_whatever_is_asked() -> None:
    page = weeks(3).on(3)
    for last in (None, DAY_1, DAY_1 + timedelta(days=1)):
        assert [day.summary.number for day in look(page, "23:00", last).days] == [1, 2, 3]


def test_a_row_is_the_same_in_every_window(long_log: Diary) -> None:
    day = DAY_1 + timedelta(days=29)
    rows = [
        next(row for row in look(long_log, "23:00", last).days if row.date == day)
        for last in (day, day + timedelta(days=6), day + timedelta(days=13))
    ]
    assert rows[0] == rows[1] == rows[2]


def test_verdicts_streaks_and_intervals_are_those_of_the_days(long_log: Diary) -> None:
    view = look(long_log, "23:00")
    now = minutes_of(long_log.instant("23:00"))
    days = History.of(long_log.settings, long_log.entries, now).days[-DAYS:]
    assert [row.summary for row in view.days] == [day.summary for day in days]
    assert [row.streak for row in view.days] == [day.streak for day in days]


def test_a_day_without_entries_has_a_row_with_nothing_in_it() -> None:
    page = weeks(2).on(4).all_at(*MORNING)
    view = look(page, "12:00")
    empty = view.days[2]
    assert (empty.summary.verdict, empty.marks) == ("unknown", ())
    assert spans(view, empty) == ["04:00-06:30 night"]  # the rest of the night before


# --- Asleep and alone -----------------------------------------------------------------------------


def test_a_night_runs_from_settling_to_getting_up_over_two_rows() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).all_at("06:42 up")
    view = look(page, "08:00")
    assert spans(view, view.days[0]) == ["22:40-04:00 night"]
    assert view.days[0].spans[-1].end == ROW
    assert spans(view, view.days[1]) == ["04:00-06:42 night"]


def test_a_night_that_nobody_logged_is_taken_from_the_routine() -> None:
    page = diary().all_at(*CLEAR_DAY[:-1]).on(2).all_at("06:35 pee")
    view = look(page, "08:00")
    assert spans(view, view.days[0]) == ["22:30-04:00 night"]
    assert spans(view, view.days[1]) == ["04:00-06:30 night"]


def test_a_break_in_the_night_ends_one_stretch_and_another_begins() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).all_at("02:00 pee", "02:10 settled", "06:30 up")
    view = look(page, "08:00")
    assert spans(view, view.days[0]) == ["22:40-02:00 night", "02:10-04:00 night"]


def test_a_nap_ends_with_the_next_entry_and_a_note_does_not_end_it() -> None:
    page = diary().all_at(*MORNING).at("13:00", "settled", sleep="nap")
    page = page.at("13:20", "note", note="snores").all_at("13:50 up", "13:52 pee")
    view = look(page, "14:00")
    assert spans(view, view.days[0]) == ["13:00-13:50 nap"]


def test_what_still_runs_ends_now() -> None:
    page = diary().all_at(*MORNING, "09:00 left")
    view = look(page, "10:30")
    assert spans(view, view.days[0]) == ["09:00-10:30 alone"]


def test_alone_runs_from_leaving_to_company_through_a_visit() -> None:
    page = diary().all_at(*MORNING, "09:00 left", "11:00 visit", "11:02 pee", "13:00 back")
    view = look(page, "15:00")
    assert spans(view, view.days[0]) == ["09:00-13:00 alone"]


# --- The two odd days of the year -----------------------------------------------------------------


def odd_night(first: date) -> tuple[Fortnight, Diary]:
    """Return the fortnight of a day before a change of the clocks and the morning after."""
    page = diary(on=first).all_at(*CLEAR_DAY)
    page = page.on(2).all_at("06:30 up", "06:35 pee")
    return look(page, "07:00"), page


@pytest.mark.parametrize("first", [date(2026, 3, 28), date(2026, 10, 24)])
def test_the_clock_stays_where_it_is_through_a_change(first: date) -> None:
    view, page = odd_night(first)
    assert spans(view, view.days[0]) == ["22:40-04:00 night"]
    assert spans(view, view.days[1]) == ["04:00-06:30 night"]
    assert clocks(view, view.days[1]) == ["06:35 pee"]
    slept = minutes_of(page.instant("06:30")) - minutes_of(page.entries[-3].at)
    hours = {3: 23, 10: 25}[first.month]
    assert slept == (hours - 24) * 60 + 7 * 60 + 50


def test_the_hour_that_comes_twice_holds_both_of_its_entries() -> None:
    page = diary(on=date(2026, 10, 24)).all_at(*CLEAR_DAY).on(2).all_at("02:30 pee")
    again = page.entries[-1].at + timedelta(hours=1)
    page = page.all_at("06:30 up")
    later = [*page.entries, type(page.entries[0])("nothing", again, id="twice")]
    view = fortnight(page.settings, later, page.instant("07:00"))
    assert clocks(view, view.days[0])[-2:] == ["02:30 pee", "02:30 nothing"]


def test_a_nap_over_the_hour_that_comes_twice_is_never_negative() -> None:
    page = diary(on=date(2026, 10, 24), bed="23:00").all_at(*CLEAR_DAY[:-2])
    first = page.on(2).instant("02:50")
    kind = type(page.entries[0])
    log = [
        *page.entries,
        kind("left", first, id="l"),
        kind("back", first + timedelta(minutes=20), id="b"),
    ]
    view = fortnight(page.settings, log, page.on(2).instant("07:00"))
    alone = [span for span in view.days[0].spans if span.kind == "alone"]
    assert alone == [RowSpan(22 * 60 + 10, 22 * 60 + 50, "alone")]


def test_no_row_holds_anything_outside_its_day(long_log: Diary) -> None:
    for day in look(long_log, "23:00").days:
        assert all(0 <= mark.minute < ROW for mark in day.marks)
        assert all(0 <= span.start <= span.end <= ROW for span in day.spans)
        walls = [mark.event.at.astimezone(long_log.settings.zone) for mark in day.marks]
        assert {(wall - timedelta(hours=4)).date() for wall in walls} == {day.date}
