"""What the reasons for a break look at, and what they answer."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from pottyboard.core.estimate.learning import Estimate, ready_prior
from pottyboard.core.log.state import LogState, Sleep
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, clock_words
from pottyboard.core.model.plan import DayPlan
from pottyboard.core.model.settings import Settings

Code = Literal[
    "hold", "up", "meal", "digestion", "drink", "play", "sign",
    "retry", "leaving", "back", "daily", "bedtime", "night", "model",
]  # fmt: skip
"""Why a break is due."""


class RuleContext(Struct, frozen=True):
    """What the reasons look at: the facts so far, the day's plan, the interval and the instant.

    ``estimate`` is what the log has taught, None where only the rule is to decide.
    """

    facts: LogState
    plan: DayPlan
    settings: Settings
    interval: float
    now: Minutes
    estimate: Estimate | None = None

    def clock(self, at: Minutes) -> str:
        """Return the local clock time of an instant."""
        return clock_words(at, self.settings.zone)

    @property
    def last_pee(self) -> Minutes | None:
        """The last pee as the hold counts: a small one outside sets it back by half an interval."""
        pee, small = self.facts.last_pee, self.facts.last_small
        if small is None:
            return pee
        return max(pee or 0.0, small - self.interval * figures.SMALL_PEE_SHARE)

    @property
    def sleep(self) -> Sleep:
        """Whether the dog sleeps: as logged, or for the night by the routine."""
        return self.facts.sleep_at(self.plan, self.now)

    @property
    def awake_since(self) -> Minutes:
        """When the dog last woke from a night; what came before that asks no more."""
        return max(self.plan.start, self.facts.woke or 0.0)

    @property
    def digestion(self) -> float:
        """The minutes from a meal to stool: by size, until the log knows better."""
        if self.estimate is None:
            return ready_prior(self.settings.dog).median
        return self.estimate.digestion


class Due(Struct, frozen=True):
    """One reason that stands: its code and when it falls due."""

    code: Code
    at: Minutes
