"""How a state looks: a word, a single-cell mark in two sets, and a large mark drawn in dots."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from pottyboard.core.engine.day_summary import Verdict
from pottyboard.core.model.events import Kind
from pottyboard.core.view.situation import State

GlyphSet = Literal["drawn", "ascii"]


class Look(NamedTuple):
    """The look of one state: ``word``, one-cell ``mark``, the same in ASCII (``plain``), ``dots``.

    ``dots`` are seven rows of seven, ``#`` for a dot.
    """

    word: str
    mark: str
    plain: str
    dots: tuple[str, ...]

    def glyph(self, glyphs: GlyphSet) -> str:
        """Return the single-cell mark of the set."""
        return self.plain if glyphs == "ascii" else self.mark


LOOKS: Final[dict[State, Look]] = {
    "rest": Look("rest", "▂", "-", (
        ".......",
        ".......",
        ".......",
        ".......",
        ".......",
        "#######",
        "#######",
    )),
    "soon": Look("soon", "▅", "=", (
        ".......",
        ".......",
        ".......",
        "#######",
        "#######",
        "#######",
        "#######",
    )),
    "due": Look("due", "█", "#", (
        "#######",
        "#######",
        "#######",
        "#######",
        "#######",
        "#######",
        "#######",
    )),
    "late": Look("late", "!", "!", (
        "..###..",
        "..###..",
        "..###..",
        "..###..",
        ".......",
        "..###..",
        "..###..",
    )),
    "watching": Look("watching", "◎", "@", (
        ".......",
        "..###..",
        ".#...#.",
        "#..#..#",
        ".#...#.",
        "..###..",
        ".......",
    )),
    "asleep": Look("asleep", "☾", "z", (
        "..###..",
        ".##....",
        "##.....",
        "##.....",
        "##....#",
        ".##..##",
        "..####.",
    )),
    "alone": Look("alone", "⌂", "~", (
        "...#...",
        "..###..",
        ".#####.",
        "#######",
        ".#####.",
        ".##.##.",
        ".##.##.",
    )),
}  # fmt: skip

_SIGNS: Final = {
    "planned": ("·", "."),
    "due": ("▸", ">"),
    "missed": ("×", "x"),
    "job": ("□", "*"),
    "line": ("─", "-"),
    "wall": ("│", "|"),
    "advice": ("»", ">"),
    "chosen": ("▸", ">"),
    "done": ("✓", "+"),
    "problem": ("▲", "!"),
    "cut": ("…", "~"),
    "between": ("·", "-"),
    "level": ("╌", "-"),
    "upright": ("┊", ":"),
    "corner": ("└", "+"),
    "tick": ("┬", "+"),
    "from": ("├", "|"),
    "middle": ("╋", "+"),
    "to": ("┤", "|"),
    "further": ("▸", ">"),
    "away": ("░", "-"),
    "alone": ("█", "#"),
    "asleep": ("░", "."),
    "unknown": ("?", "?"),
    "break": ("•", "*"),
    "level-now": ("▲", "#"),
    "level-today": ("◉", "T"),
    "level-soon": ("△", "!"),
    "level-ask": ("?", "?"),
    "level-watch": ("○", "o"),
}

VERDICTS: Final[dict[Verdict, tuple[str, str]]] = {
    "clear": ("done", "clear"),
    "accident": ("problem", "accident"),
    "unknown": ("unknown", "unknown"),
    "open": ("planned", "open"),
}
"""How the verdict on a day looks: a sign of the board, and a word."""


def sign(name: str, glyphs: GlyphSet) -> str:
    """Return a single-cell sign of the board, such as ``planned``, in the set."""
    return _SIGNS[name][glyphs == "ascii"]


def kind_glyph(kind: Kind, glyphs: GlyphSet) -> str:
    """Return the single-cell mark of a kind of entry in the set."""
    return kind.plain if glyphs == "ascii" else kind.mark
