"""The health diary: what a vet asks about, day by day, from the household's log alone.

It counts and compares; it never says what a dog may have. A day with too few entries says so and
is left out of every comparison.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, datetime
from operator import attrgetter
from statistics import median
from typing import Final

from pottyboard.core.engine.days import Day, gap_in
from pottyboard.core.engine.history import History
from pottyboard.core.engine.stretches import stretches
from pottyboard.core.health.warnings import warnings_between
from pottyboard.core.health.water import Drunk, intake
from pottyboard.core.model import figures
from pottyboard.core.model.describe import CAUSE_WORDS, FINDING_WORDS, words_of
from pottyboard.core.model.events import Event
from pottyboard.core.model.figure import Figure
from pottyboard.core.model.localtime import Minutes, instant_of, minutes_of, span_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.diary_views import (
    Diary,
    DiaryDay,
    Finding,
    Mishap,
    Night,
    Raised,
    Spread,
    Unusual,
)
from pottyboard.core.review.last_days import last_day
from pottyboard.core.review.outings import by_hour, waits_by_day
from pottyboard.core.review.tally import wet_nights

_at = attrgetter("t")
_JUST_BEFORE: Final = 1 / 60

THRESHOLDS: Final[tuple[tuple[str, Figure], ...]] = (
    ("water, usual up to", figures.WATER_USUAL),
    ("water, between usual and much, from", figures.WATER_GREY),
    ("water, much, by one source over", figures.WATER_EARLY),
    ("water, much, over", figures.WATER_MUCH),
    ("pees, adults up to", figures.PEES_BAND),
    ("pees, small dogs up to", figures.PEES_BAND_SMALL),
    ("pees, far more than the days before, at least", figures.PEES_TIMES),
    ("no pee for", figures.NO_PEE),
    ("no pee and unwell, awake for", figures.NO_PEE_UNWELL_AWAKE),
    ("no pee and unwell, in all for", figures.NO_PEE_UNWELL),
    ("small or large pees, taken as normal at first", figures.AMOUNT_SHARE),
    ("pees that no break had called", figures.UNCALLED_PEES),
    ("stools, adults up to", figures.STOOLS_BAND),
    ("stools, many", figures.STOOLS_MANY),
    ("no stool for", figures.NO_STOOL),
    ("vomiting", figures.VOMITING_AGAIN),
    ("loose stool, off food or listless for", figures.LASTS),
    ("accidents after clear days", figures.RELAPSE_ACCIDENTS),
    ("clear days before those", figures.RELAPSE_CLEAR_DAYS),
    ("wet nights", figures.NIGHTS_WET),
    ("small pees on upright things", figures.MARKINGS),
    ("pees at a greeting", figures.GREETINGS),
    ("accidents soon after leaving", figures.ALONE_ACCIDENTS),
    ("soon after leaving, up to", figures.ALONE_SOON),
    ("pees on the pad alone", figures.PAD_PEES),
)
"""The figures that the warnings and the tables are held against, in words."""


def diary(
    settings: Settings,
    events: Iterable[Event],
    now: datetime,
    first: date | None = None,
    days: int | None = None,
) -> Diary:
    """Return the diary of ``days`` days from the local date ``first`` on, up to today at most.

    By default it goes from the arrival to today, or to the last entry if that is long ago: the
    newest 62 days where there are more. Raises
    ``ValueError`` if none of the days is in the log, or for more than 62.
    """
    at = minutes_of(now)
    history = History.of(settings, events, at)
    known = history.days
    most = int(figures.DIARY_DAYS)
    last = (last_day(known) - settings.first_date).days + 1
    start = max(0, last - most) if first is None else (first - settings.first_date).days
    stop = max(last, start + 1) if days is None else start + days
    stop = min(len(known), stop)
    if not 0 <= start < stop:
        raise ValueError("none of these days is in the log")
    if stop - start > most:
        raise ValueError(f"more than {most} days")
    # What is usual is read from some days before as well, however short the diary is.
    near = range(max(0, min(start, stop - int(figures.DIARY_LOOKS_BACK))), stop)
    pages = _pages(settings, history, near, at)
    here = pages[start - near.start :]
    usual = [page for page in pages[-int(figures.DIARY_LOOKS_BACK) :] if page.whole]
    begun = known[start].plan.start
    end = known[stop].plan.start - _JUST_BEFORE if stop < len(known) else at
    holds = [
        hold for day in known[start:stop] for hold in day.holds if hold.length > figures.ONE_OUTING
    ]
    by_day = [hold.length for hold in holds if not hold.night and not hold.silent]
    true = [length for length in by_day if length <= figures.SILENCE_TOO_LONG]
    silent = sum(one.of == "entry" for day in known[start:stop] for one in day.silences)
    return Diary(
        settings,
        now,
        here,
        _spread(true),
        _spread([hold.length for hold in holds if hold.night]),
        len(by_day) - len(true) + silent,
        tuple(_unusual(here, usual)),
        len(usual),
        tuple(_raised(history, begun, end, at)),
        by_hour(known[start:stop], settings.zone),
        waits_by_day(known[start:stop]),
    )


# --- One day --------------------------------------------------------------------------------------


def _pages(settings: Settings, history: History, near: range, now: Minutes) -> tuple[DiaryDay, ...]:
    known = history.days
    around = known[max(0, near.start - 1) : min(len(known), near.stop + 1)]
    nights = _nights(known, near, now)
    wet = wet_nights(around)
    first, last = around[0].plan.start, around[-1].plan.next_up
    low, high = (bisect_left(history.events, edge, key=_at) for edge in (first, last))
    water = intake(settings, history.events[low:high])
    return tuple(
        _page(settings, known[index], index + 1 < len(known), water, nights, wet[date_])
        for index in near
        for date_ in (known[index].plan.date,)
    )


def _page(
    settings: Settings,
    day: Day,
    over: bool,
    water: dict[date, Drunk],
    nights: dict[date, Night],
    wet: int,
) -> DiaryDay:
    events, on = day.events, day.plan.date
    pees = _times(event for event in events if "pee" in event.row.resets and not event.unsure)
    stools = _times(event for event in events if "poop" in event.row.resets and not event.unsure)
    lengths = [
        hold.length
        for hold in day.holds
        if not hold.night and not hold.silent and hold.length <= figures.SILENCE_TOO_LONG
    ]
    night = nights.get(on)
    return DiaryDay(
        date=on,
        number=day.plan.number,
        entries=len(events),
        too_little=gap_in(settings, day.plan, len(day.outings), day.silences)
        if over
        else "not over yet",
        pees=len(pees),
        pees_inside=sum(event.row.is_accident for event in pees),
        stools=len(stools),
        stools_inside=sum(event.row.is_accident for event in stools),
        on_pad=sum(event.on_pad and event.row.is_success for event in events),
        small=sum(event.amount == "small" for event in pees),
        large=sum(event.amount == "large" for event in pees),
        nothing=sum(
            all(not event.row.is_success for event in outing.events) for outing in day.outings
        ),
        longest=round(max(lengths)) if lengths else None,
        water=water.get(on),
        meals=tuple(event.at for event in events if event.kind == "meal"),
        accidents=tuple(_mishaps(day, settings)),
        findings=tuple(
            Finding(event.at, FINDING_WORDS.get(event.finding, ""), event.note)
            for event in events
            if event.kind == "health"
        ),
        night=None if night is None else Night(
            night.asleep, night.to, night.breaks, wet, night.logged
        ),
    )  # fmt: skip


def _times(events: Iterable[Event]) -> list[Event]:
    """Return the events, those that follow within one outing counted once, accidents apart."""
    found: list[Event] = []
    for event in events:
        same = found and event.row.is_accident == found[-1].row.is_accident
        if not (same and event.t - found[-1].t <= figures.ONE_OUTING):
            found.append(event)
    return found


_TOLD: Final = ("found", "alone", "amount", "upright", "surface", "place", "unsure")
"""What the diary tells of an accident beside its cause."""


def _mishaps(day: Day, settings: Settings) -> Iterator[Mishap]:
    for accident in day.accidents:
        event = accident.event
        details = (words_of(event, name, settings) for name in _TOLD)
        yield Mishap(
            event.at,
            event.row.words,
            CAUSE_WORDS[accident.why.cause],
            accident.why.said,
            tuple(detail for detail in details if detail),
            event.note,
            accident.is_own,
        )


def _nights(known: Sequence[Day], near: range, now: Minutes) -> dict[date, Night]:
    """Return the nights by the date on which they began; the accidents are still to be counted."""
    starts = [day.plan.start for day in known]
    slept: dict[int, tuple[Minutes, Minutes]] = {}
    for begin, end, what in stretches(known, near, now):
        index = bisect_left(starts, begin + 1e-6) - 1
        if what == "night" and index >= 0:
            earliest, latest = slept.get(index, (begin, end))
            slept[index] = (min(earliest, begin), max(latest, end))
    found = {}
    for index, (begin, end) in slept.items():
        day = known[index]
        found[day.plan.date] = Night(
            instant_of(begin),
            instant_of(end) if end < now else None,
            sum(begin < outing.at < end for outing in day.outings),
            0,
            any(event.kind == "settled" and event.t == begin for event in day.events),
        )
    return found


# --- The whole ------------------------------------------------------------------------------------


def _spread(lengths: Sequence[Minutes]) -> Spread | None:
    if not lengths:
        return None
    return Spread(len(lengths), round(median(lengths)), round(min(lengths)), round(max(lengths)))


def _raised(history: History, begun: Minutes, end: Minutes, now: Minutes) -> Iterator[Raised]:
    notes = [event for event in history.events if event.kind == "noted"]
    for warning in warnings_between(history, instant_of(begun), instant_of(end)):
        since = minutes_of(warning.since)
        yield Raised(
            warning,
            tuple(
                (note.at, note.note)
                for note in notes
                if note.about == warning.code and since <= note.t <= now
            ),
        )


Measured = Callable[[DiaryDay], float | None]

_COMPARED: Final[tuple[tuple[str, Measured, Figure, Callable[[float], str]], ...]] = (
    ("pees", lambda day: day.pees, figures.DIARY_COUNT_APART, "{:g}".format),
    ("stools", lambda day: day.stools, figures.DIARY_COUNT_APART, "{:g}".format),
    ("meals", lambda day: len(day.meals), figures.DIARY_COUNT_APART, "{:g}".format),
    ("outings that brought nothing", lambda day: day.nothing, figures.DIARY_COUNT_APART,
     "{:g}".format),
    ("longest time between two pees by day", lambda day: day.longest, figures.DIARY_TIME_APART,
     span_words),
    ("water in mL/kg", lambda day: day.water.per_kg if day.water and day.water.whole else None,
     figures.DIARY_WATER_APART, "{:.0f}".format),
    ("breaks in the night", lambda day: day.night.breaks if day.night else None,
     figures.DIARY_COUNT_APART, "{:g}".format),
)  # fmt: skip
"""What is held against the dog's other days: what it is, how far outside them counts, in words."""


def _unusual(days: Sequence[DiaryDay], usual: Sequence[DiaryDay]) -> Iterator[Unusual]:
    """Yield what lies far outside all the dog's other whole days."""
    for day in days:
        if not day.whole:
            continue
        others = [other for other in usual if other.date != day.date]
        for what, measured, apart, words in _COMPARED:
            value = measured(day)
            known = [one for other in others if (one := measured(other)) is not None]
            if value is None or len(known) < figures.DIARY_KNOWN_DAYS:
                continue
            low, high = min(known), max(known)
            if low - apart < value < high + apart:
                continue
            reach = words(low) if low == high else f"{words(low)} to {words(high)}"
            yield Unusual(
                day.date,
                f"{what} {words(value)}; on its {len(known)} other whole days {reach}, "
                f"{words(median(known))} in the middle",
            )
