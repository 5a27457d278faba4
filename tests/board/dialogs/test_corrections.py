"""An entry as text, and what comes back from it."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from pottyboard.board.dialogs.corrections import changes_from, lines_for, texts_of
from pottyboard.core.model.events import KINDS, SIGNS, SLEEPS, Event, EventError
from pottyboard.core.model.localtime import TimeError, read_when
from pottyboard.core.model.settings import Settings
from tests.board.kitchen import instant
from tests.core.diary import diary

SETTINGS: Settings = diary(arrived="06:30").settings
NOW = instant("12:00")
ACCIDENT = Event(
    "pee-inside", instant("11:00"), id="a", by="Mina", note="by the door", place="hall",
    found=True, dry=instant("10:30"), alone=False, cause="marking",
)  # fmt: skip


def changes(event: Event, **answers: str) -> dict[str, Any]:
    return changes_from(event, {**texts_of(event, SETTINGS), **answers}, SETTINGS, NOW)


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_text_changes_nothing(kind: str) -> None:
    details: dict[str, Any] = {"sleep": SLEEPS[0]} if kind == "settled" else {}
    details = {"sign": SIGNS[0]} if kind == "sign" else details
    event = Event(kind, instant("10:17") + timedelta(seconds=41), **details)
    assert changes(event) == {}


def test_every_detail_has_its_line() -> None:
    for kind in KINDS.values():
        event = Event(kind.code, instant("10:00"))
        shown = {line.key for line in lines_for(event)}
        assert {*kind.carries} - {"about"} <= shown
        assert shown <= texts_of(event, SETTINGS).keys()


@pytest.mark.parametrize(
    ("answers", "changed"),
    [
        ({"at": "11:05"}, {"at": instant("11:05")}),
        ({"place": "kitchen"}, {"place": "kitchen"}),
        ({"found": "no", "dry": ""}, {"found": False, "dry": None}),
        ({"dry": "10:45"}, {"dry": instant("10:45")}),
        ({"alone": "yes"}, {"alone": True}),
        ({"alone": ""}, {"alone": None}),
        ({"cause": ""}, {"cause": ""}),
        ({"by": "Otto", "note": ""}, {"by": "Otto", "note": ""}),
        ({"kind": "poop-inside"}, {"kind": "poop-inside"}),
    ],
)
def test_fields_are_read_back(answers: dict[str, str], changed: dict[str, Any]) -> None:
    assert changes(ACCIDENT, **answers) == changed


def test_another_kind_drops_what_it_cannot_carry() -> None:
    assert changes(ACCIDENT, kind="pee") == {
        "kind": "pee", "found": None, "dry": None, "alone": None, "cause": "",
    }  # fmt: skip


def test_numbers_are_read() -> None:
    assert changes(Event("water", instant("10:00")), ml="250,5") == {"ml": 250.5}
    assert changes(Event("interval", instant("10:00"), minutes=90), minutes="1h45") == {
        "minutes": 105
    }


@pytest.mark.parametrize(
    ("answers", "error"),
    [
        ({"at": ""}, "When was it"),
        ({"at": "25:00"}, "is not a time"),
        ({"at": "12:30"}, "still to come"),
        ({"at": "06:10", "dry": ""}, "before the dog arrived"),
        ({"dry": "11:30"}, "later than the accident"),
    ],
)
def test_what_does_not_fit_is_refused_with_a_message(answers: dict[str, str], error: str) -> None:
    with pytest.raises((EventError, TimeError), match=error):
        changes(ACCIDENT, **answers)


def test_no_number_is_refused() -> None:
    with pytest.raises(EventError, match="is no amount"):
        changes(Event("water", instant("10:00")), ml="much")


@pytest.mark.parametrize(
    ("logged", "typed", "meant"),
    [
        ("2026-03-02 11:00", "10:05", "2026-03-02 10:05"),
        ("2026-03-02 06:00", "22:30", "2026-03-02 22:30"),
        ("2026-03-02 23:50", "00:10", "2026-03-03 00:10"),
        ("2026-03-03 00:20", "23:40", "2026-03-02 23:40"),
        ("2026-03-02 11:00", "2026-03-03 10:05", "2026-03-03 10:05"),
        ("2026-03-02 11:00", "yesterday 10:05", "2026-03-05 10:05"),
        ("2026-03-06 11:00", "10:05", "2026-03-06 10:05"),
    ],
)
def test_a_clock_time_alone_is_on_the_day_of_the_entry(logged: str, typed: str, meant: str) -> None:
    zone, now = SETTINGS.zone, instant("12:00", day=5)
    event = Event("pee", read_when(logged, now, zone))
    answers = {**texts_of(event, SETTINGS), "at": typed}
    found = changes_from(event, answers, SETTINGS, now)["at"]
    assert f"{found.astimezone(zone):%Y-%m-%d %H:%M}" == meant
