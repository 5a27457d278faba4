"""Which column of a household's own table means what: proposed from its words, then from its cells.

A column means one of :data:`TARGETS`, or a kind of entry that its cells tick off (``kind:pee``: an
``x`` at the row's time, or clock times), or nothing, which is ``-``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import partial
from typing import Final

from msgspec import Struct, structs

from pottyboard.core.model.events import kind_named
from pottyboard.core.transfer.dates import (
    ORDERS,
    Dates,
    clock_in,
    date_in,
    instant_in,
    is_clock_shaped,
    split,
)
from pottyboard.core.transfer.incoming import CellError, Row
from pottyboard.core.transfer.kind_words import is_kind, read_kinds
from pottyboard.core.transfer.table import filled

TARGETS: Final = {
    "date": "the date",
    "clock": "the time of day",
    "when": "date and time in one",
    "kind": "what happened",
    "indoors": "whether it was indoors",
    "place": "where",
    "by": "who logged it",
    "note": "a note",
    "found": "found later, or seen",
    "alone": "whether the dog was alone",
    "amount": "how much came",
    "cause": "why it happened",
    "ml": "millilitres",
}
"""What a column may mean, and how that reads."""

SKIP: Final = "-"
MARK: Final = "kind:"

_HEADINGS: Final = {
    "date": "date day",
    "clock": "time clock hour at",
    "when": "when datetime timestamp",
    "kind": "what kind event entry type activity happened action",
    "indoors": "indoors inside accident accidents",
    "place": "where place room spot location",
    "by": "who by person logged name walker",
    "note": "note notes comment comments remark remarks details notices",
    "found": "found",
    "alone": "alone",
    "amount": "amount size",
    "cause": "cause why reason",
    "ml": "ml millilitres",
}
_BY_WORD: Final = {word: name for name, words in _HEADINGS.items() for word in words.split()}
_PHRASES: Final = {"date and time": "when", "date time": "when", "logged by": "by"}
_NEEDED: Final = ("date", "clock", "kind")
_MARKED: Final = frozenset({"x", "1", "y", "yes", "ja", "✓", "✔", "true", "*"})
_ANY: Final = Dates(date(2024, 1, 1), date(2024, 12, 31))
_SAMPLE: Final = 200


class SheetColumn(Struct, frozen=True):
    """One column of the table: its ``number`` (from 1), its ``name`` and what it ``means``."""

    number: int
    name: str
    means: str

    @property
    def words(self) -> str:
        """What the column means, to read."""
        if self.means.startswith(MARK):
            return f"{kind_named(self.means[len(MARK) :]).words}, where ticked"
        return TARGETS.get(self.means, "not read")


def propose(rows: Sequence[Row], own: Mapping[str, str]) -> tuple[tuple[SheetColumn, ...], bool]:
    """Return the columns with what each seems to mean, and whether the first row names them."""
    width = max(len(row.cells) for row in rows)
    first = [filled(rows[0].cells, place) for place in range(width)]
    headed = not any(_is_time(cell) for cell in first)
    names = [name if headed else "" for name in first]
    columns = [
        SheetColumn(place + 1, name or f"column {place + 1}", _meaning(name, own))
        for place, name in enumerate(names)
    ]
    columns = _once(columns)
    body = rows[1:] if headed else rows
    for wanted in _NEEDED:
        columns = _by_cells(columns, wanted, body[:_SAMPLE], own)
    return tuple(columns), headed


def _meaning(heading: str, own: Mapping[str, str]) -> str:
    """Return what a heading says by its words."""
    words = re.sub(r"[^\w]+", " ", heading.casefold()).split()
    phrase = " ".join(words)
    if phrase in _PHRASES:
        return _PHRASES[phrase]
    found = [_BY_WORD[word] for word in words if word in _BY_WORD]
    if found:
        return "clock" if found[0] == "date" and "clock" in found else found[0]
    if phrase and is_kind(phrase, own):
        said = read_kinds(phrase, own)
        return MARK + said[0].kind if len(said) == 1 else SKIP
    return SKIP


def _once(columns: list[SheetColumn]) -> list[SheetColumn]:
    """Leave each meaning to the first column that has it; marks may come more than once."""
    seen: set[str] = set()
    kept = []
    for column in columns:
        twice = column.means in seen and column.means in TARGETS
        kept.append(structs.replace(column, means=SKIP) if twice else column)
        seen.add(column.means)
    return kept


def _by_cells(
    columns: list[SheetColumn], wanted: str, rows: Sequence[Row], own: Mapping[str, str]
) -> list[SheetColumn]:
    """Give a meaning that no heading has to the first free column whose cells all read so."""
    means = {column.means for column in columns}
    if wanted in means or ("when" in means and wanted in ("date", "clock")):
        return columns
    if wanted == "kind" and any(meaning.startswith(MARK) for meaning in means):
        return columns
    tests: dict[str, Callable[[str], bool]] = {
        "date": _is_date,
        "clock": _is_clock,
        "kind": lambda cell: is_kind(cell, own),
    }
    for place, column in enumerate(columns):
        cells = [cell for row in rows if (cell := filled(row.cells, place))]
        if column.means != SKIP or not cells:
            continue
        if wanted == "date" and all(_is_moment(cell) for cell in cells):
            return _with(columns, place, "when")
        fitting = sum(tests[wanted](cell) for cell in cells)
        if fitting * 5 >= len(cells) * 4:
            return _with(columns, place, wanted)
    return columns


def _with(columns: list[SheetColumn], place: int, means: str) -> list[SheetColumn]:
    return [*columns[:place], structs.replace(columns[place], means=means), *columns[place + 1 :]]


def override(columns: Sequence[SheetColumn], text: str) -> tuple[SheetColumn, ...]:
    """Return the columns with what a text such as ``What=kind,3=note,Mood=-`` says of them.

    A column is named by its heading or its number. Raises :class:`CellError` for a column or a
    meaning that there is not.
    """
    changed = list(columns)
    for part in filter(str.strip, text.split(",")):
        name, equals, means = (piece.strip() for piece in part.rpartition("="))
        if not equals:
            raise CellError(f"“{part.strip()}” is no pair: write such as What=kind")
        meant = _meaning_named(means)
        found = [c for c in changed if c.name.casefold() == name.casefold()]
        found = found or [c for c in changed if str(c.number) == name]
        if not found:
            names = ", ".join(column.name for column in columns)
            raise CellError(f"there is no column “{name}”: {names}")
        place = changed.index(found[0])
        if meant in TARGETS:
            changed = [structs.replace(c, means=SKIP) if c.means == meant else c for c in changed]
        changed[place] = structs.replace(changed[place], means=meant)
    return tuple(changed)


def _meaning_named(means: str) -> str:
    if means in TARGETS or means == SKIP:
        return means
    if means.startswith(MARK):
        return MARK + kind_named(means[len(MARK) :]).code
    raise CellError(
        f"a column cannot mean “{means}”: use {', '.join(TARGETS)}, kind:pee (ticked), or - for not"
    )


def is_marked(cell: str) -> bool:
    """Whether a cell is ticked and says no more."""
    return cell.casefold() in _MARKED


def _reads(read: Callable[[str], object], cell: str) -> bool:
    try:
        read(cell)
    except CellError:
        return False
    return True


def _is_date(cell: str) -> bool:
    return any(_reads(partial(date_in, order=order, span=_ANY), cell) for order in ORDERS)


def _is_clock(cell: str) -> bool:
    return is_clock_shaped(cell) and _reads(clock_in, cell)


def _is_moment(cell: str) -> bool:
    if instant_in(cell) is not None:
        return True
    try:
        day, clock = split(cell)
    except CellError:
        return False
    return _is_date(day) and _is_clock(clock)


def _is_time(cell: str) -> bool:
    return bool(cell) and (_is_clock(cell) or _is_date(cell) or _is_moment(cell))
