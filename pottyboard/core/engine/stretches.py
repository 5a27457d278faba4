"""The stretches of the days in which the dog slept, or was left alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, Literal

from pottyboard.core.engine.days import Day
from pottyboard.core.log.state import LogState
from pottyboard.core.log.take_in import take_in
from pottyboard.core.model.localtime import Minutes

SpanKind = Literal["night", "nap", "alone"]

_JUST_BEFORE: Final = 1e-3


def stretches(
    days: Sequence[Day], near: range, now: Minutes
) -> Iterator[tuple[Minutes, Minutes, SpanKind]]:
    """Yield when the dog slept and when it was alone, on the days of ``near``, as the log has it.

    A night that nobody logged is taken from the routine, as everywhere, but not on a day without
    any entry.
    """
    facts = days[near[0] - 1].facts.copy() if near[0] else LogState()
    for index in near:
        plan, here = days[index].plan, days[index].events
        end = days[index + 1].plan.start if index + 1 < len(days) else now
        for event in here:
            asleep, since = facts.sleep_at(plan, event.t), facts.asleep_from(plan, event.t)
            left = facts.left
            take_in(facts, event, plan)
            if asleep and since is not None and not facts.sleep:
                yield since, event.t, "night" if asleep == "night" else "nap"
            if left is not None and facts.left != left:
                yield left, event.t, "alone"
        seen = min(end, plan.next_up) - _JUST_BEFORE
        asleep, since = facts.sleep_at(plan, seen), facts.asleep_from(plan, seen)
        if here and asleep and since is not None and since < end:
            yield since, end, "night" if asleep == "night" else "nap"
    if facts.left is not None:
        yield facts.left, end, "alone"
