"""What a file of the record must look like, and what can be saved of one that does not.

Works on bytes and tables alone: nothing here touches the disk.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from msgspec import Struct

SCHEMA: Final = 1

Row = dict[str, Any]
Tables = dict[str, dict[str, Any]]
"""What a file holds: tables by name, in each its rows by id."""

_ROW: Final = re.compile(r'("(?:[^"\\\n]|\\.){1,200}"):\s*(?=\{)')
_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"


class UnreadableError(ValueError):
    """Content that is not one of our files: ``word`` for its new name, the message for people."""

    def __init__(self, word: str, why: str) -> None:
        """Keep the word for the file name and the reason for people."""
        super().__init__(why)
        self.word = word


def parse(content: bytes) -> Tables:
    """Return the tables in the bytes of a file; raise :class:`UnreadableError` if not ours."""
    if not content.strip(b" \t\r\n\0"):
        raise UnreadableError("empty", "is empty")
    if content.startswith(_BYTE_ORDER_MARK):
        raise UnreadableError("damaged", "is damaged: it begins with a byte-order mark")
    try:
        tables = json.loads(content.decode("utf-8"), parse_constant=_refuse)
    except json.JSONDecodeError as error:
        raise UnreadableError("damaged", f"is damaged in line {error.lineno}") from None
    except UnicodeDecodeError:
        raise UnreadableError("damaged", "is damaged: it is not text") from None
    except (ValueError, RecursionError) as error:
        raise UnreadableError("damaged", f"is damaged: {error}") from None
    if isinstance(tables, dict):
        ours = {name: table for name, table in tables.items() if isinstance(table, dict)}
        schema = schema_of(ours)
        if schema > SCHEMA or (schema == SCHEMA and len(ours) == len(tables)):
            return ours
    raise UnreadableError("foreign", "is not a file of this program")


def _refuse(constant: str) -> None:
    raise ValueError(f"{constant} is not a number")


def schema_of(tables: Tables) -> int:
    """Return the schema version that the tables name, 0 if none."""
    about = tables.get("about", {}).get("file")
    schema = about.get("schema") if isinstance(about, dict) else None
    return schema if isinstance(schema, int) and not isinstance(schema, bool) else 0


def change_of(row: Mapping[str, Any]) -> int:
    """Return the number of the change that wrote a row, 0 if it has none."""
    number = row.get("change")
    return number if isinstance(number, int) and not isinstance(number, bool) else 0


def salvage(content: bytes, table: str, is_row: Callable[[str, Any], bool]) -> Tables:
    """Return the rows that stand whole in damaged bytes: of ``table`` and of the trail."""
    text = content.decode("utf-8", errors="replace")
    decoder = json.JSONDecoder(parse_constant=_refuse)
    found: Tables = {table: {}, "trail": {}}
    place = 0
    while match := _ROW.search(text, place):
        place = match.end()
        try:
            row_id = json.loads(match[1])
            row, end = decoder.raw_decode(text, place)
        except ValueError:
            continue
        except RecursionError:  # no row is that deep: looking into each level would take minutes
            next_line = text.find("\n", place)
            place = len(text) if next_line < 0 else next_line
            continue
        for name, fits in ((table, is_row), ("trail", is_note)):
            if fits(row_id, row):
                _take(found[name], row_id, row)
                place = end
    return found


def is_note(row_id: str, row: Any) -> bool:
    """Whether a row is a line of the trail that can be used."""
    return (
        isinstance(row, dict)
        and isinstance(row.get("entry"), str)
        and row.get("action") in ("edit", "delete", "undo")
        and row_id == f"{change_of(row)}-{row['entry']}"
    )


def notes_in(tables: Tables) -> Iterator[Row]:
    """Yield the lines of the trail that can be used."""
    for row_id, row in tables.get("trail", {}).items():
        if is_note(row_id, row):
            yield row


def _take(rows: dict[str, Any], row_id: str, row: Row) -> None:
    """Put a row among others; of two with one id the later change stays."""
    present = rows.get(row_id)
    if present is None or change_of(present) <= change_of(row):
        rows[row_id] = row


class Mended(Struct, frozen=True):
    """What takes the place of an unusable file, and how many rows came from where."""

    tables: Tables
    saved: int
    restored: int
    unread: int


def mended(found: Tables, backup: Tables, table: str, unread: Row | None = None) -> Mended:
    """Return the tables that join what was found in a file with its backup.

    The later version of a row counts, and what the trail says was removed later stays away. Where
    the file was whole but for its ``unread`` rows, the backup stands in for those alone, and the
    rows that nobody can read are kept in a table of their own.
    """
    rows: Row = {}
    for row_id, row in backup.get(table, {}).items():
        if unread is None or row_id in unread:
            _take(rows, row_id, row)
    for row_id, row in found.get(table, {}).items():
        _take(rows, row_id, row)
    others = {**backup, **found}
    trail = {**backup.get("trail", {}), **found.get("trail", {})}
    tables: Tables = {**others, "about": {"file": {"schema": SCHEMA}}, table: rows, "trail": trail}
    for note in notes_in(tables):
        if note.get("gone") and change_of(rows.get(note["entry"], note)) < change_of(note):
            del rows[note["entry"]]
    still = {row_id: row for row_id, row in (unread or {}).items() if row_id not in rows}
    if still:
        tables["unread"] = {**others.get("unread", {}), **still}
    saved = sum(row is found.get(table, {}).get(row_id) for row_id, row in rows.items())
    return Mended(tables, saved, len(rows) - saved, len(still))
