"""A number of the trade that knows its unit, its source and how well that is established.

Status of a source:

* ``published``: read in the named source, or in a second one that carries it;
* ``trainer's page``: read on a trainer's or a general page, which names no authority for it;
* ``common practice``: a habit of the trade that has no published source;
* ``from memory``: a published figure that was not looked up again, or whose author is from memory;
* ``own choice``: our design choice, which the household can change.
"""

from __future__ import annotations

from typing import Literal

Status = Literal["published", "trainer's page", "common practice", "from memory", "own choice"]


class Figure(float):
    """A number with its ``unit``, ``source`` and ``status``; behaves as a float everywhere."""

    unit: str
    source: str
    status: Status

    def __new__(cls, value: float, unit: str, source: str, status: Status) -> Figure:
        """Make the number and attach where it comes from."""
        self = super().__new__(cls, value)
        self.unit, self.source, self.status = unit, source, status
        return self

    def __getnewargs__(self) -> tuple[float, str, str, Status]:  # type: ignore[override]
        """Return what a copy is made from."""
        return float(self), self.unit, self.source, self.status


def published(value: float, unit: str, source: str) -> Figure:
    """Return a figure that was read in its source."""
    return Figure(value, unit, source, "published")


def trainers(value: float, unit: str, source: str) -> Figure:
    """Return a figure of a trainer's or a general page."""
    return Figure(value, unit, f"a trainer's page: {source}", "trainer's page")


def recalled(value: float, unit: str, source: str) -> Figure:
    """Return a figure of which it is only remembered whose it is."""
    return Figure(value, unit, f"from memory: {source}", "from memory")


def habit(value: float, unit: str, note: str) -> Figure:
    """Return a habit of the trade."""
    return Figure(value, unit, f"common practice, no source: {note}", "common practice")


def own(value: float, unit: str, why: str) -> Figure:
    """Return a choice of our own."""
    return Figure(value, unit, f"our own choice: {why}", "own choice")
