"""Two rows of times matched in order, so that as little as possible has to move."""

from __future__ import annotations

from collections.abc import Sequence

Pair = tuple[int | None, int | None]
"""A place in the one row and in the other; None where it has no partner there."""


def aligned(ours: Sequence[float], theirs: Sequence[float], most: float) -> tuple[Pair, ...]:
    """Return the pairs of places of two rows (both rising, of one unit), in order.

    What would have to move by ``most`` or more is left alone on both sides. Found by the least
    cost over all ways to match in order (dynamic programming).
    """
    least: dict[Pair, tuple[float, tuple[Pair, ...]]] = {(0, 0): (0.0, ())}
    for i in range(len(ours) + 1):
        for j in range(len(theirs) + 1):
            ways: list[tuple[float, tuple[Pair, ...]]] = []
            if i:
                cost, pairs = least[i - 1, j]
                ways.append((cost + most / 2, (*pairs, (i - 1, None))))
            if j:
                cost, pairs = least[i, j - 1]
                ways.append((cost + most / 2, (*pairs, (None, j - 1))))
            if i and j:
                cost, pairs = least[i - 1, j - 1]
                moved = abs(ours[i - 1] - theirs[j - 1])
                ways.append((cost + moved, (*pairs, (i - 1, j - 1))))
            if ways:
                least[i, j] = min(ways, key=lambda way: way[0])
    return least[len(ours), len(theirs)][1]
