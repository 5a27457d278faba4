"""The questions of the set-up: every answer read, every problem named beside its key."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from typing import Any

import pytest

from pottyboard.core.model.questions import (
    BY_KEY,
    QUESTIONS,
    SettingsError,
    answers_from,
    default_answers,
    problems_in,
    settings_from,
)
from pottyboard.core.model.settings import Helper, Settings, Work
from pottyboard.core.view.situation import situation

NOW = datetime(2026, 3, 2, 8, 0, 30, tzinfo=UTC)


def settings(**answers: str) -> Settings:
    """Return the settings for the default answers with these changes (``_`` for ``-``)."""
    given = {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from({**default_answers(NOW, "Europe/Oslo"), **given}, NOW)


def problem(key: str, answer: str) -> str:
    """Return the message for one answer, empty if it fits."""
    answers = {**default_answers(NOW, "Europe/Oslo"), key: answer}
    problems = problems_in(answers, NOW)
    assert set(problems) <= {key}
    return problems.get(key, "")


# --- Enter alone ----------------------------------------------------------------------------------


@pytest.mark.parametrize("zone", ["Europe/Oslo", "UTC", "Asia/Kathmandu", "America/St_Johns"])
def test_enter_alone_finishes_the_set_up(zone: str) -> None:
    answers = default_answers(NOW, zone)
    assert problems_in(answers, NOW) == {}
    made = settings_from(answers, NOW)
    assert abs(made.dog.arrived - NOW) < timedelta(minutes=1)
    assert situation(made, (), NOW).day == 1


@pytest.mark.parametrize("minute", [30, 90])
def test_enter_alone_works_in_the_hour_that_happens_twice(minute: int) -> None:
    now = datetime(2026, 10, 25, 0, 0, tzinfo=UTC) + timedelta(minutes=minute)
    answers = default_answers(now, "Europe/Oslo")
    assert problems_in(answers, now) == {}
    assert settings_from(answers, now).dog.arrived == now


def test_no_answer_at_all_is_the_default() -> None:
    made = settings_from({}, NOW)
    assert made.home.zone == "UTC"
    assert made.dog.arrived == NOW.replace(second=0)


def test_keys_are_unique_and_labelled() -> None:
    assert len(BY_KEY) == len(QUESTIONS)
    for question in QUESTIONS:
        assert question.label
        assert question.key == question.key.lower()
        assert not question.choices or question.default in question.choices


# --- Answers --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("answer", "kilograms"),
    [
        ("8", 8), ("8.5", 8.5), ("8,5 kg", 8.5), ("8.5KG", 8.5), ("20 lb", 9.07), ("20lbs", 9.07),
        ("18 lb 6 oz", 8.33), ("18.5lb", 8.39), ("8,3 kg", 8.3), ("8 kilos", 8), ("8300 g", 8.3),
        ("0.5", 0.5), ("120", 120),
    ],
)  # fmt: skip
def test_weights(answer: str, kilograms: float) -> None:
    assert settings(weight=answer).dog.weight_kg == kilograms


@pytest.mark.parametrize(
    "answer", ["", "heavy", "-3", "0", "0.4", "121", "1e3", "nan", "inf", "8 stone", "8 8"]
)
def test_absurd_weights_are_refused(answer: str) -> None:
    assert problem("weight", answer)


@pytest.mark.parametrize("answer", ["Bramble", "Ægir", "O’Malley", "小春", "[/b]", "  Two  words "])
def test_names(answer: str) -> None:
    assert settings(name=answer).dog.name == " ".join(answer.split())


@pytest.mark.parametrize("answer", ["", "   ", "x" * 41, "\x1b[31mred", "Bram\u202eble", "tab\x00"])
def test_absurd_names_are_refused(answer: str) -> None:
    assert problem("name", answer)


@pytest.mark.parametrize(
    ("answer", "meals"),
    [
        ("07:00", (time(7),)),
        ("17:30, 7:00", (time(7), time(17, 30))),
        ("7:00,12:00,18:00,", (time(7), time(12), time(18))),
    ],
)
def test_meals(answer: str, meals: tuple[time, ...]) -> None:
    assert settings(meals=answer).home.meals == meals


@pytest.mark.parametrize(
    "answer", ["", ",", "7 15", "07:00,07:00", "25:00", "03:00", "22:30", "1:00,2:00,3:00,4:00"]
)
def test_absurd_meals_are_refused(answer: str) -> None:
    assert problem("meals", answer)


def test_too_many_meals_are_refused() -> None:
    assert problem("meals", "07:00,09:00,11:00,13:00,15:00,17:00,19:00")


@pytest.mark.parametrize(
    ("answer", "days"),
    [
        ("mon-fri", {1, 2, 3, 4, 5}), ("Mon, Wed,fri", {1, 3, 5}), ("sat-mon", {6, 7, 1}),
        ("sunday", {7}), ("mon-wed,sat", {1, 2, 3, 6}),
    ],
)  # fmt: skip
def test_days_away(answer: str, days: set[int]) -> None:
    made = settings(workdays=answer, leave="08:00", **{"return": "16:00"}, absent_from="3")
    assert made.home.work == Work(frozenset(days), time(8), time(16), 3)


def test_no_days_away_is_no_work() -> None:
    assert settings(workdays="").home.work is None


@pytest.mark.parametrize("answer", ["workday mornings", "mon-wed-fri", "1-5", "m", "t"])
def test_absurd_days_are_refused(answer: str) -> None:
    assert problem("workdays", answer)


@pytest.mark.parametrize("answer", ["", "0", "-1", "two", "366", "1.5", "²"])
def test_absurd_day_numbers_are_refused(answer: str) -> None:
    assert problem("absent-from", answer)


def test_helpers() -> None:
    made = settings(helpers="Mina 11:00-15:00 12.50; Aunt Otto 9:00-18:00; Ida 8:00 - 9:00 3,5")
    assert made.home.helpers == (
        Helper("Mina", time(11), time(15), 12.5),
        Helper("Aunt Otto", time(9), time(18), 0.0),
        Helper("Ida", time(8), time(9), 3.5),
    )


@pytest.mark.parametrize(
    "answer", ["Mina", "Mina 11:00", "Mina 15:00-11:00", "Mina 11:00-11:00", "Mina 11:00-25:00"]
)
def test_absurd_helpers_are_refused(answer: str) -> None:
    assert problem("helpers", answer)


def test_people() -> None:
    assert settings(people="Mina, Otto,, Mina ").home.people == ("Mina", "Otto")
    assert problem("people", ",".join(f"p{number}" for number in range(10)))


@pytest.mark.parametrize(
    ("key", "answer", "says"),
    [
        ("zone", "Europe/Olso", "Europe/Oslo"),
        ("age", "old", "young, adult, senior"),
        ("prone", "maybe", "yes or no"),
        ("up", "25:00", "06:30"),
        ("up", "", "06:30"),
        ("bed", "13:00", "Less than 8 h"),
        ("bed", "04:00", "Leaves a night of less than 3 h"),
        ("arrived", "2020-01-01 10:00", "three years ago"),
        ("arrived", "2028-01-01 10:00", "year ahead"),
        ("arrived", "in spring", "is not a time"),
        ("arrived", "2026-03-29 02:30", "does not exist"),
        ("spot", "x" * 61, "Too long"),
        ("cue", "\x07", "control character"),
        ("colour", "brown", "Not a question"),
    ],
)
def test_a_message_stands_beside_its_answer(key: str, answer: str, says: str) -> None:
    assert says in problem(key, answer)


@pytest.mark.parametrize(
    ("answer", "conditions"),
    [
        ("", set()), ("none", set()), (" No ", set()), ("medicine", {"water-medicine"}),
        ("In-Heat", {"in-heat"}), ("operated,medicine, ", {"water-medicine", "operated"}),
        ("medicine, in heat, operated", {"water-medicine", "in-heat", "operated"}),
    ],
)  # fmt: skip
def test_one_question_takes_several_conditions(answer: str, conditions: set[str]) -> None:
    assert settings(conditions=answer).dog.conditions == conditions


def test_a_condition_that_nobody_asked_for_is_refused() -> None:
    """No medicine is named: which one it is belongs to the vet, not into the board."""
    assert "none of: medicine, in heat, operated" in problem("conditions", "medicine, tired")


def test_a_male_is_never_in_heat() -> None:
    assert "check" in problems_in({"sex": "male", "conditions": "in heat"}, NOW)["conditions"]
    assert problems_in({"sex": "male", "conditions": "operated"}, NOW) == {}


def test_leaving_and_returning_must_differ() -> None:
    answers = {"workdays": "mon-fri", "leave": "08:00", "return": "08:00"}
    assert "return" in problems_in(answers, NOW)


def test_every_problem_is_named_at_once() -> None:
    answers = {"name": "", "weight": "0", "up": "x", "zone": "Mars/Phobos"}
    with pytest.raises(SettingsError) as refused:
        settings_from(answers, NOW)
    assert set(refused.value.problems) == set(answers)
    assert all(key in str(refused.value) for key in answers)


@pytest.mark.parametrize(
    ("arrived", "instant"),
    [
        ("2026-03-01 09:00", "2026-03-01T08:00+00:00"),
        ("07:45", "2026-03-02T06:45+00:00"),
        ("yesterday 18:00", "2026-03-01T17:00+00:00"),
        ("2026-03-01T09:00-05:00", "2026-03-01T14:00+00:00"),
    ],
)
def test_the_arrival(arrived: str, instant: str) -> None:
    assert settings(arrived=arrived).dog.arrived == datetime.fromisoformat(instant)


# --- There and back -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "answers",
    [
        {},
        {"name": "Bramble", "weight": "8.25", "age": "senior", "sex": "male", "neutered": "no"},
        {"prone": "yes", "history": "kennel", "vet": "booked", "pads": "yes", "cue": "go on"},
        {"zone": "America/New_York", "up": "05:00", "bed": "01:00", "meals": "06:00,18:00,23:00"},
        {"people": "Mina, Otto", "spot": "old oak", "workdays": "mon,wed", "leave": "09:00"},
        {"workdays": "sat", "leave": "22:00", "return": "06:00", "absent-from": "9"},
        {"helpers": "Mina 11:00-15:00 12.50; Otto 9:00-18:00", "bell": "no", "glyphs": "ascii"},
        {"arrived": "2026-10-25T02:30+01:00", "risk": "careful"},
        {"weight": "119.99"},
        {"conditions": "operated, medicine"},
    ],
)
def test_settings_survive_the_round_trip(answers: dict[str, Any]) -> None:
    made = settings_from({**{"zone": "Europe/Oslo"}, **answers}, NOW)
    again = answers_from(made)
    assert set(again) == set(BY_KEY)
    assert settings_from(again, NOW + timedelta(days=5)) == made
    assert answers_from(settings_from(again, NOW)) == again


def test_a_household_whose_food_is_always_there_writes_none() -> None:
    grazing = settings(meals="none")
    assert grazing.home.meals == ()
    assert answers_from(grazing)["meals"] == "none"


def test_phone_numbers_come_back_as_they_were_written_the_vet_first() -> None:
    made = settings(numbers="Mina 01632 960003, Night vet (020) 7946 0002; vet: 01632 960001")
    assert [number.name for number in made.home.numbers] == ["vet", "Night vet", "Mina"]
    words = "vet 01632 960001; Night vet (020) 7946 0002; Mina 01632 960003"
    assert answers_from(made)["numbers"] == words
    assert settings(numbers=words) == made
    assert settings(numbers="").home.numbers == ()
    assert "Write the name first: Vet 01632 960001" in problem("numbers", "01632 960001 Vet")
