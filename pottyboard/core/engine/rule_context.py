"""What the reasons for a break look at, and what they answer."""

from __future__ import annotations

import math
from typing import Literal

from msgspec import Struct

from pottyboard.core.estimate.learning import Estimate, ready_prior
from pottyboard.core.estimate.risk import Risk, limit_of, risk_of
from pottyboard.core.log.state import LogState, Sleep
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import Minutes, clock_words, local
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
        """Return the local clock time of an instant, with its weekday where that lies before
        today: ``11:31``, ``Fri 11:31``."""
        clock = clock_words(at, self.settings.zone)
        wall = local(at, self.settings.zone)
        return f"{wall:%a} {clock}" if wall.date() < self.plan.date else clock

    @property
    def last_pee(self) -> Minutes | None:
        """The last pee as the hold counts: a small one outside sets it back by half an interval."""
        pee, small = self.facts.last_pee, self.facts.last_small
        if small is None:
            return pee
        return max(pee or 0.0, small - self.interval * figures.SMALL_PEE_SHARE)

    @property
    def grazes(self) -> bool:
        """Whether food is always there, so that a meal says nothing of a break."""
        return not self.settings.home.meals

    @property
    def sleep(self) -> Sleep:
        """Whether the dog sleeps: as logged, or for the night by the routine.

        A nap that nobody ends counts as ended in time (see :attr:`nap_ends`). Out in the night, it
        goes back to bed.
        """
        asleep = self.facts.sleep_at(self.plan, self.now)
        if asleep == "nap" and self.nap_ends is not None and self.now >= self.nap_ends:
            return ""
        in_bed = self.plan.bed <= self.now < self.plan.next_up
        return "night" if in_bed and self.facts.goes_back_to_bed(self.plan) else asleep

    @property
    def for_the_night(self) -> bool:
        """Whether the dog sleeps the night, or has been out for the last thing and nothing has been
        logged since: then the night alone calls, and no clock of the day that ran on into it."""
        facts, plan = self.facts, self.plan
        if self.sleep == "night":
            return True
        last_out = facts.last_out or 0.0
        last_thing = last_out >= plan.bed - self.serves_within and facts.last_active == last_out
        if not last_thing or facts.left is not None or self.tries:
            return False
        return self.now < plan.next_up and not facts.is_up_at_night(plan)

    @property
    def nap_ends(self) -> Minutes | None:
        """When the nap that is logged counts as ended, though nobody logged that; None without one.

        Whoever has said since that the dog sleeps on is asked again later.
        """
        facts = self.facts
        if facts.sleep != "nap" or facts.slept_from is None:
            return None
        ends = self._nap_most(facts.slept_from)
        if facts.asleep_at is not None and facts.asleep_at > facts.slept_from:
            ends = max(ends, facts.asleep_at + figures.NAP_ASKED_AGAIN)
        return ends

    def _nap_most(self, since: Minutes) -> Minutes:
        pee, most = self.last_pee, since + figures.NAP_ASLEEP_MOST
        if pee is None or pee > since:
            return most
        return min(most, max(since, pee + figures.NAP_INTERVALS * self.interval))

    @property
    def risk(self) -> Risk | None:
        """The chance of an accident as it stands; None where only the rule is to decide.

        A dog that naps is taken to sleep on until its nap counts as ended: so the chance by an
        instant stays what it is while nobody logs anything.
        """
        if self.estimate is None:
            return None
        return risk_of(self.estimate, self.facts, self.last_pee, self.nap_ends or self.now)

    def over_limit_from(self, due: Minutes) -> Minutes | None:
        """Return the last minute before the break at ``due`` at which the chance is within the
        household's limit; None where it is so at the break."""
        risk, facts = self.risk, self.facts
        if risk is None:
            return None
        last = max(facts.last_pee or 0.0, facts.last_out or 0.0, self.awake_since)
        return risk.latest(limit_of(self.settings), math.floor(last), due)

    def let_sleep(self, due: Minutes) -> Minutes:
        """Return when a clock of the day that falls ``due`` calls, by what the dog sleeps.

        Asleep by day it is left alone until it stirs, or its nap counts as ended. Of a dog that is
        left alone nobody sees whether it sleeps, and coming home puts nothing off.
        """
        facts, ends = self.facts, self.nap_ends
        if ends is not None and facts.left is None:
            was_due = self.now >= ends and due < (facts.slept_from or 0.0)
            unseen = self._alone_in(facts.slept_from or 0.0, ends, due)
            return due if was_due or unseen else max(due, ends)
        if facts.napped is not None:
            slept, woke = facts.napped
            if slept <= due < woke and not self._alone_in(slept, woke, due):
                return max(due, min(woke, self._nap_most(slept)))
        return due

    def _alone_in(self, slept: Minutes, woke: Minutes, due: Minutes) -> bool:
        """Whether what fell ``due`` in a nap had called meanwhile, as the dog was left alone."""
        return any(
            due < back and (left <= due or slept <= left < woke)
            for left, back in self.facts.times_alone
        )

    @property
    def tries(self) -> tuple[Minutes, ...]:
        """The outings that brought nothing although the dog was due, since its last pee.

        An outing that nobody needed, long before the dog was due, is none.
        """
        pee, least = self.last_pee, self.awake_since
        if pee is not None:
            least = max(least, pee + self.interval * figures.SHARE_TO_RETRY)
        return tuple(at for at in self.facts.tries if at >= least)

    @property
    def awake_since(self) -> Minutes:
        """When the dog last woke from a night; what came before that asks no more."""
        return max(self.plan.start, self.facts.woke or 0.0)

    @property
    def morning(self) -> Minutes:
        """When the day began for the dog: with its start, or when it was said to get up later."""
        woke, start = self.facts.woke or 0.0, self.plan.start
        return woke if start <= woke <= start + figures.UP_LATEST else start

    @property
    def knows_dog(self) -> bool:
        """Whether the dog is known: then one chance calls the breaks, and meals, long drinks and
        play are evidence. The household may put that off."""
        return self.log_knows and not self.facts.measures.fixed

    @property
    def log_knows(self) -> bool:
        """Whether the log shows enough to know the dog, whatever the household wants."""
        return (
            self.estimate is not None
            and self.plan.number >= priors.KNOWN_FROM_DAY
            and self.estimate.knows_dog
        )

    @property
    def serves_within(self) -> float:
        """The minutes within which one break serves every reason that falls due."""
        return figures.SERVES_WITHIN_KNOWN if self.knows_dog else figures.SERVES_WITHIN

    def kept_late(self, at: Minutes) -> float:
        """Return how many minutes late this household has to be expected to be around ``at``."""
        if self.estimate is None:
            return priors.KEPT_LATE
        lateness = self.estimate.evidence_so_far.lateness
        return lateness.at(local(at, self.settings.zone).hour)

    @property
    def digestion(self) -> float:
        """The minutes from a meal to stool: by size, until the log knows better."""
        if self.estimate is None:
            return ready_prior(self.settings.dog).median
        return self.estimate.digestion


class Due(Struct, frozen=True):
    """One reason that stands: its code, when it falls due, and when its own ``clock`` ran out.

    A dog that sleeps, or was out a moment ago, is called later than that.
    """

    code: Code
    at: Minutes
    clock: Minutes
