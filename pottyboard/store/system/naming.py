"""Names that a folder can have on every system, so that a home can be carried from one to another.

Windows ("Naming Files, Paths, and Namespaces") keeps the names of devices, with any ending, in any
case, and with the superscript digits ¹²³ too; it drops a dot or a blank at the end. macOS and
Windows take names that differ in case alone for the same.
"""

from __future__ import annotations

import unicodedata
from typing import Final

_LENGTH: Final = 40
_RESERVED: Final = frozenset(
    ("con", "prn", "aux", "nul", "conin", "conout",
     *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)))
)  # fmt: skip


def slug(name: str) -> str:
    """Return a folder name for a dog's name: lower-case letters and digits of any script."""
    plain = unicodedata.normalize("NFKC", name).casefold()
    kept = "".join(c if unicodedata.category(c)[0] in "LMN" else " " for c in plain)
    short = "-".join(kept.split())[:_LENGTH].strip("-")
    if short in _RESERVED:
        return f"{short}-dog"
    return short or "dog"
