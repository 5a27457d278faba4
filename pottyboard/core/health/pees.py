"""The rules about pees: too many, too small, too large, or none at all.

Each takes a look at the log and the window of its row in minutes, and yields the marks that raise
its warning, in order.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from operator import attrgetter

from pottyboard.core.engine.days import Accident, Outing
from pottyboard.core.health.health_views import Level
from pottyboard.core.health.notes import and_others, beside, kinds_of, noted
from pottyboard.core.health.window import PEES, Look, Mark, key
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, count_words, span_words
from pottyboard.core.statistics.exact_tests import predicted_at_least

_at = attrgetter("t")

_LOG_BEGINS = figures.WARNING_LOOKS_BACK * 1440
_WITH_NO_PEE = frozenset({"vomiting", "listless", "off-food", "blood", "pain"})


# --- Small, large, often --------------------------------------------------------------------------


def small_pees(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the notes of many small pees, and days with an unusual share of small ones."""
    counted = _amounts(look, "small", "soon")
    yield from sorted((*noted("small-pees", "soon")(look, window), *counted), key=_mark_at)


def large_pees(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield days with an unusual share of large pees: much is another matter than often."""
    yield from _amounts(look, "large", "ask")


def _amounts(look: Look, amount: str, level: Level) -> Iterator[Mark]:
    """Yield the pees of this amount that make more of a day, or of three, than chance explains.

    The share goes by the dog's own pees before that, and by what is normal while there are few.
    """
    pees = _counted(look)
    such = [pee.amount == amount for pee in pees]
    for number, pee in enumerate(pees):
        if not such[number]:
            continue
        morning = look.morning_of(pee.t)
        for since in (morning, morning - (figures.AMOUNT_DAYS - 1) * 1440):
            first = bisect_left(pees, since, hi=number, key=_at)
            many, of = sum(such[first : number + 1]), number + 1 - first
            if many < figures.AMOUNT_LEAST:
                continue
            before = min(sum(such[:first]), figures.AMOUNT_SHARE_MOST * first)
            prior = figures.AMOUNT_SHARE * figures.AMOUNT_WEIGHT
            chance = predicted_at_least(
                many, of, prior + before, figures.AMOUNT_WEIGHT - prior + first - before
            )
            if chance <= figures.AMOUNT_CHANCE:
                because = (
                    f"{many} of {of} pees were {amount} since {look.when(since)}, "
                    f"the last {look.when(pee.t)}"
                )
                yield Mark(pee.t, level, because, many)
                break


def _counted(look: Look) -> list[Event]:
    """Return the pees that tell something: no marking, no greeting, and no small one within an
    hour after a full one, for there is little left then."""
    aside = look.caused_by("marking", "greeting")
    found: list[Event] = []
    full = float("-inf")
    for pee in look.pees:
        if pee in aside or (pee.amount == "small" and pee.t - full <= figures.EMPTIED_WITHIN):
            continue
        found.append(pee)
        if pee.amount != "small":
            full = pee.t
    return found


def often(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield pee upon pee within two hours, and days with far more pees than the dog's others."""
    yield from sorted((*_uncalled(look), *_far_more(look, window)), key=_mark_at)


def _uncalled(look: Look) -> Iterator[Mark]:
    """Yield the pees that make several within two hours that no break had called."""
    window = figures.UNCALLED_WITHIN
    pees = _counted(look)
    many = int(figures.UNCALLED_PEES)
    close: dict[Minutes, Event] = {}
    for first, last in zip(pees, pees[many - 1 :], strict=False):
        if last.t - first.t <= window:
            low, high = (bisect_left(pees, t, key=_at) for t in (first.t, last.t + 1))
            close.update((pee.t, pee) for pee in pees[low:high])
    such = [pee for pee in close.values() if not _was_called(look, pee)]
    for first, last in zip(such, such[many - 1 :], strict=False):
        if last.t - first.t <= window:
            near = look.lately(such, last.t, window, vet=False)
            because = f"pees that no break had called: {look.whens(near)}"
            yield Mark(last.t, "soon", because, len(near))


def _was_called(look: Look, pee: Event) -> bool:
    """Whether a break stood, or the household was late for one: a sign is the dog's own call."""
    found = look.happenings.get(key(pee))
    if isinstance(found, Accident):
        return found.household
    if not isinstance(found, Outing):
        return False
    return found.due.code != "sign" and found.at >= found.due.at - figures.SERVES_WITHIN


def _far_more(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the days with far more pees than the dog's own earlier days had."""
    small = look.settings.dog.size == "small"
    band = figures.PEES_BAND_SMALL if small else figures.PEES_BAND
    days = look.by_day(look.pees)
    for index, (day, pees) in enumerate(days):
        earlier = [
            len(before)
            for known, before in days[:index]
            if known.verdict in ("clear", "accident")
            and day.plan.start - known.plan.start <= window
            and known.plan.number > 1
        ]
        if len(earlier) < figures.PEES_KNOWN_DAYS:
            continue
        usual = sorted(earlier)[(len(earlier) - 1) // 2]
        least = max(
            usual * figures.PEES_TIMES,
            usual + figures.PEES_MORE,
            max(earlier) + figures.PEES_OVER_MOST,
        )
        for number, pee in enumerate(pees, 1):
            if number >= least and number > band:
                because = (
                    f"{number} pees by {look.when(pee.t)}: "
                    f"the {len(earlier)} days before had {usual} in the middle"
                )
                yield Mark(pee.t, "ask", because, number // figures.PEES_STEP)


# --- None at all ----------------------------------------------------------------------------------


def no_pee(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the stretches without a pee: *soon* after ``window``, *now* where the dog is unwell.

    Unwell it is an emergency after 12 h awake, or 16 h in all. The stretch begins with the last
    pee, a vet's visit or the arrival, and anew after a silence of more than 12 h, for then the log
    was not kept. A dog that is well must have been out several times without a pee.
    """
    if not look.events:
        return
    ends = [(pee.t, True) for pee in look.kinds(*PEES) if not pee.unsure]
    ends += [(vet, False) for vet in look.vets]
    opened = min(look.events[0].t, max(look.settings.arrived, look.now - _LOG_BEGINS))
    stretches = pairwise([(opened, False), *sorted(ends), (look.now, None)])
    for (since, _), (until, over) in stretches:
        if until - since >= figures.NO_PEE_UNWELL_AWAKE:
            yield from _dry(look, since, until, window, None if over is None else until)


def _dry(
    look: Look, since: Minutes, until: Minutes, window: Minutes, ended: Minutes | None
) -> Iterator[Mark]:
    """Yield what a stretch without a pee raises, at each entry and by the clock alone."""
    low = bisect_right(look.events, since, key=_at)
    high = bisect_left(look.events, until + (ended is None), key=_at)
    last, outings = since, list[Minutes]()
    for event in (*look.events[low:high], None):
        stop = until if event is None else event.t
        open_end = event is None and ended is None
        for at in _clock(look, since, window):
            if last < at <= last + figures.LOG_STOPPED and (at < stop or (open_end and at == stop)):
                yield from _dry_at(look, since, at, window, outings, ended)
        if event is None:
            return
        if event.t - last > figures.LOG_STOPPED:
            since, outings = event.t, []
        last = event.t
        before = outings[-1] if outings else since
        if event.row.is_outing and event.t - before > figures.ONE_OUTING:
            outings.append(event.t)
        yield from _dry_at(look, since, event.t, window, outings, ended)


def _clock(look: Look, since: Minutes, window: Minutes) -> list[Minutes]:
    """Return the instants at which a stretch becomes too long, with no entry needed."""
    by_clock = [since + figures.NO_PEE_UNWELL, since + window]
    awake, start = float(figures.NO_PEE_UNWELL_AWAKE), since
    for day in look.days:
        begin, end = max(start, day.plan.start), day.plan.bed
        if end - begin >= awake:
            by_clock.append(begin + awake)
            break
        awake -= max(0.0, end - begin)
    return sorted(by_clock)


def _dry_at(
    look: Look,
    since: Minutes,
    at: Minutes,
    window: Minutes,
    outings: Sequence[Minutes],
    ended: Minutes | None,
) -> Iterator[Mark]:
    """Yield what stands at an instant of a stretch, if anything does."""
    span = at - since
    notes = beside(look, "", at)
    awake = sum(max(0.0, min(at, day.plan.bed) - max(since, day.plan.start)) for day in look.days)
    long = span >= figures.NO_PEE_UNWELL or awake >= figures.NO_PEE_UNWELL_AWAKE
    kept = len([out for out in outings if out > at - window]) >= figures.NO_PEE_OUTINGS
    unwell = long and _is_unwell(notes)
    if not unwell and (span < window or not kept):
        return
    others = [note for note in notes if unwell or note.finding in _WITH_NO_PEE]
    because = f"no pee logged for {span_words(span)}, since {look.when(since)}"
    if outings:
        because += f", though {count_words(len(outings), 'outing')} {_are(len(outings))}"
    grade = span // figures.NO_PEE_STEP + len(kinds_of(others))
    level: Level = "now" if others else "soon"
    yield Mark(at, level, and_others(look, because, others), grade, ended)


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _is_unwell(notes: Sequence[Event]) -> bool:
    """Whether a day's notes say that the dog is unwell: listless, or two signs of illness."""
    kinds = kinds_of(notes)
    vomits = sum(note.finding == "vomiting" for note in notes)
    return "listless" in kinds or len(kinds) >= figures.UNWELL_SIGNS or vomits >= 2


def _mark_at(mark: Mark) -> Minutes:
    return mark.at
