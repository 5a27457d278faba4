"""Text that a person or a file wrote, made safe to print on a line of its own or within one."""

from __future__ import annotations

import unicodedata
from typing import Final

MOST_LETTERS: Final = 200
"""Letters of one text that a line shows; the rest stays in the log."""

_INVISIBLE: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def printable(text: str, most: int = MOST_LETTERS) -> str:
    """Return ``text`` on one line, without anything that could command a terminal.

    Control characters, the leading byte of escape codes and direction marks go; white space becomes
    one blank; what is longer than ``most`` letters ends in ``…``.
    """
    one_line = " ".join(text[: most * 4].split())
    shown = "".join(letter for letter in one_line if unicodedata.category(letter) not in _INVISIBLE)
    return shown if len(shown) <= most else shown[: most - 1].rstrip() + "…"
