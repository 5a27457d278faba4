"""The contrast that the colours are held to, against published examples.

Sources: WCAG 2.2 (W3C), glossary: white on black is 21:1, the most there is; and, from memory, the
greys that accessibility guides name as the border of 4.5:1 on white: #767676 (4.54) passes, #777777
(4.48) does not, and that pure red on white is 4.00.
"""

from __future__ import annotations

import pytest

from tests.contrast import contrast, luminance, rgb


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        ("#777777", "#ffffff", 4.48),
        ("#767676", "#ffffff", 4.54),
        ("#ff0000", "#ffffff", 4.00),
    ],
)
def test_published_ratios(one: str, other: str, ratio: float) -> None:
    assert contrast(rgb(one), rgb(other)) == pytest.approx(ratio, abs=0.005)
    assert contrast(rgb(other), rgb(one)) == contrast(rgb(one), rgb(other))


def test_black_and_white_are_the_ends() -> None:
    assert luminance((0, 0, 0)) == 0
    assert luminance((255, 255, 255)) == pytest.approx(1)
