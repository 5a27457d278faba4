"""What each level of care means for one dog: breaks and accidents a day, as the log stands.

A typical day at home is planned under each limit by the rules as they are, and each break is taken
to be kept a little late. It costs a few plans of a day: pages ask for it, the situation does not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final, get_args

from msgspec import Struct, structs

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import NO_TALLY, Estimate, estimate_of
from pottyboard.core.log.state import LogState
from pottyboard.core.model import priors
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words, minutes_of
from pottyboard.core.model.plan import plan_for
from pottyboard.core.model.settings import Risk, Settings
from pottyboard.core.statistics.gamma import gamma_quantile
from pottyboard.core.view.timeline import steps_ahead

_DAYS: Final = 4
"""The last whole days whose outings are counted."""
_FEWEST_DAYS: Final = 2
_RANGE: Final = 0.8
"""The chance that the true rate lies within what is said."""
_RARE: Final = 1 / 30
"""A rate a day under which no number of days is named."""
_DAILY: Final = 2 / 3
"""A rate from which on it reads as one a day: one in 2 days is nearer below it."""


class Level(Struct, frozen=True):
    """One level: how many ``breaks`` and how many ``accidents`` (by day) a day at home has."""

    level: Risk
    breaks: float
    accidents: float


class LevelMeaning(Struct, frozen=True):
    """What the levels mean for this dog; ``levels`` is empty while it is too early to say.

    ``own`` is the household's level. By day ``predicted`` pees indoors were expected up to now and
    ``had`` came; ``low`` and ``high`` are what the rates may be multiplied with. ``words`` say what
    the own level means, ``others`` the other two, ``so_far`` what came true; empty where unknown.
    """

    own: Risk
    levels: tuple[Level, ...]
    predicted: float
    had: int
    low: float
    high: float
    words: str
    others: str = ""
    so_far: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """All that is said, in order."""
        return tuple(filter(None, (self.words, self.so_far, self.others)))

    @property
    def brief(self) -> str:
        """All three levels in one line."""
        if not self.levels:
            return self.words
        each = (
            f"{one.level} {round(one.breaks)} breaks a day and {_accidents(one)}"
            for one in self.levels
        )
        return f"as the log stands {'; '.join(each)}"


def level_meaning(settings: Settings, events: Iterable[Event], now: datetime) -> LevelMeaning:
    """Return what each level means for this dog at ``now`` (aware), from all ``events`` so far."""
    history = History.of(settings, events, minutes_of(now))
    today, own = history.today, settings.board.risk
    estimate = estimate_of(settings.dog, today.evidence_so_far)
    predicted, had = predicted_and_had(history.days)
    if not estimate.knows_dog or today.plan.number < priors.KNOWN_FROM_DAY:
        holds, enough = today.evidence_so_far.holds, int(priors.HOLDS_TO_KNOW)
        words = (
            f"Too soon to say what {own} means for {settings.dog.name}: it takes {enough} waits "
            f"({holds} so far) and day {priors.KNOWN_FROM_DAY:g}."
        )
        return LevelMeaning(own, (), predicted, had, 1.0, 1.0, words)
    planned = {level: _typical_day(settings, today, estimate, level) for level in get_args(Risk)}
    more = _outings_of_late(history.days, planned[own].breaks) - planned[own].breaks
    levels = tuple(
        structs.replace(one, breaks=max(1.0, one.breaks + more)) for one in planned.values()
    )
    shape = priors.TALLY_HAD + today.evidence_so_far.tally.had
    low, high = (gamma_quantile(shape, 0.5 + side * _RANGE / 2) for side in (-1, 1))
    mine = next(one for one in levels if one.level == own)
    rest = [one for one in levels if one.level != own]
    return LevelMeaning(
        own=own,
        levels=levels,
        predicted=predicted,
        had=had,
        low=low,
        high=high,
        words=_own_words(mine, low, high),
        others=_others_words(mine, rest),
        so_far=_so_far(predicted, had),
    )


def predicted_and_had(days: Sequence[Day]) -> tuple[float, int]:
    """Return how many pees indoors by day were predicted up to now, each day as it was corrected
    that morning, and how many came."""
    predicted = had = 0.0
    tallies = [NO_TALLY, *(day.evidence_so_far.tally for day in days)]
    for before, after in pairwise(tallies):
        morning = before.a_day_older()
        predicted += morning.factor * (after.predicted - morning.predicted)
        had += after.had - morning.had
    return predicted, round(had)


def _typical_day(settings: Settings, today: Day, estimate: Estimate, level: Risk) -> Level:
    """Return the breaks and the accidents of a day with somebody home, planned under a limit."""
    settings = structs.replace(settings, board=structs.replace(settings.board, risk=level))
    plan = plan_for(settings, today.plan.date + timedelta(days=1), ())
    plan = structs.replace(plan, absences=())
    up = plan.start
    facts = LogState(
        last_pee=up, last_poop=today.facts.last_poop, last_out=up, bare_out=up, last_success=up,
        last_active=up, woke=up, measures=today.facts.measures,
    )  # fmt: skip
    context = RuleContext(facts, plan, settings, today.interval, up, estimate)
    breaks, accidents = 1, 0.0
    for ahead, at_break in steps_ahead(context):
        if ahead.at > plan.bed:
            break
        if ahead.kind == "break":
            late, risk = at_break.kept_late(ahead.at), at_break.risk
            chance = 0.0 if risk is None else risk.chance_by(ahead.at + late)
            breaks, accidents = breaks + 1, accidents - math.log1p(-min(chance, 1 - 1e-9))
    return Level(level, float(breaks), accidents)


def _outings_of_late(days: Sequence[Day], planned: float) -> float:
    """Return the mean of the outings on the last whole days of a known dog; as ``planned`` where
    there are too few."""
    counted = [
        len(day.outings)
        for before, day in pairwise(days[:-1])
        if day.verdict in ("clear", "accident")
        and before.evidence_so_far.holds >= priors.HOLDS_TO_KNOW
        and day.plan.number >= priors.KNOWN_FROM_DAY
    ][-_DAYS:]
    return sum(counted) / len(counted) if len(counted) >= _FEWEST_DAYS else planned


# --- In words -------------------------------------------------------------------------------------


def _own_words(mine: Level, low: float, high: float) -> str:
    """Return what the level in force means, with the range of the accidents."""
    often, rarely = _every(mine.accidents * high), _every(mine.accidents * low)
    return (
        f"{mine.level.capitalize()}: about {round(mine.breaks)} breaks a day at home and, as the "
        f"log stands, {_accidents(mine)}; so few days leave it between {often} and {rarely}. "
        "That is no promise."
    )


def _others_words(mine: Level, rest: Sequence[Level]) -> str:
    """Return what the other levels would mean; where the interval calls first, that they do not."""
    if all(
        _other_words(one) == _other_words(structs.replace(mine, level=one.level)) for one in rest
    ):
        names = " and ".join(one.level for one in rest).capitalize()
        return f"{names} would mean the same now: the interval calls before the chance does."
    return " ".join(_other_words(one) for one in rest)


def _other_words(other: Level) -> str:
    breaks = f"about {round(other.breaks)} breaks a day"
    return f"{other.level.capitalize()}: {breaks}, {_accidents(other)}."


def _accidents(level: Level) -> str:
    return f"about {_every(level.accidents).replace('one', 'one accident')}"


def _every(rate: float) -> str:
    """Return a rate a day as a number of days, no finer than it is known."""
    if rate >= _DAILY:
        return "one a day" if rate < 1 + _DAILY else "several a day"
    if rate < _RARE:
        return "one in a month or more"
    days = 1 / rate
    return f"one in {round(days) if days < 10 else 5 * round(days / 5)} days"


def _so_far(predicted: float, had: int) -> str:
    pees = count_words(round(predicted), "pee") if predicted >= 0.95 else "less than one pee"
    return f"Predicted up to today: {pees} indoors by day; had: {had or 'none'}."
