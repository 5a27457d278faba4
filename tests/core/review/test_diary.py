"""The health diary: each count by another way from the entries, and honest about thin days."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from statistics import median
from typing import Any

import pytest

from pottyboard.core.model import figures
from pottyboard.core.model.figure import Figure
from pottyboard.core.model.localtime import local
from pottyboard.core.review.diary import THRESHOLDS
from pottyboard.core.review.diary import diary as diary_of
from pottyboard.core.review.diary_views import Diary, DiaryDay
from pottyboard.store.samples import read_sample
from tests.core.diary import CLEAR_DAY, MORNING
from tests.core.diary import Diary as Page
from tests.core.diary import diary as opened


def read(page: Page, clock: str = "12:00", **asked: Any) -> Diary:
    return diary_of(page.settings, page.entries, page.instant(clock), **asked)


def lived(days: int, page: Page | None = None) -> Page:
    """Return clear days from day 2 on, on the morning after the last."""
    page = page or opened()
    for day in range(2, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(days + 1)


def day_of(found: Diary, number: int) -> DiaryDay:
    return next(day for day in found.days if day.number == number)


# --- Against the entries themselves ---------------------------------------------------------------


@pytest.mark.parametrize("name", ["fern", "odin"])
def test_the_counts_are_those_of_the_entries(name: str) -> None:
    sample = read_sample(name)
    settings, events = sample.settings, sorted(sample.events, key=lambda event: event.at)
    found = diary_of(settings, sample.events, events[-1].at)
    # Both dogs get up between 5 and 7: what came before 5 belongs to the day before.
    shift = timedelta(hours=5)
    for day in found.days:
        here = [e for e in events if (e.at.astimezone(settings.zone) - shift).date() == day.date]
        for resets, number in (("pee", day.pees), ("poop", day.stools)):
            times = [e for e in here if e.kind in _WITH[resets]]
            apart = [
                e
                for before, e in zip([None, *times], times, strict=False)
                if before is None
                or (e.at - before.at) > timedelta(minutes=10)
                or e.row.is_accident != before.row.is_accident
            ]
            assert number == len(apart), (day.date, resets)
        assert len(day.accidents) == sum(e.kind.endswith("-inside") for e in here)
        assert [meal.isoformat() for meal in day.meals] == [
            e.at.isoformat() for e in here if e.kind == "meal"
        ]
        assert len(day.findings) == sum(e.kind == "health" for e in here)
        assert day.on_pad == sum(e.place == "pad" and e.kind in _ANY for e in here)
    assert sum(len(day.accidents) for day in found.days) == sum(
        e.kind.endswith("-inside") for e in events
    )


_WITH = {"pee": ("pee", "both", "pee-inside"), "poop": ("poop", "both", "poop-inside")}
_ANY = ("pee", "poop", "both")


def test_times_between_pees_are_those_of_the_log() -> None:
    page = lived(3)
    found = read(page, "06:00")
    at = [e.t for e in page.entries if e.kind in ("pee", "both")]
    lengths = [after - before for before, after in pairwise(at)]
    by_day = [length for length in lengths if length < 300]
    assert found.between is not None
    assert found.at_night is not None
    assert (found.between.number, found.between.middle) == (len(by_day), median(by_day))
    assert (found.between.least, found.between.most) == (min(by_day), max(by_day))
    assert (found.at_night.number, found.at_night.middle) == (1, 485)
    assert day_of(found, 2).longest == max(by_day)


def test_a_gap_in_the_log_is_no_time_between_pees() -> None:
    page = opened().on(2).all_at("06:30 up", "06:35 pee", "20:00 pee", "22:30 pee")
    found = read(page, "22:40")
    assert found.gaps == 1
    assert found.between is not None
    assert (found.between.number, found.between.most) == (1, 150)


def test_two_entries_of_one_outing_count_once() -> None:
    page = opened().on(2).all_at(*MORNING, "06:40 pee", "06:44 poop", "08:00 pee")
    found = day_of(read(page), 2)
    assert (found.pees, found.stools) == (2, 1)
    assert found.longest == 80


def test_indoors_and_pad_are_among_the_pees_and_told_apart() -> None:
    page = opened().on(2).all_at(*MORNING)
    page = page.at("09:00", "pee", place="pad").at("10:00", "pee-inside", found=True)
    page = page.at("11:00", "pee-inside", found=False, unsure=True)
    found = day_of(read(page), 2)
    assert (found.pees, found.pees_inside, found.on_pad) == (3, 1, 1)
    assert [mishap.own for mishap in found.accidents] == [True, False]


def test_amounts_and_outings_without_success() -> None:
    page = opened().on(2).all_at(*MORNING, "08:00 nothing", "10:00 nothing", "10:05 pee")
    page = page.at("11:00", "pee", amount="small").at("12:30", "pee", amount="large")
    found = day_of(read(page, "13:00"), 2)
    assert (found.small, found.large, found.nothing) == (1, 1, 1)


def test_water_by_the_day_and_by_the_weight() -> None:
    page = opened(kg=10).on(2).all_at("06:30 up").at("06:30", "bowl", ml=1000)
    page = page.at("22:30", "bowl", ml=1000, rest=400).on(3).at("08:00", "water", ml=150)
    found = read(page)
    measured, drink = day_of(found, 2).water, day_of(found, 3).water
    assert measured is not None
    assert drink is not None
    assert (measured.ml, measured.per_kg, measured.whole) == (600, 60, True)
    assert (drink.ml, drink.per_kg, drink.whole) == (150, 15, False)
    assert day_of(found, 1).water is None


def test_the_cause_of_an_accident_in_words() -> None:
    page = opened().on(2).all_at(*MORNING)
    page = page.at("08:00", "pee-inside", found=False, cause="marking", amount="small",
                   upright=True, surface="wood", place="frame", note="at the post")  # fmt: skip
    (mishap,) = day_of(read(page), 2).accidents
    assert (mishap.what, mishap.cause, mishap.said) == ("pee indoors", "marking", True)
    assert mishap.details == ("seen", "small amount", "upright", "on wood", "frame")
    assert mishap.note == "at the post"


# --- Nights ---------------------------------------------------------------------------------------


def test_a_night_with_its_break_and_its_accident() -> None:
    page = opened().on(2).all_at(*CLEAR_DAY).on(3)
    page = page.all_at("02:10 up", "02:12 pee", "02:20 settled")
    page = page.at("06:30", "up").at("06:31", "pee-inside", found=True).at("06:40", "pee")
    night = day_of(read(page), 2).night
    assert night is not None
    assert night.to is not None
    assert (page.clock(night.to), night.logged) == ("06:30", True)
    assert local(night.asleep.timestamp() / 60, page.settings.zone).strftime("%H:%M") == "22:40"
    assert (night.breaks, night.accidents) == (1, 1)


def test_a_night_that_nobody_logged_is_taken_from_the_routine_and_says_so() -> None:
    page = opened().on(2).all_at(*CLEAR_DAY[:-1]).on(3).all_at(*MORNING)
    night = day_of(read(page), 2).night
    assert night is not None
    assert not night.logged
    assert day_of(read(page), 3).night is None


# --- Days with too few entries, and what is usual -------------------------------------------------


def test_a_thin_day_says_why_and_is_not_compared() -> None:
    page = lived(6).all_at("06:30 up", "06:35 pee", "20:00 pee", "22:30 pee").on(8)
    found = read(page)
    thin = day_of(found, 7)
    assert not thin.whole
    assert "too few to tell" in thin.too_little
    assert found.compared == 5
    assert not any(one.date == thin.date for one in found.unusual)
    assert day_of(found, 8).too_little == "not over yet"


def test_the_day_of_arrival_is_no_whole_day() -> None:
    found = read(lived(3, opened(arrived="15:00").at("15:05", "pee")))
    assert "day of arrival" in day_of(found, 1).too_little


def test_a_day_with_an_accident_and_enough_entries_counts() -> None:
    found = read(lived(3).all_at(*CLEAR_DAY).at("12:00", "pee-inside", found=False).on(5))
    assert day_of(found, 4).whole


@pytest.mark.parametrize(("more", "named"), [(1, False), (2, True)])
def test_a_count_is_unusual_from_two_beyond_all_the_other_days(more: int, named: bool) -> None:
    page = lived(6).all_at(*CLEAR_DAY)
    for clock in ("11:30", "13:20")[:more]:
        page = page.at(clock, "pee")
    found = read(page.on(8))
    pees = [one for one in found.unusual if one.words.startswith("pees")]
    usual = day_of(found, 3).pees
    assert bool(pees) == named
    if named:
        assert pees[0].date == page.date
        assert pees[0].words == (
            f"pees {usual + 2}; on its 5 other whole days {usual}, {usual} in the middle"
        )


def test_with_four_days_nothing_is_known_to_be_usual() -> None:
    page = lived(4).all_at(*CLEAR_DAY, "11:30 pee", "13:20 pee")
    assert read(page.on(6)).compared == 4
    assert read(page.on(6)).unusual == ()


def test_what_is_usual_is_read_from_the_days_before_a_short_diary_too() -> None:
    page = lived(9).all_at(*CLEAR_DAY, "11:30 pee", "13:20 pee")
    page = page.on(11)
    found = read(page, first=page.settings.first_date + timedelta(days=9), days=1)
    assert [day.number for day in found.days] == [10]
    assert found.compared == 9
    assert any(one.words.startswith("pees") for one in found.unusual)


def test_much_more_water_is_named() -> None:
    page = opened(kg=10)
    for day in range(2, 8):
        page = page.on(day).all_at(*CLEAR_DAY).at("06:30", "bowl", ml=1000)
        page = page.at("22:30", "bowl", ml=0, rest=100 if day == 7 else 500)
    water = [one.words for one in read(page.on(8)).unusual if "water" in one.words]
    assert water == ["water in mL/kg 90; on its 5 other whole days 50, 50 in the middle"]


# --- Warnings, thresholds, the period -------------------------------------------------------------


def test_a_warning_with_its_data_and_what_was_noted_of_it() -> None:
    page = lived(5).all_at(*MORNING).at("10:00", "health", finding="blood", note="pink")
    page = page.at("10:30", "noted", about="blood", note="vet rung").on(7)
    found = read(page)
    (raised,) = [one for one in found.warnings if one.warning.code == "blood"]
    assert "blood" in raised.warning.because
    assert raised.warning.source
    assert [note for _, note in raised.noted] == ["vet rung"]
    assert [finding.note for finding in day_of(found, 6).findings] == ["pink"]
    before = read(page, first=page.settings.first_date, days=3)
    assert before.warnings == ()


def test_a_calm_log_raises_none() -> None:
    assert read(lived(8)).warnings == ()


def test_every_threshold_names_its_source() -> None:
    assert len({words for words, _ in THRESHOLDS}) == len(THRESHOLDS)
    for _, figure in THRESHOLDS:
        assert isinstance(figure, Figure)
        assert figure.source


@pytest.mark.parametrize(
    "name",
    ["WATER_MUCH", "NO_PEE", "NO_PEE_UNWELL", "AMOUNT_SHARE", "UNCALLED_PEES",
     "STOOLS_MANY", "NO_STOOL", "LASTS", "RELAPSE_ACCIDENTS", "MARKINGS",
     "GREETINGS", "NIGHTS_WET", "ALONE_ACCIDENTS", "PAD_PEES"],
)  # fmt: skip
def test_what_raises_a_warning_is_among_the_thresholds(name: str) -> None:
    assert any(figure is getattr(figures, name) for _, figure in THRESHOLDS)


def test_the_period_is_that_asked_for_and_of_the_log() -> None:
    page = lived(10)
    assert [day.number for day in read(page).days] == list(range(1, 12))
    some = read(page, first=page.settings.first_date + timedelta(days=3), days=4)
    assert [day.number for day in some.days] == [4, 5, 6, 7]
    assert (some.first, some.last) == (some.days[0].date, some.days[-1].date)
    late = read(page, first=page.settings.first_date + timedelta(days=9), days=30)
    assert [day.number for day in late.days] == [10, 11]
    for first in (page.settings.first_date - timedelta(days=1), date(2026, 5, 1)):
        with pytest.raises(ValueError, match="in the log"):
            read(page, first=first)


def test_a_long_log_gives_its_newest_two_months() -> None:
    page = opened().on(200).all_at(*MORNING)
    most = int(figures.DIARY_DAYS)
    assert [day.number for day in read(page).days] == list(range(201 - most, 201))
    with pytest.raises(ValueError, match="more than 62 days"):
        read(page, first=page.settings.first_date)


def test_an_entry_after_now_is_not_seen() -> None:
    page = lived(3).all_at(*CLEAR_DAY)
    assert read(page, "09:00") == diary_of(
        page.settings,
        [e for e in page.entries if e.at <= page.instant("09:00")],
        page.instant("09:00"),
    )
