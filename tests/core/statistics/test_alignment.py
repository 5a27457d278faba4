"""Two rows of times matched in order, checked against every way to do it."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st

from pottyboard.core.statistics.alignment import Pair, aligned

MOST = 60.0
rows = st.lists(st.integers(0, 600), max_size=5).map(sorted)


def cost(ours: list[int], theirs: list[int], pairs: tuple[Pair, ...]) -> float:
    total = 0.0
    for mine, other in pairs:
        both = mine is not None and other is not None
        total += abs(ours[mine or 0] - theirs[other or 0]) if both else MOST / 2
    return total


def every_cost(ours: list[int], theirs: list[int]) -> list[float]:
    """Return the cost of each way to match in order, by trying all of them."""
    found = []
    for size in range(min(len(ours), len(theirs)) + 1):
        for mine in combinations(range(len(ours)), size):
            for other in combinations(range(len(theirs)), size):
                moved = sum(abs(ours[i] - theirs[j]) for i, j in zip(mine, other, strict=True))
                alone = len(ours) + len(theirs) - 2 * size
                found.append(moved + alone * MOST / 2)
    return found


@tries(max_examples=150)
@given(rows, rows)
def test_no_other_way_costs_less(ours: list[int], theirs: list[int]) -> None:
    pairs = aligned(ours, theirs, MOST)
    assert [mine for mine, _ in pairs if mine is not None] == [*range(len(ours))]
    assert [other for _, other in pairs if other is not None] == [*range(len(theirs))]
    assert cost(ours, theirs, pairs) == min(every_cost(ours, theirs))


@pytest.mark.parametrize(
    ("ours", "theirs", "pairs"),
    [
        ([], [], ()),
        ([10], [], ((0, None),)),
        ([100], [130], ((0, 0),)),
        ([100], [170], ((0, None), (None, 0))),
        ([100, 200], [205], ((0, None), (1, 0))),
    ],
)  # fmt: skip
def test_near_times_are_one_and_far_ones_are_two(
    ours: list[float], theirs: list[float], pairs: tuple[Pair, ...]
) -> None:
    assert aligned(ours, theirs, MOST) in (pairs, pairs[::-1])
