"""A paper log that somebody typed into a spreadsheet: its rows as entries, its faults by line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import Any, Final

from msgspec import Struct, field

from pottyboard.core.model.events import AMOUNTS, KINDS, Event, check_time
from pottyboard.core.model.localtime import only_instant
from pottyboard.core.model.permitted import check_said
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.dates import Dates, clock_in, date_in, instant_in, order_of
from pottyboard.core.transfer.dates import split as parted
from pottyboard.core.transfer.incoming import CellError, PlacedError, Reading, Row, reading_of
from pottyboard.core.transfer.kind_words import Said, is_kind, misplaced, place_in, read_kinds
from pottyboard.core.transfer.mapping import MARK, SKIP, SheetColumn, is_marked
from pottyboard.core.transfer.table import filled
from pottyboard.core.written.clocks import read_clocks
from pottyboard.core.written.dates import Order
from pottyboard.core.written.text import TimeError

_YES: Final = frozenset({"yes", "y", "true", "1", "x", "ja"})
_NO: Final = frozenset({"no", "n", "false", "0", "-"})
_FOUND: Final = {"found": "yes", "found later": "yes", "seen": "no", "saw": "no"}
_ALONE: Final = {"alone": "yes", "not alone": "no"}
_LITRES: Final = {"ml": 1.0, "dl": 100.0, "l": 1000.0}


class Way(Struct, frozen=True):
    """How a table is read: its columns, the order of day and month, and what stands in.

    ``order_words`` says what told the order; ``day`` is the date where the table has none; ``by``
    who logged where it names nobody; ``own`` the household's words with the kinds they stand for.
    """

    columns: tuple[SheetColumn, ...]
    order: Order = "day-first"
    order_words: str = ""
    day: date | None = None
    by: str = ""
    own: Mapping[str, str] = field(default_factory=dict)

    def place(self, means: str) -> int | None:
        """Return where the column is that means this, None if there is none."""
        return next((c.number - 1 for c in self.columns if c.means == means), None)

    def name(self, means: str) -> str:
        """Return the heading of the column that means this."""
        return next((c.name for c in self.columns if c.means == means), "")

    @property
    def is_dated(self) -> bool:
        """Whether the table has dates of its own."""
        return self.place("date") is not None or self.place("when") is not None


def missing_in(way: Way) -> str:
    """Return what a table lacks to be read at all, empty if nothing."""
    means = {column.means for column in way.columns}
    if "kind" not in means and not any(meaning.startswith(MARK) for meaning in means):
        return "no column says what happened: name it, such as --map “What=kind”"
    if not means & {"clock", "when"}:
        return "no column says at what time: name it, such as --map “Time=clock”"
    if not way.is_dated and way.day is None:
        return "no column says on which day: name it, such as --map “Date=date”, or give --day"
    return ""


def order_in(way: Way, rows: Iterable[Row], span: Dates) -> tuple[Order, str]:
    """Return the order of day and month from all rows; as :func:`dates.order_of`."""
    date_at, when_at = way.place("date"), way.place("when")
    cells = []
    for row in rows:
        if date_at is not None:
            cells.append(filled(row.cells, date_at))
        elif when_at is not None:
            cells.append(_date_part(filled(row.cells, when_at)))
    return order_of(filter(None, cells), span)


def _date_part(cell: str) -> str:
    try:
        return parted(cell)[0]
    except CellError:
        return cell.partition(" ")[0]


def span_of(settings: Settings, now: datetime) -> Dates:
    """Return the local dates that an entry may have."""
    return Dates(settings.first_date, now.astimezone(settings.zone).date())


def read_paper_log(rows: Iterable[Row], way: Way, settings: Settings, now: datetime) -> Reading:
    """Return the entries of the rows under the heading; ``now`` is aware.

    A row without a date has that of the row before, or the next one where its clock fell back by
    more than twelve hours: the night went on under one date.
    """
    reader = _Reader(way, settings, now)
    return reading_of(rows, reader.read)


class _Reader:
    """Reads row after row; the date stays in force for rows without one."""

    def __init__(self, way: Way, settings: Settings, now: datetime) -> None:
        self._way, self._settings, self._now = way, settings, now
        self._span = span_of(settings, now)
        self._day = way.day
        self._clock: time | None = None
        self._at = {
            means: place
            for means in (column.means for column in way.columns)
            if means != SKIP and (place := way.place(means)) is not None
        }
        self._marks = [c for c in way.columns if c.means.startswith(MARK)]

    def read(self, cells: Sequence[str]) -> list[Event]:
        """Return the entries of one row."""
        row = {means: filled(cells, place) for means, place in self._at.items()}
        at = self._instant(row)
        details = {
            name: self._cell(name, row[name], read)
            for name, read in _DETAILS.items()
            if row.get(name)
        }
        place, says = place_in(row.get("place", ""))
        inside, accident = says, row.get("indoors", "")
        if accident.casefold() not in _YES | _NO and is_kind(accident, self._way.own):
            inside, row["kind"] = True, row.get("kind") or accident  # it says which accident
        elif accident:
            inside = self._cell("indoors", accident, _yes_or_no)
        found = self._kinds(row, cells, inside)
        common = {"by": row.get("by", "") or self._way.by, "note": row.get("note", "")}
        return [
            self._entry(said, when or at, place, says, {**common, **details})
            for said, when in found
        ]

    def _cell(self, means: str, text: str, read: Any) -> Any:
        try:
            return read(text)
        except CellError as error:
            raise PlacedError(self._way.name(means), text, str(error)) from None

    # --- When -------------------------------------------------------------------------------------

    def _instant(self, row: Mapping[str, str]) -> datetime | None:
        """Return the row's instant, None if the row has no time of its own."""
        if row.get("when"):
            known = instant_in(row["when"])
            if known is not None:
                return known
            day, clock = self._cell("when", row["when"], parted)
            self._day = self._cell("when", day, self._date)
            self._clock = self._cell("when", clock, clock_in)
            return self._on_day(self._clock)
        if row.get("date"):
            self._day, self._clock = self._cell("date", row["date"], self._date), None
        if not row.get("clock"):
            return None
        known = instant_in(row["clock"])
        if known is not None:  # as it is asked for where the clocks go back
            return known
        clock = self._cell("clock", row["clock"], clock_in)
        if self._day is not None and not row.get("date") and _fell_back(self._clock, clock):
            self._day += timedelta(days=1)
        self._clock = clock
        return self._on_day(clock)

    def _date(self, text: str) -> date:
        return date_in(text, self._way.order, self._span)

    def _on_day(self, clock: time) -> datetime:
        if self._day is None:
            raise CellError("there is no date, and none above it")
        return only_instant(datetime.combine(self._day, clock), self._settings.zone)

    # --- What -------------------------------------------------------------------------------------

    def _kinds(
        self, row: Mapping[str, str], cells: Sequence[str], inside: bool | None
    ) -> list[tuple[Said, datetime | None]]:
        """Return the kinds that a row names, each with its own instant where it has one."""
        own = self._way.own
        found: list[tuple[Said, datetime | None]] = []
        if row.get("kind"):
            said = self._cell(
                "kind", row["kind"], lambda text: read_kinds(text, own, indoors=inside)
            )
            found += [(each, None) for each in said]
        marked: list[str] = []
        for column in self._marks:
            cell, code = filled(cells, column.number - 1), column.means[len(MARK) :]
            if not cell or cell.casefold() in _NO:
                continue
            if is_marked(cell):
                marked.append(code)
                continue
            for clock in self._mark(column, cell):
                when = self._on_day(clock)
                found += [(each, when) for each in read_kinds(code, own, indoors=inside)]
        if marked:
            together = " + ".join(KINDS[code].words for code in marked)
            found += [(each, None) for each in read_kinds(together, own, indoors=inside)]
        if not found and inside and row.get("indoors"):
            found += [
                (each, None)
                for each in self._cell("indoors", "indoors", lambda text: read_kinds(text, own))
            ]
        if not found and row.get("note"):
            found.append((Said("note", {}), None))
        if not found:
            raise CellError("nothing says what happened")
        return found

    def _mark(self, column: SheetColumn, text: str) -> tuple[time, ...]:
        try:
            return read_clocks(text)
        except TimeError:
            raise PlacedError(
                column.name, text.strip(), "tick it with x, or write a time"
            ) from None

    def _entry(
        self, said: Said, at: datetime | None, place: str, inside: bool | None, more: dict[str, Any]
    ) -> Event:
        if at is None:
            raise CellError("there is no time: write one such as 10:05")
        row = KINDS[said.kind]
        wrong = misplaced(said.kind, place, inside=inside)
        if wrong:
            raise PlacedError(self._way.name("place"), place, wrong)
        own = dict(said.details)
        notes = [more["note"], own.pop("note", "")]
        if place and "place" not in row.carries:
            notes.append(place)
        elif place:
            own["place"] = place
        note = ", ".join(dict.fromkeys(text for text in notes if text))
        values = {**more, **own, "note": note, "zone": self._settings.home.zone}
        event = check_said(Event(said.kind, at, **values), self._settings.dog)
        return check_time(event, self._now, self._settings.dog.arrived)


def _fell_back(before: time | None, clock: time) -> bool:
    if before is None:
        return False
    return before.hour * 60 + before.minute - clock.hour * 60 - clock.minute > 12 * 60


# --- Details --------------------------------------------------------------------------------------


def _yes_or_no(text: str) -> bool:
    word = text.casefold()
    if word in _YES:
        return True
    if word in _NO:
        return False
    raise CellError("write yes or no")


def _found(text: str) -> bool:
    return _yes_or_no(_FOUND.get(text.casefold(), text))


def _alone(text: str) -> bool:
    return _yes_or_no(_ALONE.get(text.casefold(), text))


def _amount(text: str) -> str:
    word = text.casefold()
    if word not in AMOUNTS:
        raise CellError(f"write {', '.join(AMOUNTS)}")
    return word


def _millilitres(text: str) -> float:
    number, _, unit = text.casefold().replace(",", ".").partition(" ")
    for name in ("ml", "dl", "l"):
        if not unit and number.endswith(name):
            number, unit = number.removesuffix(name), name
    try:
        value = float(number)
    except ValueError:
        value = float("nan")
    if value != value or unit.strip() not in ("", *_LITRES):
        raise CellError("write millilitres, such as 200")
    return value * _LITRES.get(unit.strip(), 1.0)


_DETAILS: Final = {
    "found": _found,
    "alone": _alone,
    "amount": _amount,
    "cause": str.casefold,
    "ml": _millilitres,
}
