"""The owner: late now and then, sometimes forgets, misses an entry, sees some things and not all.

The same for every way of calling breaks: what differs is only when the owner is called.
"""

from __future__ import annotations

from random import Random

from dogs.population import Traits

WATCHING = 0.85
"""The share of signs that are seen by somebody who watches: an assumption, not a finding."""
BUSY, FREE = 2.0, 0.5
"""How much longer an owner takes in the busy hours of the day than on average, and in the others:
an assumption, not a finding. Cooking, the school run and a call are at the same hours every day."""
BUSY_HOURS = 3


class Owner:
    """One person's delays, eyes and logging, from a seed."""

    def __init__(self, traits: Traits, seed: int) -> None:
        name = f"{seed}-{traits.number}"
        self.traits = traits
        self._delays = Random(f"delays-{name}")
        self.eyes = Random(f"eyes-{name}")
        self.hand = Random(f"hand-{name}")
        hours = Random(f"busy-{name}")
        self.busy = (hours.uniform(7, 12), hours.uniform(14, 19))

    def pace(self, now: int) -> float:
        """Return how much slower than on average the owner is at this hour of the day."""
        hour = now % 1440 / 60
        return BUSY if any(0 <= hour - start < BUSY_HOURS for start in self.busy) else FREE

    def delay(self, now: int, first_thing: bool = False) -> float:
        """Return the minutes from a call at the minute ``now`` to the door."""
        rng, kind = self._delays, self._delays.random()
        if first_thing:
            return rng.uniform(1, 9)
        if kind < 0.70:
            minutes = rng.uniform(0, 5)
        elif kind < 0.92:
            minutes = rng.uniform(5, 20)
        elif kind < 0.98:
            minutes = rng.uniform(20, 45)
        else:
            minutes = rng.uniform(45, 110)
        return minutes * self.traits.slack * self.pace(now)

    def notices_sign(self, night: bool, watching: bool = False) -> bool:
        """Return whether a sign is seen; at night it must wake somebody.

        Somebody who was told from when to keep the dog in sight is ``watching``, and sees most.
        """
        share = self.traits.notices * (0.7 if night else 1.0)
        return self.eyes.random() < (max(share, WATCHING) if watching else share)

    def sees_accident(self) -> bool:
        """Return whether an accident is seen as it happens."""
        return self.eyes.random() < 0.55

    def finds_after(self) -> float:
        """Return how long an unseen accident lies there, in minutes."""
        return self.eyes.lognormvariate(3.2, 0.7)

    def logs(self, odds: float) -> bool:
        """Return whether something is logged that is logged with these odds."""
        return self.hand.random() < odds

    def slip(self) -> int:
        """Return by how many minutes a logged time is early."""
        return self.hand.choice((0, 0, 0, 0, 0, 0, 1, 2, 3, 5))
