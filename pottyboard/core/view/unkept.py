"""A dog that breaks alone cannot keep dry: said after a few days, with what it would take."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from pottyboard.core.engine.days import Accident, Day
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import count_words

_DAYS: Final = 3
"""Whole days in a row, each with such an accident, before it is said (our own choice)."""


def unkept_words(context: RuleContext, days: Sequence[Day]) -> tuple[str, ...]:
    """Return one sentence where breaks 45 min apart leave the chance over the limit, or were tried
    in vain, and every one of the last days had an accident for which no break was late.

    ``days`` are those of the log, today last. Nothing in the first days, alone or asleep.
    """
    last = days[-_DAYS - 1 : -1]
    if len(last) < _DAYS or context.sleep or context.facts.left is not None:
        return ()
    wet = [sum(_in_spite_of_breaks(accident) for accident in day.accidents) for day in last]
    if not all(wet) or not (_as_close_as_can_be(last) or _over_at_once(context)):
        return ()
    pees = count_words(sum(wet), "pee")
    return (
        f"Breaks alone do not keep {context.settings.dog.name} dry ({pees} indoors in {_DAYS} "
        "days): keep it tethered beside you or in arm's reach, a pad as a stop-gap, and ask your "
        "vet to rule out illness",
    )


def _in_spite_of_breaks(accident: Accident) -> bool:
    """Whether an accident is a pee of this dog by day for which no break was late."""
    event, before = accident.event, accident.circumstances
    own = accident.is_own and event.empties_bladder and event.counts_against_plan
    by_night = before.facts.by_night(event, before.context.plan)
    return own and not accident.household and not by_night


def _as_close_as_can_be(days: Sequence[Day]) -> bool:
    """Whether the rule could bring the breaks of the last two days no closer together."""
    return all(day.interval <= figures.FLOOR_INTERVAL for day in days[-2:])


def _over_at_once(context: RuleContext) -> bool:
    """Whether the chance is over the limit at the first break that the estimate may call."""
    if context.estimate is None or not context.estimate.has_enough:
        return False
    soonest = priors.MODEL_LEAST + context.kept_late(context.now)
    return context.estimate.pees_by(soonest) > limit_of(context.settings)
