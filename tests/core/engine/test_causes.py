"""Why an accident likely happened: each row of the table, its boundaries, and the order."""

from __future__ import annotations

from typing import Any

import pytest

from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.engine.causes import CAUSES_IN_ORDER
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import CAUSES
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

HELD = ("08:35 pee", "10:30 pee", "12:25 pee")
"""Three holds of up to 2 h, so that shorter ones are not the longest so far."""


def morning(*entries: str) -> Diary:
    """Return the third day: out at 06:35, the next break due at 08:35."""
    return diary().on(3).all_at(*MORNING, *entries)


def account(page: Diary, clock: str = "22:00") -> Account:
    """Return the newest accident as the views show it."""
    return page.read(clock).accidents[0]


def cause(page: Diary, clock: str, kind: str = "pee-inside", **details: Any) -> str:
    """Return the likely cause of an accident written at ``clock``."""
    return account(page.at(clock, kind, **details)).cause


def test_every_cause_has_one_row() -> None:
    assert {row.code for row in CAUSES_IN_ORDER} == set(CAUSES)
    assert len(CAUSES_IN_ORDER) == len(CAUSES) == len(CAUSE_WORDS)


def test_the_order_is_the_documented_one() -> None:
    assert [row.code for row in CAUSES_IN_ORDER] == [
        "marking", "greeting", "leak", "sign", "late", "empty", "meal", "alone", "longer",
        "unknown",
    ]  # fmt: skip


# --- Marking (small amounts on upright things: house-soiling handout, docest.com/doc/438813) ------


@pytest.mark.parametrize(
    ("kind", "details", "expected"),
    [
        ("pee-inside", {"upright": True, "amount": "small"}, "marking"),
        ("pee-inside", {"upright": True, "amount": "small", "found": True}, "marking"),
        ("pee-inside", {"upright": True, "amount": "small", "found": None}, "marking"),
        ("pee-inside", {"upright": True, "amount": "usual"}, "longer"),
        ("pee-inside", {"upright": True}, "longer"),
        ("pee-inside", {"upright": False, "amount": "small"}, "longer"),
        ("poop-inside", {"upright": True, "amount": "small"}, "unknown"),
    ],
)
def test_marking_is_small_and_upright(kind: str, details: dict[str, Any], expected: str) -> None:
    assert cause(morning(), "08:00", kind, **details) == expected


# --- Greeting (loss at greetings: the same handout; Lindell DACVB, Clinician's Brief 2017) --------


@pytest.mark.parametrize(
    ("greeting", "clock", "details", "expected"),
    [
        ("08:00 back", "08:00", {}, "greeting"),
        ("08:00 back", "08:05", {}, "greeting"),
        ("08:00 back", "08:06", {}, "longer"),
        ("08:00 visit", "08:02", {}, "greeting"),
        ("08:00 play", "08:02", {}, "greeting"),
        ("08:00 back", "08:02", {"amount": "small"}, "greeting"),
        ("08:00 back", "08:02", {"amount": "small", "found": None}, "greeting"),
        ("08:00 back", "08:02", {"found": None}, "unknown"),
        ("08:00 back", "08:02", {"amount": "small", "found": True}, "unknown"),
        ("08:00 back", "08:02", {"amount": "small", "found": True, "dry": "08:01"}, "greeting"),
        ("08:00 back", "08:02", {"amount": "usual"}, "longer"),
        ("08:00 back", "08:02", {"amount": "large"}, "longer"),
        ("08:36 back", "08:38", {}, "longer"),
        ("08:40 back", "08:42", {"amount": "small"}, "greeting"),
    ],
)
def test_greeting_is_right_after_and_no_full_bladder(
    greeting: str, clock: str, details: dict[str, Any], expected: str
) -> None:
    assert cause(morning(greeting), clock, **details) == expected


def test_stool_is_no_greeting() -> None:
    assert cause(morning("08:00 back"), "08:02", "poop-inside") == "unknown"


# --- Asleep (wet while asleep: Idaho Mountain Express vet column) ---------------------------------


BED: dict[str, Any] = {"surface": "fabric"}


@pytest.mark.parametrize(
    ("clock", "details", "expected"),
    [
        ("08:30", BED, "leak"),
        ("08:30", {**BED, "found": True, "dry": "07:30"}, "leak"),
        ("08:30", {**BED, "found": True, "dry": "07:29"}, "longer"),
        ("08:30", {**BED, "found": True}, "unknown"),
        ("08:30", {**BED, "found": None}, "unknown"),
        ("08:30", {**BED, "upright": True}, "longer"),
        ("08:30", {"surface": "carpet"}, "longer"),
        ("08:30", {"surface": "sealed"}, "longer"),
        ("08:30", {}, "longer"),
    ],
)
def test_a_nap_that_nobody_saw_end_and_a_wet_bed(
    clock: str, details: dict[str, Any], expected: str
) -> None:
    page = morning().at("07:30", "settled", sleep="nap")
    assert cause(page, clock, **details) == expected


def test_a_nap_that_ended_or_is_long_past_is_no_sleep() -> None:
    nap = morning().at("07:30", "settled", sleep="nap")
    assert cause(nap.at("08:20", "up"), "08:25", **BED) == "longer"
    page = morning().at("06:40", "settled", sleep="nap")
    page = page.at("06:41", "interval", minutes=240)
    assert cause(page, "09:40", **BED) == "leak"
    assert cause(page, "09:41", **BED) != "leak"


@pytest.mark.parametrize(
    ("details", "expected"),
    [
        ({"surface": "fabric"}, "leak"),
        ({"surface": "fabric", "found": True}, "leak"),
        ({"surface": "fabric", "found": True, "dry": "01:00"}, "leak"),
        ({"surface": "sealed"}, "longer"),
        ({}, "longer"),
        ({"found": True}, "unknown"),
    ],
)
def test_by_night_only_a_wet_bed_says_that_it_slept(details: dict[str, Any], expected: str) -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4)
    assert account(page.at("04:00", "pee-inside", **details), "04:10").cause == expected


# --- What the household could see or do -----------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "details", "expected"),
    [
        ("08:00", {}, "sign"),
        ("08:30", {}, "sign"),
        ("08:31", {}, "late"),
        ("08:10", {"found": True, "dry": "08:00"}, "sign"),
        ("08:10", {"found": True, "dry": "07:59"}, "longer"),
    ],
)
def test_a_missed_sign(clock: str, details: dict[str, Any], expected: str) -> None:
    page = morning().at("08:00", "sign", sign="door")
    assert cause(page, clock, **details) == expected


def test_a_sign_that_an_outing_followed_is_answered() -> None:
    assert cause(morning("08:00 sign", "08:02 pee", *HELD), "13:30") == "longer"


@pytest.mark.parametrize(
    ("clock", "details", "expected"),
    [
        ("08:50", {}, "longer"),
        ("08:51", {}, "late"),
        ("09:30", {"found": True, "dry": "08:51"}, "late"),
        ("09:30", {"found": True, "dry": "08:50"}, "unknown"),
        ("09:30", {"found": True}, "unknown"),
        ("09:30", {"found": None}, "unknown"),
    ],
)
def test_late_only_where_the_break_was_surely_late(
    clock: str, details: dict[str, Any], expected: str
) -> None:
    page = morning("08:35 pee", "08:36 note").without("e0002")
    assert cause(page, clock, **details) == expected


def test_how_late_is_named_with_the_reason_of_the_break() -> None:
    seen = account(morning().at("09:15", "pee-inside"))
    assert seen.reasoning == "The break due at 08:35 (hold) was 40 min late."
    found = account(morning().at("09:30", "pee-inside", found=True, dry="09:00"))
    assert found.reasoning == "The break due at 08:35 (hold) was at least 25 min late."
    meal = account(morning("07:00 meal").at("07:31", "poop-inside"))
    assert meal.reasoning == "The break due at 07:15 (meal) was 16 min late."


@pytest.mark.parametrize(
    ("entries", "clock", "kind", "expected"),
    [
        (("07:40 nothing",), "07:50", "pee-inside", "empty"),
        (("07:40 nothing",), "07:50", "poop-inside", "empty"),
        (("07:40 nothing",), "08:10", "pee-inside", "empty"),
        (("07:40 nothing",), "08:11", "pee-inside", "late"),
        (("07:40 nothing", "07:43 pee"), "07:50", "pee-inside", "unknown"),
    ],
)
def test_nothing_came_shortly_before(
    entries: tuple[str, ...], clock: str, kind: str, expected: str
) -> None:
    assert cause(morning(*entries), clock, kind) == expected


@pytest.mark.parametrize(
    ("entries", "clock", "kind", "expected"),
    [
        (("07:30 meal",), "07:30", "pee-inside", "meal"),
        (("07:30 meal",), "08:00", "pee-inside", "meal"),
        (("07:30 meal",), "08:00", "poop-inside", "meal"),
        (("07:30 meal",), "08:01", "poop-inside", "late"),
        (("07:00 meal", "07:16 pee"), "07:50", "poop-inside", "meal"),
        (("07:00 meal", "07:16 pee"), "08:30", "poop-inside", "meal"),
        (("07:00 meal", "07:16 pee"), "08:31", "poop-inside", "late"),
        (("07:00 meal", "07:16 both"), "07:50", "poop-inside", "unknown"),
        (("07:00 meal", "07:16 pee"), "07:50", "pee-inside", "unknown"),
    ],
)
def test_after_a_meal_before_its_break(
    entries: tuple[str, ...], clock: str, kind: str, expected: str
) -> None:
    assert cause(morning(*entries), clock, kind) == expected


@pytest.mark.parametrize(
    ("entries", "clock", "details", "expected"),
    [
        (("07:20 left",), "07:21", {}, "alone"),
        (("07:20 left",), "07:50", {}, "alone"),
        (("07:19 left",), "07:50", {}, "longer"),
        (("07:20 left",), "07:50", {"alone": False}, "longer"),
        (("07:20 left",), "07:50", {"found": True}, "alone"),
        (("07:20 left",), "07:50", {"found": True, "dry": "07:10"}, "longer"),
        (("07:20 left",), "07:50", {"found": True, "dry": "07:10", "alone": True}, "alone"),
        (("07:20 left", "07:50 back"), "07:58", {"found": True}, "alone"),
        (("07:19 left", "07:50 back"), "07:58", {"found": True}, "unknown"),
        (("07:20 left", "07:50 back"), "08:05", {"found": True}, "alone"),
        (("07:20 left", "07:50 back"), "08:06", {"found": True}, "unknown"),
        (("07:20 left", "07:50 back"), "07:58", {}, "longer"),
    ],
)
def test_alone_soon_after_leaving(
    entries: tuple[str, ...], clock: str, details: dict[str, Any], expected: str
) -> None:
    """Soon after leaving and only when alone: urbananimalveterinary.com (published); the half hour
    is our own choice."""
    assert cause(morning(*entries), clock, **details) == expected


@pytest.mark.parametrize(
    ("clock", "expected"), [("07:19", "unknown"), ("07:20", "longer"), ("08:50", "longer")]
)
def test_inside_the_interval_with_nothing_else(clock: str, expected: str) -> None:
    assert cause(morning(), clock) == expected


def test_longer_than_it_has_ever_held_is_named() -> None:
    page = diary().on(3).all_at(*MORNING, "07:40 pee")
    shown = account(page.at("09:00", "pee-inside"))
    assert shown.cause == "longer"
    assert shown.reasoning == (
        "1 h 20 after the last pee at 07:40; the longest it has held awake so far is 1 h 05."
    )
    within = account(page.at("08:40", "pee-inside"))
    assert within.reasoning == (
        "1 h after the last pee at 07:40, inside the interval of 2 h, "
        "and nothing else in the log explains it."
    )


def test_what_nobody_knows_is_not_guessed() -> None:
    assert account(diary(arrived="14:00").at("14:10", "pee-inside")).cause == "unknown"
    unsaid = account(morning().at("08:00", "pee-inside", found=None))
    assert "Not said yet whether it was seen or found" in unsaid.reasoning
    found = account(morning().at("08:00", "pee-inside", found=True))
    assert found.reasoning == "Found, and nobody knows since when the floor was wet."
    soon = account(morning().at("07:00", "pee-inside"))
    assert soon.reasoning == (
        "Only 25 min after the last pee at 06:35: too soon to be about holding."
    )


def test_found_before_or_after_a_late_break_blames_neither() -> None:
    page = morning().at("09:20", "pee-inside", found=True, dry="08:20")
    found = account(page, "09:21")
    assert found.cause == "unknown"
    assert found.reasoning == (
        "Last dry at 08:20: it came before the break due at 08:35, or when that was late."
    )


# --- The order ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entries", "clock", "details", "expected"),
    [
        (("08:00 back",), "08:02", {"upright": True, "amount": "small"}, "marking"),
        (("07:58 sign", "08:00 back"), "08:02", {"amount": "small"}, "greeting"),
        (("08:50 sign",), "08:55", {}, "sign"),
        (("07:30 meal", "07:40 nothing"), "07:50", {}, "empty"),
        (("07:30 left", "07:40 meal"), "07:50", {}, "meal"),
        (("08:20 left",), "08:51", {}, "late"),
    ],
)
def test_the_first_row_that_speaks_decides(
    entries: tuple[str, ...], clock: str, details: dict[str, Any], expected: str
) -> None:
    assert cause(morning(*entries), clock, **details) == expected


# --- What the household says ----------------------------------------------------------------------


@pytest.mark.parametrize("said", CAUSES)
def test_the_household_s_word_counts_more(said: str) -> None:
    shown = account(morning().at("09:15", "pee-inside", cause=said))
    assert (shown.cause, shown.words, shown.said) == (said, CAUSE_WORDS[said], True)
    assert shown.reasoning.startswith("Set by you.")
    assert "40 min late" in shown.reasoning, "what the log says stays in sight"


def test_no_break_is_worked_out_for_an_accident_that_was_seen_in_time() -> None:
    """That takes longest, and a long log has many of them: it is left until somebody asks."""
    page = morning(*HELD).at("13:10", "poop-inside", found=False, id="seen")
    (accident,) = page.days("13:20")[-1].accidents
    assert accident.why.cause == "unknown"
    assert "due" not in vars(accident.circumstances)


def test_a_cause_that_is_taken_back_is_worked_out_again() -> None:
    page = morning().at("09:15", "pee-inside", cause="unknown", id="wet")
    assert account(page).said
    again = account(page.without("wet").at("09:15", "pee-inside", id="wet"))
    assert (again.cause, again.said) == ("late", False)


# --- The facts ------------------------------------------------------------------------------------


def test_the_facts_are_short_lines_with_their_times() -> None:
    page = morning("07:00 meal", "07:20 poop", "08:30 nothing").at(
        "08:40", "pee-inside", found=True, dry="08:25", amount="large", surface="carpet",
        upright=False, place="hall",
    )  # fmt: skip
    assert account(page).facts == (
        "found, last dry 08:25",
        "2 h 05 after the last pee",
        "10 min after the last outing, nothing came",
        "1 h 40 after the last meal",
        "break due at 08:45 (nothing came)",
        "large amount, on the floor, on carpet",
        "hall",
    )


def test_alone_asleep_and_another_dog_are_among_the_facts() -> None:
    page = morning("07:30 left").at("07:40", "settled", sleep="nap")
    facts = account(page.at("08:00", "pee-inside", found=None, unsure=True)).facts
    assert facts[:2] == ("seen or found: not said yet", "another dog may have done it")
    assert "alone for 30 min" in facts
    assert "settled 20 min before" in facts


def test_an_absence_that_nobody_ended_in_the_log_ends_with_the_day() -> None:
    page = diary().on(2).all_at(*MORNING, "08:00 left").on(3).at("06:40", "pee-inside")
    assert not any("alone" in fact for fact in account(page).facts)


# --- Which accidents are shown --------------------------------------------------------------------


def test_two_weeks_newest_first() -> None:
    page = diary().on(2).at("10:00", "pee-inside", id="a").on(3).at("10:00", "pee-inside", id="b")
    assert [shown.event.id for shown in page.read("12:00").accidents] == ["b", "a"]
    assert [shown.event.id for shown in page.on(16).read("10:00").accidents] == ["b", "a"]
    assert [shown.event.id for shown in page.on(16).read("10:01").accidents] == ["b"]
    assert page.on(17).read("10:01").accidents == ()
