"""Questions with one-key answers."""

from __future__ import annotations

import pytest

from pottyboard.board.dialogs.questions import Ask, Asking, Choice


def number(text: str) -> str:
    if not text.isdecimal():
        raise ValueError("No number.")
    return text


ASKS = (
    Ask("what", "What?", (Choice("p", "pee", "pee"), Choice("o", "poop", "poop")), "pee"),
    Ask("how", "How?", (Choice("f", "found", "found"),), "found",
        when=lambda answers: answers.get("what") == "poop"),
    Ask("many", "How many?", (Choice("1", "one", "just one"),), "one", number),
)  # fmt: skip


def test_defaults_alone_come_to_an_end() -> None:
    asking = Asking(ASKS)
    while asking.current:
        asking = asking.accept()
    assert asking.answers == {"what": "pee", "many": "one"}


def test_a_key_answers_and_another_is_no_answer() -> None:
    asking = Asking(ASKS).press("o")
    assert asking is not None
    assert asking.answers == {"what": "poop"}
    assert asking.press("x") is None


def test_a_question_waits_for_the_answer_that_makes_it_needed() -> None:
    assert [ask.name for ask in Asking(ASKS).asked] == ["what", "many"]
    assert [ask.name for ask in Asking(ASKS, {"what": "poop"}).asked] == ["what", "how", "many"]


def test_a_typed_answer_is_read() -> None:
    asking = Asking(ASKS, {"what": "pee"})
    assert asking.type("12").answers["many"] == "12"
    with pytest.raises(ValueError, match="No number"):
        asking.type("many")


def test_back_takes_the_last_answer_and_stays_at_the_first() -> None:
    asking = Asking(ASKS, {"what": "poop", "how": "found"})
    assert asking.back().answers == {"what": "poop"}
    assert asking.back().back().answers == {}
    assert asking.back().back().back().answers == {}


def test_nothing_changes_in_place() -> None:
    asking = Asking(ASKS)
    asking.accept()
    assert asking.answers == {}


def test_an_answer_reads_as_its_choice_or_as_itself() -> None:
    assert ASKS[2].words_of("one") == "just one"
    assert ASKS[2].words_of("7") == "7"
