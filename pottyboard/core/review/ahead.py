"""The weeks after the first two: the interval, freedom, treats and absences, and a relapse."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from pottyboard.core.away.visits import alone_limit
from pottyboard.core.engine.days import Day
from pottyboard.core.engine.interval import (
    after_clear_days,
    start_interval,
    top_interval,
)
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.model.permitted import household_limit
from pottyboard.core.model.settings import Settings

_WEEK: Final = 7
FIRST_WEEK: Final = int(figures.PROGRAMME_DAYS) // _WEEK + 1
LAST_WEEK: Final = int(figures.RETRAIN_WEEKS_MOST)

TREATS: Final = (
    "every success outside", "two successes of three", "every second success",
    "every third success", "now and then", "as a surprise; praise always",
)  # fmt: skip
"""For what there is a treat, from the third week on (our own choice)."""


class Week(Struct, frozen=True):
    """One week of the plan, if the weeks before it were clear.

    ``interval`` is where the interval may stand at its end in minutes; ``by_hand`` whether the
    household sets it, past the top of the rule. ``freedom`` are the minutes of freedom after a
    success, ``rooms`` where; ``treats`` for what; ``alone`` the longest time alone awake in
    minutes.
    """

    number: int
    first: date
    last: date
    interval: int
    by_hand: bool
    freedom: int
    rooms: str
    treats: str
    alone: int


class WeeksAhead(Struct, frozen=True):
    """The weeks still to come up to the eighth, and what to do on a relapse.

    ``worked`` is the last interval (minutes) that had two clear days in a row in this round;
    ``keeps`` are rules that hold in every week, ``relapse`` the steps back, in order.
    """

    weeks: tuple[Week, ...]
    keeps: tuple[str, ...]
    worked: int
    relapse: tuple[str, ...]


def ahead(settings: Settings, days: Sequence[Day]) -> WeeksAhead:
    """Return the plan for the weeks after the first two of the present round, dated."""
    last = days[-1]
    began = last.plan.date - timedelta(days=last.plan.number - last.round_from)
    week = (last.plan.number - last.round_from) // _WEEK + 1
    worked = interval_that_worked(settings, days)
    return WeeksAhead(
        weeks=tuple(
            _week(settings, last, began, number)
            for number in range(max(FIRST_WEEK, week), LAST_WEEK + 1)
        ),
        keeps=tuple(_keeps(settings, days)),
        worked=worked,
        relapse=tuple(_relapse(settings, worked)),
    )


def _week(settings: Settings, today: Day, began: date, number: int) -> Week:
    first = began + timedelta(days=_WEEK * (number - 1))
    end = first + timedelta(days=_WEEK - 1)
    interval, by_hand = _interval_by(settings, today, end, number)
    before, _ = _interval_by(settings, today, first, number)
    step = number - FIRST_WEEK
    return Week(
        number=number,
        first=first,
        last=end,
        interval=round(interval),
        by_hand=by_hand,
        freedom=round(min(before, figures.FREEDOM_SECOND * figures.FREEDOM_GROWS**step)),
        rooms=_ROOMS[step],
        treats=TREATS[step],
        alone=round(alone_limit(before)),
    )


_ROOMS: Final = (
    "the room you are in", "one more room", "two more rooms",
    "all rooms without an accident so far", "all rooms, one with an accident", "all rooms",
)  # fmt: skip
"""Where the freedom is, from the third week on (our own choice)."""


def _interval_by(settings: Settings, today: Day, day: date, week: int) -> tuple[float, bool]:
    """Return where the interval may stand on ``day`` if all days until then are clear.

    By the rule it widens a step after two clear days up to its top; later the household may set it
    a step further each week, up to its own limit. Raises no error for a day that is over.
    """
    left, top = (day - today.plan.date).days, top_interval(settings.dog)
    by_rule = after_clear_days(settings.dog, today.interval, today.evidence, left)
    if week < figures.BY_HAND_FROM_WEEK or by_rule < top:
        return by_rule, False
    further = figures.STEP * (week - figures.BY_HAND_FROM_WEEK + 1)
    by_hand = max(by_rule, min(household_limit(settings.dog), top + further))
    return by_hand, by_hand > by_rule


def interval_that_worked(settings: Settings, days: Sequence[Day]) -> int:
    """Return the last interval (minutes) with two clear days in a row in the present round.

    Days of which too little is known neither count nor part them; without such days it is the
    interval that everyone begins with.
    """
    row = 0
    following: float | None = None
    for day in reversed(days):
        if day.round_from != days[-1].round_from:
            break
        if day.verdict == "clear":
            row = row + 1 if day.interval == following else 1
            following = day.interval
            if row >= figures.CLEAR_DAYS_THAT_WORKED:
                return round(day.interval)
        elif day.verdict == "accident":
            row, following = 0, None
    return round(start_interval(settings.dog))


def _keeps(settings: Settings, days: Sequence[Day]) -> Iterator[str]:
    outings = f"{figures.OUTINGS_FOR_CLEAR_DAY:g}"
    yield f"Never fewer than {outings} outings a day, at the same times; first and last thing stay."
    yield "Go on to the next week only after a clear one; otherwise repeat it."
    name = settings.dog.name
    yield f"Freedom begins right after a success outside; to week 5 {name} stays in sight."
    rooms = rooms_to_open_last(days)
    if rooms:
        yield f"Open last, where it happened: {', '.join(rooms)}."
    yield "Praise every success at once, outside, with or without a treat."


def rooms_to_open_last(days: Sequence[Day]) -> tuple[str, ...]:
    """Return the rooms of all accidents so far, those with the most last."""
    places = days[-1].facts.places.values()
    rooms = sorted((use for use in places if not use.place.spot), key=lambda use: use.accidents)
    return tuple(use.place.name for use in rooms)


def _relapse(settings: Settings, worked: int) -> Iterator[str]:
    name = settings.dog.name
    yield (
        "A relapse in a new home is to be expected, above all after a change such as guests, a "
        "move or a new timetable. It is nobody's fault: never scold."
    )
    yield (
        f"Go back to the last interval that worked: {span_words(worked)}. Back to one room, "
        f"{span_words(figures.FREEDOM_AFTER_SUCCESS)} of freedom after a success and a treat each "
        "time, until two days are clear."
    )
    yield (
        f"If it comes suddenly and nothing has changed, or {name} drinks more, strains or seems "
        "unwell: the vet first."
    )
    yield (
        f"After {count_words(int(figures.NEW_ROUND_ACCIDENTS), 'accident')} in a week begin a new "
        f"round: the interval starts again at {span_words(start_interval(settings.dog))}, what the "
        "log has taught stays, and the old round stands beside the new one."
    )
