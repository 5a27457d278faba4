"""An entry in words: nothing that it carries is lost between the log and whoever reads it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.describe import (
    CAUSE_WORDS,
    FIELDS_IN_WORDS,
    FINDING_WORDS,
    MEASURE_WORDS,
    SURFACE_WORDS,
    describe,
)
from pottyboard.core.model.events import (
    CAUSES,
    CHOICES,
    FINDINGS,
    KINDS,
    MEASURES,
    SURFACES,
    Event,
)
from pottyboard.core.model.questions import default_answers, settings_from

NOW = datetime(2026, 3, 2, 11, 0, tzinfo=UTC)
SETTINGS = settings_from(default_answers(NOW, "Europe/Oslo"), NOW)

SILENT: Final[Mapping[tuple[str, str], str]] = {
    ("unsure", "False"): "it says that it was this dog, as an entry of its log says by itself",
    ("about", "cleaned"): "the id of an accident: the place beside it says which",
    ("about", "routine"): "the id of an accident: the measure beside it says what",
    ("about", "seen"): "the id of an accident: the row of the accident says it too",
    ("about", "found"): "the id of an accident: the row of the accident says it too",
    ("about", "same"): "the id of an entry that is no longer shown",
    ("about", "two"): "the id of an entry: both still stand in the log",
    ("about", "told"): "the id of an agreement: whom and when say which",
    ("about", "called-off"): "the id of an agreement: whom and when say which",
    ("about", "left-so"): "the id of an agreement: whom and when say which",
}
"""Values that change no word, and why: by field, and by value or kind."""

VALUES: Final[Mapping[str, st.SearchStrategy[Any]]] = {
    **{name: st.sampled_from(codes) for name, codes in CHOICES.items()},
    **dict.fromkeys(("found", "alone", "upright", "unsure"), st.booleans()),
    **dict.fromkeys(("ml", "rest"), st.integers(0, 10_000).map(float)),
    "minutes": st.integers(1, 1440).map(float),
    "dry": st.integers(1, 600).map(lambda minutes: NOW - timedelta(minutes=minutes)),
    "place": st.text("abc xyz", min_size=1).filter(str.strip),
    "about": st.sampled_from(("drinking", "small-pees")),
    "whom": st.text("abc xyz", min_size=1).filter(str.strip),
    "comes": st.integers(1, 600).map(lambda minutes: NOW + timedelta(minutes=minutes)),
}
EVERY: Final = [(kind, name) for kind, row in KINDS.items() for name in row.carries]


def is_silent(kind: str, name: str, value: object) -> bool:
    """Whether the words may leave a value out."""
    return bool({(name, str(value)), (name, kind)} & SILENT.keys())


@pytest.mark.parametrize(("kind", "name"), EVERY)
@given(data=st.data(), whole=st.booleans())
def test_every_value_that_an_entry_carries_changes_its_words(
    kind: str, name: str, data: st.DataObject, whole: bool
) -> None:
    bare, value = Event(kind, NOW), data.draw(VALUES[name])
    said = describe(replace(bare, **{name: value}), SETTINGS, whole=whole)
    assert (said == describe(bare, SETTINGS, whole=whole)) is is_silent(kind, name, value)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("whole", [False, True])
def test_the_note_is_always_said_and_on_paper_who_wrote_it(kind: str, whole: bool) -> None:
    words = describe(Event(kind, NOW, by="Cleo", note="wet mat"), SETTINGS, whole=whole)
    assert "wet mat" in words
    assert ("Cleo" in words) is (whole or kind == "duty")


def test_every_field_that_a_kind_may_carry_has_its_words() -> None:
    assert {name for row in KINDS.values() for name in row.carries} == set(FIELDS_IN_WORDS)
    assert set(VALUES) == set(FIELDS_IN_WORDS)


def test_every_answer_has_its_words() -> None:
    assert set(CAUSE_WORDS) == set(CAUSES)
    assert set(SURFACE_WORDS) == set(SURFACES)
    assert set(FINDING_WORDS) == set(FINDINGS)
    assert set(MEASURE_WORDS) == set(MEASURES)


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (Event("health", NOW, finding="blood"), "health note, blood"),
        (Event("pee", NOW, amount="small"), "pee, small amount"),
        (Event("bowl", NOW, ml=500.0, rest=0.0), "water bowl, 500 ml, 0 ml left before"),
        (
            Event("routine", NOW, measure="after-meal", minutes=10.0),
            "routine changed, out sooner after meals, 10 min",
        ),
        (
            Event(
                "pee-inside", NOW, place="hall", found=True, dry=NOW - timedelta(minutes=30),
                alone=False, cause="meal", amount="large", upright=False, surface="wood",
                unsure=True,
            ),
            "pee indoors, hall, found, dry at 11:30, not alone, soon after a meal, large amount, "
            "on the floor, on wood, which dog is not known",
        ),
        (Event("pee-inside", NOW, found=False, alone=False), "pee indoors, seen"),
        (Event("pee-inside", NOW, found=False, alone=True), "pee indoors, seen, alone"),
        (Event("noted", NOW, about="small-pees"), "warning noted, small pees"),
        (Event("duty", NOW, by="Cleo"), "Cleo on duty"),
        (Event("duty", NOW), "nobody on duty"),
        (Event("note", NOW), "note"),
    ],
)  # fmt: skip
def test_examples(event: Event, words: str) -> None:
    assert describe(event, SETTINGS) == words
    assert describe(event, SETTINGS, whole=True) == words


def test_what_a_person_wrote_cannot_harm_a_line() -> None:
    harm = "\x1b[2J\u202ea\r\nb" + "x" * 500
    event = Event("pee-inside", NOW, place=harm, by=harm, note=harm)
    for whole in (False, True):
        words = describe(event, SETTINGS, whole=whole)
        assert words.isprintable()
        assert len(words) < 700
    assert "[2Ja bxxxxxxxxxxxxxxxxx…" in describe(event, SETTINGS), "short where room is short"
