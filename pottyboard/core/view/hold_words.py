"""What the log has shown of the hold, and what is likely safe: in words, with how far they carry.

First what was shown, then an estimate named as one, with the bound that so few waits can carry.
Nothing is said beyond half as long again as the longest dry hold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import Estimate, is_gap
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.log.waits import Hold
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.statistics.proportion import bound_after_none, wilson

_DAYS = 28
"""Days back that speak for what the dog holds now."""
_AMONG = 3
"""What was shown is the shortest of so many longest holds, so that one alone proves nothing."""
_GRID = 5
"""Minutes to which a length is rounded down: more would feign precision."""


class Shown(Struct, frozen=True):
    """A length in minutes that dry holds have reached, and how many did."""

    minutes: int
    times: int

    @property
    def words(self) -> str:
        """How it reads after "has held"."""
        return f"{span_words(self.minutes)} so far, {count_words(self.times, 'time')}"


def dry_holds(days: Sequence[Day], *, night: bool = False) -> list[float]:
    """Return the dry holds of the last four weeks that ended outside, longest first, in minutes:
    awake by day, in all over a night."""
    holds = (hold for day in days[-_DAYS:] for hold in day.holds)
    such = (hold for hold in holds if hold.how == "out" and hold.night is night)
    kept = [hold for hold in such if not hold.silent and not is_gap(hold)]
    return sorted((hold.length if night else hold.awake for hold in kept), reverse=True)


def shown(dry: Sequence[float]) -> Shown | None:
    """Return what dry holds (longest first) have shown, None without any."""
    if not dry:
        return None
    reached = in_fives(dry[min(_AMONG, len(dry)) - 1])
    return Shown(reached, sum(hold >= reached for hold in dry))


def safe_wait(estimate: Estimate, dry: Sequence[float]) -> int:
    """Return by when 97 of 100 waits are still dry, by the estimate, in minutes; nothing beyond 1.5
    times the longest dry hold."""
    return min(in_fives(estimate.dry_until), told_to(dry))


def told_to(dry: Sequence[float]) -> int:
    """Return the minutes beyond which nothing is said: 1.5 times the longest of the ``dry`` holds
    (longest first), 0 without any."""
    return in_fives(figures.BEYOND_SHOWN * dry[0]) if dry else 0


def shown_words(name: str, dry: Sequence[float]) -> str:
    """Return in a few words what the dog of this ``name`` has held by day."""
    so_far = shown(dry)
    if so_far is None:
        return f"no wait of the last {_DAYS // 7} weeks ended outside"
    return f"{name} has held {so_far.words}"


def safe_words(estimate: Estimate, dry: Sequence[float]) -> str:
    """Return in a few words what is likely safe, after what was shown; empty without that."""
    safe = span_words(safe_wait(estimate, dry))
    share = f"{100 * figures.SAFE_SHARE:g} of 100"
    return f"; an estimate: {share} waits stay dry to {safe}" if dry else ""


def proof_words(estimate: Estimate, days: Sequence[Day], dry: Sequence[float]) -> str:
    """Return how much of that the waits alone prove; empty without any."""
    so_far = shown(dry)
    if so_far is None or not estimate.has_enough:
        return ""
    least = min(safe_wait(estimate, dry), so_far.minutes)
    held = sum(hold >= least for hold in dry)
    wet = sum(_ended_within(hold, least) for day in days[-_DAYS:] for hold in day.holds)
    sure = wilson(held, held + wet)[0] if wet else 1 - bound_after_none(held)
    waits = count_words(held, "dry wait")
    beside = f", {wet} that ended indoors sooner" if wet else ""
    return (
        f"{waits} of {span_words(least)} or longer{beside}: alone they prove no more than that "
        f"{int(10 * sure)} of 10 such waits stay dry"
    )


def night_words(days: Sequence[Day]) -> str:
    """Return what the nights have shown; empty before there are a few."""
    dry = dry_holds(days, night=True)
    so_far = shown(dry)
    if so_far is None or len(dry) < priors.NIGHTS_TO_SPEAK:
        return ""
    return f"Over a night it has held {so_far.words}"


def calling_words(context: RuleContext) -> str:
    """Return what follows from the estimate for the breaks, in a sentence or two: what it is worth
    as long as it does not decide alone."""
    estimate, every = context.estimate, context.interval
    most = f"{100 * limit_of(context.settings):.3g}"
    if estimate is None or not estimate.has_enough:
        return f"Until then the rule alone decides: {span_words(every)} between breaks."
    if not context.log_knows:
        least = span_words(math.ceil(every * priors.FIRST_DAYS_SHARE))
        from_ = f"day {priors.KNOWN_FROM_DAY:g} and {priors.HOLDS_TO_KNOW:g} logged waits on"
        return (
            f"That does not decide alone yet: no break comes by it sooner than {least} after a "
            f"pee, so more than {most} waits in 100 may end indoors. From {from_}, at most {most} "
            "should, poop counted too."
        )
    if context.facts.measures.fixed:
        return (
            "As you asked, meals, long drinks and play call breaks too; by its own log others come "
            f"so early that at most {most} waits in 100 should end indoors."
        )
    return (
        f"Breaks come so early that at most {most} waits in 100 should end indoors, by that and by "
        "when poop may come."
    )


def _ended_within(hold: Hold, minutes: float) -> bool:
    return hold.indoors and hold.tells and not hold.night and hold.awake <= minutes


def in_fives(minutes: float) -> int:
    """Return a length rounded down as far as an estimate carries."""
    return int(minutes // _GRID * _GRID)
