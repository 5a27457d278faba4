"""Rounds: visits at the same clock times on many days, where that costs nothing.

Days whose plans have equally many visits are put together one by one, as long as some common times
cost each of them no more than its own best plan. The days that most others share their times with
come first; the rest then stays as near to those times as its own best plan allows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from msgspec import structs

from pottyboard.core.away.cover import Cover, chosen, fewest, fewest_for_least, price_of, together


@dataclass(slots=True)
class _Round:
    """Problems that get their visits at the same times."""

    joint: Cover
    count: int
    money: int
    members: list[Cover]


def rounds(
    problems: Sequence[Cover], alike: Sequence[bool], cheapest: bool
) -> list[tuple[int, ...]]:
    """Return the slots of the visits for each problem, in its order.

    Every plan has the fewest visits and, of those, the least money; with ``cheapest`` the least
    money and, for that, the fewest visits. ``alike`` tells which problems may share their times
    (their slots count in the same clock).
    """
    apart = [problem for problem, shares in zip(problems, alike, strict=True) if not shares]
    times: dict[Cover, tuple[int, ...]] = {}
    usual: tuple[int, ...] = ()
    shared = Counter(problem for problem, shares in zip(problems, alike, strict=True) if shares)
    found = _put_together(shared, cheapest)
    found += [_alone(problem, 1, cheapest) for problem in dict.fromkeys(apart)]
    for group in found:
        visits = chosen(group.joint, group.count, usual) or ()
        usual = tuple(dict.fromkeys((*usual, *visits)))
        times.update(dict.fromkeys(group.members, visits))
    return [times[problem] for problem in problems]


def _alone(problem: Cover, days: int, cheapest: bool) -> _Round:
    count = (fewest_for_least(problem) if cheapest else fewest(problem)) or 0
    money = price_of(problem, chosen(problem, count) or ())
    return _Round(structs.replace(problem, weight=days), count, money, [problem])


def _put_together(shared: Counter[Cover], cheapest: bool) -> list[_Round]:
    """Return the rounds, those of the most days first."""
    found: list[_Round] = []
    for problem, days in shared.most_common():
        alone = _alone(problem, days, cheapest)
        if not any(_joined(group, alone) for group in found if group.count == alone.count):
            found.append(alone)
    return sorted(found, key=lambda group: -group.joint.weight)


def _joined(group: _Round, other: _Round) -> bool:
    """Whether ``other`` fits into ``group`` at no cost to either; then it is in it."""
    if group.count == 0:
        group.members.extend(other.members)
        return True
    joint = together(group.joint, other.joint)
    visits = chosen(joint, group.count)
    if visits is None or price_of(joint, visits) > group.money + other.money:
        return False
    group.joint, group.money = joint, group.money + other.money
    group.members.extend(other.members)
    return True
