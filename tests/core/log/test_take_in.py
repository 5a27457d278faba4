"""What an entry changes in the running facts, and that a kind nobody thought of changes nothing."""

from __future__ import annotations

import pytest

from pottyboard.core.log.take_in import BY_KIND, take_in
from pottyboard.core.model import events
from pottyboard.core.model.events import KINDS, Event, Kind
from tests.core.diary import diary

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
    assert facts == today.facts


def test_every_function_belongs_to_a_kind() -> None:
    assert set(BY_KIND) <= set(KINDS)
