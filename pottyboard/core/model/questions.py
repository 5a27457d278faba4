"""The questions of the set-up: one table for the form, the command line and the settings file.

An answer is text, as a person writes it. :func:`settings_from` turns answers into
:class:`~pottyboard.core.model.settings.Settings` and names each field that does not fit;
:func:`answers_from` turns settings back into the same text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, time
from typing import Any, Final, Literal

from msgspec import Struct
from pendulum import Timezone

from pottyboard.core.model import figures
from pottyboard.core.model.alarms import (
    NOTICES,
    alarm_answers,
    alarms_from,
    read_notifier,
    read_quiet,
)
from pottyboard.core.model.localtime import TimeError, only_instant, read_when, zone_named
from pottyboard.core.model.rota import (
    helpers_words,
    other_days_words,
    own_hours_words,
    read_helpers,
    read_other_days,
    read_own_hours,
)
from pottyboard.core.model.settings import Board, Condition, Dog, Home, Settings, Work
from pottyboard.core.written.amounts import read_weight
from pottyboard.core.written.clocks import read_clock, read_clocks
from pottyboard.core.written.lines import choice_reader, line_reader, read_names, read_yes
from pottyboard.core.written.numbers import FORM, numbers_words, read_numbers
from pottyboard.core.written.weekdays import days_words, read_days

CONDITION_WORDS: Final[dict[Condition, str]] = {
    "water-medicine": "medicine",
    "in-heat": "in heat",
    "operated": "operated",
}
"""How each condition of the dog is written in an answer."""

GRAZING: Final = frozenset(
    {"none", "no", "grazing", "grazes", "always", "always there", "food always there",
     "food is always there", "free feeding"}
)  # fmt: skip
"""How people answer the question for meals where food is always there."""

Section = Literal["dog", "home", "routine", "board"]


class SettingsError(ValueError):
    """Answers that do not fit: ``problems`` holds a message for each key."""

    def __init__(self, problems: Mapping[str, str]) -> None:
        """Keep the messages by key."""
        self.problems = dict(problems)
        super().__init__("; ".join(f"{key}: {words}" for key, words in problems.items()))


class Question(Struct, frozen=True):
    """One question: its ``key`` (also the option ``--key``), its words and how to read it.

    ``default`` is the answer that Enter accepts; ``choices`` the only answers, where there are
    few; ``read`` returns the value or raises ``ValueError`` with a message. Where the answer is
    ``dated``, it takes today's local date too.
    """

    key: str
    section: Section
    label: str
    help: str
    default: str
    read: Callable[..., Any]
    choices: tuple[str, ...] = ()
    dated: bool = False


# --- Reading one answer ---------------------------------------------------------------------------


def _weight(answer: str) -> tuple[float, str]:
    """Return the weight in kilograms, and as it was written where that was in pounds."""
    weight = read_weight(answer)
    is_pounds = weight.unit == "lb"
    kilograms = weight.amount * figures.KG_PER_POUND if is_pounds else weight.amount
    low, high = figures.WEIGHT_LEAST_KG, figures.WEIGHT_MOST_KG
    if not low <= kilograms <= high:
        raise ValueError(f"{kilograms:g} kg is no dog's weight: between {low:g} and {high:g} kg.")
    return round(kilograms, 2), weight.written if is_pounds else ""


def _conditions(answer: str) -> frozenset[Condition]:
    said = {" ".join(part.lower().replace("-", " ").split()) for part in answer.split(",")}
    said -= {"", "none", "no"}
    if strangers := said - set(CONDITION_WORDS.values()):
        known = ", ".join(CONDITION_WORDS.values())
        raise ValueError(f"“{min(strangers)}” is none of: {known}; if none, write none.")
    return frozenset(code for code, words in CONDITION_WORDS.items() if words in said)


def _zone(answer: str) -> str:
    return zone_named(answer.strip()).key


def _meals(answer: str) -> tuple[time, ...]:
    if " ".join(answer.lower().split()).rstrip(".") in GRAZING:
        return ()
    meals = tuple(sorted(read_clocks(answer.strip(" ,"))))
    if not 1 <= len(meals) <= figures.MEALS_MOST:
        raise ValueError("Write one to six meal times, such as 07:00,17:30; none: always there.")
    if len(set(meals)) < len(meals):
        raise ValueError("Two meals at the same time: remove one.")
    return meals


def _day_number(answer: str) -> int:
    if not answer.strip().isdecimal() or not 1 <= int(answer) <= 365:
        raise ValueError("Write a day number from 1 (the day of arrival) to 365.")
    return int(answer)


# --- The table ------------------------------------------------------------------------------------


def _pick(
    key: str, section: Section, label: str, help_: str, default: str, choices: tuple[str, ...]
) -> Question:
    return Question(key, section, label, help_, default, choice_reader(choices), choices)


def _yes_no(key: str, section: Section, label: str, help_: str, default: str) -> Question:
    return Question(key, section, label, help_, default, read_yes, ("yes", "no"))


QUESTIONS: Final[tuple[Question, ...]] = (
    Question("name", "dog", "Name", "what you call the dog", "Dog",
             line_reader(40, "Give the dog a name.")),
    Question("weight", "dog", "Weight", "in kg, or in pounds such as 18 lb 6 oz", "12", _weight),
    _pick("age", "dog", "Age", "young is under 12 months", "adult", ("young", "adult", "senior")),
    _pick("sex", "dog", "Sex", "", "female", ("female", "male")),
    _yes_no("neutered", "dog", "Neutered", "", "yes"),
    _yes_no("prone", "dog", "Prone to accidents", "known for it at the shelter, or by breed", "no"),
    _pick("history", "dog", "Came from", "", "unknown",
          ("unknown", "home", "kennel", "outdoors")),
    _pick("vet", "dog", "Vet check", "before training, to rule out illness", "not yet",
          ("not yet", "booked", "done")),
    Question("conditions", "dog", "At present",
             "medicine (one that makes it pee more), in heat, operated (of late); with commas, "
             "or none", "none", _conditions),
    Question("arrived", "dog", "Arrives", "date and time of day 1", "", str),
    Question("zone", "home", "Time zone", "such as Europe/Oslo", "UTC", _zone),
    Question("people", "home", "People", "who takes turns, with commas", "", read_names),
    Question("numbers", "home", "Phone numbers",
             f"vet, night vet, helpers, yourselves: {FORM}", "", read_numbers),
    Question("spot", "home", "Spot outside", "the one place for every break", "", line_reader(60)),
    Question("cue", "home", "Cue word", "said quietly at the spot", "", line_reader(30)),
    _yes_no("pads", "home", "Pads indoors", "a stop-gap: they slow the training outside", "no"),
    Question("up", "routine", "Getting up", "the first break of the day", "06:30", read_clock),
    Question("bed", "routine", "Bedtime", "the last break of the day", "22:30", read_clock),
    Question("meals", "routine", "Meals", "times with commas, or none if food is always there",
             "07:00,17:30", _meals),
    Question("workdays", "routine", "Days away", "such as mon-fri; empty for none", "",
             read_days),
    Question("leave", "routine", "Leaving", "on those days", "08:30", read_clock),
    Question("return", "routine", "Returning", "on those days", "17:00", read_clock),
    Question("absent-from", "routine", "First day away", "day number; 1 is the arrival", "5",
             _day_number),
    Question("own-hours", "routine", "Who has other hours",
             "Ben mon,wed 09:00-13:00; Cleo home; empty if all are away together", "",
             read_own_hours),
    Question("exceptions", "routine", "Exceptions",
             "5 Mar home; Ben 6 Mar to 8 Mar 10:00-12:00", "", read_other_days, dated=True),
    Question("helpers", "routine", "Helpers",
             "name hours, then cost, days, length, notice: Mina 11:00-15:00 €12.50 mon-fri 20min "
             "notice 24h", "", read_helpers),
    _pick("visits", "routine", "Plan visits for", "the fewest, or the least money", "fewest",
          ("fewest", "cheapest")),
    _yes_no("bell", "board", "Bell", "when a break is due, and when it is late", "yes"),
    _pick("notice", "board", "Notice", "shown by the terminal: auto, or the code it understands",
          "auto", NOTICES),
    _yes_no("title", "board", "Window title", "says how long it is to the next break", "yes"),
    Question("notifier", "board", "Notice by program", "its name and options, such as notify-send; "
             "the text comes last", "", read_notifier),
    _yes_no("again", "board", "Ring again", "every 5 min while late, until space: going", "yes"),
    Question("quiet", "board", "Quiet hours",
             "such as 22:30-07:00; a night break, leaving and last thing still ring", "",
             read_quiet),
    _pick("glyphs", "board", "Symbols", "ascii for plain terminals", "drawn", ("drawn", "ascii")),
    _pick("risk", "board", "How careful", "how early the board calls", "balanced",
          ("careful", "balanced", "easy")),
)  # fmt: skip

BY_KEY: Final = {question.key: question for question in QUESTIONS}
NO_LONGER_ASKED: Final = frozenset({"arranged"})
"""Answers of earlier versions, which are read and passed over."""

SPECIAL: Final[Mapping[str, Mapping[str, str]]] = {
    "nothing special": {},
    "senior": {"age": "senior"},
    "prone to accidents": {"prone": "yes"},
    "medicine that makes it drink": {"conditions": "medicine"},
}
"""The one choice of a first start, and the answers that it gives: what changes the first days."""


def left_unanswered(answers: Mapping[str, str]) -> int:
    """Return how many questions a first start has left: none once the routine was answered."""
    return 0 if "up" in answers else len(BY_KEY.keys() - answers.keys())


def default_answers(now: datetime, zone: str) -> dict[str, str]:
    """Return the answer that Enter accepts for each question, for a first start at ``now``."""
    answers = {question.key: question.default for question in QUESTIONS}
    answers["zone"] = zone
    answers["arrived"] = _instant_words(now, zone_named(zone))
    return answers


def _instant_words(instant: datetime, zone: Timezone) -> str:
    """Return local date and time, with the offset in the hour that happens twice."""
    wall = instant.astimezone(zone)
    try:
        only_instant(wall.replace(tzinfo=None), zone)
    except TimeError:
        return wall.isoformat(timespec="minutes")
    return f"{wall:%Y-%m-%d %H:%M}"


def problems_in(answers: Mapping[str, str], now: datetime) -> dict[str, str]:
    """Return a message for each answer that does not fit; empty if all do."""
    try:
        settings_from(answers, now)
    except SettingsError as error:
        return error.problems
    return {}


def settings_from(answers: Mapping[str, str], now: datetime) -> Settings:
    """Return the settings for these answers; raise :class:`SettingsError` naming every problem.

    A missing key takes its default; who has switched the bell off and was never asked about a
    notice gets none. ``now`` is needed for an arrival written as a clock time.
    """
    value, problems = read_each(answers, now)
    if "notice" not in answers and value.get("bell") is False:
        value["notice"] = "no"
    _check_together(value, problems)
    if problems:
        raise SettingsError(problems)
    work = None
    if value["workdays"] or value["own-hours"]:
        work = Work(value["workdays"], value["leave"], value["return"], value["absent-from"])
    return Settings(
        Dog(
            name=value["name"],
            weight_kg=value["weight"][0],
            arrived=value["arrived"],
            age=value["age"],
            sex=value["sex"],
            neutered=value["neutered"],
            prone=value["prone"],
            history=value["history"],
            vet=value["vet"],
            conditions=value["conditions"],
            weight_written=value["weight"][1],
        ),
        Home(
            zone=value["zone"],
            up=value["up"],
            bed=value["bed"],
            meals=value["meals"],
            people=value["people"],
            spot=value["spot"],
            cue=value["cue"],
            pads=value["pads"],
            work=work,
            helpers=value["helpers"],
            own_hours=value["own-hours"],
            other_days=value["exceptions"],
            visits=value["visits"],
            numbers=value["numbers"],
        ),
        Board(alarms=alarms_from(value), glyphs=value["glyphs"], risk=value["risk"]),
    )


def read_each(answers: Mapping[str, str], now: datetime) -> tuple[dict[str, Any], dict[str, str]]:
    """Return the values of the answers that can be read by themselves, and what is wrong with the
    others, by key.
    """
    strange = answers.keys() - BY_KEY.keys() - NO_LONGER_ASKED
    problems = {key: "Not a question of the set-up." for key in answers if key in strange}
    value: dict[str, Any] = {}
    said = {question.key: answers.get(question.key, question.default) for question in QUESTIONS}
    try:
        zone = zone_named(_zone(said["zone"]))
    except ValueError:  # what is wrong with the other answers in any zone still shows
        zone = zone_named("UTC")
    for question in QUESTIONS:
        try:
            also = (now.astimezone(zone).date(),) if question.dated else ()
            value[question.key] = question.read(said[question.key], *also)
        except ValueError as error:
            problems[question.key] = str(error)
    arrived = value.pop("arrived").strip()
    try:
        at_once = now.replace(second=0, microsecond=0)
        value["arrived"] = read_when(arrived, now, zone, "near") if arrived else at_once
        if not -366 * 3 < (value["arrived"] - now).days < 366:
            raise TimeError("More than a year ahead or three years ago: check the date.")
    except TimeError as error:
        problems["arrived"] = str(error)
    return value, problems


def _check_together(value: Mapping[str, Any], problems: dict[str, str]) -> None:
    """Add the problems that only two answers together can have."""
    if value.get("sex") == "male" and "in-heat" in value.get("conditions", ()):
        problems["conditions"] = "A male is never in heat: check this answer and the sex."
    for key in ("own-hours", "exceptions"):
        strangers = {entry.person for entry in value.get(key, ())} - {"", *value.get("people", ())}
        if strangers and "people" not in problems:
            words = f"{min(strangers)} is not among the people: add it to People (--people)."
            problems.setdefault(key, words)
    if {"up", "bed"} <= problems.keys() or not {"up", "bed"} <= value.keys():
        return
    awake = (_minute(value["bed"]) - _minute(value["up"])) % 1440
    if awake < 8 * 60:
        problems.setdefault("bed", "Less than 8 h after getting up: check both times.")
    elif awake > 21 * 60:
        problems.setdefault("bed", "Leaves a night of less than 3 h: check both times.")
    elif "meals" in value:
        for meal in value["meals"]:
            if (_minute(meal) - _minute(value["up"])) % 1440 >= awake:
                problems.setdefault("meals", f"{meal:%H:%M} is in the night: feed by day.")
    if value.get("workdays") and value.get("leave") == value.get("return"):
        problems.setdefault("return", "The same as leaving: give the time of coming back.")


def _minute(clock: time) -> int:
    return clock.hour * 60 + clock.minute


def answers_from(settings: Settings) -> dict[str, str]:
    """Return the answers that :func:`settings_from` reads back into the same settings."""
    dog, home, board = settings.dog, settings.home, settings.board
    work = home.work or Work(frozenset(), time(8, 30), time(17, 0))
    yes = {True: "yes", False: "no"}
    return {
        "name": dog.name,
        "weight": dog.weight_written or f"{dog.weight_kg:g}",
        "age": dog.age,
        "sex": dog.sex,
        "neutered": yes[dog.neutered],
        "prone": yes[dog.prone],
        "history": dog.history,
        "vet": dog.vet,
        "conditions": ", ".join(
            words for code, words in CONDITION_WORDS.items() if code in dog.conditions
        )
        or "none",
        "arrived": _instant_words(dog.arrived, settings.zone),
        "zone": home.zone,
        "people": ", ".join(home.people),
        "numbers": numbers_words(home.numbers),
        "spot": home.spot,
        "cue": home.cue,
        "pads": yes[home.pads],
        "up": f"{home.up:%H:%M}",
        "bed": f"{home.bed:%H:%M}",
        "meals": ",".join(f"{meal:%H:%M}" for meal in home.meals) or "none",
        "workdays": days_words(work.days),
        "leave": f"{work.leave:%H:%M}",
        "return": f"{work.back:%H:%M}",
        "absent-from": str(work.from_day),
        "own-hours": own_hours_words(home.own_hours),
        "exceptions": other_days_words(home.other_days),
        "helpers": helpers_words(home.helpers),
        "visits": home.visits,
        **alarm_answers(board.alarms),
        "glyphs": board.glyphs,
        "risk": board.risk,
    }
