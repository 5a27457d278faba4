"""Rows of a page, written in inks: what a row says, and how each ink of it looks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from textual.content import Content

Run = tuple[str, str]
"""A piece of a row, and the ink that it is written in (empty for blanks)."""

Row = tuple[Run, ...]
"""A row of a page, piece by piece."""

TEXT: Final[Mapping[str, str]] = {
    "": "",
    "words": "",
    "lead": "bold",
    "heading": "bold dim",
    "dim": "dim",
}
"""The inks of plain text; a page adds its own to them."""


def inked(rows: Iterable[Row], styles: Mapping[str, str]) -> Content:
    """Return the rows as one text, each piece in the style of its ink."""
    return Content("\n").join(
        Content.assemble(*((text, styles[ink]) for text, ink in row)) for row in rows
    )
