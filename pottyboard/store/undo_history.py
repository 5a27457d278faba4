"""Changes and their trail: what each one writes, and which one an undo takes back.

Every change has a number, one higher than all before it, so that their order does not hang on the
clock. An entry carries the number of its last ``change`` and, once corrected, that of the change
that ``added`` it; the trail holds a line for each correction, deletion and undo, with the entry as
it was ``before``. A month from which an entry moved to another keeps its id among those ``moved``,
so that its absence is no loss. Works on tables alone: nothing here touches the disk.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Final, Literal

from msgspec import Struct
from pendulum import Timezone

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import clock_words, count_words
from pottyboard.store.damage import Row, Tables, change_of, notes_in
from pottyboard.store.documents import FIELDS, document_of, event_of

Action = Literal["add", "edit", "delete"]

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


def last_standing(months: Mapping[str, Tables]) -> Standing | None:
    """Return the last change that still stands, None if there is none."""
    notes = [note for tables in months.values() for note in notes_in(tables)]
    undone = {note.get("of") for note in notes}
    corrections = (n for n in notes if n["action"] != "undo" and change_of(n) not in undone)
    last = next(filter(_can_be_undone, sorted(corrections, key=change_of, reverse=True)), None)
    entries = [(m, row) for m, tables in months.items() for row in tables["entries"].values()]
    newest = max((added_in(row) for _, row in entries), default=0)
    if last is not None and change_of(last) > newest:
        return Standing(change_of(last), last["action"], note=last)
    if newest == 0:
        return None
    return Standing(newest, "add", tuple((m, row) for m, row in entries if added_in(row) == newest))


def _can_be_undone(note: Row) -> bool:
    """Whether the entry that a line keeps is readable: a damaged line must not bar the way."""
    before = note.get("before")
    try:
        return isinstance(before, dict) and event_of(before).id == note["entry"]
    except ValueError:
        return False


def undone_words(action: Action, events: Sequence[Event], zone: Timezone) -> str:
    """Return what an undo took back, in words."""
    what = f"{events[-1].row.words}, {clock_words(events[-1].t, zone)}"
    if len(events) > 1:
        what = count_words(len(events), "entry", "entries")
    return {
        "add": f"Taken back: {what}",
        "edit": f"Correction taken back: {what}",
        "delete": f"Back again: {what}",
    }[action]
