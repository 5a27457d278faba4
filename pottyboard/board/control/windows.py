"""The sizes of window that the Day screen is laid out for."""

from __future__ import annotations

from typing import Final

LEAST: Final = (60, 20)
"""Columns and rows that the board needs."""

ROOMY_FROM: Final = 36
"""From this height on, the panels write one line for each figure."""

WIDTHS: Final = [
    (0, "-too-narrow"),
    (LEAST[0], "-w60"),
    (80, "-w80"),
    (120, "-w120"),
    (180, "-w180"),
]
HEIGHTS: Final = [
    (0, "-too-low"),
    (LEAST[1], "-h20"),
    (24, "-h24"),
    (ROOMY_FROM, "-h36"),
    (52, "-h52"),
]


def class_for(cells: int, breakpoints: list[tuple[int, str]]) -> str:
    """Return the class that the breakpoints give to a length of ``cells``."""
    return [name for least, name in breakpoints if least <= cells][-1]
