"""A bar that shows how far a long command is: on a terminal alone, and only where it takes long."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, TypeVar

T = TypeVar("T")

LONG: Final = 3000
"""Entries from which on a bar is shown."""


def tracked(
    items: Sequence[T], words: str, *, quiet: bool = False, entries: int | None = None
) -> Iterable[T]:
    """Return the items, with a bar that shows how far they are, on a terminal and if many.

    ``entries`` is how many entries the items stand for, where that is not their number.
    """
    many = len(items) if entries is None else entries
    if quiet or many < LONG or not sys.stderr.isatty():
        return items
    return _with_bar(items, words)


def _with_bar(items: Sequence[T], words: str) -> Iterator[T]:
    from rich.console import Console
    from rich.progress import track

    yield from track(items, words, console=Console(stderr=True), transient=True)
