"""Exact tests for small counts, and what to allow for when many questions are asked at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations
from statistics import median

# --- Counts ---------------------------------------------------------------------------------------


def at_least(count: int, trials: int, share: float) -> float:
    """Return the chance of ``count`` or more in ``trials`` where each has the chance ``share``.

    The exact binomial tail. Raises ValueError for a count or a share that cannot be.
    """
    if not (0 <= count <= trials and 0 <= share <= 1):
        raise ValueError(f"{count} in {trials} at a share of {share} cannot be")
    if count == 0 or share == 1:
        return 1.0
    if share == 0:
        return 0.0
    logs = math.log(share), math.log1p(-share)
    return min(1.0, math.fsum(_binomial(n, trials, logs) for n in range(count, trials + 1)))


def _binomial(count: int, trials: int, logs: tuple[float, float]) -> float:
    ways = math.lgamma(trials + 1) - math.lgamma(count + 1) - math.lgamma(trials - count + 1)
    return math.exp(ways + count * logs[0] + (trials - count) * logs[1])


def binomial_p(count: int, trials: int, share: float) -> float:
    """Return the chance of a count as far from ``share`` to its side, doubled for the other side.

    The exact binomial test, two-sided. Raises ValueError as :func:`at_least`.
    """
    more = at_least(count, trials, share)
    fewer = at_least(trials - count, trials, 1 - share)
    return min(1.0, 2 * min(more, fewer))


def as_one_sided(most: int, trials: int) -> float:
    """Return the chance that one of any number of kinds is seen ``most`` times or more in all.

    It holds for kinds of any shares, none of which is over a half. Proof: past half of the trials
    the binomial tail is convex in the share up to a half, so it lies under the line from nothing to
    its value there, and the sum over all kinds is at most twice that value. Raises ValueError as
    :func:`at_least`.
    """
    if 2 * most <= trials:
        return 1.0
    return min(1.0, 2 * at_least(most, trials, 0.5))


# --- A trend --------------------------------------------------------------------------------------


def kendall_s(values: Sequence[float], at: Sequence[float] | None = None) -> tuple[float, float]:
    """Return how fast ``values`` grow, and the chance of so clear a trend.

    They stand ``at`` growing places, one apart by default. The growth for each place is the median
    slope of all pairs (Theil and Sen), the chance that of Kendall's statistic if the order means
    nothing, exact without ties and too high with them. Sources: Sen, J Am Stat Assoc
    1968;63:1379-1389; Kendall, Biometrika 1938;30:81-93 (from memory). The work grows with the
    square of the number of values. Raises ValueError for fewer than two.
    """
    if len(values) < 2:
        raise ValueError("a trend needs two values or more")
    points = zip(range(len(values)) if at is None else at, values, strict=True)
    slopes = [(y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in combinations(points, 2)]
    score = sum((slope > 0) - (slope < 0) for slope in slopes)
    return median(slopes), kendall_p(abs(score), len(values))


def kendall_p(score: int, number: int) -> float:
    """Return the chance that Kendall's score of ``number`` values in any order is so far from 0.

    The score counts the pairs in order less those out of order.
    """
    orders = _disorder(number)
    pairs = number * (number - 1) // 2
    if score <= 0:
        return 1.0
    return min(1.0, 2 * math.fsum(orders[: (pairs - score) // 2 + 1]))


@lru_cache(maxsize=128)
def _disorder(number: int) -> tuple[float, ...]:
    """Return the chance of each number of pairs out of order, all orders being as likely."""
    if number < 2:
        return (1.0,)
    before = _disorder(number - 1)
    chances, running = [], 0.0
    for pairs in range(len(before) + number - 1):
        running += before[pairs] if pairs < len(before) else 0.0
        running -= before[pairs - number] if pairs >= number else 0.0
        chances.append(max(0.0, running) / number)
    return tuple(chances)


# --- Many questions at once -----------------------------------------------------------------------


def holm(chances: Sequence[float]) -> list[float]:
    """Return each chance with all the questions allowed for: Holm's step-down correction.

    Those up to a level are then wrong somewhere no more often than that level. Source: Holm, Scand
    J Stat 1979;6:65-70 (from memory).
    """
    bounds, highest = [1.0] * len(chances), 0.0
    for step, index in enumerate(sorted(range(len(chances)), key=chances.__getitem__)):
        highest = max(highest, min(1.0, (len(chances) - step) * chances[index]))
        bounds[index] = highest
    return bounds


def tarone_testable(least: Sequence[float], level: float) -> list[bool]:
    """Return which questions to ask, given the ``least`` chance that each could come out with.

    As many as can be, so that each could still reach ``level`` with all of them allowed for; one
    that could not needs no allowance in the others, since what it could show is known beforehand.
    The idea is Tarone's, Biometrics 1990;46:515-522 (from memory).
    """
    in_order = sorted(range(len(least)), key=least.__getitem__)
    most = max((n for n, i in enumerate(in_order, 1) if least[i] <= level / n), default=0)
    asked = set(in_order[:most])
    return [index in asked for index in range(len(least))]
