"""Large letters for reading across a room: a dot font of our own, drawn at any whole scale.

A dot is ``scale`` cells wide and ``scale`` half rows high, which is square in most terminals.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

ROWS: Final = 7
"""Height of a letter in dots."""

_DOTS: Final = {
    "0": ".###. #...# #...# #...# #...# #...# .###.",
    "1": "..#.. .##.. ..#.. ..#.. ..#.. ..#.. .###.",
    "2": ".###. #...# ....# ..##. .#... #.... #####",
    "3": ".###. #...# ....# ..##. ....# #...# .###.",
    "4": "...#. ..##. .#.#. #..#. ##### ...#. ...#.",
    "5": "##### #.... ####. ....# ....# #...# .###.",
    "6": "..##. .#... #.... ####. #...# #...# .###.",
    "7": "##### ....# ...#. ..#.. ..#.. ..#.. ..#..",
    "8": ".###. #...# #...# .###. #...# #...# .###.",
    "9": ".###. #...# #...# .#### ....# ...#. .##..",
    ":": ". . # . # . .",
    "?": ".##. #..# ...# ..#. .#.. .... .#..",
    " ": "..... ..... ..... ..... ..... ..... .....",
    "+": "..... ..... ..#.. ..#.. ##### ..#.. ..#..",
    "-": "... ... ... ... ### ... ...",
    "/": "...# ...# ..#. ..#. .#.. .#.. #...",
    "(": ".# #. #. #. #. #. .#",
    ")": "#. .# .# .# .# .# #.",
    ".": ". . . . . . #",
    "d": "...# ...# .### #..# #..# #..# .###",
    "h": "#... #... ###. #..# #..# #..# #..#",
    "i": "# . # # # # #",
    "m": "..... ..... ####. #.#.# #.#.# #.#.# #.#.#",
    "n": ".... .... ###. #..# #..# #..# #..#",
    "A": ".###. #...# #...# ##### #...# #...# #...#",
    "B": "####. #...# #...# ####. #...# #...# ####.",
    "C": ".#### #.... #.... #.... #.... #.... .####",
    "D": "####. #...# #...# #...# #...# #...# ####.",
    "E": "##### #.... #.... ####. #.... #.... #####",
    "F": "##### #.... #.... ####. #.... #.... #....",
    "G": ".#### #.... #.... #..## #...# #...# .####",
    "H": "#...# #...# #...# ##### #...# #...# #...#",
    "I": "### .#. .#. .#. .#. .#. ###",
    "K": "#...# #..#. #.#.. ##... #.#.. #..#. #...#",
    "L": "#.... #.... #.... #.... #.... #.... #####",
    "M": "#...# ##.## #.#.# #.#.# #...# #...# #...#",
    "N": "#...# ##..# #.#.# #..## #...# #...# #...#",
    "O": ".###. #...# #...# #...# #...# #...# .###.",
    "P": "####. #...# #...# ####. #.... #.... #....",
    "R": "####. #...# #...# ####. #.#.. #..#. #...#",
    "S": ".#### #.... #.... .###. ....# ....# ####.",
    "T": "##### ..#.. ..#.. ..#.. ..#.. ..#.. ..#..",
    "U": "#...# #...# #...# #...# #...# #...# .###.",
    "V": "#...# #...# #...# #...# .#.#. .#.#. ..#..",
    "W": "#...# #...# #...# #.#.# #.#.# ##.## #...#",
    "Y": "#...# #...# .#.#. ..#.. ..#.. ..#.. ..#..",
}
_FONT: Final = {letter: tuple(rows.split()) for letter, rows in _DOTS.items()}


def dots(text: str) -> tuple[str, ...]:
    """Return seven rows of ``#`` and ``.`` for a text of known letters; ``KeyError`` otherwise."""
    return beside(*(_FONT[letter] for letter in text))


def words(text: str) -> tuple[str, ...]:
    """Return the words of a text with the gaps of print between them; ``KeyError`` as above."""
    return beside(*(dots(word) for word in text.split()), gap=_WORD_GAP)


def beside(*drawings: Sequence[str], gap: int = 1) -> tuple[str, ...]:
    """Return drawings of seven rows side by side, with ``gap`` empty columns between them."""
    return tuple(("." * gap).join(rows) for rows in zip(*drawings, strict=True))


def height(scale: int) -> int:
    """Return how many terminal rows a letter takes at ``scale``."""
    return math.ceil(ROWS * scale / 2)


def draw(drawing: Sequence[str], scale: int, *, ascii_only: bool = False) -> list[str]:
    """Return the terminal rows of a drawing at ``scale``, in half blocks or in ``#`` alone.

    Half blocks keep every dot square; ASCII rounds the height of a dot to whole rows.
    """
    wide = ["".join(dot * scale for dot in row) for row in drawing]
    if ascii_only:
        rows = height(scale)
        picked = (wide[int((row + 0.5) * len(wide) / rows)] for row in range(rows))
        return [row.replace(".", " ") for row in picked]
    halves = [row for row in wide for _ in range(scale)]
    if len(halves) % 2:
        halves.append("." * len(halves[0]))
    return [
        "".join(_HALF[upper + lower] for upper, lower in zip(top, bottom, strict=True))
        for top, bottom in zip(halves[::2], halves[1::2], strict=True)
    ]


_WORD_GAP: Final = 3
_HALF: Final = {"..": " ", "#.": "▀", ".#": "▄", "##": "█"}
