"""How often the board names the cause of a made accident, and how seldom a wrong one.

The bounds are our own choice: a wrong cause is worse than none.
"""

from __future__ import annotations

import pytest

from tests.core.engine.made_accidents import BY_HAND, KINDS, Judged, judge, made, seeds

JUDGED = 252
"""So many seeds: each kind eighteen times, six of them ambiguous."""


@pytest.fixture(scope="module")
def judged() -> Judged:
    return judge((*BY_HAND, *seeds(0, JUDGED)))


def test_there_are_enough_of_every_kind_and_a_third_of_them_ambiguous() -> None:
    cases = [made(seed) for seed in range(JUDGED)]
    assert len(KINDS) == 14
    assert {sum(case.true == kind for case in cases) for kind in KINDS} == {JUDGED // 14}
    assert sum(not case.clear for case in cases) == JUDGED // 3


def test_few_are_named_wrongly(judged: Judged) -> None:
    assert len(judged.wrong) <= 0.05 * judged.total, judged.wrong


def test_no_cause_that_was_named_wrongly_narrows_the_interval(judged: Judged) -> None:
    """But for what no log can tell: an outing at its time that nobody wrote down."""
    assert [one for one in judged.wrong_narrowing if "empty missing" not in one] == []
    assert len(judged.wrong_narrowing) <= 0.01 * judged.total


def test_most_of_the_clear_ones_are_named(judged: Judged) -> None:
    assert judged.clear_named >= 0.7 * judged.clear
