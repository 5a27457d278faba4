"""How regular each time of the day is: a routine is the half of house-training.

Times of the clock are averaged on the circle, so that a bedtime at 23:50 and one at 00:10 are
neighbours and their mean is midnight.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct, structs

from pottyboard.core.engine.days import Day
from pottyboard.core.log.state import for_the_night
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, count_words, minute_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.patterns.accident_patterns import Asked
from pottyboard.core.patterns.exposure import minute_of_day
from pottyboard.core.patterns.pattern_views import Pattern, RoutineTime
from pottyboard.core.statistics.circular import LIMITS_FROM, clock_gap, clock_times
from pottyboard.core.statistics.exact_tests import kendall_s, least_kendall_p
from pottyboard.core.statistics.proportion import wilson

_MORNING_BEFORE = 11 * 60
_EVENING_FROM = 15 * 60
"""A first meal before 11:00 reads as breakfast, a last one from 15:00 on as dinner."""


class TimeKept(Struct, frozen=True):
    """One time of the routine as it was kept: the ordinal of each date and its minute of the day.

    ``code``, ``words`` and ``planned`` are those of :class:`RoutineTime`.
    """

    code: str
    words: str
    planned: float | None
    on: tuple[tuple[int, float], ...]

    @property
    def minutes(self) -> tuple[float, ...]:
        """The minutes of the day alone."""
        return tuple(minute for _, minute in self.on)


def times_kept(settings: Settings, days: Sequence[Day], near: range) -> tuple[TimeKept, ...]:
    """Return the times of the routine on the days of ``near``, those that were ever kept.

    The evening of a day that is still open is not over, and on the day of arrival nobody
    got up, unless the dog was there before that time.
    """
    home = settings.home
    planned = sorted(_minute(meal.hour, meal.minute) for meal in home.meals)
    names: dict[str, tuple[str, float | None]] = {
        "up": ("Getting up", _minute(home.up.hour, home.up.minute)),
        "first": ("The first break", None),
        **{f"meal-{n}": (_meal_words(n, planned), meal) for n, meal in enumerate(planned, 1)},
        "last": ("The last break", None),
        "bedtime": ("Bedtime", _minute(home.bed.hour, home.bed.minute)),
    }
    kept: dict[str, list[tuple[int, float]]] = {code: [] for code in names}
    for index in near:
        day = days[index]
        closed = index + 1 < len(days)
        for code, t in _of_day(settings, day, closed, planned).items():
            kept[code].append((day.plan.date.toordinal(), minute_of_day(t, settings.zone)))
    return tuple(TimeKept(code, *names[code], tuple(on)) for code, on in kept.items() if on)


def _of_day(
    settings: Settings, day: Day, closed: bool, planned: Sequence[float]
) -> Mapping[str, Minutes]:
    """Return the instants of the routine on one day, by the code of each."""
    found: dict[str, Minutes] = {}
    plan = day.plan
    outings = [outing.at for outing in day.outings]
    about = plan.first_about(day.events)
    if about is not None and about.kind == "up" and plan.up >= settings.arrived:
        found["up"] = about.t
    if plan.start != settings.arrived and outings:
        found["first"] = outings[0]
    off: dict[str, float] = {}
    for event in day.events:
        if event.kind == "meal" and planned:
            minute = minute_of_day(event.t, settings.zone)
            gaps = [abs(clock_gap(minute, meal)) for meal in planned]
            gap = min(gaps)
            code = f"meal-{gaps.index(gap) + 1}"
            if gap < off.get(code, float("inf")):
                off[code], found[code] = gap, event.t
        elif closed and event.kind == "settled" and for_the_night(event, plan):
            found.setdefault("bedtime", event.t)
    if closed and day.verdict != "unknown":
        night = found.get("bedtime", plan.bed + figures.QUIET_NIGHT)
        evening = [t for t in outings if t <= night]
        if evening:
            found["last"] = evening[-1]
    return found


def _minute(hour: int, minute: int) -> float:
    return hour * 60.0 + minute


def _meal_words(number: int, planned: Sequence[float]) -> str:
    meal = planned[number - 1]
    if number == 1 and meal < _MORNING_BEFORE:
        return "Breakfast"
    if number == len(planned) and meal >= _EVENING_FROM:
        return "Dinner"
    return f"The {minute_words(meal)} meal"


# --- How regular ----------------------------------------------------------------------------------


def regularity(kept: TimeKept) -> RoutineTime | None:
    """Return how regular a time is; None for too few days, or times that cancel out."""
    if len(kept.on) < figures.ROUTINE_TO_TELL:
        return None
    found = clock_times(kept.minutes)
    if found.mean is None or found.median is None:
        return None
    return RoutineTime(
        kept.code, kept.words, found.number, kept.planned, found.mean, found.median, found.spread,
        found.length, found.limits,
    )  # fmt: skip


def drift_questions(kept: TimeKept) -> Iterator[tuple[Asked, RoutineTime]]:
    """Yield the question whether a time drifts from day to day, with its regularity and drift."""
    usual = regularity(kept)
    if usual is None:
        return
    recent = kept.on[-int(figures.PATTERN_DAYS) :]
    gaps = [clock_gap(minute, usual.median) for _, minute in recent]
    dates = [date for date, _ in recent]
    growth, chance = kendall_s(gaps, dates)
    n, days = len(recent), dates[-1] - dates[0] + 1
    moved = growth * (days - 1)
    way = "later" if growth > 0 else "earlier"
    over = f"some {abs(moved):.0f} min {way} over {count_words(days, 'day')}"
    if abs(growth) >= 1:
        over = f"about {abs(growth):.0f} min a day, {over}"
    words = f"{kept.words} drifts: {over}."
    yield (
        Asked(
            "drift", "Kendall's test for a trend", least_kendall_p(gaps), chance, words,
            n, n, kept.words, matters=abs(moved) >= figures.DRIFT_LEAST,
        ),
        structs.replace(usual, drift=growth),
    )  # fmt: skip


def regularity_told(kept: TimeKept, usual: RoutineTime) -> Pattern:
    """Return the regularity of one time as a sentence with its count."""
    reach = figures.ROUTINE_NEAR
    near = sum(abs(clock_gap(minute, usual.mean)) <= reach for minute in kept.minutes)
    words = (
        f"{kept.words}: {minute_words(usual.mean)} on average, within {reach:g} min of that on "
        f"{near} of {count_words(usual.days, 'day')}."
    )
    if usual.days < LIMITS_FROM:
        sure = "a count; the days are too few to say more"
    elif usual.limits is None:
        sure = "too scattered for an average that means much"
    else:
        low, high = usual.limits
        sure = f"in the long run probably {minute_words(low)} to {minute_words(high)}"
    return Pattern("routine", words, sure, near, usual.days, kept.words, wilson(near, usual.days))
