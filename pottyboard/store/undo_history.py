"""Changes and their trail: what each one writes, and which one an undo takes back.

Every change has a number, one higher than all before it, so that their order does not hang on the
clock. An entry carries the number of its last ``change`` and, once corrected, that of the change
that ``added`` it; the trail holds a line for each correction, deletion and undo, with the entry as
it was ``before``. The line of an undo names the change ``of`` which it is: an undo of an undo is a
redo. A month from which an entry moved to another keeps its id among those ``moved``,
so that its absence is no loss. Works on tables alone: nothing here touches the disk.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Final, Literal, Protocol

from msgspec import Struct

from pottyboard.core.log.past_change import Action, PastChange
from pottyboard.core.model.events import Event
from pottyboard.store.damage import Row, Tables, change_of, notes_in
from pottyboard.store.documents import FIELDS, document_of, event_of

_OURS: Final = frozenset({"change", "added"})


def month_of(event: Event) -> str:
    """Return the month that an entry's file is named after, such as ``2026-03`` (UTC)."""
    return f"{event.at:%Y-%m}"


def added_in(row: Row) -> int:
    """Return the number of the change that added an entry, 0 if it has none."""
    added = row.get("added")
    return added if isinstance(added, int) else change_of(row)


class Change:
    """One change in the making: the rows to write and to take away, by month."""

    def __init__(self, number: int, now: datetime, by: str = "") -> None:
        """Take the change's number, its aware instant and who makes it."""
        self.number = number
        self.entries: defaultdict[str, dict[str, Row]] = defaultdict(dict)
        self.notes: defaultdict[str, dict[str, Row]] = defaultdict(dict)
        self.gone: defaultdict[str, set[str]] = defaultdict(set)
        self._at, self._by = now.astimezone(UTC).isoformat(), by

    def months(self) -> list[str]:
        """Return the months to write, in an order in which no crash loses an entry.

        What takes an entry's place is written before the old one goes: a crash in between leaves
        two, of which the later counts.
        """
        return list(dict.fromkeys((*sorted({*self.entries, *self.notes}), *sorted(self.gone))))

    def add(self, event: Event) -> None:
        """Write a new entry."""
        row = {**document_of(event), "change": self.number}
        self.entries[month_of(event)][event.id] = row

    def again(self, month: str, row: Row) -> None:
        """Write an entry once more as it is: nobody knows whether the last try reached the disk."""
        self.entries[month][row["id"]] = row

    def refine(self, month: str, row: Row, event: Event) -> None:
        """Put ``event`` in the place of a row, as part of the change that wrote it."""
        others = {k: v for k, v in row.items() if k not in FIELDS}
        self.entries[month][event.id] = {**others, **document_of(event)}

    def take_away(self, month: str, entry_ids: Iterable[str]) -> None:
        """Take entries away without a line in the trail: another month holds them."""
        self.gone[month].update(entry_ids)

    def moved_from(self, month: str) -> dict[str, Row]:
        """Return what a month must know of entries that another month holds from now on."""
        taken = {note["entry"] for note in self.notes.get(month, {}).values() if note.get("gone")}
        return {i: {"change": self.number} for i in self.gone.get(month, set()) - taken}

    def correct(
        self,
        action: Literal["edit", "delete", "undo"],
        entry_id: str,
        present: tuple[str, Row] | None,
        event: Event | None,
        *,
        added: int = 0,
        of: int | None = None,
    ) -> None:
        """Put ``event`` (None: nothing) in the place of the ``present`` month and row, and note it.

        ``added`` is the change that added the entry, ``of`` the change that an undo takes back.
        """
        old_month, old_row = present or ("", {})
        month = old_month
        if event is not None:
            month = month_of(event)
            others = {k: v for k, v in old_row.items() if k not in FIELDS and k not in _OURS}
            row = {**others, **document_of(event), "change": self.number}
            self.entries[month][entry_id] = {**row, "added": added} if added else row
        if present is not None and (event is None or old_month != month):
            self.gone[old_month].add(entry_id)
        note: Row = {"change": self.number, "action": action, "entry": entry_id, "at": self._at}
        if self._by:
            note["by"] = self._by
        if of is not None:
            note["of"] = of
        if event is None:
            note["gone"] = True
        if old_row:
            note["before"] = old_row
        self.notes[month][f"{self.number}-{entry_id}"] = note


class Standing(Struct, frozen=True):
    """The last change that nobody took back: for an ``add`` its entries, else the trail's line."""

    number: int
    action: Action
    entries: tuple[tuple[str, Row], ...] = ()
    note: Row | None = None


class UndoneChange(Struct, frozen=True):
    """The last undo that nobody took back: its number, its lines of the trail, and the line of the
    correction or deletion that it took back (None: it took back an ``add``)."""

    number: int
    notes: tuple[Row, ...]
    corrected: Row | None


class _Trail:
    """The lines of a trail that can be used, and which of its undos still stand.

    An undo that was taken back is named by the line of another one, as any other change is.
    """

    def __init__(self, months: Mapping[str, Tables]) -> None:
        self.notes = [note for tables in months.values() for note in notes_in(tables)]
        numbers = {change_of(note) for note in self.notes if note["action"] == "undo"}
        self.redone = {note.get("of") for note in self.notes} & numbers
        self.undos = [
            note
            for note in self.notes
            if note["action"] == "undo"
            and note.get("of") not in numbers
            and change_of(note) not in self.redone
        ]
        self.undone = {note.get("of") for note in self.undos}
        self.corrections = [note for note in self.notes if note["action"] != "undo"]


def last_standing(months: Mapping[str, Tables]) -> Standing | None:
    """Return the last change that still stands, None if there is none."""
    trail = _Trail(months)
    standing = (n for n in trail.corrections if change_of(n) not in trail.undone)
    last = next(filter(_can_be_undone, sorted(standing, key=change_of, reverse=True)), None)
    entries = [(m, row) for m, tables in months.items() for row in tables["entries"].values()]
    newest = max((added_in(row) for _, row in entries), default=0)
    if last is not None and change_of(last) > newest:
        return Standing(change_of(last), last["action"], note=last)
    if newest == 0:
        return None
    return Standing(newest, "add", tuple((m, row) for m, row in entries if added_in(row) == newest))


def last_undone(months: Mapping[str, Tables]) -> UndoneChange | None:
    """Return the last undo that can be taken back, None once something else was changed since."""
    trail = _Trail(months)
    if not trail.undos:
        return None
    number = max(map(change_of, trail.undos))
    entries = (row for tables in months.values() for row in tables["entries"].values())
    others = (
        *map(added_in, entries),
        *map(change_of, trail.corrections),
        *(note["of"] for note in trail.undos if isinstance(note.get("of"), int)),
    )
    if max(others, default=0) > number:
        return None
    notes = tuple(note for note in trail.undos if change_of(note) == number)
    if not all("before" not in note or _can_be_undone(note) for note in notes):
        return None
    of = notes[0].get("of")
    corrected = next((note for note in trail.corrections if change_of(note) == of), None)
    return UndoneChange(number, notes, corrected)


def past_change(last: Standing) -> PastChange:
    """Return a change that stands as it is told to people."""
    if last.note is not None:
        event = event_of(last.note["before"])
        return PastChange(
            last.number, last.action, (event,), _text(last.note, "by"), _instant(last.note)
        )
    return _added(last.number, tuple(row for _, row in last.entries))


def past_undo(last: UndoneChange) -> PastChange:
    """Return what an undo took back as it is told to people: entries as they will be again.

    One that will be gone again is told as it was.
    """
    if last.corrected is None:
        return _added(last.number, tuple(note["before"] for note in last.notes))
    action = last.corrected["action"]
    row = last.corrected["before"] if action == "delete" else last.notes[0]["before"]
    return PastChange(last.number, action, (event_of(row),))


def _added(number: int, rows: Sequence[Row]) -> PastChange:
    """Return the change that added ``rows``, as of the one who logged all of them, if one did."""
    events = tuple(sorted(map(event_of, rows), key=lambda event: (event.at, event.id)))
    by = {event.by for event in events}
    logged = [event.logged for event in events if event.logged is not None]
    return PastChange(
        number, "add", events, by.pop() if len(by) == 1 else "", max(logged, default=None)
    )


def _text(note: Row, name: str) -> str:
    value = note.get(name)
    return value if isinstance(value, str) else ""


def _instant(note: Row) -> datetime | None:
    try:
        at = datetime.fromisoformat(_text(note, "at"))
    except ValueError:
        return None
    return at if at.tzinfo is not None else None


def _can_be_undone(note: Row) -> bool:
    """Whether the entry that a line keeps is readable: a damaged line must not bar the way."""
    before = note.get("before")
    try:
        return isinstance(before, dict) and event_of(before).id == note["entry"]
    except ValueError:
        return False


class Undone(Struct, frozen=True):
    """What an undo took back, or a redo made again, and words for people."""

    past: PastChange
    words: str

    @property
    def action(self) -> Action:
        """The kind of change."""
        return self.past.action

    @property
    def events(self) -> tuple[Event, ...]:
        """The entries concerned, in order of time."""
        return self.past.events

    @property
    def event(self) -> Event:
        """The last of the entries."""
        return self.past.events[-1]


# --- Taking back ----------------------------------------------------------------------------------


class Places(Protocol):
    """Where entries are: the month that holds one, and its row there."""

    def place(self, entry_id: str) -> str | None: ...

    def row(self, month: str, entry_id: str) -> Row: ...


def take_back(places: Places, last: Standing, change: Change) -> None:
    """Reverse the last change that stands, as part of ``change``."""
    if last.note is None:
        for month, row in last.entries:
            change.correct("undo", row["id"], (month, row), None, of=last.number)
    else:
        _restore(places, last.note, change, last.number)


def put_back(places: Places, last: UndoneChange, change: Change) -> None:
    """Reverse the last undo, as part of ``change``."""
    for note in last.notes:
        _restore(places, note, change, last.number)


def _restore(places: Places, note: Row, change: Change, of: int) -> None:
    """Put an entry back as a line of the trail holds it; where it holds none, there was none."""
    entry_id, before = note["entry"], note.get("before")
    month = places.place(entry_id)
    present = None if month is None else (month, places.row(month, entry_id))
    if before is not None:
        event = event_of(before)
        change.correct("undo", entry_id, present, event, added=added_in(before), of=of)
    elif present is not None:
        change.correct("undo", entry_id, present, None, of=of)
