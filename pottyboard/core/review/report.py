"""The review: some days of the log in numbers, in a few honest sentences, and what comes next.

:func:`review` makes one frozen value; the paper, the page and the board only present it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from typing import Final

from msgspec import Struct

from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.patterns.pattern_views import Patterns
from pottyboard.core.patterns.patterns import patterns
from pottyboard.core.review.ahead import WeeksAhead
from pottyboard.core.review.fortnight import Fortnight, fortnight
from pottyboard.core.review.last_days import last_day
from pottyboard.core.review.next_steps import next_steps
from pottyboard.core.review.outings import Counted, Waited, by_day, by_hour, waits_by_day
from pottyboard.core.review.reached import Reached, Round
from pottyboard.core.review.sentence import Sentence
from pottyboard.core.review.story import changes_within, story
from pottyboard.core.review.tally import Tally, tally
from pottyboard.core.view.hold_report import hold_report
from pottyboard.core.view.situation import situation
from pottyboard.core.view.situation_views import Change, HoldReport, Situation

DAYS: Final = int(figures.PROGRAMME_DAYS)
"""Days that a review covers where nothing else is asked."""

MOST_DAYS: Final = 366
"""Days that one review may cover."""


class ReviewError(ValueError):
    """A review that the log cannot give, with a message that says what to ask for instead."""


class Review(Struct, frozen=True):
    """Some days of the log, looked back on at ``now``.

    ``numbers`` count them, ``before`` the same number of days before them where the log has them
    all; ``story`` tells them in sentences. ``days`` are the days, ``changes`` those of the interval
    on them, the one in force at their beginning first; ``accounts`` the accidents with their likely
    causes, for those of the last two weeks of the log. ``by_day`` and ``by_hour`` count outings and
    accidents, ``waits`` are the waits by day. ``fortnight`` draws the last days of them;
    ``hold`` what has been learned of the hold; ``patterns`` what these days show. ``rounds`` are
    all rounds of the programme, the present one last; ``reached`` and ``ahead`` say where it stands
    and what comes next.
    """

    now: datetime
    settings: Settings
    situation: Situation
    numbers: Tally
    before: Tally | None
    story: tuple[Sentence, ...]
    days: tuple[DaySummary, ...]
    changes: tuple[Change, ...]
    accounts: tuple[Account, ...]
    accidents: tuple[Event, ...]
    by_day: tuple[Counted, ...]
    by_hour: tuple[Counted, ...]
    waits: tuple[Waited, ...]
    fortnight: Fortnight
    hold: HoldReport
    patterns: Patterns
    rounds: tuple[Round, ...]
    reached: Reached
    ahead: WeeksAhead


def review(
    settings: Settings,
    events: Iterable[Event],
    now: datetime,
    first: date | None = None,
    days: int | None = None,
) -> Review:
    """Return the review at ``now`` (aware) of ``days`` days (14) from ``first`` on.

    Without ``first`` they are the last days of the log, up to its last entry if that is long ago.
    What the log does not have of them is left out. Raises :class:`ReviewError` for days that are
    not in the log or too many of them, and ``TimeError`` if ``now`` has no time zone.
    """
    log = tuple(events)
    seen = situation(settings, log, now)
    known = History.of(settings, log, minutes_of(now)).days
    start, end = _span(settings, known, first, days)
    numbers = tally(known, start, end)
    before = _before(known, numbers)
    here = [one for one in known if start <= one.plan.date <= end]
    accounts = tuple(
        account for account in seen.accidents if start <= _date_of(known, account) <= end
    )
    steps = next_steps(settings, log, now, seen)
    return Review(
        now=now,
        settings=settings,
        situation=seen,
        numbers=numbers,
        before=before,
        story=tuple(story(seen, known, here, numbers, before, accounts)),
        days=tuple(one.summary for one in here),
        changes=changes_within(seen.interval.changes, here, known),
        accounts=accounts,
        accidents=tuple(accident.event for one in here for accident in one.accidents),
        by_day=by_day(here),
        by_hour=by_hour(here, settings.zone),
        waits=waits_by_day(here),
        fortnight=fortnight(settings, log, now, last=end, days=min(len(here), _MOST_ROWS)),
        hold=hold_report(settings, log, now),
        patterns=patterns(settings, log, now, numbers.first, numbers.days),
        rounds=steps.rounds,
        reached=steps.reached,
        ahead=steps.ahead,
    )


_MOST_ROWS: Final = 28


def _span(
    settings: Settings, known: Sequence[Day], first: date | None, days: int | None
) -> tuple[date, date]:
    """Return the first and the last day to look at, within the log."""
    wanted = DAYS if days is None else days
    begin, today = known[0].plan.date, known[-1].plan.date
    if not 1 <= wanted <= MOST_DAYS:
        raise ReviewError(f"A review covers 1 to {MOST_DAYS} days, not {wanted}.")
    if first is None:
        last = last_day(known)
        return max(begin, last - timedelta(days=wanted - 1)), last
    if not begin <= first <= today:
        raise ReviewError(f"{first} is not in the log: it goes from {begin} to {today}.")
    return first, min(today, first + timedelta(days=wanted - 1))


def _before(known: Sequence[Day], numbers: Tally) -> Tally | None:
    """Return the count of as many days right before, if the log has them all."""
    start = numbers.first - timedelta(days=numbers.days)
    if start < known[0].plan.date:
        return None
    return tally(known, start, numbers.first - timedelta(days=1))


def _date_of(known: Sequence[Day], account: Account) -> date:
    """Return the date of the day that an accident belongs to."""
    at = account.event.t
    return next((one.plan.date for one in reversed(known) if one.plan.start <= at), date.min)
