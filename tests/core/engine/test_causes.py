"""Why an accident likely happened: each row of the table, its boundaries, and the order."""

from __future__ import annotations

from typing import Any

import pytest

from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.engine.causes import CAUSES_IN_ORDER
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import CAUSES, FINDINGS, ILLNESS
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
        "marking", "greeting", "leak", "sign", "late", "unwell",
        "empty", "woke", "meal", "drink", "play", "alone", "longer", "unknown",
    ]  # fmt: skip


# --- Marking (small amounts on upright things: Clinician's Brief, Urine Marking in Dogs) ----------


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


# --- Greeting (loss at greetings: Lindell DACVB, Clinician's Brief, February 2017) ----------------


@pytest.mark.parametrize(
    ("greeting", "clock", "details", "expected"),
    [
        ("08:00 back", "08:00", {}, "greeting"),
        ("08:00 back", "08:05", {}, "greeting"),
        ("08:00 back", "08:06", {}, "unknown"),
        ("08:00 visit", "08:02", {}, "greeting"),
        ("08:00 play", "08:02", {}, "play"),
        ("08:00 play", "08:02", {"amount": "small"}, "greeting"),
        ("08:00 back", "08:02", {"amount": "small"}, "greeting"),
        ("08:00 back", "08:02", {"amount": "small", "found": None}, "greeting"),
        ("08:00 back", "08:02", {"found": None}, "unknown"),
        ("08:00 back", "08:02", {"amount": "small", "found": True}, "unknown"),
        ("08:00 back", "08:02", {"amount": "small", "found": True, "dry": "08:01"}, "greeting"),
        ("08:00 back", "08:02", {"amount": "usual"}, "unknown"),
        ("08:00 back", "08:02", {"amount": "large"}, "unknown"),
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


# --- Asleep (leaks mostly while lying: congress paper on sphincter incompetence, VIN 3852252) -----


BED: dict[str, Any] = {"surface": "fabric"}


@pytest.mark.parametrize(
    ("clock", "details", "expected"),
    [
        ("08:30", BED, "leak"),
        ("08:30", {**BED, "found": True, "dry": "07:30"}, "leak"),
        ("08:30", {**BED, "found": True, "dry": "07:29"}, "unknown"),
        ("08:30", {**BED, "found": True}, "leak"),
        ("08:30", {**BED, "found": None}, "leak"),
        ("08:30", {**BED, "upright": True}, "unknown"),
        ("08:30", {"surface": "carpet"}, "woke"),
        ("08:30", {"surface": "carpet", "found": True}, "unknown"),
        ("08:30", {"surface": "sealed"}, "woke"),
        ("08:30", {}, "unknown"),
    ],
)
def test_a_nap_that_nobody_saw_end_and_a_wet_bed(
    clock: str, details: dict[str, Any], expected: str
) -> None:
    page = morning().at("07:30", "settled", sleep="nap")
    assert cause(page, clock, **details) == expected


def test_a_nap_that_ended_or_is_long_past_is_no_sleep() -> None:
    nap = morning().at("07:30", "settled", sleep="nap")
    assert cause(nap.at("08:20", "up"), "08:25", **BED) == "woke"
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
        ("08:10", {"found": True, "dry": "07:59"}, "unknown"),
    ],
)
def test_a_missed_sign(clock: str, details: dict[str, Any], expected: str) -> None:
    page = morning().at("08:00", "sign", sign="door")
    assert cause(page, clock, **details) == expected


def test_a_sign_that_an_outing_followed_is_answered() -> None:
    assert cause(morning("08:00 sign", "08:02 pee", *HELD), "14:10") == "longer"


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
    assert seen.reasoning == "The break due at 08:35 (since pee) was 40 min late."
    found = account(morning().at("09:30", "pee-inside", found=True, dry="09:00"))
    assert found.reasoning == "The break due at 08:35 (since pee) was at least 25 min late."
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
        (("07:19 left",), "07:50", {}, "unknown"),
        (("07:20 left",), "07:50", {"alone": False}, "unknown"),
        (("07:20 left",), "07:50", {"found": True}, "alone"),
        (("07:20 left",), "07:50", {"found": True, "dry": "07:10"}, "unknown"),
        (("07:20 left",), "07:50", {"found": True, "dry": "07:10", "alone": True}, "alone"),
        (("07:20 left", "07:50 back"), "07:58", {"found": True}, "alone"),
        (("07:19 left", "07:50 back"), "07:58", {"found": True}, "unknown"),
        (("07:20 left", "07:50 back"), "08:05", {"found": True}, "alone"),
        (("07:20 left", "07:50 back"), "08:06", {"found": True}, "unknown"),
        (("07:20 left", "07:50 back"), "07:58", {}, "unknown"),
    ],
)
def test_alone_soon_after_leaving(
    entries: tuple[str, ...], clock: str, details: dict[str, Any], expected: str
) -> None:
    """Soon after leaving and only when alone: common practice, no source; the half hour is our own
    choice."""
    assert cause(morning(*entries), clock, **details) == expected


@pytest.mark.parametrize(
    ("clock", "expected"), [("07:34", "unknown"), ("07:35", "longer"), ("08:50", "longer")]
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
    within = account(page.at("08:45", "pee-inside"))
    assert (within.cause, within.reasoning) == (
        "unknown", "Nothing in the log explains it: it has held 1 h 05 before.",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("entries", "clock", "expected"),
    [
        ((), "14:04", "unknown"),
        ((), "14:05", "longer"),
        (("13:35 nothing",), "14:05", "empty"),
        (("12:40 play", "12:58 note"), "14:20", "late"),
    ],
)
def test_a_wait_about_as_long_as_the_interval_was_too_long(
    entries: tuple[str, ...], clock: str, expected: str
) -> None:
    """As near to the interval as a dry wait that speaks for a longer one (our own choice)."""
    assert cause(morning(*HELD, *entries), clock) == expected


def test_nothing_else_explains_it_is_said_only_where_nothing_else_is_logged() -> None:
    plain = account(morning(*HELD).at("14:10", "pee-inside"))
    assert plain.reasoning == (
        "1 h 45 after the last pee at 12:25, about the interval of 2 h, "
        "and nothing else in the log explains it."
    )
    slept = morning(*HELD, "12:30 settled", "12:35 up", "12:36 meal", "12:50 nothing")
    assert "nothing else" not in account(slept.at("14:20", "pee-inside")).reasoning
    early = account(morning().at("08:00", "pee-inside"))
    assert early.reasoning == (
        "1 h 25 after the last pee at 06:35, and nothing else in the log explains it; "
        "no longer wait is known so far."
    )
    assert cause(morning("07:30 visit"), "08:00") == "unknown"


def test_a_night_is_longer_only_than_the_nights_before() -> None:
    first = diary().on(3).all_at(*CLEAR_DAY).on(4)
    assert cause(first, "05:00") == "longer"
    second = first.all_at(*CLEAR_DAY).on(5)
    assert cause(second, "06:00") == "unknown"
    assert cause(second.on(4).without("e0013").on(5), "06:00") == "unknown"


# --- A drink, play, waking, an illness ------------------------------------------------------------


@pytest.mark.parametrize(
    ("entries", "clock", "kind", "expected"),
    [
        (("13:00 water",), "13:00", "pee-inside", "drink"),
        (("13:00 water",), "13:35", "pee-inside", "drink"),
        (("13:00 water",), "13:36", "pee-inside", "late"),
        (("13:00 water",), "13:20", "poop-inside", "unknown"),
        (("13:00 water", "13:09 pee"), "13:30", "pee-inside", "drink"),
        (("13:00 water", "13:10 pee"), "13:30", "pee-inside", "unknown"),
        (("13:00 play",), "13:30", "pee-inside", "play"),
        (("13:00 play",), "13:31", "pee-inside", "late"),
        (("13:00 play",), "13:10", "poop-inside", "play"),
        (("13:00 play", "13:05 pee"), "13:20", "pee-inside", "unknown"),
    ],
)
def test_after_a_drink_or_play_before_its_break(
    entries: tuple[str, ...], clock: str, kind: str, expected: str
) -> None:
    """Within 10 to 20 min of a long drink and of play: Wisconsin Humane Society (published)."""
    assert cause(morning(*HELD, *entries), clock, kind) == expected


def test_of_two_that_speak_none_is_named() -> None:
    shown = account(morning(*HELD, "13:00 water", "13:05 meal").at("13:15", "pee-inside"))
    assert shown.cause == "unknown"
    assert shown.reasoning == (
        "More than one thing can explain it. "
        "10 min after the meal at 13:05; the break for it, 13:20, had not come yet. "
        "15 min after a long drink at 13:00; the break for it, 13:20, had not come yet."
    )
    assert cause(morning(*HELD, "13:50 water"), "14:10") == "unknown", "and it was time anyway"


@pytest.mark.parametrize(
    ("entries", "clock", "expected"),
    [
        (("12:40 settled", "13:10 up"), "13:10", "woke"),
        (("12:40 settled", "13:10 up"), "13:25", "woke"),
        (("12:40 settled", "13:10 up"), "13:26", "late"),
        (("12:40 settled", "13:09 up"), "13:12", "unknown"),
        (("12:40 settled", "13:10 up", "13:12 nothing"), "13:15", "unknown"),
    ],
)
def test_just_awake(entries: tuple[str, ...], clock: str, expected: str) -> None:
    """At once on waking, Wisconsin Humane Society (published); half an hour of nap and the quarter
    of an hour are our own choice."""
    assert cause(morning(*HELD, *entries), clock) == expected


def test_a_puddle_right_after_waking_leaves_the_interval() -> None:
    page = morning(*HELD, "12:40 settled", "13:10 up").at("13:15", "pee-inside")
    assert page.read("13:15").interval.minutes == 120


@pytest.mark.parametrize("finding", FINDINGS)
def test_a_sign_of_illness_within_a_day_comes_first_and_asks_for_the_vet(finding: str) -> None:
    page = morning(*HELD).at("12:30", "health", finding=finding).at("14:10", "pee-inside")
    expected = "unwell" if finding in ILLNESS else "longer"
    shown = account(page, "14:10")
    assert shown.cause == expected
    assert ("Ask your vet" in shown.reasoning) == (finding in ILLNESS)
    assert page.read("14:10").interval.minutes == (120 if finding in ILLNESS else 90)


@pytest.mark.parametrize(("clock", "expected"), [("14:09", "longer"), ("14:10", "unwell")])
def test_a_day_after_the_sign_it_no_longer_speaks(clock: str, expected: str) -> None:
    """24 hours, our own choice."""
    page = diary().on(2).at(clock, "health", finding="vomiting").on(3).all_at(*MORNING, *HELD)
    assert cause(page, "14:10") == expected


def test_a_vet_is_named_with_every_cause_while_a_sign_stands() -> None:
    page = morning(*HELD).at("12:30", "health", finding="straining").at("14:50", "pee-inside")
    shown = account(page)
    assert shown.cause == "late"
    assert shown.reasoning.endswith("A symptom of illness was noted too: tell your vet.")


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
        (("07:30 left", "07:40 meal"), "07:50", {}, "unknown"),
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
        "break due at 08:45 (next try)",
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
