"""Twelve families of holds: dogs of which the law of their holds is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import log
from random import Random

from dogs.bladders import VolumeBladder
from dogs.body import Anatomy
from dogs.guts import MealGut
from dogs.owner import Owner
from dogs.population import ARRIVAL, Traits

Draw = Callable[[Random], float]
"""Draws one hold as a multiple of the middle one."""


def weibull(shape: float) -> Draw:
    """Return holds whose risk rises with the power ``shape - 1`` of the time."""
    return lambda rng: (-log(1 - rng.random()) / log(2)) ** (1 / shape)


def lognormal(spread: float) -> Draw:
    """Return holds whose logarithm scatters by ``spread``."""
    return lambda rng: rng.lognormvariate(0, spread)


def _two_kinds(rng: Random) -> float:
    """Draw one hold of a dog that now and then has to go after half the time."""
    return weibull(5)(rng) * (0.5 if rng.random() < 0.2 else 1.0)


@dataclass(frozen=True)
class Family:
    """Holds by one law: the ``middle`` in waking minutes, and its factor from day to day."""

    draw: Draw
    middle: float = 260.0
    a_day: float = 1.0


FAMILIES: dict[str, Family] = {
    "Weibull 2": Family(weibull(2)),
    "Weibull 3": Family(weibull(3)),
    "Weibull 4": Family(weibull(4)),
    "Weibull 6": Family(weibull(6)),
    "short middle": Family(weibull(4), middle=160),
    "long middle": Family(weibull(4), middle=400),
    "log-normal .2": Family(lognormal(0.2)),
    "log-normal .3": Family(lognormal(0.3)),
    "log-normal .5": Family(lognormal(0.5)),
    "mixture of two": Family(_two_kinds),
    "learning": Family(weibull(4), middle=220, a_day=1.04),
    "worsening": Family(weibull(4), middle=340, a_day=0.96),
}


class FamilyBladder(VolumeBladder):
    """Goes when the minutes awake since the last pee pass a hold drawn from the family.

    Asleep the time runs at half speed. Drinks and play change nothing.
    """

    def __init__(self, family: Family, traits: Traits, rng: Random) -> None:
        self.family, self.elapsed, self.minutes = family, 0.0, float(ARRIVAL)
        # Dogs of one family differ by about a sixth.
        self.middle = family.middle * rng.lognormvariate(0, 0.15)
        super().__init__(traits, rng)

    def _draw(self) -> None:
        grown = self.family.a_day ** (self.minutes / 1440)
        self.limit = self.middle * grown * self.family.draw(self.rng)

    def advance(self, asleep: bool, clock: int) -> float:
        """Pass one minute and return the urge."""
        self.minutes += 1
        self.elapsed += 0.5 if asleep else 1.0
        return self.urge

    @property
    def urge(self) -> float:
        return self.elapsed / self.limit

    @property
    def fill(self) -> float:
        return self.elapsed / (0.9 * self.middle)

    def empty(self, rest: float) -> None:
        """Pee; a hold of the family begins."""
        self.elapsed = 0.0
        self._draw()

    def learn(self, factor: float) -> None:
        """Nothing is learned but what the family says."""


def anatomy_of(family: Family) -> Anatomy:
    """Return the anatomy of a dog of the family."""
    return partial(FamilyBladder, family), MealGut


class Skips(Owner):
    """An owner who lets one call of eight pass for an hour or two."""

    def delay(self, now: int, first_thing: bool = False) -> float:
        """Return the minutes from a call to the door."""
        minutes = super().delay(now, first_thing)
        if not first_thing and self._delays.random() < 1 / 8:
            minutes += self._delays.uniform(45, 120)
        return minutes
