"""Meals on a day with an absence: moved where that spares the dog, with the reason.

The meal before leaving gets a lead of about 3 h where the household is up early enough. Otherwise
the break before leaving has to come after the dog's digestion time, if need be with an earlier
meal; failing that, a visit covers the after-meal break. A meal that falls into an absence is given
before leaving or on return, whichever is nearer and can be.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.absence import Absence, Span
from pottyboard.core.model.localtime import Minutes, span_words
from pottyboard.core.model.settings import Settings


class Feeding(Struct, frozen=True):
    """One meal of the routine: when it is ``usual``, when it is given, and why it was moved."""

    usual: Minutes
    at: Minutes
    words: str = ""

    @property
    def moved(self) -> bool:
        """Whether it is given at another time than usual."""
        return self.at != self.usual


def feedings(
    settings: Settings, day: date, alone: Sequence[Absence], digestion: float
) -> tuple[Feeding, ...]:
    """Return the meals of ``day`` in order, around the times ``alone`` that begin on it (in order).

    ``digestion`` is how many minutes after a meal the dog needs to go.
    """
    meals = settings.meals_on(day)
    first = settings.up_on(day) + figures.MEAL_AFTER_UP
    latest = settings.bed_on(day) - figures.MEAL_BEFORE_BED
    fed: list[Feeding] = []
    for index, usual in enumerate(meals):
        earliest = first
        if fed:
            apart = min(figures.MEALS_APART, usual - meals[index - 1])
            room = max(0.0, latest - fed[-1].at) / (len(meals) - index)
            earliest = fed[-1].at + min(apart, room // figures.VISIT_GRID * figures.VISIT_GRID)
        following = meals[index + 1] if index + 1 < len(meals) else float("inf")
        at = max(usual, min(earliest, latest))
        words = "" if at == usual else "later, to keep the meals apart"
        for absence in alone:
            last = absence.leave - figures.BEFORE_LEAVING
            if absence.leave <= at < absence.back and at - last < absence.back - at:
                # Rather before leaving than hours later, if there is still time.
                at, words = (last, "before leaving") if last >= earliest else (at, words)
            if absence.leave > at:
                if absence.leave <= following:
                    better = _before_leaving(at, earliest, absence.leave, digestion)
                    at, words = better or (at, words)
                break
            if absence.back > at:
                at, words = absence.back + figures.MEAL_AFTER_UP, "on return"
            earliest = max(earliest, absence.back + figures.MEAL_AFTER_UP)
        fed.append(Feeding(usual, at, words))
    return tuple(fed)


def _before_leaving(
    at: Minutes, earliest: Minutes, leave: Minutes, digestion: float
) -> tuple[Minutes, str] | None:
    """Return the better time for the last meal before leaving, None if it can stay (or has to)."""
    if leave - at >= figures.MEAL_LEAD:
        return None
    if leave - figures.MEAL_LEAD >= earliest:
        return leave - figures.MEAL_LEAD, f"{span_words(figures.MEAL_LEAD)} before leaving"
    last_break = leave - figures.BEFORE_LEAVING + figures.SERVES_WITHIN
    if last_break >= at + digestion or last_break - digestion < earliest:
        return None
    return last_break - digestion, "earlier, so that the break before leaving covers it"


def after_meal(
    fed: Sequence[Feeding], absence: Absence, digestion: float
) -> tuple[Span, Minutes] | None:
    """Return when a break has to follow the last meal before an absence, and that meal.

    From the dog's digestion time (or up to 10 min before) to the lead that the meal should have
    had. None where the absence begins later than that.
    """
    meal = max((f.at for f in fed if f.at <= absence.leave), default=None)
    if meal is None:
        return None
    opens = meal + digestion - figures.SERVES_WITHIN
    closes = meal + max(figures.MEAL_LEAD, digestion + figures.LATE)
    return None if closes <= absence.leave else ((opens, closes), meal)
