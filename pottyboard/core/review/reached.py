"""What was reached, beside what is commonly expected, and round beside round."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from itertools import groupby
from typing import Final

from msgspec import Struct

from pottyboard.core.engine.days import Day
from pottyboard.core.model import figures
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.sentence import Number, Sentence, bare, count, length, sentence, share
from pottyboard.core.statistics.proportion import bound_after_none
from pottyboard.core.view.situation_views import Situation

MONTH: Final = 30
"""Days that a month is taken for."""


class Round(Struct, frozen=True):
    """One round of the programme: its days, counted; ``first_interval`` and ``interval`` (min) are
    those of its first and its last evening, ``best`` its most clear days in a row."""

    number: int
    first: date
    last: date
    days: int
    clear: int
    mishaps: int
    unknown: int
    outings: int
    accidents: int
    first_interval: int
    interval: int
    best: int


class Milestone(Struct, frozen=True):
    """A number of clear days in a row that somebody calls reliable, and how many there are now."""

    words: str
    have: int
    need: int
    source: str

    @property
    def is_reached(self) -> bool:
        """Whether there are enough."""
        return self.have >= self.need


class Expected(Struct, frozen=True):
    """What is commonly expected, in one sentence, and who says so."""

    words: str
    source: str


class Reached(Struct, frozen=True):
    """What was reached in the present round, on its ``day``-th day.

    ``story`` says it in sentences, without overclaiming; ``milestones`` and ``expected`` set it
    beside what others call reliable.
    """

    day: int
    story: tuple[Sentence, ...]
    milestones: tuple[Milestone, ...]
    expected: tuple[Expected, ...]


def rounds(days: Sequence[Day]) -> tuple[Round, ...]:
    """Return the rounds of the whole record, the present one last."""
    return tuple(
        _round(number, tuple(run))
        for number, (_, run) in enumerate(groupby(days, lambda day: day.round_from), 1)
    )


def _round(number: int, days: tuple[Day, ...]) -> Round:
    verdicts = Counter(day.verdict for day in days)
    return Round(
        number=number,
        first=days[0].plan.date,
        last=days[-1].plan.date,
        days=len(days),
        clear=verdicts["clear"],
        mishaps=verdicts["accident"],
        unknown=verdicts["unknown"],
        outings=sum(len(day.outings) for day in days),
        accidents=sum(day.summary.accidents for day in days),
        first_interval=round(days[0].interval),
        interval=round(days[-1].interval),
        best=max(day.streak for day in days),
    )


def reached(settings: Settings, seen: Situation, present: Round) -> Reached:
    """Return what the ``present`` round has reached."""
    streak, six = seen.streak_days, figures.HOUSE_TRAINED_WEEKS
    two = figures.CLEAN_MONTHS
    return Reached(
        day=present.days,
        story=(*_so_far(present), *_bound(streak), _interval(seen, present)),
        milestones=(
            Milestone(
                "two clear weeks in a row",
                streak,
                int(figures.PROGRAMME_DAYS),
                "our own choice: a good start",
            ),
            Milestone(
                f"{six:g} clear weeks: reliable, in rescue practice",
                streak,
                int(six * 7),
                "Ahimsa Rescue Foundation",
            ),
            Milestone(
                f"{two:g} clear months: what one study calls house-trained",
                streak,
                int(two * MONTH),
                figures.LEARN,
            ),
        ),
        expected=tuple(_expected(settings)),
    )


def _so_far(present: Round) -> list[Sentence]:
    again = "" if present.number == 1 else " of round {round}"
    over = present.clear + present.mishaps + present.unknown == present.days
    said = [
        sentence(
            "round",
            "{day}"
            + again
            + ": {clear} clear, {mishaps} with an accident, {unknown} unknown"
            + ("." if over else "; today is not over yet."),
            Number("day", present.days, f"Day {present.days}"),
            bare("round", present.number),
            count("clear", present.clear, "day"),
            bare("mishaps", present.mishaps),
            bare("unknown", present.unknown),
        )
    ]
    if present.accidents:
        said.append(
            sentence(
                "rate",
                "{accidents} in {outings}; the best run was {best} in a row.",
                count("accidents", present.accidents, "accident"),
                count("outings", present.outings, "outing"),
                count("best", present.best, "clear day"),
            )
        )
    return said


def _bound(streak: int) -> list[Sentence]:
    if not streak:
        return []
    return [
        sentence(
            "bound",
            "{streak} in a row by this plan. So few days prove little: of days kept like these up "
            "to {bound} could still have an accident.",
            count("streak", streak, "clear day"),
            share("bound", bound_after_none(streak)),
        )
    ]


def _interval(seen: Situation, present: Round) -> Sentence:
    return sentence(
        "interval",
        "The interval is {interval}; this round began with {start}, and the board goes no further "
        "than {top}; for longer, set it yourself.",
        length("interval", seen.interval.minutes),
        length("start", present.first_interval),
        length("top", seen.interval.top),
    )


def _expected(settings: Settings) -> list[Expected]:
    least, most = figures.RETRAIN_WEEKS_LEAST, figures.RETRAIN_WEEKS_MOST
    said = [
        Expected(
            f"Retraining an adult dog takes {least:g} to {most:g} weeks on a strict plan: "
            "two weeks are the beginning.",
            figures.AHIMSA,
        ),
        Expected(
            "A dog with more than one accident every couple of months is not house-trained yet.",
            figures.AHIMSA,
        ),
    ]
    dog = settings.dog
    if dog.weight_kg <= figures.TRAINED_SMALL_KG:
        said.append(
            Expected(
                f"Of dogs up to {figures.TRAINED_SMALL_KG:g} kg, {figures.TRAINED_SMALL:.0%} were "
                f"house-trained in a survey of owners, of those from {figures.TRAINED_LARGE_KG:g} "
                f"kg {figures.TRAINED_LARGE:.0%}: small dogs need more patience.",
                figures.LEARN,
            )
        )
    return said
