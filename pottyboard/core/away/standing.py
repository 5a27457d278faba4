"""Where a dog stands, for planning ahead: its interval and what the log has taught."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.engine.interval import Evidence
from pottyboard.core.estimate.learning import estimate_of
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.model import priors
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import instant_of, minutes_of
from pottyboard.core.model.settings import Settings


class Footing(Struct, frozen=True):
    """Today's ``interval`` in minutes, the ``evidence`` for the next one, and the estimates.

    ``expected`` is how long the dog can be expected to hold alone at the household's limit of risk,
    None while the log is too short to say; ``digestion`` the minutes from a meal to stool.
    ``alone_since`` is when it was left, None while it has company.
    """

    interval: float
    evidence: Evidence
    digestion: float
    expected: float | None = None
    alone_since: datetime | None = None


def standing_of(
    settings: Settings, events: Iterable[Event], now: datetime, *, learn: bool = True
) -> Footing:
    """Return where the dog stands at ``now`` (aware), from all ``events`` so far in any order.

    With ``learn`` false only the rule decides. Raises ``TimeError`` if ``now`` is naive.
    """
    return standing_on(settings, History.of(settings, events, minutes_of(now), learn).today, learn)


def standing_on(settings: Settings, today: Day, learn: bool) -> Footing:
    """Return where the dog stands on a day that is worked out, as :func:`standing_of` does."""
    estimate = estimate_of(settings.dog, today.evidence_so_far)
    expected = None
    if learn and estimate.has_enough:
        hold = estimate.wait_within(limit_of(settings))
        expected = max(float(priors.MODEL_LEAST), hold)
    left = today.facts.left
    return Footing(
        today.interval,
        today.evidence,
        estimate.digestion,
        expected,
        None if left is None else instant_of(left),
    )
