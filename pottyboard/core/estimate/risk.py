"""One risk: the chance that something happens indoors, by any instant, if nobody goes out.

Two clocks run at once. The bladder's starts with the last pee; an outing that brought none says
that it could still wait. The bowel's starts with each meal that no stool has followed, and runs by
the dog's own hours (:mod:`pottyboard.core.estimate.bowel`).
"""

from __future__ import annotations

from msgspec import Struct

from pottyboard.core.estimate.bowel import Sleeps, asleep_within
from pottyboard.core.estimate.learning import Estimate, hold_minutes
from pottyboard.core.log.state import LogState
from pottyboard.core.model import priors
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.model.settings import Settings


def limit_of(settings: Settings) -> float:
    """Return the household's limit: the chance of an accident that it accepts before a break."""
    return {
        "careful": priors.LIMIT_CAREFUL,
        "balanced": priors.LIMIT_BALANCED,
        "easy": priors.LIMIT_EASY,
    }[settings.board.risk]


class Risk(Struct, frozen=True):
    """The two clocks as the log stands, whatever the time: for a dog that is awake but for its
    ``sleeps``.

    ``pee`` is the last pee in epoch minutes, as the hold counts, ``dry`` the last outing since that
    proved it dry; ``meals`` each waiting meal with the last outing without stool, ``bare`` that
    outing, the last stool or the waking, whichever came last, ``stool`` the last stool.
    """

    estimate: Estimate
    pee: Minutes | None
    dry: Minutes | None
    meals: tuple[tuple[Minutes, Minutes], ...]
    bare: Minutes
    stool: Minutes | None
    sleeps: Sleeps = ()

    def chance_by(self, at: Minutes) -> float:
        """Return the chance that something has happened indoors by ``at``, counted from the last
        outing."""
        return 1 - (1 - self.stool_by(at)) * (1 - self.pees_by(at))

    def pees_by(self, at: Minutes) -> float:
        """Return the chance of a pee indoors by ``at``; 0 before the first pee."""
        if self.pee is None:
            return 0.0
        return self.estimate.pees_by(self._held(self.pee, at), self.held)

    def stool_by(self, at: Minutes) -> float:
        """Return the chance of stool indoors by ``at``."""
        return self.estimate.bowel.comes_by(self.meals, self.bare, self.stool, at, self.sleeps)

    @property
    def held(self) -> float:
        """The waking minutes since the pee that the dog has proved."""
        if self.pee is None or self.dry is None:
            return 0.0
        return max(0.0, self._held(self.pee, self.dry))

    def _held(self, pee: Minutes, at: Minutes) -> float:
        """Return the waking minutes from the pee to ``at``."""
        asleep = asleep_within(self.sleeps, pee, at)
        return hold_minutes(at - pee - asleep, asleep)

    def latest(self, limit: float, start: Minutes, end: Minutes) -> Minutes | None:
        """Return the last whole minute from ``start`` to ``end`` that keeps the chance within
        ``limit``; None where even ``end`` does."""
        if self.chance_by(end) <= limit:
            return None
        low, high = 0, max(1, int(end - start))
        while low < high:
            middle = (low + high + 1) // 2
            if self.chance_by(start + middle) <= limit:
                low = middle
            else:
                high = middle - 1
        return start + low


def risk_of(estimate: Estimate, facts: LogState, pee: Minutes | None, wakes: Minutes) -> Risk:
    """Return the risk as the log stands; ``pee`` is the last pee as the hold counts, ``wakes`` is
    until when a sleep that is logged now lasts."""
    dry = max(facts.dry_out or 0.0, facts.last_small or 0.0)
    out = facts.bare_out or 0.0
    meals = tuple((meal, max(meal, out)) for meal in facts.waiting_meals)
    stool = facts.last_poop
    bare = max(out, stool or 0.0, facts.woke or 0.0)
    return Risk(
        estimate, pee, dry if pee is not None and dry > pee else None, meals, bare, stool,
        facts.sleeps_until(wakes),
    )  # fmt: skip
