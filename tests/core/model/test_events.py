"""The kinds of entry, and what an entry may carry."""

from __future__ import annotations

import dataclasses
import typing
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest

from pottyboard.core.model.events import (
    CAUSES,
    CHOICES,
    COMMON,
    KINDS,
    OTHER_CAUSES,
    Clock,
    Event,
    EventError,
    Group,
    Kind,
    check_details,
    check_time,
    kind_named,
)
from pottyboard.core.model.localtime import TimeError

AT = datetime(2026, 3, 2, 10, 5, tzinfo=UTC)
ROWS = list(KINDS.values())


# --- The table ------------------------------------------------------------------------------------


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.code)
def test_every_row_is_whole(row: Kind) -> None:
    assert KINDS[row.code] is row
    assert row.words
    assert row.done
    assert row.group in typing.get_args(Group)
    assert row.resets <= set(typing.get_args(Clock))
    names = {field.name for field in dataclasses.fields(Event)}
    assert set(row.carries) <= names - set(COMMON)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.code)
def test_glyphs_take_one_cell_and_have_an_ascii_form(row: Kind) -> None:
    assert len(row.mark) == 1
    assert len(row.plain) == 1
    assert row.plain.isascii()
    assert row.plain.isprintable()
    assert not 0xFE00 <= ord(row.mark) <= 0xFE0F


def test_the_kinds_that_people_type() -> None:
    assert list(KINDS) == [
        "pee", "poop", "both", "nothing", "pee-inside", "poop-inside", "cleaned", "meal", "water",
        "bowl", "sign", "up", "settled", "play", "left", "back", "visit", "pad", "duty", "interval",
        "routine", "round", "noted", "vet", "health", "quiet", "seen", "found", "same", "two",
        "told", "called-off", "left-so", "note",
    ]  # fmt: skip


def test_what_sets_each_clock_back() -> None:
    resetting: dict[str, set[str]] = {clock: set() for clock in typing.get_args(Clock)}
    for row in ROWS:
        for clock in row.resets:
            resetting[clock].add(row.code)
    assert resetting == {
        "pee": {"pee", "both", "pee-inside"},
        "poop": {"poop", "both", "poop-inside"},
        "meal": {"meal"},
        "water": {"water"},
        "out": {"pee", "poop", "both", "nothing"},
        "accident": {"pee-inside", "poop-inside"},
    }


def test_outings_successes_and_accidents() -> None:
    assert {row.code for row in ROWS if row.is_outing} == {"pee", "poop", "both", "nothing"}
    assert {row.code for row in ROWS if row.is_success} == {"pee", "poop", "both"}
    assert {row.code for row in ROWS if row.is_accident} == {"pee-inside", "poop-inside"}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("poo", "poop"),
        ("Pee", "pee"),
        ("pee-inisde", "pee-inside"),
        ("meals", "meal"),
        ("sigh", "sign"),
    ],
)
def test_the_nearest_kind_is_suggested(typed: str, meant: str) -> None:
    with pytest.raises(EventError, match=f"Did you mean “{meant}”"):
        kind_named(typed)


def test_a_kind_like_no_other_is_answered_with_the_list() -> None:
    with pytest.raises(EventError, match="Kinds: pee poop both nothing"):
        kind_named("xyzzy")


# --- One entry ------------------------------------------------------------------------------------


def test_an_unknown_kind_makes_no_entry() -> None:
    with pytest.raises(EventError, match="is not a kind"):
        Event("walk", AT)


@pytest.mark.parametrize("name", ["at", "logged", "dry"])
def test_instants_need_a_zone_and_are_kept_in_utc(name: str) -> None:
    east = AT.astimezone(timezone(timedelta(hours=9)))
    details: dict[str, Any] = {"at": AT, name: east}
    event = Event("pee-inside", **details)
    assert getattr(event, name).tzinfo is UTC
    assert getattr(event, name) == AT
    with pytest.raises(TimeError):
        Event("pee-inside", **(details | {name: datetime(2026, 3, 2, 10, 5)}))


def test_equal_entries_are_equal_whatever_zone_they_came_in() -> None:
    one = Event("pee", AT)
    other = Event("pee", AT.astimezone(timezone(timedelta(hours=-5))))
    assert one == other
    assert hash(one) == hash(other)
    assert one.t == AT.timestamp() / 60


def test_an_entry_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        Event("pee", AT).note = "later"  # type: ignore[misc]


def test_the_pad_is_told_by_its_place() -> None:
    assert Event("pee", AT, place="pad").on_pad
    assert not Event("pee", AT, place="old oak").on_pad


@pytest.mark.parametrize("cause", ["", *CAUSES])
def test_another_cause_does_not_count_against_the_plan(cause: str) -> None:
    event = Event("pee-inside", AT, cause=cause)
    assert event.counts_against_plan == (cause not in OTHER_CAUSES)


def test_what_another_dog_may_have_done_does_not_count_against_the_plan() -> None:
    assert not Event("pee-inside", AT, unsure=True).counts_against_plan


# --- Details --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "details"),
    [
        ("pee", {"place": "pad", "by": "Mina", "note": "in the rain"}),
        ("pee-inside", {"place": "rug", "found": True, "dry": AT, "alone": False, "cause": "leak"}),
        ("poop-inside", {"found": False, "alone": True}),
        ("cleaned", {"about": "abc", "place": "rug"}),
        ("water", {"ml": 0}), ("water", {"ml": 10_000}),
        ("sign", {"sign": "circling"}), ("settled", {"sleep": "nap"}),
        ("interval", {"minutes": 1}), ("interval", {"minutes": 1440}),
        ("note", {"note": "x" * 10_000}), ("note", {"note": "[/b] \x1b[31m \u202e"}),
        ("meal", {"zone": "Europe/Oslo", "logged": AT}),
    ],
)  # fmt: skip
def test_details_that_fit(kind: str, details: dict[str, Any]) -> None:
    event = Event(kind, AT, **details)
    assert check_details(event) is event


@pytest.mark.parametrize(
    ("kind", "details", "says"),
    [
        ("meal", {"place": "kitchen"}, "has no “place”"),
        ("pee", {"found": False}, "has no “found”"),
        ("nothing", {"ml": 0.0}, "has no “ml”"),
        ("note", {"minutes": 20}, "has no “minutes”"),
        ("sign", {"sign": "barking"}, "use one of door, sniffing"),
        ("settled", {"sleep": "siesta"}, "use one of nap, night"),
        ("pee-inside", {"cause": "spite"}, "use one of marking, greeting, leak"),
        ("water", {"ml": -1}, "0 to 10000"),
        ("water", {"ml": 10_001}, "0 to 10000"),
        ("water", {"ml": float("nan")}, "0 to 10000"),
        ("interval", {"minutes": 0}, "1 to 1440"),
        ("interval", {"minutes": float("inf")}, "1 to 1440"),
        ("interval", {"minutes": float("nan")}, "1 to 1440"),
        (
            "pee-inside",
            {"found": True, "dry": AT + timedelta(minutes=1)},
            "later than the accident",
        ),
    ],
)
def test_details_that_do_not_fit(kind: str, details: dict[str, Any], says: str) -> None:
    with pytest.raises(EventError, match=says):
        check_details(Event(kind, AT, **details))


@pytest.mark.parametrize(
    ("name", "value"), [(name, value) for name, values in CHOICES.items() for value in values]
)
def test_every_listed_value_is_accepted(name: str, value: str) -> None:
    kind = next(row.code for row in ROWS if name in row.carries)
    details: dict[str, Any] = {name: value}
    check_details(Event(kind, AT, **details))


# --- When it may have happened --------------------------------------------------------------------


@pytest.mark.parametrize(("minutes", "fits"), [(-60, True), (0, True), (1, True), (1.5, False)])
def test_the_future_is_refused_with_a_minute_of_grace(minutes: float, fits: bool) -> None:
    event = Event("pee", AT + timedelta(minutes=minutes))
    if fits:
        assert check_time(event, AT, AT - timedelta(days=1)) is event
    else:
        with pytest.raises(EventError, match="still to come"):
            check_time(event, AT, AT - timedelta(days=1))


@pytest.mark.parametrize(("minutes", "fits"), [(60, True), (0, True), (-1, True), (-2, False)])
def test_before_the_arrival_is_refused(minutes: float, fits: bool) -> None:
    event = Event("pee", AT + timedelta(minutes=minutes))
    if fits:
        assert check_time(event, AT + timedelta(days=1), AT) is event
    else:
        with pytest.raises(EventError, match="before the dog arrived"):
            check_time(event, AT + timedelta(days=1), AT)


@pytest.mark.parametrize(
    ("said", "meant"),
    [("drink", "“water”"), ("accident", "“pee-inside” or “poop-inside”"), ("Cleaned", "“cleaned”")],
)
def test_a_word_of_the_board_leads_to_the_kind(said: str, meant: str) -> None:
    with pytest.raises(EventError, match=f"Did you mean {meant}"):
        kind_named(said)
