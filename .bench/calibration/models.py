"""Other beliefs about a hold, read from the same logs: does the choice of the curve matter?

Every model sees, each morning, the holds awake of the days before, older ones weighing less as in
the board; what it predicts for the holds of that day is set beside what came. With the factor of
the dog's own tally and without.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from math import erf, exp, inf, log, sqrt
from typing import NamedTuple

from pottyboard.core.engine.history import History
from pottyboard.core.estimate.learning import (
    NO_TALLY,
    Estimate,
    Tally,
    censored_hold,
    estimate_of,
    hold_minutes,
    hold_prior,
    holds_by_day,
)
from pottyboard.core.log.waits import Hold
from pottyboard.core.model import priors
from pottyboard.core.statistics.posterior import Prior
from pottyboard.core.statistics.survival import CensoredTime

Survival = Callable[[float, float, float], float]
"""The share of waits that last past a time, by the time, the middle and the sharpness."""


class Sum(NamedTuple):
    """What was predicted, and what came, over some holds."""

    predicted: float = 0.0
    came: float = 0.0

    def and_more(self, predicted: float, came: float) -> Sum:
        """Return it with one more day."""
        return Sum(self.predicted + predicted, self.came + came)


def weibull(time: float, middle: float, shape: float) -> float:
    """Return the survival of a Weibull law."""
    return exp(-log(2) * float((time / middle) ** shape))


def log_logistic(time: float, middle: float, shape: float) -> float:
    """Return the survival of a log-logistic law: its risk falls again after a peak."""
    return 1 / (1 + float((time / middle) ** (1.3 * shape)))


def log_normal(time: float, middle: float, shape: float) -> float:
    """Return the survival of a log-normal law with the spread of a Weibull of that shape."""
    return 1.0 if time <= 0 else (1 - erf(log(time / middle) * shape / 1.28 / sqrt(2))) / 2


_MIDDLES = tuple(40 * 1.09**place for place in range(40))
_SHAPES = (1.5, 2.0, 2.7, 3.6, 4.8, 6.3, 8.4)
_LEAST = 1e-12


class Joint:
    """Middle and sharpness learned together, on a grid, by one law."""

    def __init__(self, law: Survival, prior: Prior) -> None:
        self.law = law
        self.grid = tuple(product(_MIDDLES, _SHAPES))
        self.seen: list[tuple[float, list[float]]] = []
        self.before = [
            -0.5 * (log(middle / prior.median) / prior.median_spread) ** 2
            - 0.5 * (log(shape / prior.shape) / prior.shape_spread) ** 2
            for middle, shape in self.grid
        ]

    def a_day_later(self, times: Sequence[CensoredTime]) -> None:
        """Take in a day's holds; all of them are a day older then."""
        rows = [(time.weight, self._likelihood(time)) for time in times]
        keep = float(priors.KEPT_A_DAY)
        self.seen = [(weight * keep, row) for weight, row in (*self.seen, *rows)]

    def _likelihood(self, time: CensoredTime) -> list[float]:
        low, high = time.low, time.high
        if high - low < 1:
            low, high = max(0.0, high - 0.5), high + 0.5
        open_end = high == inf
        return [
            log(max(_LEAST, self.law(low, m, k) - (0.0 if open_end else self.law(high, m, k))))
            for m, k in self.grid
        ]

    def curve(self) -> Callable[[float], float]:
        """Return the chance of an accident by a time."""
        logs = list(self.before)
        for weight, row in self.seen:
            for place, one in enumerate(row):
                logs[place] += weight * one
        best = max(logs)
        weights = [exp(one - best) for one in logs]
        total = sum(weights)
        kept = [
            (weight / total, *pair)
            for weight, pair in zip(weights, self.grid, strict=True)
            if weight > 1e-5 * total
        ]
        return lambda time: 1 - sum(weight * self.law(time, m, k) for weight, m, k in kept)


def _fixed_shapes(estimate: Estimate) -> Callable[[float], float]:
    return estimate.hold.conditional().chance_by


LAWS: dict[str, Survival] = {
    "Weibull, joint": weibull, "log-logistic": log_logistic, "log-normal": log_normal,
}  # fmt: skip
MODELS = ("the board", *LAWS)


def replayed(history: History) -> dict[str, tuple[Sum, Sum]]:
    """Return for each model its sums without and with the factor, over the holds of a log."""
    dog = history.settings.dog
    prior = hold_prior(dog)
    joints = {name: Joint(law, prior) for name, law in LAWS.items()}
    tallies = dict.fromkeys(MODELS, NO_TALLY)
    sums = dict.fromkeys(MODELS, (Sum(), Sum()))
    evidence = None
    for day in history.days:
        holds = holds_by_day(day.holds)
        if evidence is not None and evidence.holds >= priors.HOLDS_TO_SPEAK:
            curves = {name: joint.curve() for name, joint in joints.items()}
            curves["the board"] = _fixed_shapes(estimate_of(dog, evidence.a_day_older()))
            came = float(sum(hold.indoors for hold in holds))
            for name in MODELS:
                bare, corrected = sums[name]
                expected = sum(_hazard(curves[name], hold) for hold in holds)
                factor = tallies[name].factor
                sums[name] = (
                    bare.and_more(expected, came),
                    corrected.and_more(factor * expected, came),
                )
                tallies[name] = (tallies[name] + Tally(expected, came)).a_day_older()
        for joint in joints.values():
            joint.a_day_later([censored_hold(hold) for hold in holds])
        evidence = day.evidence_so_far
    return sums


def _hazard(curve: Callable[[float], float], hold: Hold) -> float:
    chance = curve(hold_minutes(hold.awake, hold.asleep))
    return -log(max(_LEAST, 1 - chance))
