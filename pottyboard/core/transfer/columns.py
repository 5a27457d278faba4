"""The columns of our own table: one for each field of an entry, and two for people's eyes.

``local_date`` and ``local_clock`` show ``at`` in the zone where the entry was logged. A row without
``at`` is read by them instead, so that rows can be added in a spreadsheet; where both are there
they have to agree.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields
from datetime import UTC, date, datetime
from typing import Any, Final, NamedTuple, get_args, get_type_hints

from pendulum import Timezone

from pottyboard.core.model.events import Event, check_details, check_time
from pottyboard.core.model.localtime import (
    TimeError,
    local,
    only_instant,
    read_clock,
    zone_named,
)
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.incoming import CellError, PlacedError, Reading, Row, reading_of
from pottyboard.core.transfer.table import guarded, opened

DATE: Final = "local_date"
CLOCK: Final = "local_clock"


class Column(NamedTuple):
    """One column: its ``name``, how a value is ``written`` and ``read``, what it holds."""

    name: str
    write: Callable[[Any], str]
    read: Callable[[str], Any]
    words: str


# --- Values as cells ------------------------------------------------------------------------------


def _truth(cell: str) -> bool:
    word = cell.casefold()
    if word in ("yes", "true"):
        return True
    if word in ("no", "false"):
        return False
    raise CellError("write yes or no")


def _number(cell: str) -> float:
    try:
        value = int(cell) if cell.isdecimal() else float(cell.replace(",", "."))
    except ValueError:
        raise CellError("write a number, such as 200") from None
    if not math.isfinite(value):
        raise CellError("write a number, such as 200")
    return value


def _instant(cell: str) -> datetime:
    try:
        instant = datetime.fromisoformat(cell)
    except ValueError:
        instant = datetime.min
    if instant.tzinfo is None:
        raise CellError("write an instant such as 2026-03-02T09:05:00+00:00")
    try:
        return instant.astimezone(UTC)
    except OverflowError:
        raise CellError("that time is out of all range") from None


def _yes_no(value: bool) -> str:
    return "yes" if value else "no"


_BY_TYPE: Final[dict[Any, tuple[Callable[[Any], str], Callable[[str], Any], str]]] = {
    str: (str, str, "text"),
    datetime: (datetime.isoformat, _instant, "instant (UTC)"),
    bool: (_yes_no, _truth, "yes or no"),
    float: (repr, _number, "number"),
}


def _columns() -> tuple[Column, ...]:
    hints = get_type_hints(Event)
    columns = []
    for spec in fields(Event):
        if spec.init:
            hint = hints[spec.name]
            kind = next((arg for arg in get_args(hint) if arg is not type(None)), hint)
            columns.append(Column(spec.name, *_BY_TYPE[kind]))
    return tuple(columns)


COLUMNS: Final = _columns()
"""A column for each field of an entry, in their order."""

HEADER: Final = (DATE, CLOCK, *(column.name for column in COLUMNS))
"""The first row of the table."""

_BY_NAME: Final = {column.name: column for column in COLUMNS}


# --- Out ------------------------------------------------------------------------------------------


def cells_of(event: Event, zone: Timezone) -> list[str]:
    """Return an entry as a row under :data:`HEADER`; ``zone`` stands in where it names none."""
    wall = local(event.t, _zone_of(event.zone, zone))
    cells = [f"{wall:%Y-%m-%d}", f"{wall:%H:%M}"]
    for name, write, _, _ in COLUMNS:
        value = getattr(event, name)
        cells.append("" if value is None or value == "" else guarded(write(value)))
    return cells


def _zone_of(name: str, otherwise: Timezone) -> Timezone:
    try:
        return zone_named(name) if name else otherwise
    except TimeError:
        return otherwise


# --- In -------------------------------------------------------------------------------------------


def is_own(header: Sequence[str]) -> bool:
    """Whether a first row is that of our own table, perhaps with columns moved or left out."""
    names = [name.strip() for name in header]
    known = {name for name in names if name}
    return (
        {"kind", "id", "zone"} <= known
        and bool({"at", CLOCK} & known)
        and known <= {*HEADER}
        and len(known) == len([name for name in names if name])
    )


def read_own(
    header: Sequence[str], rows: Iterable[Row], settings: Settings, now: datetime
) -> Reading:
    """Return the entries of our own table; ``now`` is aware."""
    names = [name.strip() for name in header]
    reader = _Reader(names, settings, now)
    return reading_of(rows, lambda cells: (reader.read(cells),))


class _Reader:
    """Reads row after row under one header."""

    def __init__(self, names: Sequence[str], settings: Settings, now: datetime) -> None:
        self._settings, self._now = settings, now
        self._columns = [
            (place, *_BY_NAME[name][::2]) for place, name in enumerate(names) if name in _BY_NAME
        ]
        self._date, self._clock = (
            names.index(name) if name in names else None for name in (DATE, CLOCK)
        )
        self._width = len(names)

    def read(self, cells: Sequence[str]) -> Event:
        """Return the entry of a row."""
        if any(cell.strip() for cell in cells[self._width :]):
            raise CellError("more cells than columns: put a text with commas into double quotes")
        values: dict[str, Any] = {}
        for place, name, read in self._columns:
            cell = cells[place] if place < len(cells) else ""
            if cell:
                try:
                    text = opened(cell)
                    values[name] = read(text if read is str else text.strip())
                except CellError as error:
                    raise PlacedError(name, cell, str(error)) from None
        self._place_in_time(cells, values)
        if "kind" not in values:
            raise CellError("there is no kind: say what happened")
        event = check_details(Event(**values))
        return check_time(event, self._now, self._settings.dog.arrived)

    def _place_in_time(self, cells: Sequence[str], values: dict[str, Any]) -> None:
        """Take the time from the columns for people, or compare it with them."""
        shown = [
            "" if place is None or place >= len(cells) else cells[place].strip()
            for place in (self._date, self._clock)
        ]
        zone = _zone_of(values.get("zone", ""), self._settings.zone)
        if "at" not in values:
            if not all(shown):
                raise CellError(f"there is no time: fill in {DATE} and {CLOCK}, or at")
            try:
                day = date.fromisoformat(shown[0])
            except ValueError:
                raise PlacedError(DATE, shown[0], "write a date such as 2026-03-02") from None
            values["at"] = only_instant(datetime.combine(day, read_clock(shown[1])), zone)
            return
        wall = values["at"].astimezone(zone)
        seen = (f"{wall:%Y-%m-%d}", f"{wall:%H:%M}")
        for name, cell, right in zip((DATE, CLOCK), shown, seen, strict=True):
            if cell and cell != right and _is_same_form(name, cell):
                words = f"at says {right}: change both, or empty “at” and this counts"
                raise PlacedError(name, cell, words)


def _is_same_form(name: str, cell: str) -> bool:
    """Whether a cell still has the form that we wrote: a spreadsheet may have changed it."""
    try:
        return bool(date.fromisoformat(cell)) if name == DATE else len(cell) == 5
    except ValueError:
        return False
