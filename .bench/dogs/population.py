"""The dogs: what differs from one to the next, drawn from a seed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, time
from random import Random

from pottyboard.core.model.settings import Board, Dog, Home, Risk, Settings

MIDNIGHT = datetime(2026, 3, 2, tzinfo=UTC)
"""Midnight that begins day 1; a simulated instant is a minute since then."""
ARRIVAL = 10 * 60
DAYS = 14


@dataclass(frozen=True, slots=True)
class Traits:
    """One dog and its owner.

    ``tolerance`` is the bladder volume (mL/kg) at which an untrained dog goes where it stands;
    ``wobble`` how much that differs from hold to hold (standard deviation of the logarithm);
    ``urine`` what the kidneys make in an hour awake without a long drink (mL/kg); ``thirst`` long
    drinks a day; ``gut`` minutes from a meal to the urge, ``gut_wobble`` its scatter;
    ``stool_patience`` minutes that an urge for stool is held; ``stool_odds`` the chance that a meal
    sets a stool going, ``morning_stool`` that the morning does; ``distraction`` the chance that a
    need is forgotten outside on day 1; ``shows`` the chance that a need shows beforehand;
    ``learning`` the growth of the tolerance on a clear day, ``slip`` its loss with an accident.
    ``slack`` stretches the owner's delays, ``notices`` is the chance that a sign is seen.
    """

    number: int
    weight_kg: float
    prone: bool
    senior: bool
    tolerance: float
    wobble: float
    urine: float
    thirst: float
    gut: float
    gut_wobble: float
    stool_patience: float
    stool_odds: float
    morning_stool: float
    distraction: float
    shows: float
    learning: float
    slip: float
    slack: float
    notices: float

    @property
    def size(self) -> str:
        """Small, medium or large, as the settings see it."""
        return self.settings().dog.size

    def settings(self, risk: Risk = "balanced") -> Settings:
        """Return what the household answers at the set-up."""
        dog = Dog(
            name=f"Dog {self.number}",
            weight_kg=self.weight_kg,
            arrived=MIDNIGHT.replace(hour=ARRIVAL // 60),
            age="senior" if self.senior else "adult",
            prone=self.prone,
        )
        home = Home(zone="UTC", up=time(6, 30), bed=time(22, 30), meals=(time(7), time(17, 30)))
        return Settings(dog, home, Board(risk=risk))


def draw_dog(seed: int, number: int) -> Traits:
    """Return dog ``number`` of the population of ``seed``."""
    rng = Random(f"dog-{seed}-{number}")
    size = rng.choices(("small", "medium", "large"), (0.4, 0.3, 0.3))[0]
    low, high = {"small": (3.0, 9.8), "medium": (10.0, 19.5), "large": (20.0, 42.0)}[size]
    prone = rng.random() < 0.25
    senior = rng.random() < 0.2
    size_factor = {"small": 0.92, "medium": 1.0, "large": 1.1}[size]
    # The label is what the shelter says: it goes with a weaker bladder, not always.
    tolerance = 6.1 * size_factor * rng.lognormvariate(0, 0.09)
    tolerance *= rng.uniform(0.78, 1.0) if prone else 1.0
    tolerance *= rng.uniform(0.9, 1.0) if senior else 1.0
    gut = {"small": 55.0, "medium": 70.0, "large": 85.0}[size] * rng.lognormvariate(0, 0.3)
    return Traits(
        number=number,
        weight_kg=round(rng.uniform(low, high), 1),
        prone=prone,
        senior=senior,
        tolerance=tolerance,
        wobble=rng.uniform(0.08, 0.16),
        urine=rng.lognormvariate(0.02, 0.10),
        thirst=rng.uniform(2.0, 4.2),
        gut=gut,
        gut_wobble=rng.uniform(0.2, 0.45),
        stool_patience=95.0 * rng.lognormvariate(0, 0.3) * (0.8 if prone else 1.0),
        stool_odds=rng.uniform(0.6, 0.95),
        morning_stool=rng.uniform(0.2, 0.8),
        distraction=rng.betavariate(2, 20),
        shows=rng.uniform(0.3, 0.8),
        learning=rng.uniform(0.01, 0.05),
        slip=rng.uniform(0.005, 0.03),
        slack=rng.lognormvariate(0, 0.35),
        notices=rng.uniform(0.3, 0.65),
    )


def draw_population(seed: int, dogs: int) -> list[Traits]:
    """Return the first ``dogs`` dogs of the population of ``seed``."""
    return [draw_dog(seed, number) for number in range(1, dogs + 1)]
