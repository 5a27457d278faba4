"""The rules about stools, water and accidents: what in the log sends its household to a vet.

Each takes a look at the log and the window of its row in minutes, and yields the marks that raise
its warning, in order.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise
from operator import attrgetter

from pottyboard.core.engine.days import Accident
from pottyboard.core.health.health_views import Level
from pottyboard.core.health.window import Look, Mark
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, count_words, span_words

_at = attrgetter("t")

# --- Stools ---------------------------------------------------------------------------------------


def many_stools(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the stools that make many of a day."""
    level: Level = "today" if look.is_frail else "soon"
    for _, stools in look.by_day(look.stools):
        for number, stool in enumerate(stools, 1):
            if number >= figures.STOOLS_MANY:
                because = f"{number} stools in a day, the last {look.when(stool.t)}"
                yield Mark(stool.t, level, because, number)


def no_stool(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the stretches of ``window`` without a stool, with a meal on each of its days.

    A stretch begins with a stool, a vet's visit or the arrival, and anew after a silence of more
    than 12 h: what nobody logged may have been one.
    """
    ends = [*((stool.t, True) for stool in look.stools), *((vet, False) for vet in look.vets)]
    opened = max(look.settings.arrived, look.now - figures.WARNING_LOOKS_BACK * 1440)
    for (begun, _), (until, over) in pairwise([(opened, False), *sorted(ends), (look.now, None)]):
        since = _last_silence(look, begun, until)
        at = since + window
        if at > until or (at == until and over is not None):
            continue
        meals = [m.t for m in look.of_kind["meal"] if since < m.t <= at]
        eaten = {int((meal - since) // 1440) for meal in meals}
        if len(eaten) >= figures.NO_STOOL:
            days = count_words(int(window // 1440), "day")
            because = (
                f"no stool logged for {days}, since {look.when(since)}, though "
                f"{count_words(len(meals), 'meal')} are"
            )
            yield Mark(at, "watch", because, until=until if over is not None else None)


def _last_silence(look: Look, since: Minutes, until: Minutes) -> Minutes:
    """Return the end of the last long silence between two instants; ``since`` if there is none."""
    low = bisect_right(look.events, since, key=_at)
    high = bisect_left(look.events, until, key=_at)
    last = ended = since
    for event in look.events[low:high]:
        if event.t - last > figures.LOG_STOPPED:
            ended = event.t
        last = event.t
    return ended


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
    the plan; but those of a dog that seems unwell do, and those that are late only by the interval
    that the first of them narrowed.
    """
    such = [
        a.event
        for a in look.accidents
        if not _is_late(look, a) and (a.why.cause == "unwell" or not a.why.is_other)
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


def _is_late(look: Look, accident: Accident) -> bool:
    """Whether an accident came after a break that the interval of the morning too calls late."""
    facts = accident.circumstances
    pee, earliest = facts.facts.last_pee, facts.earliest
    if not accident.household or pee is None or earliest is None or facts.rule.code != "hold":
        return accident.household
    day = look.days[bisect_right(look.days, accident.event.t, key=lambda d: d.plan.start) - 1]
    today = [step.before for step in day.steps if step.at >= day.plan.start]
    return earliest - pee > max([day.interval, *today]) + figures.LATE


def _clear_before(look: Look, at: Minutes) -> int:
    """Return how many days in a row were clear before the day of an instant, unknown ones aside."""
    own = bisect_right(look.days, at, key=lambda day: day.plan.start) - 1
    return look.days[own - 1].streak if own > 0 else 0
