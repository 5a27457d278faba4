"""What the views show of the accidents: each with its cause and one offer, and the places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.accidents.offers import offer_for
from pottyboard.core.engine.days import Accident, Day
from pottyboard.core.log.measures import Measures
from pottyboard.core.log.places import Spot, spots
from pottyboard.core.log.state import LogState
from pottyboard.core.model import figures
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.localtime import Minutes


def accounts(days: Sequence[Day], now: Minutes) -> tuple[Account, ...]:
    """Return the accidents of the two weeks before ``now``, the newest first.

    ``days`` are all days so far in order; only those of the two weeks are looked at.
    """
    measures = days[-1].facts.measures
    return tuple(_recent(days, now - figures.REPEAT_WITHIN * 1440, measures))


def _recent(days: Sequence[Day], since: Minutes, measures: Measures) -> Iterator[Account]:
    for day in reversed(days):
        if day.plan.next_up + figures.UP_LATEST < since:
            return
        for accident in reversed(day.accidents):
            if accident.event.t >= since:
                yield account_of(accident, day, measures)


def account_of(accident: Accident, day: Day, measures: Measures) -> Account:
    """Return the account of one accident of ``day``, with what may still be changed."""
    at, why = accident.event.t, accident.why
    narrowed = any(step.at == at and step.cause == "narrower" for step in day.steps)
    return Account(
        event=accident.event,
        cause=why.cause,
        words=CAUSE_WORDS[why.cause],
        reasoning=why.reasoning,
        circumstances=accident.circumstances,
        said=why.said,
        offer=offer_for(why.cause, accident.circumstances, measures, narrowed=narrowed),
    )


def home_spots(facts: LogState, now: Minutes) -> tuple[Spot, ...]:
    """Return the rooms and spots of the home that had an accident (see ``places.spots``)."""
    since = now - figures.REPEAT_WITHIN * 1440
    recent = [event for event in facts.mishaps if event.t >= since]
    return spots(facts.places, recent, facts.dirty, facts.measures.blocked, now)
