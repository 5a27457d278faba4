"""Three guts: ways in which a stool can come about.

Each holds the stools on their way as ``[ripe, limit]`` minutes: from ``ripe`` on the dog feels it,
at ``limit`` it goes where it stands.
"""

from __future__ import annotations

from random import Random

from dogs.population import Traits


class MealGut:
    """A meal sets a stool going after the dog's own time, with scatter; so may the morning."""

    def __init__(self, traits: Traits, rng: Random) -> None:
        self.traits, self.rng = traits, rng
        self.stools: list[list[float]] = []
        self.training = 1.0

    def _add(self, ripe: float) -> None:
        held = self.traits.stool_patience * self.training * self.rng.lognormvariate(0, 0.35)
        self.stools.append([ripe, ripe + held])

    def eat(self, now: int) -> None:
        delay = self.traits.gut * self.rng.lognormvariate(0, self.traits.gut_wobble)
        if self.rng.random() < self.traits.stool_odds:
            self._add(now + delay)

    def get_up(self, now: int) -> None:
        if self.rng.random() < self.traits.morning_stool:
            self._add(now + self.rng.uniform(0, 25))

    def stir(self, now: int) -> None:
        """Play or a walk."""

    def advance(self, now: int, asleep: bool) -> float:
        """Pass one minute and return the urge: 1 when the dog goes where it stands."""
        if not self.stools:
            return 0.0
        if asleep:
            for stool in self.stools:
                stool[1] += 0.7 * (now >= stool[0])
        return self.urge(now)

    def urge(self, now: int) -> float:
        """Return how near the most pressing stool is."""
        return max(
            ((now - ripe) / (limit - ripe) for ripe, limit in self.stools if now >= ripe),
            default=0.0,
        )

    def outside(self, now: int, distraction: float) -> bool:
        """Return whether the outing brings a stool, and let it go."""
        for stool in self.stools:
            early = stool[0] - now
            odds = 0.95 if early <= 10 else 0.35 if early <= 30 else 0.0
            if self.rng.random() < odds * (1 - distraction):
                self.let_go(now + 30)
                return True
        return False

    def let_go(self, now: int) -> None:
        """Lose whatever is ripe."""
        self.stools = [stool for stool in self.stools if stool[0] > now]

    def learn(self, factor: float) -> None:
        self.training = min(1.4, max(0.85, self.training * factor))


class MassGut(MealGut):
    """Content collects for many hours; a meal, the morning or play may each move it on."""

    def __init__(self, traits: Traits, rng: Random) -> None:
        super().__init__(traits, rng)
        self.content = rng.uniform(0.4, 1.0)

    def _move(self, now: int, odds: float, least: float, most: float) -> None:
        if not self.stools and self.rng.random() < odds * min(1.0, self.content):
            self._add(now + self.rng.uniform(least, most))

    def eat(self, now: int) -> None:
        gut = self.traits.gut
        self._move(now, 0.9, 0.3 * gut, 1.7 * gut)

    def get_up(self, now: int) -> None:
        self._move(now, 0.7, 5, 50)

    def stir(self, now: int) -> None:
        self._move(now, 0.35, 0, 30)

    def advance(self, now: int, asleep: bool) -> float:
        """Pass one minute and return the urge."""
        self.content += 2.1 / 1440
        return super().advance(now, asleep)

    def let_go(self, now: int) -> None:
        """Lose whatever is ripe."""
        before = len(self.stools)
        super().let_go(now)
        if len(self.stools) < before:
            self.content *= 0.15


class ClockGut(MealGut):
    """The dog brings its hours from its former place: two or three stools, whenever it eats."""

    def __init__(self, traits: Traits, rng: Random) -> None:
        super().__init__(traits, rng)
        hours = [rng.uniform(7, 10), rng.uniform(16, 20.5)]
        if rng.random() < 0.4:
            hours.append(rng.uniform(11.5, 14.5))
        self.hours = hours

    def eat(self, now: int) -> None:
        pass

    def get_up(self, now: int) -> None:
        midnight = now // 1440 * 1440
        for hour in self.hours:
            if self.rng.random() < 0.85:
                self._add(max(now + 5, midnight + 60 * self.rng.gauss(hour, 0.6)))
