"""Quantiles of the gamma distribution against scipy.

Source: scipy.stats.gamma (reference library), here as a computed table.
"""

from __future__ import annotations

import pytest

from pottyboard.core.statistics.gamma import gamma_quantile

stats = pytest.importorskip("scipy.stats")


@pytest.mark.parametrize("shape", [1.0, 1.4, 2.4, 5.0, 20.0])
@pytest.mark.parametrize("chance", [0.1, 0.5, 0.9])
def test_as_scipy_has_them(shape: float, chance: float) -> None:
    exact = stats.gamma.ppf(chance, shape) / shape
    assert gamma_quantile(shape, chance) == pytest.approx(exact, rel=0.06, abs=0.02)


def test_with_hardly_any_event_it_is_coarse_and_still_no_negative_rate() -> None:
    assert gamma_quantile(0.4, 0.1) == pytest.approx(0.0, abs=0.02)
    assert gamma_quantile(0.4, 0.9) == pytest.approx(stats.gamma.ppf(0.9, 0.4) / 0.4, rel=0.1)
