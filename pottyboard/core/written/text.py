"""What every reader begins with: the one error, and the text made tidy."""

from __future__ import annotations

import unicodedata
from typing import Final

_DASHES: Final = str.maketrans("‐‑‒–—−", "------")


class WrittenError(ValueError):
    """What somebody wrote cannot be read: the message names a form that works."""


class TimeError(WrittenError):
    """A time, a date, a day or a zone that cannot be read."""


class AmbiguousError(TimeError):
    """What could be two times or days: the message names both."""


def tidy(text: str) -> str:
    """Return a text with plain letters, digits and dashes, and single spaces between its words."""
    return " ".join(unicodedata.normalize("NFKC", text).translate(_DASHES).split())


def quoted(text: str, most: int = 40) -> str:
    """Return what was written in quotation marks, cut where it is long."""
    shown = " ".join(text.split())
    return f"“{shown if len(shown) <= most else shown[: most - 1] + '…'}”"
