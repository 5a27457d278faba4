"""One risk: the chance that something happens indoors, by any instant, if nobody goes out.

Two clocks run at once. The bladder's starts with the last pee; an outing that brought none says
that it could still wait. The bowel's starts with each meal that no stool has followed, and runs by
the dog's own hours (:mod:`pottyboard.core.estimate.bowel`).
"""

from __future__ import annotations

from msgspec import Struct

from pottyboard.core.estimate.bowel import NO_NAP, Nap
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
    """The two clocks at the instant ``now``, for a dog that is awake from then on, or from
    ``wakes`` on if that is later.

    ``pee`` is the last pee in epoch minutes, moved later by what sleep has saved; ``held`` the
    waking minutes from there that the dog has proved; ``meals`` each waiting meal with the last
    outing without stool, ``bare`` that outing, the last stool or the waking, whichever came last,
    ``stool`` the last stool, ``nap`` the last nap.
    """

    estimate: Estimate
    pee: Minutes | None
    held: float
    meals: tuple[tuple[Minutes, Minutes], ...]
    bare: Minutes
    stool: Minutes | None
    nap: Nap = NO_NAP
    now: Minutes = 0.0
    wakes: Minutes = 0.0

    def chance_by(self, at: Minutes) -> float:
        """Return the chance that something has happened indoors by ``at``, counted from the last
        outing."""
        return 1 - (1 - self.stool_by(at)) * (1 - self.pees_by(at))

    def pees_by(self, at: Minutes) -> float:
        """Return the chance of a pee indoors by ``at``; 0 before the first pee."""
        if self.pee is None:
            return 0.0
        asleep = self._slept_by(at)
        return self.estimate.pees_by(at - asleep + hold_minutes(0, asleep) - self.pee, self.held)

    def stool_by(self, at: Minutes) -> float:
        """Return the chance of stool indoors by ``at``."""
        slept, woke = self.nap
        nap = slept, woke + self._slept_by(at)
        return self.estimate.bowel.comes_by(self.meals, self.bare, self.stool, at, nap)

    def _slept_by(self, at: Minutes) -> float:
        """Return the minutes that are still slept from now up to ``at``."""
        return max(0.0, min(at, self.wakes) - self.now)

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


def risk_now(
    estimate: Estimate,
    facts: LogState,
    now: Minutes,
    pee: Minutes | None,
    wakes: Minutes | None = None,
) -> Risk:
    """Return the risk as it stands at ``now``; ``pee`` is the last pee as the hold counts,
    ``wakes`` when a dog that naps is taken to wake (None: it is awake)."""
    held = 0.0
    if pee is not None:
        asleep = facts.asleep_in_hold(now)
        saved = asleep - hold_minutes(0, asleep)
        dry = max(facts.dry_out or 0.0, facts.last_small or 0.0)
        if dry > pee:
            held = max(0.0, dry - pee - saved)
        pee += saved
    out = facts.bare_out or 0.0
    meals = tuple((meal, max(meal, out)) for meal in facts.waiting_meals)
    stool = facts.last_poop
    bare = max(out, stool or 0.0, facts.woke or 0.0)
    nap = facts.nap_at(now) or NO_NAP
    return Risk(estimate, pee, held, meals, bare, stool, nap, now, now if wakes is None else wakes)
