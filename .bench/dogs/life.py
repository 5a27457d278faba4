"""What happens in a household whatever the plan: nights, meals, drinks, naps, play, absences."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Literal

from dogs.population import ARRIVAL, DAYS, Traits

What = Literal["up", "bed", "meal", "drink", "play", "nap", "nap-over", "left", "back"]


@dataclass(frozen=True, slots=True)
class Moment:
    """Something that happens at a minute; ``amount`` is the drink in mL/kg."""

    at: int
    what: What
    amount: float = 0.0


@dataclass(frozen=True, slots=True)
class Span:
    """The waking part of one day, in minutes since the midnight of day 1."""

    up: int
    bed: int


def spans(traits: Traits, seed: int) -> list[Span]:
    """Return when the household really gets up and goes to bed on each day, and the day after."""
    rng = Random(f"spans-{seed}-{traits.number}")
    found = []
    for day in range(DAYS + 1):
        up = day * 1440 + round(390 + rng.gauss(0, 12))
        bed = day * 1440 + round(1350 + rng.gauss(0, 15))
        found.append(Span(up if day else ARRIVAL, bed))
    return found


def moments(traits: Traits, seed: int, days: list[Span]) -> dict[int, list[Moment]]:
    """Return everything that happens, by minute."""
    rng = Random(f"life-{seed}-{traits.number}")
    found: list[Moment] = []
    for number, span in enumerate(days):
        found.append(Moment(span.up, "up"))
        if number < DAYS:
            found += _day(traits, rng, number * 1440, span)
            found.append(Moment(span.bed, "bed"))
    by_minute: dict[int, list[Moment]] = {}
    for moment in found:
        by_minute.setdefault(moment.at, []).append(moment)
    return by_minute


def _day(traits: Traits, rng: Random, midnight: int, span: Span) -> list[Moment]:
    found: list[Moment] = []

    def add(at: float, what: What, amount: float = 0.0) -> None:
        if span.up < at < span.bed - 5:
            found.append(Moment(round(at), what, amount))

    def drink(at: float) -> None:
        add(at, "drink", rng.uniform(3, 9))

    meals = [midnight + 420 + rng.gauss(0, 12), midnight + 1050 + rng.gauss(0, 15)]
    for meal in meals:
        add(meal, "meal")
        if rng.random() < 0.55:
            drink(meal + rng.uniform(3, 20))
    for _ in range(rng.choice((1, 1, 2, 2, 3))):
        play = rng.uniform(span.up + 30, span.bed - 60)
        add(play, "play")
        if rng.random() < 0.4:
            drink(play + rng.uniform(5, 15))
    # Beside the drinks above come those of no occasion, so that a thirsty dog has its number.
    for _ in range(_count(rng, max(0.3, traits.thirst - 1.9))):
        drink(rng.uniform(span.up + 20, span.bed - 30))
    away = _absence(rng, span)
    if away and not any(away[0] - 30 < meal < away[1] + 15 for meal in meals):
        add(away[0], "left")
        add(away[1], "back")
    nap = span.up + rng.uniform(60, 180)
    while nap < span.bed - 60:
        length = min(rng.lognormvariate(4.1, 0.5), span.bed - 30 - nap)
        clear = all(not nap - 20 < meal < nap + length for meal in meals)
        if length > 15 and clear:
            add(nap, "nap")
            add(nap + length, "nap-over")
        nap += length + rng.uniform(50, 200)
    return found


def _count(rng: Random, mean: float) -> int:
    number = int(mean)
    return number + (rng.random() < mean - number)


def _absence(rng: Random, span: Span) -> tuple[float, float] | None:
    """Return a short absence, on two days of five: shopping, the school run."""
    if rng.random() > 0.4:
        return None
    left = rng.uniform(span.up + 120, span.bed - 180)
    return left, left + rng.uniform(25, 80)
