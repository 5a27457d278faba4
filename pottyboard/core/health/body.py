"""The rules about the dog's body: what in the log sends its household to a vet.

Each takes a look at the log and the window of its row in minutes, and yields the marks that raise
its warning, in order.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from itertools import chain, pairwise
from operator import attrgetter

from pottyboard.core.health.health_views import Level
from pottyboard.core.health.window import PEES, Look, Mark
from pottyboard.core.model import figures
from pottyboard.core.model.describe import FINDING_WORDS
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, count_words, span_words

_at = attrgetter("t")

_LOG_BEGINS = figures.WARNING_LOOKS_BACK * 1440
Rule = Callable[[Look, Minutes], Iterator[Mark]]

_NERVES = frozenset({"loose-stool", "off-food", "listless"})
"""Signs that a dog's first days in a new home may bring by themselves."""
_WITH_NO_PEE = frozenset({"vomiting", "listless", "off-food", "blood", "pain"})


# --- Health notes ---------------------------------------------------------------------------------


def noted(finding: str, level: Level) -> Rule:
    """Return the rule for a finding that counts at once; signs near it make it worse."""

    def rule(look: Look, window: Minutes) -> Iterator[Mark]:
        own = [note for note in look.notes if note.finding == finding]
        for note in look.notes if own else ():
            before = look.lately(own, note.t, window)
            beside = note.finding != finding
            if not before or (beside and note.t - before[-1].t > figures.TOGETHER):
                continue
            others = _beside(look, finding, note.t)
            because = _and(look, f"{FINDING_WORDS[finding]}: {look.whens(before)}", others)
            yield Mark(note.t, level, because, len(before) + len(_kinds(others)))

    return rule


def lasting(finding: str, *rules: Rule, again: float = float("inf")) -> Rule:
    """Return the rule for a finding that often passes: *soon* once it lasts or comes with others.

    It also counts with the marks of ``rules``, and once it was noted ``again`` times in a day.
    """

    def rule(look: Look, window: Minutes) -> Iterator[Mark]:
        own = [note for note in look.notes if note.finding == finding]
        if not own:
            return
        marks = [
            mark
            for other in rules
            for mark in other(look, figures.TOGETHER)
            if mark.level in ("now", "soon")
        ]
        signs = sorted({*(note.t for note in look.notes), *(mark.at for mark in marks)})
        for at in signs:
            before = look.lately(own, at, window)
            if not before or (at != before[-1].t and at - before[-1].t > figures.TOGETHER):
                continue
            others = [note for note in _beside(look, finding, at) if _counts(look, finding, note)]
            near = [mark for mark in marks if 0 <= at - mark.at <= figures.TOGETHER]
            lasted = at == before[-1].t and at - _run(before)[0].t >= figures.LASTS
            often = len(look.lately(own, at, 1440)) >= again
            soon = lasted or often or bool(others) or bool(near)
            if not soon and (at < look.settled_in or at != before[-1].t):
                continue
            because = _and(look, f"{FINDING_WORDS[finding]}: {look.whens(before)}", others)
            because = "; ".join(dict.fromkeys([because, *(mark.because for mark in near[-1:])]))
            grade = len(before) + len(_kinds(others)) + bool(near)
            yield Mark(at, "soon" if soon else "watch", because, grade)

    return rule


def _run(notes: Sequence[Event]) -> Sequence[Event]:
    """Return the notes at the end of ``notes`` that follow each other within two days."""
    first = len(notes) - 1
    while first and notes[first].t - notes[first - 1].t <= 2 * figures.LASTS:
        first -= 1
    return notes[first:]


def _beside(look: Look, finding: str, at: Minutes) -> list[Event]:
    """Return the other signs noted in the day up to ``at``."""
    return [n for n in look.lately(look.notes, at, figures.TOGETHER) if n.finding != finding]


def _counts(look: Look, finding: str, other: Event) -> bool:
    """Whether a sign counts with ``finding``: two of nerves in the first days do not."""
    nerves = finding in _NERVES and other.finding in _NERVES
    return not (nerves and other.t < look.settled_in)


def _kinds(notes: Sequence[Event]) -> set[str]:
    return {note.finding for note in notes}


def _and(look: Look, because: str, others: Sequence[Event]) -> str:
    last = {note.finding: note for note in others}
    with_it = [f"{FINDING_WORDS[finding]} {look.when(n.t)}" for finding, n in last.items()]
    return f"{because}; with {', '.join(with_it)}" if with_it else because


# --- Pees -----------------------------------------------------------------------------------------


def small_pees(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the notes of many small pees, and days with many pees logged as small."""
    counted = _amounts(look, "small", figures.SMALL_PEES)
    yield from sorted(chain(noted("small-pees", "soon")(look, window), counted), key=_mark_at)


def large_pees(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield days with many pees logged as large: much is another matter than often."""
    yield from _amounts(look, "large", figures.LARGE_PEES, "ask")


def _amounts(look: Look, amount: str, many: float, level: Level = "soon") -> Iterator[Mark]:
    aside = look.caused_by("marking", "greeting")
    such = [pee for pee in look.pees if pee.amount == amount and pee not in aside]
    for pee in such:
        day = look.lately(such, pee.t, 1440)
        if len(day) >= many:
            because = f"{len(day)} {amount} pees in 24 h, the last {look.when(pee.t)}"
            yield Mark(pee.t, level, because, len(day))


def often(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the days with far more pees than the dog's own earlier days had."""
    small = look.settings.dog.size == "small"
    band = figures.PEES_BAND_SMALL if small else figures.PEES_BAND
    starts = [bisect_left(look.pees, day.plan.start, key=_at) for day in look.days]
    days = [
        (day, look.pees[low:high])
        for day, (low, high) in zip(look.days, pairwise([*starts, None]), strict=True)
    ]
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
        for number, pee in enumerate(pees, 1):
            far = number >= max(usual * figures.PEES_TIMES, usual + figures.PEES_MORE)
            if far and number > band:
                because = (
                    f"{number} pees by {look.when(pee.t)}: "
                    f"the {len(earlier)} days before had {usual} in the middle"
                )
                yield Mark(pee.t, "ask", because, number // figures.PEES_STEP)


def no_pee(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the stretches of ``window`` or longer without a pee, where the log was kept.

    It was kept where enough outings without a pee are logged, and nothing is silent for 12 h.
    """
    if not look.events:
        return
    pees = [pee for pee in look.kinds(*PEES) if not pee.unsure]
    opened = min(look.events[0].t, max(look.settings.arrived, look.now - _LOG_BEGINS))
    marks = [opened, *(pee.t for pee in pees), look.now]
    for number, (since, until) in enumerate(pairwise(marks)):
        if until - since < window:
            continue
        ended = until if number < len(pees) else None
        mark = _dry(look, since, until, window, ended)
        if mark is not None:
            yield mark


def _dry(
    look: Look, since: Minutes, until: Minutes, window: Minutes, ended: Minutes | None
) -> Mark | None:
    """Return the mark of a stretch without a pee, None where the log may only have missed one."""
    low = bisect_right(look.events, since, key=_at)
    high = bisect_left(look.events, until + (ended is None), key=_at)
    raised: Mark | None = None
    last, outings = since, list[Minutes]()

    def looked_at(at: Minutes) -> Mark | None:
        """Return what stands at an instant: it needs no entry, only the clock."""
        if at - since < window or at - window >= _third_last(outings):
            return raised
        others = [n for n in _beside(look, "", at) if n.finding in _WITH_NO_PEE]
        because = (
            f"no pee logged for {span_words(at - since)}, since {look.when(since)}, "
            f"though {count_words(len(outings), 'outing')} are"
        )
        grade = (at - since) // figures.NO_PEE_STEP + len(_kinds(others))
        level: Level = "now" if others or (raised and raised.level == "now") else "soon"
        start = at if raised is None else raised.at
        return Mark(start, level, _and(look, because, others), grade, ended)

    for event in look.events[low:high]:
        if event.t - last > figures.LOG_STOPPED:
            since, outings, raised = event.t, [], None
        elif raised is None and last < since + window < event.t:
            raised = looked_at(since + window)
        last = event.t
        before = outings[-1] if outings else since
        if event.row.is_outing and event.t - before > figures.ONE_OUTING:
            outings.append(event.t)
        raised = looked_at(event.t)
    passed = since + window < until if ended else since + window <= until
    if raised is None and passed and last < since + window <= last + figures.LOG_STOPPED:
        raised = looked_at(since + window)
    return raised


def _third_last(outings: Sequence[Minutes]) -> Minutes:
    """Return when the last few outings began that it takes; before all time with fewer."""
    enough = int(figures.NO_PEE_OUTINGS)
    return outings[-enough] if len(outings) >= enough else float("-inf")


# --- Water ----------------------------------------------------------------------------------------


def drinking(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the days over what is usual: *soon* over 100 mL/kg, or over 60 twice in ``window``."""
    kg = look.settings.dog.weight_kg
    drunk: defaultdict[date, float] = defaultdict(float)
    over: dict[date, tuple[Level, float]] = {}
    for portion in look.portions:
        drunk[portion.day] += portion.ml
        per_kg = round(drunk[portion.day] / kg, 6)
        if per_kg <= figures.WATER_GREY:
            continue
        within = timedelta(minutes=window)
        before = [day for day in over if timedelta(0) < portion.day - day < within]
        soon = per_kg > figures.WATER_MUCH or bool(before)
        bad: tuple[Level, float] = (
            "soon" if soon else "watch",
            per_kg // figures.WATER_STEP + len(before),
        )
        if over.get(portion.day) == bad:
            continue
        over[portion.day] = bad
        because = "; ".join(
            f"at least {drunk[day]:.0f} mL on {day:%a} {day.day} {day:%b}, "
            f"{drunk[day] / kg:.0f} mL per kg ({_usual(drunk[day] / kg)})"
            for day in [*before[-1:], portion.day]
        )
        yield Mark(portion.at, bad[0], because, bad[1])


def _usual(per_kg: float) -> str:
    for limit in (figures.WATER_MUCH, figures.WATER_EARLY):
        if round(per_kg, 6) > limit:
            return f"over {limit:g} is much"
    return f"up to {figures.WATER_GREY:g} is usual"


# --- Accidents ------------------------------------------------------------------------------------


def wet_bed(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the accidents that likely came while the dog slept."""
    such = look.caused_by("leak")
    for accident in such:
        before = look.lately(such, accident.t, window)
        yield Mark(accident.t, "soon", f"peed asleep: {look.whens(before)}", len(before))


def relapse(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the accidents that come all at once, within ``window``, after clear days in a row.

    Those after a late break are the household's, and do not count, nor does what is no matter of
    the plan; but those of a dog that seems unwell do.
    """
    such = [
        a.event
        for a in look.accidents
        if not a.household and (a.why.cause == "unwell" or not a.why.is_other)
    ]
    for accident in such:
        sudden = look.lately(such, accident.t, figures.RELAPSE_WITHIN)
        if len(sudden) < figures.RELAPSE_ACCIDENTS:
            continue
        clear = _clear_before(look, sudden[0].t)
        if clear >= figures.RELAPSE_CLEAR_DAYS:
            because = (
                f"{len(sudden)} accidents within {span_words(accident.t - sudden[0].t)}, "
                f"the last {look.when(accident.t)}, after {clear} clear days"
            )
            yield Mark(accident.t, "soon", because, len(sudden))


def _clear_before(look: Look, at: Minutes) -> int:
    """Return how many days in a row were clear before the day of an instant, unknown ones aside."""
    own = bisect_right(look.days, at, key=lambda day: day.plan.start) - 1
    return look.days[own - 1].streak if own > 0 else 0


def _mark_at(mark: Mark) -> Minutes:
    return mark.at
