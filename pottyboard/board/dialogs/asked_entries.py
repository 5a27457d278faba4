"""Entries that need more than one key: which questions they ask, and the details from the answers.

Every function takes what is known and returns questions with defaults that fit the moment, so that
Enter alone is nearly always right.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, Final

from pottyboard.board.dialogs.questions import Answers, Ask, Choice
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH, name_of
from pottyboard.core.accidents.pads import REMOVED
from pottyboard.core.model import figures
from pottyboard.core.model.describe import FINDING_WORDS
from pottyboard.core.model.events import FINDINGS, KINDS, PAD, kind_named
from pottyboard.core.model.localtime import minutes_of, read_span, span_words
from pottyboard.core.model.permitted import check_interval, check_note, read_millilitres
from pottyboard.core.model.settings import Dog, Settings
from pottyboard.core.view.situation import Job, Situation

EMERGENCY: Final = "straining"
"""The finding about which nobody should be asked more: it is for the phone."""

NOT_MEASURED: Final = ""
_MOST_MILLILITRES: Final = 10_000
_FINDING_KEYS: Final = dict(zip(FINDINGS, "sbpmvlfitdo", strict=True))


def sleep_asks(settings: Settings, at: datetime, again: tuple[str, ...]) -> tuple[Ask, ...]:
    """Return whether the dog settled for a nap or the night; the default goes by the clock.

    ``again`` are the keys that asked: pressed once more they take the default.
    """
    return (
        Ask("sleep", "Asleep for", (
            Choice("n", "nap", "a nap"),
            Choice("t", "night", "the night"),
        ), "night" if _is_night(settings, at) else "nap", again=again),
    )  # fmt: skip


def _is_night(settings: Settings, at: datetime) -> bool:
    """Whether ``at`` lies between the last thing of an evening and the planned getting up."""
    minutes, day = minutes_of(at), at.astimezone(settings.zone).date()
    to_bed = settings.bed_on(day) - minutes
    return to_bed <= figures.LAST_THING_FROM or minutes < settings.up_on(day)


def back_asks(situation: Situation, at: datetime) -> tuple[Ask, ...]:
    """Return how the dog was while alone, nothing after the first minute: that tells nothing."""
    since = situation.alone_since
    if since is None or at - since <= timedelta(minutes=figures.PRACTICE_FIRST):
        return ()
    alone = span_words((at - since).total_seconds() / 60)
    return (
        Ask("how", f"How was it, {alone} alone?", (
            Choice("c", "calm", "calm"),
            Choice("u", "uneasy", "uneasy: pacing, whining at first"),
            Choice("d", "distressed", "distressed: barking, panting, damage"),
        ), "calm"),
    )  # fmt: skip


def duty_asks(situation: Situation) -> tuple[Ask, ...]:
    """Return who takes over, the next person as default."""
    people = situation.settings.home.people
    choices = tuple(
        Choice(str(number), name, one_line(name, NAME_WIDTH))
        for number, name in enumerate(people, 1)
    )
    return (Ask("by", "On duty from now", choices, next_on_duty(situation)),)


def next_on_duty(situation: Situation) -> str:
    """Return the person after the one on duty, in the order of the set-up."""
    people = situation.settings.home.people
    if situation.on_duty not in people:
        return people[0]
    return people[(people.index(situation.on_duty) + 1) % len(people)]


SURE: Final = {"sure": "yes"}
"""The answers to :func:`sure_asks` of somebody who is."""


def sure_asks(question: str, default: str = "no") -> tuple[Ask, ...]:
    """Return a question answered by yes or no; with no as default Enter alone changes nothing."""
    return (
        Ask("sure", question, (
            Choice("y", "yes", "yes"),
            Choice("n", "no", "no, leave everything as it is"),
        ), default),
    )  # fmt: skip


ALL_SPOTS: Final = "all"


def cleaned_asks(jobs: tuple[Job, ...]) -> tuple[Ask, ...]:
    """Return which of several spots was cleaned; all of them as default."""
    spots = tuple(
        Choice(str(number), job.about, one_line(job.name, 48))
        for number, job in enumerate(jobs[:8], 1)
    )
    return (Ask("about", "Cleaned", (*spots, Choice("a", ALL_SPOTS, "all of them")), ALL_SPOTS),)


def answer_asks(job: Job) -> tuple[Ask, ...]:
    """Return what a question of the board can be answered with; the default claims no more than
    the log says already."""
    choices = (Choice(kind[0], kind, KINDS[kind].words) for kind in job.answers)
    default = "found" if "found" in job.answers else job.answers[0]
    return (Ask("kind", one_line(job.name, 48), tuple(choices), default),)


def measure_asks(job: Job, again: tuple[str, ...]) -> tuple[Ask, ...]:
    """Return the changes of the routine that a question of the board can be answered with, its
    first as default; ``again`` are the keys that asked, which take it too."""
    words = {
        "own-log": Choice("k", "own-log", "keep it: its own log calls"),
        "fixed-reasons": Choice("f", "fixed-reasons", "the fixed reasons, until you ask again"),
    }
    choices = tuple(words[measure] for measure in job.measures)
    return (Ask("measure", "From now on", choices, job.measures[0], again=again),)


def calls_asks(situation: Situation) -> tuple[Ask, ...]:
    """Return what can be turned of that which calls a break of a known dog; nothing as default."""
    choices = (
        Choice(str(number), call.measure, call.change)
        for number, call in enumerate(situation.calls, 1)
    )
    return (Ask("measure", "Change to", (*choices, Choice("0", "", "leave it as it is"))),)


def not_known(situation: Situation) -> str:
    """Return that there is nothing to choose yet, and why."""
    name = name_of(situation.settings)
    return f"The board does not know {name} yet: the fixed reasons of the first days call."


def note_asks() -> tuple[Ask, ...]:
    """Return the line for a note."""
    return (Ask("note", "Note", read=check_note),)


def other_asks(settings: Settings) -> tuple[Ask, ...]:
    """Return the entries that have no key of their own, and what each needs.

    What went on the pad is asked for where one is used.
    """
    on_pad = (
        Choice("e", "pee", "pee on the pad"),
        Choice("o", "poop", "poop on the pad"),
    )

    def of(kind: str) -> Callable[[Answers], bool]:
        return lambda answers: answers.get("kind") == kind

    def finds(finding: str) -> Callable[[Answers], bool]:
        return lambda answers: answers.get("finding") == finding

    return (
        Ask("kind", "Other entry", (
            Choice("h", "health", "health note: what was seen"),
            Choice("b", "bowl", "water bowl filled, with amounts"),
            Choice("v", "vet", "seen by the vet"),
            Choice("p", "pad", "pad changed or moved"),
            *on_pad * settings.home.pads,
            Choice("i", "interval", "an interval of your own"),
        ), "health"),
        Ask("finding", "What was seen?", _findings(), "other", when=of("health")),
        Ask("note", "What was noticed?", read=check_note, when=finds("other")),
        Ask("note", "A few words about it; may be empty", read=_line_or_none,
            when=lambda answers: answers.get("finding", "other") not in ("other", EMERGENCY)),
        Ask("ml", "Filled in, millilitres", _amounts(250, 500, 750, 1000), "500", _millilitres,
            when=of("bowl")),
        Ask("rest", "Left in it before", (
            Choice("e", "0", "nothing, it was empty"),
            *_amounts(100, 200, 300),
            Choice("n", NOT_MEASURED, "not measured"),
        ), NOT_MEASURED, _millilitres, when=of("bowl")),
        Ask("place", "The pad was", (
            Choice("c", "", "changed"),
            Choice("m", "nearer the door", "moved nearer the door"),
            Choice("r", REMOVED, "taken up for good"),
        ), "", when=of("pad")),
        Ask("minutes", "Interval, such as 90 or 1h30", read=_interval_reader(settings.dog),
            when=of("interval")),
    )  # fmt: skip


def other_details(answers: Answers) -> dict[str, Any]:
    """Return the fields of an entry from the answers to :func:`other_asks`."""
    details: dict[str, Any] = {
        name: answers[name] for name in ("finding", "note") if name in answers
    }
    for name in ("ml", "rest"):
        if answers.get(name, NOT_MEASURED) != NOT_MEASURED:
            details[name] = float(answers[name])
    if "minutes" in answers:
        details["minutes"] = float(answers["minutes"])
    if answers.get("place"):
        details["place"] = answers["place"]
    if kind_named(answers["kind"]).is_outing:
        details["place"] = PAD
    return details


def _findings() -> tuple[Choice, ...]:
    return tuple(
        Choice(key, finding, FINDING_WORDS[finding]) for finding, key in _FINDING_KEYS.items()
    )


def _amounts(*millilitres: int) -> tuple[Choice, ...]:
    return tuple(
        Choice(str(number), str(amount), f"{amount} ml")
        for number, amount in enumerate(millilitres, 1)
    )


def _millilitres(text: str) -> str:
    amount = read_millilitres(text)
    if amount is None or not 0 <= amount <= _MOST_MILLILITRES:
        raise ValueError(f"Type millilitres, from 0 to {_MOST_MILLILITRES}.")
    return f"{amount:g}"


def _line_or_none(text: str) -> str:
    return check_note(text, needed=False) if text.strip() else ""


def _interval_reader(dog: Dog) -> Callable[[str], str]:
    return lambda text: f"{check_interval(read_span(text), dog):g}"
