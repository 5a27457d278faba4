"""What may be logged now: each refusal, at its boundary, and that all that is sensible passes."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any, Final

import pytest
from msgspec.structs import replace

from pottyboard.core.model import figures
from pottyboard.core.model.events import ANSWERS, KINDS, Event, EventError
from pottyboard.core.model.permitted import (
    LONGEST_NOTE,
    Answerable,
    check_said,
    household_limit,
    permitted,
    read_millilitres,
)
from pottyboard.core.model.questions import default_answers, settings_from

NOW = datetime(2026, 3, 2, 11, 0, tzinfo=UTC)
DOG = settings_from(default_answers(NOW, "Europe/Oslo"), NOW).dog
PRONE = replace(DOG, prone=True)
NOTHING: Final = Answerable({}, {}, {})
KNOWN: Final = Answerable({"a1": "clean hall"}, {"blood": "Call your vet."}, {"a1": "", "a2": ""},
                            agreements={"v1": "Mina Mon 12:45"})  # fmt: skip

NEEDED: Final[dict[str, dict[str, Any]]] = {
    "note": {"note": "calm"},
    "health": {"finding": "blood"},
    "interval": {"minutes": 90.0},
    "routine": {"measure": "watch"},
    "noted": {"about": "blood"},
    "told": {"whom": "Mina", "comes": NOW},
    "called-off": {"whom": "Mina", "comes": NOW, "about": "v1"},
    "left-so": {"whom": "Mina", "comes": NOW},
}
"""What a kind cannot be logged without."""


def refusal(kind: str, dog: Any = DOG, known: Answerable = KNOWN, **details: Any) -> EventError:
    """Return why an entry is refused."""
    with pytest.raises(EventError) as caught:
        permitted(Event(kind, NOW, **details), dog, known)
    return caught.value


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in ANSWERS])
def test_every_kind_may_be_logged_with_what_it_is_for(kind: str) -> None:
    event = Event(kind, NOW, **NEEDED.get(kind, {}))
    assert permitted(event, DOG, KNOWN) is event


@pytest.mark.parametrize("kind", ANSWERS)
def test_an_answer_needs_a_question(kind: str) -> None:
    assert "Nothing is asked that" in str(refusal(kind))


def test_an_answer_is_about_a_question_that_is_open() -> None:
    asked = replace(KNOWN, questions={"seen": {"a1": "Seen or found?"}})
    permitted(Event("seen", NOW, about="a1"), DOG, asked)
    assert "Which question that is open? Open: a1" in str(refusal("seen", known=asked))
    assert "“a2” is no question that is open" in str(refusal("seen", known=asked, about="a2"))
    assert "Nothing is asked that" in str(refusal("found", known=asked, about="a1"))


@pytest.mark.parametrize("kind", NEEDED)
def test_and_not_without(kind: str) -> None:
    assert refusal(kind).field == next(iter(NEEDED[kind]))


@pytest.mark.parametrize("minutes", [44.9, 0.0, 480.0, 500.0])
def test_an_interval_that_this_dog_cannot_have(minutes: float) -> None:
    assert "from 45 min to" in str(refusal("interval", minutes=minutes))


@pytest.mark.parametrize("dog", [DOG, PRONE])
def test_an_interval_at_its_ends(dog: Any) -> None:
    for minutes in (45.0, household_limit(dog)):
        check_said(Event("interval", NOW, minutes=minutes), dog)
    assert refusal("interval", dog, minutes=household_limit(dog) + 1).field == "minutes"


def test_a_dog_prone_to_accidents_has_the_narrower_limit() -> None:
    assert household_limit(DOG) == figures.MOST_INTERVAL
    assert household_limit(PRONE) == figures.MOST_INTERVAL_PRONE < figures.MOST_INTERVAL


@pytest.mark.parametrize(
    ("text", "millilitres"), [("", None), ("  ", None), ("200", 200.0), (" 62,5 ", 62.5)]
)
def test_an_amount_of_water(text: str, millilitres: float | None) -> None:
    assert read_millilitres(text) == millilitres


def test_an_amount_that_is_no_number_names_one_that_is() -> None:
    with pytest.raises(EventError, match="“a cup” is no amount: write millilitres") as caught:
        read_millilitres("a cup")
    assert caught.value.field == "ml"


def test_a_routine_may_have_other_minutes_than_an_interval() -> None:
    check_said(Event("routine", NOW, measure="after-meal", minutes=10.0), DOG)


def test_notes() -> None:
    assert refusal("note", note=" \n").field == "note"
    assert refusal("pee", note="x" * (LONGEST_NOTE + 1)).field == "note"
    check_said(Event("pee", NOW, note="x" * LONGEST_NOTE), DOG)
    assert "What was seen?" in str(refusal("health", finding="other"))
    check_said(Event("health", NOW, note="a limp"), DOG)
    check_said(Event("health", NOW, finding="other", note="a limp"), DOG)


def test_a_cleaning_needs_something_to_clean() -> None:
    assert str(refusal("cleaned", known=NOTHING)) == "Nothing to clean."
    assert "no accident to clean up. Open: a1 (clean hall)" in str(refusal("cleaned", about="a2"))
    permitted(Event("cleaned", NOW, about="a1"), DOG, KNOWN)


def test_a_warning_is_noted_while_it_stands() -> None:
    assert "Which warning that stands? Open: blood (Call your vet)." in str(refusal("noted"))
    assert "Open: none." in str(refusal("noted", known=NOTHING, about="blood"))


def test_what_is_agreed_is_about_a_visit_that_was_told() -> None:
    visit: dict[str, Any] = {"whom": "Mina", "comes": NOW}
    assert "Which visit that a helper was told of? Open: v1 (Mina Mon 12:45)" in str(
        refusal("called-off", **visit)
    )
    assert "no visit that a helper was told of" in str(refusal("told", about="a1", **visit))
    permitted(Event("told", NOW, about="v1", **visit), DOG, KNOWN)


def test_a_change_of_the_routine_may_be_about_any_accident_of_the_log() -> None:
    permitted(Event("routine", NOW, measure="block", about="a2"), DOG, KNOWN)
    assert refusal("routine", measure="block", about="a3").field == "about"


def test_what_does_not_fit_its_kind_is_refused_too() -> None:
    assert refusal("pee", ml=200.0).field == "ml"
