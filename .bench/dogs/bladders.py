"""Three bladders: ways in which the need to pee can come about.

Each keeps ``urge``, 0 after a pee and 1 at the minute the dog goes where it stands, and ``fill``,
which decides whether an outing brings something. What pushes a single hold up or down is drawn when
that hold begins: an owner who could look inside would know.
"""

from __future__ import annotations

from math import cos, exp, pi, sqrt
from random import Random

from dogs.population import Traits


class VolumeBladder:
    """Urine collects; the dog goes when the volume passes what it tolerates in this hold.

    A long drink reaches the bladder over the next two hours. Asleep the kidneys make half and the
    dog tolerates half as much again; for some minutes after excitement it tolerates less.
    """

    def __init__(self, traits: Traits, rng: Random) -> None:
        self.traits, self.rng = traits, rng
        self.water = self.surplus = self.haste = self.stirred = 0.0
        self.drowsy, self.training = 1.0, 1.0
        self.volume = 0.4 * traits.tolerance
        self._draw()

    def _draw(self) -> None:
        self.limit = self.traits.tolerance * self.rng.lognormvariate(0, self.traits.wobble)

    def drink(self, amount: float) -> None:
        self.water += amount

    def excite(self, how_much: float) -> None:
        self.stirred = max(self.stirred, how_much)

    def advance(self, asleep: bool, clock: int) -> float:
        """Pass one minute and return the urge."""
        taken_up = self.water / 25
        self.water -= taken_up
        self.surplus += 0.4 * taken_up
        passed = self.surplus / 40
        self.surplus -= passed
        self.volume += self.traits.urine / 60 * (0.5 if asleep else 1.0) + passed
        self.drowsy += ((1.5 if asleep else 1.0) - self.drowsy) / 10
        self._calm_down()
        return self.urge

    def _calm_down(self) -> None:
        """Let excitement rise over some minutes and fade over half an hour."""
        self.haste += (self.stirred - self.haste) / 6
        self.stirred *= 0.95

    @property
    def urge(self) -> float:
        return self.volume / (self.limit * self.training * self.drowsy * (1 - self.haste))

    @property
    def fill(self) -> float:
        return self.volume / (self.traits.tolerance * self.training)

    def empty(self, rest: float) -> None:
        """Pee, leaving a share ``rest`` behind."""
        self.volume *= rest
        self._draw()

    def learn(self, factor: float) -> None:
        """Let the tolerance grow or slip."""
        self.training = min(1.4, max(0.85, self.training * factor))

    def held(self, minutes: int) -> None:
        """Take in that a hold of so many minutes ended outside."""


class HazardBladder(VolumeBladder):
    """No volume: the chance of going in the next minute rises with the time since the last pee.

    A drink or a meal lets that time run faster for an hour or two; asleep it runs at half speed.
    The same dog may go after one hour or hold for five without a reason that anybody could see.
    """

    STEEP = 7.5

    def __init__(self, traits: Traits, rng: Random) -> None:
        self.scale = 60 * traits.tolerance / (1.22 * traits.urine)
        self.pressure, self.elapsed = 0.0, 0.3 * self.scale
        super().__init__(traits, rng)

    def _draw(self) -> None:
        self.limit = self.rng.expovariate(1.0)

    def advance(self, asleep: bool, clock: int) -> float:
        """Pass one minute and return the urge."""
        passed = self.water / 50
        self.water -= passed
        self._calm_down()
        self.elapsed += (0.5 if asleep else 1.0) + 6.0 * passed + 0.5 * self.haste
        scale = self.scale * self.training * (1.15 if asleep else 1.0)
        hazard = self.STEEP / scale * (self.elapsed / scale) ** (self.STEEP - 1)
        self.pressure += hazard * (0.5 if asleep else 1.0)
        return self.urge

    @property
    def urge(self) -> float:
        return sqrt(self.pressure / self.limit)

    @property
    def fill(self) -> float:
        return self.elapsed / (0.9 * self.scale)

    def empty(self, rest: float) -> None:
        """Pee, leaving a share ``rest`` behind."""
        self.elapsed *= rest
        self.pressure = 0.0
        self._draw()


class DiurnalBladder(VolumeBladder):
    """Fills at an even pace whatever the dog drinks; what it tolerates depends on the hour.

    Least in the lively hours of the morning and the evening, most at midday; and the dog brings two
    clock times from its former place at which it wants to go. It learns by holding long, not by
    clear days.
    """

    def __init__(self, traits: Traits, rng: Random) -> None:
        self.hours = (rng.uniform(9.5, 13.0), rng.uniform(15.5, 21.0))
        super().__init__(traits, rng)
        self._draw_hours()

    def _draw_hours(self) -> None:
        self.today = tuple(60 * self.rng.gauss(hour, 0.3) for hour in self.hours)

    def advance(self, asleep: bool, clock: int) -> float:
        """Pass one minute and return the urge."""
        if clock == 0:
            self._draw_hours()
        self.water *= 0.98
        pace = 1.25 * self.traits.urine + 0.15 * self.water / 10
        self.volume += pace / 60 * (0.5 if asleep else 1.0)
        self.drowsy += ((1.5 if asleep else 1.0) - self.drowsy) / 10
        self.haste = 0.08 * (1 - cos(4 * pi * (clock - 2 * 60) / 1440)) - 0.05
        for hour in self.today:
            if not asleep:
                self.haste += 0.27 * exp(-(((clock - hour) / 25) ** 2))
        self.haste = min(0.6, self.haste)
        return self.urge

    def learn(self, factor: float) -> None:
        """Slip with an accident; a clear day as such teaches nothing."""
        super().learn(min(1.0, factor))

    def held(self, minutes: int) -> None:
        """Grow with every hold that went past three quarters of what the dog tolerates."""
        if self.fill > 0.75 and minutes > 60:
            super().learn(1.006)
