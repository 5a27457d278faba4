"""The pad, where one is used: nearer to the door day by day, and gone inside the fortnight.

A pad teaches that indoors is allowed and lengthens the training outdoors (Ahimsa Rescue Foundation
and general advice, read); it is a stop-gap for an absence that is longer than the dog can hold
(Silicon Valley Pet Project, read), and it is phased out (common practice, no source). The days on
which it moves are our own choice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final, Literal

from msgspec import Struct

from pottyboard.core.accidents.accident_views import PadPlan
from pottyboard.core.engine.days import Day
from pottyboard.core.model import figures
from pottyboard.core.model.events import PAD, Event
from pottyboard.core.model.localtime import count_words, instant_of, span_words
from pottyboard.core.model.settings import Settings

if TYPE_CHECKING:
    from pottyboard.core.away.schedule import Shortfall

Stage = Literal["stays", "moves", "waits", "door", "gone"]

REMOVED: Final = "removed"
"""The place of a ``pad`` entry that says it was taken up for good; any other place is a move."""

STEPS: Final = int(figures.PAD_AT_DOOR - figures.PAD_STAYS)
"""Equal steps from where the pad lay at first to the door."""


class PadDay(Struct, frozen=True):
    """One day of the pad: its date, where it lies (``step`` of :data:`STEPS`), and what to do."""

    date: date
    stage: Stage
    step: int
    words: str


def pad_plan(
    settings: Settings, days: Sequence[Day], gaps: Sequence[Shortfall] = ()
) -> PadPlan | None:
    """Return what to do about the pad on the last of ``days``; None where none is used any more.

    ``days`` are the days of the record so far; ``gaps`` what nobody covers today, which is what
    the pad may stand in for.
    """
    if not settings.home.pads or not days:
        return None
    first = days[-1].round_from
    lately = [day for day in days[-2 * int(figures.PROGRAMME_DAYS) :] if day.plan.number >= first]
    last = last_date(settings, first)
    over = days[-1].plan.date > last + timedelta(days=1) and not _used(lately)
    if over or _taken_up(lately):
        return None
    *_, today = walked(settings, lately)
    return PadPlan(
        words=f"{today.words}. {_purpose(settings, today, lately, gaps)}",
        caution=caution(settings, days[-1].interval),
        ends=instant_of(settings.bed_on(last)),
    )


def caution(settings: Settings, limit: float) -> str:
    """Return why a pad is no more than a stop-gap; ``limit`` minutes are what the dog can hold."""
    held = span_words(min(limit, figures.ALONE_MOST))
    return (
        f"A pad teaches that indoors is allowed: it is only for a time alone that is longer than "
        f"{settings.dog.name} can hold, {held} today, with the bed well away from it"
    )


def last_date(settings: Settings, first: int = 1) -> date:
    """Return the last day with a pad, in a round that began on the day with number ``first``."""
    return settings.first_date + timedelta(days=first - 2 + int(figures.PAD_UNTIL))


def walked(settings: Settings, days: Sequence[Day]) -> Iterator[PadDay]:
    """Yield where the pad lies on each of ``days``, which follow each other in one round.

    A day after an accident indoors waits, while there are days left to catch up in: the rest of the
    way is shared among those.
    """
    share, before = 0.0, None
    for day in days:
        number = day.plan.number - day.round_from + 1
        left = int(figures.PAD_AT_DOOR) - number + 1
        slipped = before is not None and any(a.event.counts_against_plan for a in before.accidents)
        waits = slipped and left > 1
        if number > figures.PAD_STAYS and not waits:
            share = 1.0 if left <= 1 else share + (1 - share) / left
        yield _pad_day(day.plan.date, number, round(share * STEPS), waits)
        before = day


def ahead(settings: Settings, first: int = 1) -> tuple[PadDay, ...]:
    """Return the whole plan of a round without an accident, day by day, to the day it is gone."""
    start = settings.first_date + timedelta(days=first - 1)
    return tuple(
        _pad_day(
            start + timedelta(days=number - 1),
            number,
            min(max(0, number - int(figures.PAD_STAYS)), STEPS),
            False,
        )
        for number in range(1, int(figures.PAD_UNTIL) + 2)
    )


def _pad_day(day: date, number: int, step: int, waits: bool) -> PadDay:
    here = f"step {step} of {STEPS} to the door"
    if number > figures.PAD_UNTIL:
        return PadDay(day, "gone", STEPS, "Take the pad up for good")
    if number > figures.PAD_AT_DOOR:
        last = ", and take it up for good at bedtime" if number >= figures.PAD_UNTIL else ""
        return PadDay(day, "door", STEPS, f"The pad lies right at the door today{last}")
    if number <= figures.PAD_STAYS:
        left = count_words(int(figures.PAD_STAYS) - number + 1, "day")
        return PadDay(day, "stays", 0, f"Leave the pad where it is, {left} more")
    if waits:
        where = here if step else "where it was at first"
        return PadDay(day, "waits", step, f"An accident yesterday: leave the pad today, {where}")
    return PadDay(day, "moves", step, f"Move the pad towards the door today: {here}")


def _purpose(
    settings: Settings, today: PadDay, days: Sequence[Day], gaps: Sequence[Shortfall]
) -> str:
    """Return what the pad is for today, by what nobody covers and by what the log says."""
    name, clock = settings.dog.name, settings.clock
    if today.stage == "gone":
        return "Log it: pad, taken up for good"
    if any(_is_move(event) for event in days[-1].events) and today.stage == "moves":
        return "Moved today: let it lie there until tomorrow"
    if gaps:
        spans = " and ".join(f"{clock(gap.start)} to {clock(gap.end)}" for gap in gaps)
        return f"It is for {spans}, which nobody covers; at all other times take {name} out"
    if not _used(days) and len(days) > figures.PAD_UNUSED:
        unused = count_words(int(figures.PAD_UNUSED), "day")
        return f"Not used for {unused}, and somebody can come today: it can go for good now"
    return f"Somebody can come at every time today: take {name} out rather than to the pad"


def _used(days: Sequence[Day]) -> bool:
    """Whether anything went on the pad in the last days."""
    return any(e.on_pad for day in days[-int(figures.PAD_UNUSED) :] for e in day.events)


def _taken_up(days: Sequence[Day]) -> bool:
    """Whether the last that was logged of the pad is that it was taken up for good."""
    about = (e for day in reversed(days) for e in reversed(day.events) if e.kind == PAD or e.on_pad)
    last = next(about, None)
    return last is not None and last.kind == PAD and last.place.casefold() == REMOVED


def _is_move(event: Event) -> bool:
    return event.kind == PAD and event.place.casefold() not in ("", REMOVED)
