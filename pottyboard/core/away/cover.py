"""Covering an absence with visits: the arithmetic, on plain numbers.

An absence runs from its last break (``begin``) to the return (``end``). Between them lie the slots
at which somebody could come, each with a price. From every break the next one has to come within
its *reach*: the longest gap allowed, or the end of a window in which a visit must fall (after a
meal, near the middle). A later break never has a shorter reach, and that makes everything here
exact:

* going as far as the reach allows, visit by visit, needs the fewest visits;
* the visits of a plan with that many lie in windows that don't overlap, so that the cheapest of
  them, and among those the ones nearest to the wanted times, fall out of one pass per visit;
* where no slot lies within reach, the gap across that hole cannot be shorter than from the last
  slot before it to the first one after; the reach is stretched by exactly that, and what is over
  adds up hole by hole.

Times are whole minutes, money is in hundredths.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes

_NEVER: Final = 1 << 80
"""Dearer than any plan."""


class Hole(Struct, frozen=True):
    """A gap that no visit can shorten: from a break at ``after`` to the next one at ``until``.

    ``reach`` is when the next break should have come.
    """

    after: Minutes
    until: Minutes
    reach: Minutes

    @property
    def over(self) -> Minutes:
        """By how many minutes the next break comes too late."""
        return self.until - self.reach


class Cover(Struct, frozen=True):
    """One absence as a problem, or several that are to get visits at the same times.

    ``reach`` belongs to ``slots`` one by one and is stretched over ``holes``; ``closes`` is the
    index of the first slot from which the end is in reach, -1 where the begin has it in reach.
    ``weight`` is how many absences are in it; ``begin`` and ``end`` are then their means.
    """

    begin: Minutes
    end: Minutes
    slots: tuple[int, ...]
    prices: tuple[int, ...]
    first_reach: Minutes
    reach: tuple[Minutes, ...]
    closes: int
    holes: tuple[Hole, ...] = ()
    weight: int = 1

    @property
    def over(self) -> Minutes:
        """By how many minutes, all in all, the gaps cannot be kept."""
        return sum(hole.over for hole in self.holes)


def cover(
    marks: Sequence[Minutes], reach: Sequence[Minutes], prices: Sequence[int], end: Minutes
) -> Cover:
    """Pose the problem of one absence.

    ``marks`` are the begin and the slots, and ``reach`` belongs to them one by one; both ascend.
    ``prices`` belong to the slots.
    """
    reaches = list(reach)
    holes = [
        Hole(after, until, reached)
        for after, until, reached in zip(marks, [*marks[1:], end], reaches, strict=True)
        if until > reached
    ]
    for hole in holes:
        # Whoever reaches as far as the last break before the hole may step over it too.
        first = bisect_left(reaches, hole.reach)
        for index in range(first, bisect_right(reaches, hole.reach)):
            reaches[index] = hole.until
    closes = bisect_left(reaches, end) - 1
    slots = tuple(int(mark) for mark in marks[1:])
    return Cover(
        marks[0], end, slots, tuple(prices), reaches[0], tuple(reaches[1:]), closes, tuple(holes)
    )


def together(one: Cover, other: Cover) -> Cover:
    """Pose two problems as one: only slots that both have, the shorter reach, both prices."""
    theirs = {slot: index for index, slot in enumerate(other.slots)}
    both = [(i, theirs[slot]) for i, slot in enumerate(one.slots) if slot in theirs]
    weight = one.weight + other.weight
    slots = tuple(one.slots[i] for i, _ in both)
    closes = max(c.slots[c.closes] if c.closes >= 0 else -1 for c in (one, other))
    return Cover(
        begin=(one.begin * one.weight + other.begin * other.weight) / weight,
        end=(one.end * one.weight + other.end * other.weight) / weight,
        slots=slots,
        prices=tuple(one.prices[i] + other.prices[j] for i, j in both),
        first_reach=min(one.first_reach, other.first_reach),
        reach=tuple(min(one.reach[i], other.reach[j]) for i, j in both),
        closes=bisect_left(slots, closes),
        weight=weight,
    )


# --- How many, and for how much -------------------------------------------------------------------


def _farthest(problem: Cover) -> list[int] | None:
    """Return the slots of a plan that goes as far as it can each time; None if it gets stuck."""
    if problem.closes < 0:
        return []
    slots, reach, at = problem.slots, problem.first_reach, -1
    path: list[int] = []
    while at < problem.closes:
        following = bisect_right(slots, reach) - 1
        if following <= at:
            return None
        at, reach = following, problem.reach[following]
        path.append(at)
    return path


def fewest(problem: Cover) -> int | None:
    """Return the smallest number of visits; None where joined problems cannot be solved as one."""
    path = _farthest(problem)
    return None if path is None else len(path)


def fewest_for_least(problem: Cover) -> int | None:
    """Return the smallest number of visits among the plans that cost least; None as above."""
    if problem.closes < 0:
        return 0
    slots, reach = problem.slots, problem.reach
    least = [_NEVER] * len(slots)
    spans = ((bisect_left(reach, slot), index - 1) for index, slot in enumerate(slots))
    # Each value is read by the generator only after it has been put in.
    for index, before in enumerate(_lowest(least, spans)):
        known = 0 if slots[index] <= problem.first_reach else before
        least[index] = known + (problem.prices[index] << 20) + 1
    best = min(least[problem.closes :], default=_NEVER)
    return None if best >= _NEVER else best & ((1 << 20) - 1)


def _lowest(values: Sequence[int], spans: Iterator[tuple[int, int]]) -> Iterator[int]:
    """Yield the lowest of ``values`` in each span of indexes; neither end of the spans goes back.

    A span with nothing in it gives a value dearer than any plan.
    """
    queue: deque[int] = deque()
    pushed = 0
    for low, high in spans:
        while pushed <= high:
            while queue and values[queue[-1]] >= values[pushed]:
                queue.pop()
            queue.append(pushed)
            pushed += 1
        while queue and queue[0] < low:
            queue.popleft()
        yield values[queue[0]] if queue else _NEVER


def price_of(problem: Cover, visits: Sequence[int]) -> int:
    """Return what visits at these slots cost, in hundredths."""
    price = dict(zip(problem.slots, problem.prices, strict=True))
    return sum(price[slot] for slot in visits)


# --- When -----------------------------------------------------------------------------------------


def chosen(problem: Cover, count: int, usual: Sequence[int] = ()) -> tuple[int, ...] | None:
    """Return the slots of the best plan with exactly ``count`` visits, None if there is none.

    Best is least money, then nearest to the ``usual`` times (minutes), then evenly spread and at
    quarter hours.
    """
    if count == 0:
        return () if problem.closes < 0 else None
    windows = _windows(problem, count)
    if windows is None:
        return None
    slots, reach = problem.slots, problem.reach
    low, high = windows[0]
    rows = [
        [
            _weight(problem, index, 0, count, usual)
            if slots[index] <= problem.first_reach
            else _NEVER
            for index in range(low, high + 1)
        ]
    ]
    for turn in range(1, count):
        before = low
        low, high = windows[turn]
        spans = (
            (bisect_left(reach, slots[index]) - before, min(index - 1 - before, len(rows[-1]) - 1))
            for index in range(low, high + 1)
        )
        row = [
            value if value >= _NEVER else value + _weight(problem, low + step, turn, count, usual)
            for step, value in enumerate(_lowest(rows[-1], spans))
        ]
        rows.append(row)
    return _traced(problem, windows, rows)


def _traced(
    problem: Cover, windows: Sequence[tuple[int, int]], rows: Sequence[Sequence[int]]
) -> tuple[int, ...] | None:
    """Return the cheapest chain of slots through the rows, from the last visit to the first."""
    path: list[int] = []
    for (low, high), row in zip(reversed(windows), reversed(rows), strict=True):
        first, last = low, high
        if path:
            first = max(first, bisect_left(problem.reach, problem.slots[path[-1]]))
            last = min(last, path[-1] - 1)
        else:
            first = max(first, problem.closes)
        if first > last:
            return None
        within = row[first - low : last + 1 - low]
        least = min(within)
        if least >= _NEVER:
            return None
        path.append(first + within.index(least))
    return tuple(problem.slots[index] for index in reversed(path))


def _windows(problem: Cover, count: int) -> list[tuple[int, int]] | None:
    """Return for each visit the first and the last slot that it can have in such a plan."""
    path = _farthest(problem)
    last = len(problem.slots) - 1
    if path is None or not path or not len(path) <= count <= last + 1:
        return None
    highs = [path[turn] if turn < len(path) else last for turn in range(count)]
    low, lows = problem.closes, []
    for turn in reversed(range(count)):
        lows.append(max(low, turn))
        low = bisect_left(problem.reach, problem.slots[low])
    pairs = [
        (low, min(high, last - (count - 1 - turn)))
        for turn, (low, high) in enumerate(zip(reversed(lows), highs, strict=True))
    ]
    return pairs if all(low <= high for low, high in pairs) else None


def _weight(problem: Cover, index: int, turn: int, count: int, usual: Sequence[int]) -> int:
    """Return money, distance from the usual times and from an even spread as one number."""
    slot = problem.slots[index]
    even = problem.begin + (turn + 1) * (problem.end - problem.begin) / (count + 1)
    round_to = int(figures.VISIT_ROUND)
    spread = abs(slot - round_to * round(even / round_to)) + round_to * (slot % round_to != 0)
    strange = min((abs(slot - known) for known in usual), default=0)
    return (problem.prices[index] << 40) + (strange << 20) + spread
