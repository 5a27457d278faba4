"""What accidents may have in common: the hour, the room, the cause, the watch, the company.

Each question has an exact test, so that it holds for a handful of accidents too. For hour, watch
and company the accidents are held against the time awake. Hour and watch look only at the time in
company: what happens to a dog alone is found later, and a log that cannot tell when would make the
hours at home look bad. How long the dog is in which room nobody logs, and so for room and cause
the question is whether one of them has more than half.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct, field

from pottyboard.core.model.localtime import minute_words
from pottyboard.core.patterns.exposure import TimeAtRisk
from pottyboard.core.patterns.incidents import Incident, rooms_alike
from pottyboard.core.patterns.pattern_views import Pattern, PatternCode
from pottyboard.core.statistics.circular import Directions, directions
from pottyboard.core.statistics.exact_tests import as_one_sided, at_least, binomial_p
from pottyboard.core.statistics.proportion import wilson

_MOST = 0.75
"""The hours named in the sentence hold this share of the accidents, at least."""
_CLUSTER_FROM = 5
"""Rayleigh's approximation is good from five directions on."""


class Asked(Struct, frozen=True):
    """One question: its test and chance, and the sentence that holds if the log carries it.

    ``least`` is the chance of the plainest answer that so many entries could give; ``matters``
    whether the answer is worth a sentence. ``by_chance`` is what pure chance gives the answer.
    """

    code: PatternCode
    test: str
    least: float
    by_chance: float
    words: str
    count: int
    of: int
    subject: str = ""
    matters: bool = True
    share: tuple[float, float] | None = field(default=None)

    def stated(self, bound: float, sure: str) -> Pattern:
        """Return the answer as a pattern."""
        return Pattern(
            self.code, self.words, sure, self.count, self.of, self.subject, self.share,
            self.test, self.by_chance, bound,
        )  # fmt: skip


def accident_questions(told: Sequence[Incident], awake: TimeAtRisk) -> Iterator[Asked]:
    """Yield each question that the accidents and the time awake allow to ask."""
    yield from _clock(told, awake.in_company)
    yield from _majority("place", Counter(dict(rooms_alike(told))))
    yield from _majority("cause", Counter(one.cause for one in told if one.cause))
    yield from _duty(told, awake.in_company)
    yield from _company(told, awake)


def _clock(told: Sequence[Incident], awake: TimeAtRisk) -> Iterator[Asked]:
    """Ask whether accidents cluster on the clock: Rayleigh's test on the time awake."""
    minutes = [one.minute for one in told if one.minute is not None]
    n = len(minutes)
    if n < _CLUSTER_FROM or awake.minutes <= 0:
        return
    chance = directions(map(awake.angle, minutes)).rayleigh_p
    least = Directions(n, 0.0, 1.0).rayleigh_p
    count, first, last = _most_hours(minutes, awake)
    share = awake.share(first, last)
    start, end = minute_words(first), minute_words(last)
    words = (
        f"Accidents like one time of the day: {count} of {n} came between {start} and {end}, "
        f"where {share:.0%} of the time awake in company lies."
    )
    yield Asked(
        "clock", "Rayleigh's test on the time awake in company", least, chance, words, count, n,
        f"{start}–{end}", share=wilson(count, n),
    )  # fmt: skip


def _most_hours(minutes: Sequence[float], awake: TimeAtRisk) -> tuple[int, float, float]:
    """Return how many accidents the shortest time awake with most of them holds, and its ends."""
    ring = sorted(minutes, key=awake.angle)
    reach = math.ceil(_MOST * len(ring))
    twice = ring + ring

    def width(first: int) -> float:
        return awake.share(ring[first], twice[first + reach - 1])

    first = min(range(len(ring)), key=width)
    low, high = ring[first], twice[first + reach - 1]
    inside = sum(awake.share(low, minute) <= awake.share(low, high) for minute in ring)
    return inside, low, high


def _majority(code: PatternCode, counts: Counter[str]) -> Iterator[Asked]:
    """Ask whether one room, or one cause, has more than half of the accidents."""
    n = counts.total()
    if not n:
        return
    subject, most = counts.most_common(1)[0]
    words = (
        f"Most accidents happen in one place, {subject}: {most} of {n}."
        if code == "place"
        else f"Most accidents have the same likely cause, “{subject}”: {most} of {n}."
    )
    yield Asked(
        code, "binomial test against a half", as_one_sided(n, n), as_one_sided(most, n), words,
        most, n, subject, share=wilson(most, n),
    )  # fmt: skip


def _duty(told: Sequence[Incident], awake: TimeAtRisk) -> Iterator[Asked]:
    """Ask of each person whether their watch sees more accidents than its length explains."""
    people = awake.by_person
    watched = sum(people.values())
    counts = Counter(one.who for one in told if one.who)
    n = counts.total()
    if len(people) < 2 or not n or watched <= 0:
        return
    for person, minutes in people.items():
        part, count = minutes / watched, counts[person]
        words = (
            f"{count} of {n} accidents that were seen came while {person} was on duty, who had "
            f"{part:.0%} of the time awake in company: those hours may be the harder ones."
        )
        yield Asked(
            "duty", "binomial test against the time on duty", part**n, at_least(count, n, part),
            words, count, n, person, share=wilson(count, n),
        )  # fmt: skip


def _company(told: Sequence[Incident], awake: TimeAtRisk) -> Iterator[Asked]:
    """Ask whether accidents come more often alone, or more often in company.

    One of which the log does not tell counts for the less telling side: those of a dog alone are
    found later, and leaving them out would make the company look bad.
    """
    known = [one.alone for one in told if one.by_day]
    n, alone, unknown = len(known), known.count(True), known.count(None)
    if not n or not 0 < awake.alone < awake.minutes:
        return
    part = awake.alone / awake.minutes
    if alone / n > part:
        subject, how, count = "alone", "while the dog was alone", alone
    else:
        subject, how, count = "company", "with somebody at home", n - alone - unknown
        part = 1 - part
    chance = binomial_p(count, n, part) if count / n > part else 1.0
    words = f"{count} of {n} accidents by day came {how}, which is {part:.0%} of the time awake."
    yield Asked(
        "alone", "binomial test against the time alone", min(1.0, 2 * min(part, 1 - part) ** n),
        chance, words, count, n, subject, share=wilson(count, n),
    )  # fmt: skip
