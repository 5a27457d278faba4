"""Everything about the days away that a view shows, as one value from one pure function."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from msgspec import Struct

from pottyboard.core.away.alone import Watch, watch
from pottyboard.core.away.outlook import AwayOutlook, outlook
from pottyboard.core.away.practice import Ladder, ladder
from pottyboard.core.away.schedule import AwayPlan
from pottyboard.core.away.standing import Footing, standing_of
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.log.agreed import agreed_in
from pottyboard.core.model.events import Event
from pottyboard.core.model.settings import Settings


class AwaySituation(Struct, frozen=True):
    """The days away at ``now``: the plan, its cost to come, the practice, and a dog left alone.

    ``watch`` is None while somebody is home.
    """

    now: datetime
    standing: Footing
    plan: AwayPlan
    outlook: AwayOutlook
    ladder: Ladder
    watch: Watch | None


def away_situation(
    settings: Settings,
    events: Iterable[Event],
    now: datetime,
    *,
    first: date | None = None,
    days: int = 7,
    learn: bool = True,
) -> AwaySituation:
    """Return the days away from ``first`` on (today, by default), seen at ``now`` (aware).

    With ``learn`` false only the rule decides. Raises ``TimeError`` if ``now`` is naive.
    """
    log = tuple(event for event in events if event.at <= now)
    standing, agreed = standing_of(settings, log, now, learn=learn), agreed_in(log)

    def planned(start: date | None, length: int) -> AwayPlan:
        return plan_visits(
            settings, now, standing.interval, first=start, days=length,
            expected=standing.expected, digestion=standing.digestion, agreed=agreed,
        )  # fmt: skip

    plan = planned(first, days)
    today = plan if first is None else planned(None, 1)
    since = standing.alone_since
    return AwaySituation(
        now,
        standing,
        plan,
        outlook(
            settings, now, standing.interval, standing.evidence, digestion=standing.digestion,
            agreed=agreed,
        ),
        ladder(settings, log, plan, now),
        None if since is None else watch(settings, today, log, since, now),
    )  # fmt: skip
