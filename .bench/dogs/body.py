"""A dog's body: a bladder and a gut, what it shows beforehand, and what it learns."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Literal

from dogs.bladders import DiurnalBladder, HazardBladder, VolumeBladder
from dogs.guts import ClockGut, MassGut, MealGut
from dogs.population import Traits

Anatomy = tuple[Callable[[Traits, Random], VolumeBladder], Callable[[Traits, Random], MealGut]]
"""What makes a dog's bladder and its gut."""

Mechanism = Literal["bladder", "hazard", "diurnal"]
MECHANISMS: dict[Mechanism, Anatomy] = {
    "bladder": (VolumeBladder, MealGut),
    "hazard": (HazardBladder, MassGut),
    "diurnal": (DiurnalBladder, ClockGut),
}


class Body:
    """One dog for two weeks, minute by minute."""

    def __init__(self, traits: Traits, anatomy: Anatomy, seed: int) -> None:
        bladder, gut = anatomy
        name = f"{seed}-{traits.number}"
        self.traits = traits
        self.bladder = bladder(traits, Random(f"bladder-{name}"))
        self.gut = gut(traits, Random(f"gut-{name}"))
        self.rng = Random(f"body-{name}")
        self.distraction = traits.distraction
        self.urge = 0.0
        self.minutes_dry = 0
        self._shown = self._will_show = False
        self._draw_show()

    def _draw_show(self) -> None:
        self._shown, self._will_show = False, self.rng.random() < self.traits.shows

    # --- What happens to it -----------------------------------------------------------------------

    def eat(self, now: int) -> None:
        self.gut.eat(now)
        self.bladder.drink(1.5)
        self.bladder.excite(0.1)

    def drink(self, amount: float) -> None:
        self.bladder.drink(amount)

    def play(self, now: int) -> None:
        self.bladder.excite(0.25)
        self.gut.stir(now)

    def get_up(self, now: int) -> None:
        self.gut.get_up(now)

    def end_day(self, clear: bool) -> None:
        """Learn from a day without an accident."""
        if clear:
            self._learn(1 + self.traits.learning)

    def _learn(self, factor: float) -> None:
        self.bladder.learn(factor)
        self.gut.learn(factor)

    # --- What it does -----------------------------------------------------------------------------

    def advance(self, now: int, asleep: bool) -> Literal["", "pee-inside", "poop-inside"]:
        """Pass one minute; return what the dog did indoors, if it did."""
        pee = self.bladder.advance(asleep, now % 1440)
        poop = self.gut.advance(now, asleep)
        self.minutes_dry += 1
        self.urge = max(pee, poop)
        if self.urge < 1:
            return ""
        self._learn(1 - self.traits.slip)
        self._draw_show()
        if poop >= 1:
            self.gut.let_go(now)
        else:
            self._pee(self.rng.uniform(0, 0.2))
        self.urge = max(self.bladder.urge, self.gut.urge(now))
        return "poop-inside" if poop >= 1 else "pee-inside"

    def shows_need(self) -> bool:
        """Return whether the dog begins to show now that it needs to go."""
        if self._shown or self.urge < 0.85:
            return False
        self._shown = True
        return self._will_show

    def go_outside(self, now: int) -> tuple[bool, bool]:
        """Return whether an outing now brings pee and stool."""
        need = max((self.bladder.fill - 0.08) / 0.25, (self.bladder.urge - 0.5) / 0.3)
        ready = min(1.0, max(0.0, need))
        pee = self.rng.random() < 0.98 * ready * (1 - self.distraction)
        poop = self.gut.outside(now, self.distraction)
        if pee:
            self.bladder.held(self.minutes_dry)
            self._pee(self.rng.uniform(0, 0.12))
        if pee or poop:
            self.distraction *= 0.985
            self._draw_show()
            self.urge = max(self.bladder.urge, self.gut.urge(now))
        return pee, poop

    def _pee(self, rest: float) -> None:
        self.bladder.empty(rest)
        self.minutes_dry = 0
