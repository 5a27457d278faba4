"""What comes in from a file: entries with their lines, and the problems by line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from msgspec import Struct

from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import TimeError


class Row(NamedTuple):
    """One row of a table: the ``line`` of the file on which it begins (from 1), and its cells."""

    line: int
    cells: tuple[str, ...]


class Problem(Struct, frozen=True):
    """What keeps a line out: its number (0: the whole file), the column, its text, what to do."""

    line: int
    column: str
    text: str
    words: str

    def __str__(self) -> str:
        """Return the message with its place."""
        place = f"line {self.line}" if self.line else ""
        column = f"“{self.column}”" if self.column else ""
        shown = f"“{self.text}”" if self.text else ""
        head = ", ".join(part for part in (place, column, shown) if part)
        return f"{head}: {self.words}" if head else self.words


class Line(NamedTuple):
    """An entry that a file holds, and the line on which it stands."""

    line: int
    event: Event


class Reading(Struct, frozen=True):
    """What a file says: entries in its order, and what cannot be read, by line."""

    lines: tuple[Line, ...]
    problems: tuple[Problem, ...]


class CellError(ValueError):
    """A cell that cannot be read; the message says what to write instead."""


class PlacedError(ValueError):
    """A cell that cannot be read: its column, its text, what to write instead."""


def reading_of(rows: Iterable[Row], read: Callable[[Sequence[str]], Iterable[Event]]) -> Reading:
    """Return what the rows say, where ``read`` returns the entries of one row's cells.

    What cannot be read stops its own line only: a :class:`PlacedError` names the cell, any other
    error that an entry, a time or a cell raises the line.
    """
    lines: list[Line] = []
    problems: list[Problem] = []
    for row in rows:
        try:
            lines.extend(Line(row.line, event) for event in read(row.cells))
        except PlacedError as error:
            problems.append(Problem(row.line, *error.args))
        except (EventError, TimeError, CellError) as error:
            problems.append(Problem(row.line, "", "", str(error)))
        except OverflowError:
            problems.append(Problem(row.line, "", "", "that time is out of all range"))
    return Reading(tuple(lines), tuple(problems))
