"""Today's part of the plan for the days away: the visits, and what a dog left alone waits for.

It is worked out only on a day with a planned absence, or while the dog is alone.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from datetime import datetime, timedelta
from operator import attrgetter
from typing import TYPE_CHECKING, Final

from msgspec import Struct

from pottyboard.core.away.alone import Watch, absence_begun, watch
from pottyboard.core.engine.days import Day
from pottyboard.core.log.agreed import agreed_in
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import instant_of, local
from pottyboard.core.model.settings import Settings

if TYPE_CHECKING:
    from pottyboard.core.away.schedule import Away, Meal, Shortfall, Visit

_LONGEST_RUN: Final = timedelta(days=2)
"""How long before today a time alone that still runs can have begun."""

_at = attrgetter("t")


class AwayToday(Struct, frozen=True):
    """Today's times ``alone`` as planned, with their ``visits``; ``meals`` where they are moved.

    ``watch`` is None while somebody is home; ``now_away`` is the planned time alone that runs now;
    ``gaps`` are the times of today that nobody covers.
    """

    alone: tuple[Away, ...] = ()
    visits: tuple[Visit, ...] = ()
    meals: tuple[Meal, ...] = ()
    watch: Watch | None = None
    now_away: Away | None = None
    gaps: tuple[Shortfall, ...] = ()

    def visits_in(self, away: Away) -> tuple[Visit, ...]:
        """Return the visits of one time alone."""
        return tuple(visit for visit in self.visits if away.start <= visit.at < away.end)


ALL_HOME: Final = AwayToday()
"""A day on which somebody is always home."""


def away_today(
    settings: Settings, today: Day, events: Sequence[Event], now: datetime, learn: bool
) -> AwayToday:
    """Return what is planned for ``today`` while all are away, seen at ``now`` (aware).

    ``events`` are all so far, in order. With ``learn`` false only the rule decides.
    """
    plan, left = today.plan, today.facts.left
    if not plan.absences and left is None:
        return ALL_HOME
    # A day with somebody home is the usual one, and needs none of the planning.
    from pottyboard.core.away.standing import standing_on
    from pottyboard.core.away.visits import plan_visits

    standing = standing_on(settings, today, learn)
    first = plan.date
    if left is not None:  # one that began yesterday and still runs
        first = min(first, max(local(left, settings.zone).date(), first - _LONGEST_RUN))
    visits = plan_visits(
        settings, now, standing.interval, first=first, days=(plan.date - first).days + 1,
        expected=standing.expected, digestion=standing.digestion, remedies=False,
        agreed=agreed_in(events),
    )  # fmt: skip
    alone = tuple(away for day in visits.days for away in day.alone)
    day = visits.days[-1]
    gaps = tuple(gap for gap in (*day.passed, *day.shortfalls) if gap.cause == "gap")
    if left is None:
        return AwayToday(alone, visits.visits, day.meals, gaps=gaps)
    since = instant_of(left)
    return AwayToday(
        alone,
        visits.visits,
        day.meals,
        watch(settings, visits, events[bisect_left(events, left, key=_at) :], since, now),
        absence_begun(alone, since),
        gaps,
    )
