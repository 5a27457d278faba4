"""Where the programme stands and what comes next, for the board and the review alike."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from pottyboard.core.engine.history import History
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.ahead import WeeksAhead, ahead
from pottyboard.core.review.reached import Reached, Round, reached, rounds
from pottyboard.core.view.situation import situation
from pottyboard.core.view.situation_views import Situation


class NextSteps(Struct, frozen=True):
    """What was reached, what comes next, and all rounds of the programme, the present one last."""

    reached: Reached
    ahead: WeeksAhead
    rounds: tuple[Round, ...]


def next_steps(
    settings: Settings, events: Iterable[Event], now: datetime, seen: Situation | None = None
) -> NextSteps:
    """Return them at ``now`` (aware); ``seen`` is the situation then, if it is known already."""
    log = tuple(events)
    seen = situation(settings, log, now) if seen is None else seen
    days = History.of(settings, log, minutes_of(now)).days
    past = rounds(days)
    return NextSteps(reached(settings, seen, past[-1]), ahead(settings, days), past)
