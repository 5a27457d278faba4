"""A day of the log as it ended, for reading it again later."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import Final

from msgspec import structs

from pottyboard.core.engine.history import History
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import TimeError, instant_of, minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation, situation

_JUST_BEFORE: Final = 1 / 60
"""One second, in minutes: the last instant that still belongs to a day."""


class DayError(TimeError):
    """A day that the log cannot show, with a message that says which it can."""


def day_as_it_ended(
    settings: Settings, events: Iterable[Event], day: date, now: datetime
) -> Situation:
    """Return the situation in the last second of ``day``, or at ``now`` if it is not over yet.

    Its ``days`` are those known at ``now``, so that ``day`` stands there with its final verdict;
    rows that were still planned when it ended are left out. Raises :class:`DayError` for a day
    before the arrival or after today.
    """
    log = tuple(events)
    today = situation(settings, log, now)
    if day == today.date:
        return today
    if day > today.date:
        number = settings.day_number(day)
        raise DayError(
            f"Day {number} is still to come: the log goes from {settings.first_date} to "
            f"{today.date}."
        )
    if day < settings.first_date:
        raise DayError(
            f"{day} is not in the log: it goes from {settings.first_date} to {today.date}."
        )
    end = _end_of(settings, log, day, now) - _JUST_BEFORE
    ended = situation(settings, log, instant_of(end))
    rows = tuple(row for row in ended.timeline if row.status not in ("due", "planned"))
    return structs.replace(ended, timeline=rows, days=today.days)


def _end_of(settings: Settings, events: Iterable[Event], day: date, now: datetime) -> float:
    """Return when the day after ``day`` began, or was planned to where the household slept in."""
    following = day + timedelta(days=1)
    days = History.of(settings, events, minutes_of(now)).days
    started = (known.plan.start for known in days if known.plan.date == following)
    return min(settings.up_on(following), *started)
