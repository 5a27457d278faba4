"""What an entry changes in the running facts, and that a kind nobody thought of changes nothing."""

from __future__ import annotations

import pytest

from pottyboard.core.log.take_in import BY_KIND, take_in
from pottyboard.core.model import events
from pottyboard.core.model.events import KINDS, Event, Kind
from tests.core.diary import CLEAR_DAY, MORNING, diary
from tests.core.log.told import facts, minute

STIRRING = {
    "pee", "poop", "both", "nothing", "pee-inside", "poop-inside", "meal", "water", "sign", "up",
    "play", "visit",
}  # fmt: skip


@pytest.mark.parametrize("row", KINDS.values(), ids=lambda row: row.code)
def test_only_what_the_dog_does_itself_shows_that_it_is_awake(row: Kind) -> None:
    assert row.stirs is (row.code in STIRRING)


@pytest.mark.parametrize("row", KINDS.values(), ids=lambda row: row.code)
def test_a_nap_ends_with_what_stirs_alone(row: Kind) -> None:
    page = diary().on(2).all_at("06:30 up", "06:35 pee", "09:00 settled").at("09:20", row.code)
    asleep = page.read("09:21").asleep
    assert asleep == ("" if row.stirs else "nap")


def test_an_accident_found_or_a_leak_wakes_nobody() -> None:
    at = diary().instant("09:20")
    assert Event("pee-inside", at, found=False).stirs
    assert not Event("pee-inside", at, found=True).stirs
    assert not Event("pee-inside", at, cause="leak").stirs


def test_a_kind_that_nobody_thought_of_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    groomed = Kind("groomed", "grooming", "was groomed", "care", frozenset(), (), "g", "g")
    monkeypatch.setitem(events.KINDS, groomed.code, groomed)
    page = diary().on(2).all_at("06:30 up", "06:35 pee", "09:00 settled")
    today = page.days("09:20")[-1]
    facts = today.facts.copy()
    event = Event(groomed.code, page.instant("09:20"))
    assert take_in(facts, event, today.plan) == ()
    assert facts.last_entry == event.t
    facts.last_entry = today.facts.last_entry
    assert facts == today.facts


def test_every_function_belongs_to_a_kind() -> None:
    assert set(BY_KIND) <= set(KINDS)


# --- Sleep ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("end", "asks"), [("10:29", False), ("10:30", True)])
def test_only_a_nap_of_half_an_hour_asks_for_a_break(end: str, asks: bool) -> None:
    page = diary().all_at(*MORNING, "10:00 settled").at(end, "water")
    assert (facts(page, "11:00").asks_up == minute(page, end)) == asks


def test_getting_up_is_the_end_of_the_night() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).at("06:10", "up")
    found = facts(page, "06:20")
    assert found.woke == found.asks_up == minute(page, "06:10")
    assert found.night_in_hold
    assert not facts(page.at("06:15", "pee"), "06:20").night_in_hold


def test_in_the_night_only_getting_up_asks_for_a_break() -> None:
    page = diary().all_at(*MORNING, "22:20 pee", "22:40 settled")
    assert facts(page.at("22:55", "up"), "23:00").asks_up == minute(page, "22:55")
    woken = page.on(2).at("02:00", "pee-inside", found=False)
    assert facts(woken, "02:10").asks_up == minute(page.on(1), "06:30")


# --- Outings, signs, holds ------------------------------------------------------------------------


def test_outings_in_a_row_that_brought_nothing() -> None:
    page = diary().all_at(*MORNING, "09:00 nothing", "09:10 nothing")
    assert facts(page, "09:20").tries == (minute(page, "09:00"),), "ten minutes are one outing"
    page = page.at("09:21", "nothing")
    assert facts(page, "09:25").tries == (minute(page, "09:00"), minute(page, "09:21"))
    for kind, left in (("pee", 0), ("pee-inside", 0), ("poop", 2), ("poop-inside", 2)):
        assert len(facts(page.at("09:40", kind), "09:45").tries) == left, kind
    assert not facts(page.at("09:40", "pee", place="pad"), "09:45").tries


def test_an_outing_without_pee_and_one_without_stool() -> None:
    page = diary().all_at(*MORNING, "09:00 poop", "10:00 pee")
    at_nine, at_ten = minute(page, "09:00"), minute(page, "10:00")
    assert facts(page, "09:30").dry_out == at_nine
    assert facts(page, "10:30").dry_out is None
    assert facts(page.at("10:40", "nothing"), "10:45").dry_out == at_ten + 40
    assert facts(page, "10:30").bare_out == at_ten
    later = page.at("10:05", "pee").at("11:00", "nothing")
    found = facts(later, "11:30")
    assert (found.bare_before, found.bare_out) == (at_ten + 5, at_ten + 60)


def test_a_stool_in_the_outing_of_a_pee_belongs_to_it() -> None:
    page = diary().all_at(*MORNING, "09:00 pee", "09:06 poop")
    assert facts(page, "09:30").dry_out is None
    assert facts(page, "09:30").last_success == minute(page, "09:06")
    empty = page.at("09:08", "nothing")
    assert (facts(empty, "09:30").dry_out, facts(empty, "09:30").tries) == (None, ())


def test_a_sign_stands_until_somebody_goes() -> None:
    page = diary().all_at(*MORNING).at("09:00", "sign", sign="door").at("09:04", "sign")
    found = facts(page, "09:05")
    assert (found.sign, found.sign_words) == (minute(page, "09:00"), "door")
    for kind in ("nothing", "pee-inside", "settled"):
        assert facts(page.at("09:06", kind), "09:10").sign is None, kind
    assert facts(page.at("09:06", "poop", place="pad"), "09:10").sign is None


def test_a_sign_typed_for_the_minute_of_the_outing_asks_nothing() -> None:
    page = diary().all_at(*MORNING, "09:00 pee", "09:00 sign")
    assert facts(page, "09:05").sign is None


@pytest.mark.parametrize(
    ("kind", "out", "asks"),
    [("meal", "09:04", True), ("meal", "09:05", False), ("water", "09:09", True),
     ("water", "09:10", False), ("play", "09:04", True), ("play", "09:05", False)],
)  # fmt: skip
def test_what_an_outing_has_served_asks_no_more(kind: str, out: str, asks: bool) -> None:
    # A break serves what falls due within ten minutes: 15 after a meal or play, 20 after a drink.
    page = diary().all_at(*MORNING, f"09:00 {kind}").at(out, "nothing").at("09:30", kind)
    found = facts(page, "09:35")
    asking = {"meal": found.fed, "water": found.drank, "play": found.played}[kind]
    assert (minute(page, "09:00") in asking) == asks
    assert asking[-1] == minute(page, "09:30")


def test_the_longest_hold_is_one_by_day_that_ended_outside() -> None:
    page = diary().all_at(*MORNING, "09:05 pee", "10:00 settled", "11:00 water", "12:20 pee")
    assert facts(page, "12:30").longest_hold == 150, (
        "2 h 30 first; then 3 h 15, an hour of it asleep"
    )
    indoors = page.at("16:00", "pee-inside")
    assert facts(indoors, "16:05").longest_hold == 150
    assert facts(indoors.on(2).all_at("06:30 up", "06:35 pee"), "07:00").longest_hold == 150
    silent = page.at("22:21", "pee")
    assert facts(silent, "22:30").longest_hold == 150, "in ten silent hours it went somewhere"


def test_what_another_dog_may_have_done_dirties_the_floor_alone() -> None:
    page = diary().all_at(*MORNING).at("09:00", "pee-inside", unsure=True)
    found = facts(page, "09:30")
    assert [event.kind for event in found.dirty] == ["pee-inside"]
    assert (found.last_accident, found.last_pee) == (None, minute(page, "06:35"))


# --- Company and accidents ------------------------------------------------------------------------


def test_leaving_returning_and_greeting_are_kept() -> None:
    page = diary().all_at(*MORNING, "08:00 left", "09:00 back", "10:00 play")
    found = facts(page, "10:30")
    assert found.last_left == minute(page, "08:00")
    assert found.last_back == minute(page, "09:00")
    assert (found.greeted, found.greeted_by) == (minute(page, "10:00"), "play")
    visited = facts(page.at("11:00", "visit", by="Mina"), "11:30")
    assert (visited.greeted, visited.greeted_by) == (minute(page, "11:00"), "visit")


def test_accidents_are_remembered_for_two_weeks() -> None:
    page = diary().at("10:00", "pee-inside", id="first").at("10:30", "cleaned").on(15)
    assert len(facts(page.at("10:00", "pee-inside"), "12:00").mishaps) == 2
    assert len(facts(page.at("10:01", "pee-inside"), "12:00").mishaps) == 1


def test_who_is_on_duty_and_the_vet() -> None:
    page = diary().at("07:00", "duty", by="Ana").at("08:00", "duty", by="Ben")
    assert facts(page, "08:30").on_duty == "Ben"
    assert not facts(page, "08:30").seen_by_vet
    assert facts(page.at("09:00", "vet"), "09:30").seen_by_vet


def test_cleaning_ticks_off_what_it_is_about_or_where_or_the_oldest() -> None:
    page = diary().all_at(*MORNING)
    for clock, place in (("08:00", "hall"), ("09:00", "kitchen"), ("10:00", "kitchen")):
        page = page.at(clock, "pee-inside", place=place, id=clock)
    for details, left in (
        ({"about": "09:00"}, ["08:00", "10:00"]),
        ({"place": "Kitchen"}, ["08:00"]),
        ({}, ["09:00", "10:00"]),
    ):
        cleaned = page.at("11:00", "cleaned", **details)
        assert [event.id for event in facts(cleaned, "11:30").dirty] == left, details
