"""What stands in for letters and marks that a terminal cannot show, one for one."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Final

from pottyboard.core.model.events import KINDS

_MARKS: Final = {
    "“": '"', "”": '"', "„": '"', "’": "'", "‘": "'", "‹": "<", "›": ">", "«": "<", "»": ">",
    "‐": "-", "‑": "-", "‒": "-",
    "–": "-", "—": "-", "−": "-", "·": "-", "…": "~", "•": "*", "×": "x", "≥": ">", "≤": "<",
    "°": "o", "\xa0": " ", "\u2009": " ", "\u202f": " ", "€": "E", "£": "L",
    "←": "<", "→": ">", "↑": "^", "↓": "v", "⌫": "<",
    "▸": ">", "□": "*", "✓": "+", "✔": "+", "▲": "!", "△": "!", "○": "o", "◉": "*",
    "◎": "@", "⌂": "~", "☾": "z", "─": "-", "│": "|", "╌": "-", "┊": ":", "┃": "|", "━": "-",
}  # fmt: skip
_LETTERS: Final = {
    "ß": "s", "ø": "o", "Ø": "O", "æ": "a", "Æ": "A", "œ": "o", "Œ": "O", "ł": "l", "Ł": "L",
    "đ": "d", "Đ": "D", "ð": "d", "Ð": "D", "þ": "t", "Þ": "T", "ı": "i", "ħ": "h", "Ħ": "H",
}  # fmt: skip
_RANGES: Final = (("\u2500", "\u257f", "+"), ("\u2580", "\u259f", "#"), ("\u2800", "\u28ff", "*"))
"""Corners and lines, blocks, and dots: first and last letter, and what stands for them."""

_NOT_KNOWN: Final = "?"


def plain(text: str) -> str:
    """Return a text in ASCII, as wide as it was: a mark of the board as its plain one, a letter
    without its accent. What has no likeness, such as a name in another script, becomes ``?``."""
    return text if text.isascii() else "".join(map(_plain, text))


def _plain(letter: str) -> str:
    if letter.isascii():
        return letter
    known = _OF_KINDS.get(letter) or _MARKS.get(letter) or _LETTERS.get(letter)
    if known is not None:
        return known
    for first, last, mark in _RANGES:
        if first <= letter <= last:
            return mark
    parts = unicodedata.normalize("NFKD", letter)
    bare = "".join(part for part in parts if part.isascii())
    if bare or unicodedata.combining(letter):
        return bare[:1]
    wide = unicodedata.east_asian_width(letter) in "FW"
    return _NOT_KNOWN * (1 + wide)


_OF_KINDS: Final = {kind.mark: kind.plain for kind in KINDS.values() if not kind.mark.isascii()}


def shows_drawn(encoding: str | None, environ: Mapping[str, str]) -> bool:
    """Whether a terminal shows drawn marks: by the ``encoding`` of what is written, and by what the
    system's variables say of its letters (POSIX: ``LC_ALL``, else ``LC_CTYPE``, else ``LANG``).

    Where they say nothing the encoding alone decides. Python itself sets ``LC_CTYPE=C.UTF-8`` where
    it finds the C locale (PEP 538): that says nothing of the terminal.
    """
    try:
        "▀▂◈…".encode(encoding or "ascii")
    except (LookupError, UnicodeError):
        return False
    named = {name: environ.get(name, "") for name in ("LC_ALL", "LC_CTYPE", "LANG")}
    if named["LC_CTYPE"] == "C.UTF-8" and named["LANG"]:
        named["LC_CTYPE"] = ""
    said = next(filter(None, named.values()), "").lower().replace("-", "")
    return not said or "utf8" in said
