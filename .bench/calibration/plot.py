"""The frontier in plain characters: accidents against outings."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor

WIDTH, HEIGHT = 60, 16

Point = tuple[float, float]
"""Outings along, accidents up."""


def plotted(points: Mapping[str, Point], others: Mapping[str, Point]) -> str:
    """Return a plot of ``points``, each with its name, and of ``others`` as plus signs."""
    along = [point[0] for point in points.values()]
    left, right = floor(min(along) / 10) * 10, ceil(max(along) / 10) * 10
    shown = [point for point in others.values() if left <= point[0] <= right]
    top = ceil(max(point[1] for point in (*points.values(), *shown)))
    rows = [[" "] * (WIDTH + 12) for _ in range(HEIGHT + 1)]

    def place(point: Point) -> tuple[int, int]:
        column = round((point[0] - left) / (right - left) * WIDTH)
        return HEIGHT - round(point[1] / top * HEIGHT), column

    for point in shown:
        row, column = place(point)
        rows[row][column] = "+"
    for name, point in points.items():
        row, column = place(point)
        for offset, letter in enumerate(f"o {name}"):
            if rows[row][column + offset] == " " or offset == 0:
                rows[row][column + offset] = letter
    lines = [
        f"{top * (HEIGHT - number) / HEIGHT:>6.1f} |{''.join(row).rstrip()}"
        for number, row in enumerate(rows)
    ]
    axis = f"{'':>7}+{'-' * WIDTH}\n{'':>8}{left:<{WIDTH - 4}}{right:>4}"
    return "\n".join((*lines, axis))
