"""Exact tests for small counts, and what to allow for when many questions are asked at once."""

from __future__ import annotations

import math
from collections import Counter
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


def predicted_at_least(count: int, trials: int, ones: float, others: float) -> float:
    """Return the chance of ``count`` or more in the next ``trials``, judged by what was seen.

    The tail of the beta-binomial distribution: ``ones`` and ``others`` are how many of each were
    seen before, a guess at first counted with them; both over 0. Raises ValueError for what cannot
    be.
    """
    if not (0 <= count <= trials and ones > 0 and others > 0):
        raise ValueError(f"{count} in {trials} after {ones} and {others} cannot be")
    if count == 0:
        return 1.0
    before = _log_beta(ones, others)
    return min(
        1.0,
        math.fsum(
            math.comb(trials, n) * math.exp(_log_beta(ones + n, others + trials - n) - before)
            for n in range(count, trials + 1)
        ),
    )


def _log_beta(one: float, other: float) -> float:
    return math.lgamma(one) + math.lgamma(other) - math.lgamma(one + other)


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
    slope of all pairs (Theil and Sen), the chance that of Kendall's statistic, to either side, if
    these values may as well stand in any other order; it is exact, with ties too. Sources: Sen,
    J Am Stat Assoc 1968;63:1379-1389; Kendall, Biometrika 1938;30:81-93 (from memory). The work
    grows with the square of the number of values. Raises ValueError for fewer than two.
    """
    if len(values) < 2:
        raise ValueError("a trend needs two values or more")
    points = zip(range(len(values)) if at is None else at, values, strict=True)
    slopes = [(y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in combinations(points, 2)]
    score = sum((slope > 0) - (slope < 0) for slope in slopes)
    return median(slopes), kendall_p(score, _groups(values))


def least_kendall_p(values: Sequence[float]) -> float:
    """Return the least chance that :func:`kendall_s` can give for these values in any order."""
    groups = _groups(values)
    return kendall_p(len(_disorder(groups)) - 1, groups)


def kendall_p(score: int, groups: tuple[int, ...]) -> float:
    """Return the chance that Kendall's score is as far from 0, all orders being as likely.

    The score counts the pairs in order less those out of order; ``groups`` says how many values
    each distinct value stands for, ``(1, 1, 1)`` for three without ties.
    """
    ways = _disorder(groups)
    if score == 0:
        return 1.0
    most = len(ways) - 1
    return 2 * sum(ways[: max(0, (most - abs(score)) // 2 + 1)]) / sum(ways)


def _groups(values: Sequence[float]) -> tuple[int, ...]:
    return tuple(sorted(Counter(values).values()))


@lru_cache(maxsize=256)
def _disorder(groups: tuple[int, ...]) -> tuple[int, ...]:
    """Return in how many distinct orders of these values 0, 1, 2, ... pairs are out of order.

    They are the coefficients of the q-multinomial: MacMahon, Combinatory Analysis, 1915-1916 (from
    memory). A group after the other is mixed into those before it; counts are whole, so nothing is
    lost in the divisions.
    """
    ways, before = [1], 0
    for group in groups:
        for one in range(1, group + 1):
            # Times (1 - q^(before + one)), then by (1 - q^one).
            step = before + one
            ways = [
                (ways[n] if n < len(ways) else 0) - (ways[n - step] if n >= step else 0)
                for n in range(len(ways) + before)
            ]
            for n in range(one, len(ways)):
                ways[n] += ways[n - one]
        before += group
    return tuple(ways)


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
