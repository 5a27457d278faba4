"""The one change that each accident suggests, and that taking it is remembered."""

from __future__ import annotations

from typing import Any

import pytest

from pottyboard.core.accidents.accident_views import Offer
from pottyboard.core.model.events import ACCIDENT_MEASURES, CAUSES
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

WET = "wet"


def morning(*entries: str) -> Diary:
    """Return the third day: out at 06:35, the next break due at 08:35."""
    return diary().on(3).all_at(*MORNING, *entries)


def wet(page: Diary, clock: str, kind: str = "pee-inside", **details: Any) -> Diary:
    """Write the accident that the test is about."""
    return page.at(clock, kind, id=WET, **details)


def offer(page: Diary, clock: str = "22:00") -> Offer:
    """Return what is offered for it."""
    found = next(one.offer for one in page.read(clock).accidents if one.event.id == WET)
    assert found is not None
    return found


def take(page: Diary, clock: str) -> Diary:
    """Take what is offered."""
    what = offer(page, clock)
    return page.at(
        clock, "routine", measure=what.measure, minutes=what.minutes, about=WET, id="change"
    )


@pytest.mark.parametrize(
    ("cause", "measure", "word"),
    [
        ("marking", "block", "vet"),
        ("greeting", "", "Never scold"),
        ("leak", "", "vet"),
        ("unwell", "", "Ask your vet"),
        ("woke", "", "moment it stirs"),
        ("drink", "", "Never take the water away"),
        ("play", "", "10 min"),
        ("sign", "", "Log each signal"),
        ("late", "earlier", "08:20"),
        ("longer", "", "shortened the interval"),
        ("meal", "after-meal", "10 min after each meal"),
        ("empty", "watch", "lead beside you"),
        ("alone", "before-leaving", "within 15 min of leaving"),
        ("unknown", "", "Log meals"),
    ],
)
def test_each_cause_has_its_offer(cause: str, measure: str, word: str) -> None:
    clock = "09:15" if cause == "late" else "08:00"
    found = offer(wet(morning(), clock, place="hall", cause=cause))
    assert (found.measure, found.taken) == (measure, False)
    assert word in found.words
    assert found.words.endswith(".")


def test_every_measure_is_offered_by_some_cause() -> None:
    found = {offer(wet(morning(), "09:15", place="hall", cause=cause)).measure for cause in CAUSES}
    assert found == {"", *ACCIDENT_MEASURES}


# --- A break every day ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "minutes", "planned"),
    [("08:51", 31, "08:20"), ("09:15", 55, "08:20"), ("12:00", 180, "09:00")],
)
def test_a_late_break_is_planned_every_day_a_little_earlier(
    clock: str, minutes: int, planned: str
) -> None:
    page = wet(morning(), clock)
    found = offer(page)
    assert (found.measure, found.minutes) == ("earlier", minutes)
    assert f"every day at {planned}" in found.words
    tomorrow = take(page, "22:00").on(4).all_at("06:30 up", "06:35 both")
    assert tomorrow.dues("07:00")["daily"] == planned


def test_a_late_first_break_plans_no_break_before_getting_up() -> None:
    page = wet(diary().on(3).all_at(*CLEAR_DAY).on(4).at("06:30", "up"), "07:00")
    assert page.read("07:00").accidents[0].cause == "late"
    assert offer(page) == Offer("", "Go out first thing: the dog wakes with a full bladder.")


def test_a_night_break_that_came_late_asks_for_an_alarm() -> None:
    page = diary(kg=8, bed="21:00").on(3).all_at(*MORNING, "20:55 pee", "21:00 settled").on(4)
    assert offer(wet(page, "03:30"), "03:31") == Offer(
        "", "Set an alarm for 02:55: that break cannot wait."
    )


@pytest.mark.parametrize(
    ("clock", "word"),
    [("04:00", "alarm for 03:30,"), ("01:10", "alarm for 00:40,"), ("01:00", "very last thing")],
)
def test_a_wet_night_asks_for_an_alarm_and_promises_no_break_of_the_plan(
    clock: str, word: str
) -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    found = offer(wet(page, clock), clock)
    assert (found.measure, word in found.words) == ("", True)
    nights = wet(page, clock).all_at(*CLEAR_DAY).read("22:50").next_break.reasons
    assert [reason.code for reason in nights] == ["up"], "8 h are no long night for this dog"


def test_a_break_that_fell_due_while_it_was_alone_asks_for_a_visit() -> None:
    away = morning("08:00 left")
    found = offer(wet(away, "11:00", alone=True), "11:00")
    assert (found.measure, "or a visit" in found.words) == ("before-leaving", True)
    left_late = offer(wet(morning("09:00 left"), "09:10", alone=True, cause="late"), "09:10")
    assert left_late.measure == "earlier", "somebody was there when it fell due"


def test_longer_asks_for_a_break_only_where_the_interval_did_not_shrink() -> None:
    shrunk = offer(wet(morning(), "08:00"))
    assert (shrunk.measure, "shortened" in shrunk.words) == ("", True)
    floor = wet(morning().at("06:36", "interval", minutes=45), "07:25")
    found = offer(floor)
    assert floor.read("07:25").interval.minutes == 45
    assert (found.measure, found.minutes) == ("earlier", 30)
    assert "every day at 06:55" in found.words


def test_longer_by_night_leaves_it_to_the_night_break() -> None:
    page = wet(diary().on(9).all_at(*CLEAR_DAY).on(10), "04:00")
    assert "night" in offer(page, "04:10").words
    assert offer(page, "04:10").measure == ""


def test_a_daily_break_that_covers_it_is_named_and_not_doubled() -> None:
    page = take(wet(morning(), "09:15"), "22:00")
    assert offer(page).taken
    page = page.on(4).all_at("06:30 up", "06:35 both", "06:40 note")
    again = page.at("09:10", "pee-inside", id="again").read("09:20").accidents[0].offer
    assert again == Offer("", "Name one person for the daily break at 08:20.")
    page = page.at("08:20", "pee").at("10:55", "pee-inside", id="later")
    other = page.read("11:00").accidents[0].offer
    assert other is not None
    assert (other.measure, other.taken) == ("earlier", False)
    page = page.on(5).all_at(*MORNING).at("07:00", "routine", measure="earlier", minutes=35,
                                         about="later")  # fmt: skip
    page = page.at("08:20", "pee").on(5).at("10:55", "pee-inside", id="third", cause="late")
    third = page.read("11:00").accidents[0].offer
    assert third is not None
    assert third.measure == ""
    assert "10:20" in third.words


# --- The others -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("meal", "clock", "kind", "minutes"),
    [
        ("07:50", "08:08", "pee-inside", 10),
        ("07:50", "08:00", "pee-inside", 5),
        ("07:50", "08:03", "pee-inside", 5),
        ("07:50", "07:51", "poop-inside", 5),
    ],
)
def test_after_a_meal_the_break_comes_before_the_accident(
    meal: str, clock: str, kind: str, minutes: int
) -> None:
    page = wet(morning(f"{meal} meal"), clock, kind)
    assert (offer(page).measure, offer(page).minutes) == ("after-meal", minutes)
    tomorrow = take(page, "22:00").on(4).all_at(*MORNING).at("07:00", "meal")
    assert tomorrow.dues("07:00")["meal"] == f"07:{minutes:02}"


@pytest.mark.parametrize(
    ("clock", "minutes"), [("08:30", 75), ("08:10", 55), ("07:40", 25), ("07:30", 20)]
)
def test_where_the_first_break_brought_no_stool_a_second_is_offered(
    clock: str, minutes: int
) -> None:
    page = wet(morning("07:00 meal", "07:16 pee"), clock, "poop-inside")
    assert (offer(page).measure, offer(page).minutes) == ("after-meal", minutes)
    assert "second break" in offer(page).words


@pytest.mark.parametrize(
    ("entries", "clock", "details"),
    [
        (("07:40 nothing",), "07:50", {}),
        (("07:20 left",), "07:30", {}),
        ((), "08:00", {"upright": True, "amount": "small", "place": "hall"}),
        (("07:30 meal",), "07:50", {}),
        ((), "09:15", {}),
    ],
)
def test_what_was_taken_reads_so_until_it_is_undone(
    entries: tuple[str, ...], clock: str, details: dict[str, Any]
) -> None:
    page = wet(morning(*entries), clock, **details)
    assert offer(page).measure
    assert not offer(page).taken
    done = take(page, "21:00")
    assert offer(done) == Offer(
        offer(page).measure, offer(page).words, offer(page).minutes, taken=True
    )
    assert not offer(done.without("change")).taken


def test_marking_at_no_named_place_blocks_nothing() -> None:
    found = offer(wet(morning(), "08:00", cause="marking"))
    assert found.measure == ""
    assert "vet" in found.words


@pytest.mark.parametrize(
    ("details", "word"),
    [
        ({"found": None}, "Fill in"),
        ({"found": True}, "last dry"),
        ({"unsure": True}, "Keep the dogs apart"),
    ],
)
def test_the_unknown_says_what_to_write_down(details: dict[str, Any], word: str) -> None:
    assert word in offer(wet(morning(), "08:00", **details)).words
