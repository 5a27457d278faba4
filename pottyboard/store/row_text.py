"""The tables of a file as its bytes, a row a line, so that damage to one line leaves the others."""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import islice
from typing import Final, TypeVar

from pottyboard.store.damage import SCHEMA, Row, Tables, change_of, sealed

V = TypeVar("V")

ABOUT: Final = {"file": {"schema": SCHEMA}}
"""The table with which every file of ours begins; in the bytes a checksum stands beside it."""


class RowText:
    """Puts tables into text, each row once: rows never change in place."""

    def __init__(self) -> None:
        """Know no row yet."""
        self.highest_change = 0
        self._texts: dict[str, tuple[Row, dict[str, bytes]]] = {}

    def bytes_of(self, tables: Tables) -> bytes:
        """Return the bytes of a file, with a checksum over all that follows it."""
        others = {name: rows for name, rows in tables.items() if name != "about"}
        self._texts = {name: self._lines(name, rows) for name, rows in others.items()}
        pieces = [b""]
        for name, (_, lines) in self._texts.items():
            head = f",\n{json.dumps(name)}:{{\n".encode()
            pieces += [head, b",\n".join(lines.values()), b"\n}"]
        return b"".join(sealed((*pieces, b"}\n")))

    def _lines(self, name: str, rows: Row) -> tuple[Row, dict[str, bytes]]:
        """Return rows with their lines by id."""
        known, texts = self._texts.get(name, ({}, {}))
        lines = dict(texts)
        gone, renewed = difference(known, rows)
        for row_id in gone:
            del lines[row_id]
        for row_id in renewed:
            row = rows[row_id]
            text = json.dumps(row, separators=(",", ":"), allow_nan=False)
            lines[row_id] = f"{json.dumps(row_id)}:{text}".encode("ascii")
            if isinstance(row, dict):
                self.highest_change = max(self.highest_change, change_of(row))
        return rows, lines


def difference(before: Mapping[str, V], after: Mapping[str, V]) -> tuple[list[str], list[str]]:
    """Return the ids that are gone, and the ids of what is new or another than before."""
    number = len(before)
    ids, values = islice(after, number), islice(after.values(), number)
    if [*ids] == [*before] and [*values] == [*before.values()]:
        return [], [*islice(after, number, None)]  # as mostly: only new ones at the end
    gone = [row_id for row_id in before if row_id not in after]
    return gone, [row_id for row_id, row in after.items() if before.get(row_id) != row]
