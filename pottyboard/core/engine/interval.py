"""Today's interval: where it starts, how far it may go, and when it grows or shrinks.

The rule stands here alone; the days apply it, and the views that look back or ahead ask it.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, count_words, span_words
from pottyboard.core.model.permitted import household_limit
from pottyboard.core.model.settings import Dog

StepCause = Literal["start", "wider", "narrower", "household", "unwell", "well"]


def start_interval(dog: Dog) -> float:
    """Return the interval of the first days in minutes."""
    return figures.START_INTERVAL_SHORT if short_start(dog) else figures.START_INTERVAL


def short_start(dog: Dog) -> str:
    """Return why a dog begins with the shorter interval, empty where it does not."""
    reasons = {
        "prone to accidents": dog.prone,
        f"under {figures.TOY_BELOW_KG:g} kg": dog.weight_kg < figures.TOY_BELOW_KG,
        "a senior": dog.age == "senior",
        "on a medicine that makes it pass more water": "water-medicine" in dog.conditions,
    }
    return ", ".join(words for words, holds in reasons.items() if holds)


def top_interval(dog: Dog) -> float:
    """Return the widest interval that the rule reaches in the first two weeks, in minutes."""
    top: float = {
        "small": figures.TOP_INTERVAL_SMALL,
        "medium": figures.TOP_INTERVAL_MEDIUM,
        "large": figures.TOP_INTERVAL_LARGE,
    }[dog.size]
    if dog.prone:
        top = min(top, figures.TOP_INTERVAL_PRONE)
    return max(start_interval(dog), top - figures.STEP * (dog.age == "senior"))


def night_hold(dog: Dog) -> float:
    """Return how long the dog can be expected to hold asleep, in minutes."""
    if dog.prone or dog.size == "small":
        return figures.NIGHT_HOLD_SMALL
    return figures.NIGHT_HOLD


class Step(Struct, frozen=True):
    """One change of the interval (minutes) at an instant, with its reason in one sentence."""

    at: Minutes
    before: float
    after: float
    cause: StepCause
    words: str


class Evidence(Struct, frozen=True):
    """What the last clear days show: how many there are, and the awake holds in them (minutes)."""

    clear_days: int = 0
    holds: tuple[float, ...] = ()

    @classmethod
    def of(cls, days: Iterable[tuple[float, ...]]) -> Evidence:
        """Return the evidence of clear days in a row, each given by its awake holds: the holds of
        the newest days alone speak for a wider interval."""
        known = tuple(days)
        newest = known[-int(figures.CLEAR_DAYS_TO_WIDEN) :]
        return cls(len(known), tuple(hold for holds in newest for hold in holds))

    def after_clear_day(self, interval: float) -> Evidence:
        """Return the evidence after one more clear day, with enough holds of ``interval``."""
        holds = (interval,) * int(figures.HOLDS_TO_WIDEN)
        return Evidence(self.clear_days + 1, (*self.holds, *holds))

    def near(self, interval: float) -> int:
        """Return how many holds come near ``interval`` or exceed it."""
        return sum(hold >= near(interval) for hold in self.holds)


def near(interval: float) -> float:
    """Return from how many minutes on a hold is evidence for a wider ``interval``."""
    return interval - figures.HOLD_NEAR_INTERVAL


def is_early(due: Minutes, outing: Minutes) -> bool:
    """Whether an outing came so long before it was due that its hold can be no evidence."""
    return due - outing > figures.HOLD_NEAR_INTERVAL


def opening(dog: Dog, at: Minutes) -> Step:
    """Return the first interval, from the arrival on."""
    start = start_interval(dog)
    why = short_start(dog)
    reason = f": {why}" if why else ", as for most dogs"
    return Step(at, start, start, "start", f"{span_words(start)} to begin with{reason}.")


def reopened(dog: Dog, interval: float, at: Minutes) -> Step:
    """Return the interval with which a new round of the programme begins."""
    start = start_interval(dog)
    return Step(at, interval, start, "start", f"{span_words(start)} again: a new round.")


def widened(dog: Dog, interval: float, evidence: Evidence, at: Minutes) -> Step | None:
    """Return the wider interval that begins with the day at ``at``, if the evidence carries it."""
    top = top_interval(dog)
    if interval >= top or missing(dog, interval, evidence):
        return None
    after = min(top, interval + figures.STEP)
    return Step(
        at,
        interval,
        after,
        "wider",
        f"Breaks {span_words(after - interval)} further apart: {evidence.clear_days} clear days "
        f"in a row, and {evidence.near(interval)} waits of at least {span_words(near(interval))}.",
    )


def after_clear_days(dog: Dog, interval: float, evidence: Evidence, days: int) -> float:
    """Return where the rule brings the interval if the next ``days`` are clear, with enough holds
    that reach it."""
    for _ in range(days):
        evidence = evidence.after_clear_day(interval)
        step = widened(dog, interval, evidence, 0.0)
        if step is not None:
            interval, evidence = step.after, Evidence()
    return interval


def narrowed(interval: float, at: Minutes, words: str) -> Step | None:
    """Return the narrower interval after an accident in the plan's care; None at the floor."""
    after = max(figures.FLOOR_INTERVAL, interval - figures.STEP)
    if after >= interval:
        return None
    return Step(
        at, interval, after, "narrower",
        f"Breaks {span_words(interval - after)} closer together: {words}.",
    )  # fmt: skip


def rested(dog: Dog, interval: float, at: Minutes, noted: str) -> Step | None:
    """Return the start interval while a symptom of illness stands; None where it is no wider."""
    start = start_interval(dog)
    if interval <= start:
        return None
    words = (
        f"{span_words(start)} while a symptom of illness stands, noted at {noted}; "
        f"{span_words(interval)} comes back with the first clear day."
    )
    return Step(at, interval, start, "unwell", words)


def recovered(interval: float, before: float, at: Minutes) -> Step | None:
    """Return the interval ``before`` the sign of illness, after a clear day without one."""
    if before <= interval:
        return None
    words = f"{span_words(before)} again: a clear day without a symptom of illness."
    return Step(at, interval, before, "well", words)


def overruled(dog: Dog, interval: float, wanted: float, by: str, at: Minutes) -> Step:
    """Return the interval that the household set, kept between the floor and its limit."""
    after = min(max(wanted, figures.FLOOR_INTERVAL), household_limit(dog))
    who = by or "the household"
    kept = "" if after == wanted else f", kept within the limits ({span_words(wanted)} was asked)"
    return Step(at, interval, after, "household", f"{span_words(after)}: set by {who}{kept}.")


def missing(dog: Dog, interval: float, evidence: Evidence) -> tuple[str, ...]:
    """Return what is still missing before the interval widens; empty at the top or when ready."""
    if interval >= top_interval(dog):
        return ()
    needs = []
    days = int(figures.CLEAR_DAYS_TO_WIDEN) - evidence.clear_days
    holds = int(figures.HOLDS_TO_WIDEN) - evidence.near(interval)
    if days > 0:
        needs.append(count_words(days, "more clear day"))
    if holds > 0:
        needs.append(f"{count_words(holds, 'more wait')} of at least {span_words(near(interval))}")
    return tuple(needs)


def why_it_stays(dog: Dog, interval: float, evidence: Evidence, held_back: str) -> str:
    """Return in one sentence why the interval does not widen this morning; ``held_back`` says what
    the estimate had against it."""
    if held_back:
        return f"It stays as it is: {held_back}."
    if interval >= top_interval(dog):
        return f"{span_words(interval)} is the longest in these two weeks."
    return f"The next step still needs {', and '.join(missing(dog, interval, evidence))}."
