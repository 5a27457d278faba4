"""What a count says about a true rate: none in so many, or some in so many."""

from __future__ import annotations

import math

CONFIDENCE = 0.95


def bound_after_none(trials: float, confidence: float = CONFIDENCE) -> float:
    """Return the highest true rate that still leaves none in ``trials`` a fair chance.

    That chance is 1 - ``confidence``, so the bound is 1 - (1 - confidence) ** (1 / trials), exact
    at every number; with no trials it is 1. Raises ValueError for negative trials or a confidence
    not between 0 and 1.
    """
    _check(trials, confidence)
    # The last line is the same bound, exact also where it is tiny.
    return 1.0 if trials == 0 else -math.expm1(math.log1p(-confidence) / trials)


def wilson(count: float, trials: float, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """Return the range in which the true rate lies, given ``count`` in ``trials``.

    Wilson's score interval without continuity correction; (0, 1) with no trials. Source: Wilson,
    J Am Stat Assoc 1927;22:209-212 (from memory). Raises ValueError for a count that is negative or
    more than the trials, or a confidence not between 0 and 1.
    """
    _check(trials, confidence)
    if not 0 <= count <= trials:
        raise ValueError(f"{count} is no count in {trials}")
    if trials == 0:
        return 0.0, 1.0
    z = normal_quantile(0.5 + confidence / 2)
    share, spread = count / trials, z * z / trials
    middle = share + spread / 2
    reach = math.sqrt(spread * (share * (1 - share) + spread / 4))
    # At the ends the formula gives exactly 0 or 1, but not in floating point.
    low = 0.0 if count == 0 else max(0.0, (middle - reach) / (1 + spread))
    high = 1.0 if count == trials else min(1.0, (middle + reach) / (1 + spread))
    return low, high


def _check(trials: float, confidence: float) -> None:
    """Raise ValueError for trials or a confidence that cannot be; NaN fails each comparison."""
    if not (0 <= trials < math.inf and 0 < confidence < 1):
        raise ValueError(f"{trials} trials at a confidence of {confidence} cannot be")


def normal_quantile(share: float) -> float:
    """Return the standard normal's quantile: halved sixty times, sparing the statistics module."""
    low, high = -40.0, 40.0
    for _ in range(60):
        middle = (low + high) / 2
        if math.erfc(-middle / math.sqrt(2)) / 2 < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2
