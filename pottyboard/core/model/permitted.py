"""What may be logged: the one check of a new entry, with the same words wherever it was made.

:func:`~pottyboard.core.model.events.check_details` says what an entry can be at all, also one of
long ago that a log brings along. Here stands what nobody can mean who makes one now: a note without
words, an interval that this dog cannot have, a cleaning where nothing is to clean.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.events import ANSWERS, Event, EventError, check_details
from pottyboard.core.model.localtime import span_words
from pottyboard.core.model.settings import Dog

LONGEST_NOTE: Final = 20_000
"""Letters of a note."""
NOTHING_TO_CLEAN: Final = "Nothing to clean."


class Answerable(Struct, frozen=True):
    """What an entry can answer (``Event.about``), each by its id or code, with its words.

    ``to_clean`` are the accidents whose spot is open, ``warnings`` those that stand, ``accidents``
    all that the log holds, ``agreements`` the visits told of; ``questions`` those of the board that
    are open, by the kind of answer.
    """

    to_clean: Mapping[str, str]
    warnings: Mapping[str, str]
    accidents: Mapping[str, str]
    questions: Mapping[str, Mapping[str, str]] = {}
    agreements: Mapping[str, str] = {}


def permitted(event: Event, dog: Dog, answerable: Answerable) -> Event:
    """Return ``event`` if it may be logged now; raise :class:`EventError` that says why not."""
    check_said(event, dog)
    if event.kind == "cleaned":
        _check_cleaned(event, answerable.to_clean)
    elif event.kind == "noted":
        _check_about(event, answerable.warnings, "warning that stands")
    elif event.kind in ANSWERS:
        _check_answer(event, answerable.questions.get(event.kind, {}))
    elif event.is_agreement:
        if event.about or event.kind == "called-off":
            _check_about(event, answerable.agreements, "visit that a helper was told of")
    elif event.about:
        _check_about(event, answerable.accidents, "accident of this log")
    return event


def check_said(event: Event, dog: Dog) -> Event:
    """Return ``event`` if it fits its kind and says what its kind is for.

    Raises :class:`EventError`, whose ``field`` is the one that lacks or does not fit.
    """
    if event.kind == "interval" and event.minutes is not None:
        check_interval(event.minutes, dog)
    check_details(event)
    if event.note or event.kind == "note":
        check_note(event.note, needed=event.kind == "note")
    if event.kind == "health" and event.finding in ("", "other") and not event.note.strip():
        raise EventError("What was seen? Name it, or write a few words.", "finding")
    if event.kind == "interval" and event.minutes is None:
        raise EventError("How long is the interval to be? Write such as 90 or 1h30.", "minutes")
    if event.is_agreement and not event.whom.strip():
        raise EventError("Whose visit? Name the helper.", "whom")
    if event.is_agreement and event.comes is None:
        raise EventError("When does the visit begin?", "comes")
    if event.kind == "routine" and not event.measure:
        raise EventError("Which change of the routine?", "measure")
    return event


def check_note(text: str, *, needed: bool = True) -> str:
    """Return a note that fits; without ``needed`` it may be empty."""
    if needed and not text.strip():
        raise EventError("A note needs a few words.", "note")
    if len(text) > LONGEST_NOTE:
        raise EventError(f"Too long: at most {LONGEST_NOTE} letters.", "note")
    return text


def read_millilitres(text: str) -> float | None:
    """Read an amount of water, None for an empty text; ``EventError`` if it is no number."""
    if not text.strip():
        return None
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise EventError(f"“{text}” is no amount: write millilitres, such as 200.", "ml") from None


def household_limit(dog: Dog) -> float:
    """Return the widest interval that the household may set, in minutes."""
    return figures.MOST_INTERVAL_PRONE if dog.prone else figures.MOST_INTERVAL


def check_interval(minutes: float, dog: Dog) -> float:
    """Return an interval that the household may set for this dog."""
    least, most = figures.FLOOR_INTERVAL, household_limit(dog)
    if not least <= minutes <= most:
        words = f"The interval goes from {span_words(least)} to {span_words(most)} for this dog."
        raise EventError(words, "minutes")
    return minutes


def _check_cleaned(event: Event, to_clean: Mapping[str, str]) -> None:
    if not to_clean:
        raise EventError(NOTHING_TO_CLEAN)
    if event.about:
        _check_about(event, to_clean, "accident to clean up")


def _check_answer(event: Event, asked: Mapping[str, str]) -> None:
    if not asked:
        raise EventError(f"Nothing is asked that “{event.row.words}” answers.")
    _check_about(event, asked, "question that is open")


def _check_about(event: Event, known: Mapping[str, str], what: str) -> None:
    if event.about not in known:
        listed = "; ".join(f"{one} ({words.rstrip('.')})" for one, words in known.items())
        said = f"“{event.about}” is no {what}." if event.about else f"Which {what}?"
        raise EventError(f"{said} Open: {listed or 'none'}.", "about")
