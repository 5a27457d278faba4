"""The days that are kept from call to call, for several dogs at once."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from pottyboard.core.engine import history
from pottyboard.core.engine.history import History
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings

ARRIVED = datetime(2026, 3, 2, 8, tzinfo=UTC)
NOW = ARRIVED + timedelta(days=6)


def dog(name: str) -> Settings:
    """Return the settings of a dog of one home."""
    answers = {**default_answers(ARRIVED, "Europe/Oslo"), "name": name, "weight": "8"}
    made = settings_from(answers, ARRIVED)
    return replace(made, dog=replace(made.dog, arrived=ARRIVED))


def log() -> tuple[Event, ...]:
    """Return a plain log of six days."""
    return tuple(Event("pee", ARRIVED + timedelta(hours=3 * n), f"e{n}") for n in range(48))


def test_a_look_at_another_dog_leaves_the_days_of_the_first() -> None:
    bramble, wren = dog("Bramble"), dog("Wren")
    before = History.of(bramble, log(), minutes_of(NOW)).days
    other = History.of(wren, log()[:10], minutes_of(NOW)).days
    again = History.of(bramble, log(), minutes_of(NOW)).days
    assert again == before
    settled = [day for day, same in zip(before, again, strict=True) if day is same]
    assert len(settled) >= 4
    assert other != before


def test_only_a_few_dogs_are_kept() -> None:
    for number in range(20):
        History.of(dog(f"Dog {number}"), log(), minutes_of(NOW))
    assert History._last is not None
    assert len(History._last) == history._MOST_KEPT
