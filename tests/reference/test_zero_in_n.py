"""The bound after none in so many, against published examples."""

from __future__ import annotations

import pytest

from pottyboard.core.statistics.proportion import bound_after_none


@pytest.mark.parametrize(("trials", "bound"), [(842, 0.00356), (8192, 0.000366)])
def test_worked_examples_of_eypasch(trials: int, bound: float) -> None:
    # Eypasch et al., BMJ 1995;311:619-620, as carried by bandolier.org.uk/band23/b23-2.html
    # (published): about 3 in 1000 and 3 in 10,000. The page rounds 3/n, which is the quick form of
    # the bound: Hanley and Lippman-Hand, JAMA 1983;249:1743-1745, through Jovanovic and Levy.
    assert 3 / trials == pytest.approx(bound, rel=2e-3)
    assert bound_after_none(trials) == pytest.approx(bound, rel=5e-3)


@pytest.mark.parametrize(("trials", "bound"), [(100, 0.03), (1500, 1 / 500)])
def test_round_examples(trials: int, bound: float) -> None:
    # 0 of 100: 3 % (Bandolier, published); 0 of 1500: 1 in 500 (a copy of the encyclopaedia article
    # on the rule of three, read).
    assert 3 / trials == pytest.approx(bound)
    assert bound_after_none(trials) == pytest.approx(bound, rel=2e-2)


@pytest.mark.parametrize(
    ("confidence", "printed", "digits"),
    [(0.95, 3.0, 2), (0.97, 3.51, 2), (0.99, 4.61, 2), (0.995, 5.3, 1)],
)
def test_multipliers_at_other_confidences(confidence: float, printed: float, digits: int) -> None:
    # 3 at 95 %: Hanley and Lippman-Hand, JAMA 1983;249:1743-1745 (published, through Jovanovic and
    # Levy, Am Stat 1997;51:137-139). The others: a copy of the encyclopaedia article (read).
    many = 1_000_000
    assert round(many * bound_after_none(many, confidence), digits) == printed


@pytest.mark.parametrize(
    ("trials", "bound"),
    [
        (10, 0.25887),
        (14, 0.19264),
        (20, 0.13911),
        (30, 0.09503),
        (50, 0.05816),
        (56, 0.05209),
        (84, 0.03504),
        (100, 0.02951),
    ],
)
def test_exact_bound(trials: int, bound: float) -> None:
    # 1 - 0.05 ** (1 / n), worked out apart from the code (calculated). At 14 clear days the true
    # rate may still be up to 19 % a day.
    assert bound_after_none(trials) == pytest.approx(bound, abs=5e-6)
