"""What a file of the record must look like, and what can be saved of one that does not.

Works on bytes and tables alone: nothing here touches the disk.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any, Final
from zlib import crc32

from msgspec import Struct

from pottyboard.core.model.localtime import count_words

SCHEMA: Final = 1

Row = dict[str, Any]
Tables = dict[str, dict[str, Any]]
"""What a file holds: tables by name, in each its rows by id."""

_LARGEST: Final = 2**53
"""What a whole number of ours stays below: beyond it no two readers of JSON agree."""

_ROW: Final = re.compile(r'("(?:[^"\\\n]|\\.){1,200}"):\s*(?=\{)')
_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"


class UnreadableError(ValueError):
    """Content that is not one of our files: ``word`` for its new name, the message for people."""

    def __init__(self, word: str, why: str) -> None:
        """Keep the word for the file name and the reason for people."""
        super().__init__(why)
        self.word = word


class Content(Struct, frozen=True):
    """What the bytes of a file hold, and whether they are those that this program wrote.

    ``sealed`` is None for a file without a checksum, as older versions wrote them.
    """

    tables: Tables
    sealed: bool | None


def parse(content: bytes) -> Tables:
    """Return the tables in the bytes of a file; raise :class:`UnreadableError` if not ours."""
    return read(content).tables


def read(content: bytes) -> Content:
    """Return what the bytes of a file hold; raise :class:`UnreadableError` if not ours.

    Where the checksum shows that nothing was touched, nobody looks for names that stand twice.
    """
    if not content.strip(b" \t\r\n\0"):
        raise UnreadableError("empty", "is empty")
    if content.startswith(_BYTE_ORDER_MARK):
        raise UnreadableError("damaged", "is damaged: it begins with a byte-order mark")
    sealed = is_sealed(content)
    once = None if sealed else _once
    try:
        tables = json.loads(content.decode("utf-8"), parse_constant=_refuse, object_pairs_hook=once)
    except json.JSONDecodeError as error:
        raise UnreadableError("damaged", f"is damaged in line {error.lineno}") from None
    except UnicodeDecodeError:
        raise UnreadableError("damaged", "is damaged: it is not text") from None
    except (ValueError, RecursionError) as error:
        raise UnreadableError("damaged", f"is damaged: {error}") from None
    if isinstance(tables, dict):
        ours = {name: table for name, table in tables.items() if isinstance(table, dict)}
        schema = schema_of(ours)
        if schema > SCHEMA and is_sealed(content, SCHEMA):
            raise UnreadableError("damaged", "is damaged in its version")
        if schema > SCHEMA or (schema == SCHEMA and len(ours) == len(tables)):
            return Content(ours, sealed)
    raise UnreadableError("foreign", "is not a file of this program")


def _refuse(constant: str) -> None:
    raise ValueError(f"{constant} is not a number")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Return an object of JSON in which no name stands twice: of two one would be lost unsaid."""
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"“{twice:.40}” stands twice in it")
    return found


# --- The seal -------------------------------------------------------------------------------------

_SEAL: Final = re.compile(rb'\{"about":\{\n"file":\{"schema":(\d{1,9}),"sum":"([0-9a-f]{8})"\}\n\}')
_SOME_SEAL: Final = re.compile(rb'"sum"\s*:\s*"[0-9a-fA-F]')


def sealed(pieces: Iterable[bytes]) -> list[bytes]:
    """Return the pieces of a file, of which the first is that of its version, with a checksum."""
    _, *rest = pieces
    total = SCHEMA
    for piece in rest:
        total = crc32(piece, total)
    head = f'{{"about":{{\n"file":{{"schema":{SCHEMA},"sum":"{total:08x}"}}\n}}'
    return [head.encode(), *rest]


def is_sealed(content: bytes, schema: int | None = None) -> bool | None:
    """Whether the checksum of a file fits what follows, None without any.

    ``schema`` is the version that it is checked for, by default the one that the file names.
    """
    found = _SEAL.match(content)
    if found is None:
        return False if _SOME_SEAL.search(content, 0, _HEAD) else None
    named = int(found[1]) if schema is None else schema
    return crc32(memoryview(content)[found.end() :], named) == int(found[2], 16)


_HEAD: Final = 120
"""Bytes at the beginning of a file in which its checksum stands, also where an editor has put the
file into another layout."""


def schema_of(tables: Tables) -> int:
    """Return the schema version that the tables name, 0 if none."""
    about = tables.get("about", {}).get("file")
    schema = about.get("schema") if isinstance(about, dict) else None
    return schema if isinstance(schema, int) and not isinstance(schema, bool) else 0


def change_of(row: Any) -> int:
    """Return the number of the change that wrote a row, 0 if it has none."""
    number = row.get("change") if isinstance(row, dict) else None
    if isinstance(number, int) and not isinstance(number, bool) and 0 <= number < _LARGEST:
        return number
    return 0


def salvage(content: bytes, table: str, is_row: Callable[[str, Any], bool]) -> Tables:
    """Return the rows that stand whole in damaged bytes: of ``table`` and of the trail."""
    text = content.decode("utf-8", errors="replace")
    found: Tables = {table: {}, "trail": {}}
    place = 0
    while match := _ROW.search(text, place):
        place = match.end()
        try:
            row_id = json.loads(match[1])
            row, end = _object_at(text, place)
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


_WINDOWS: Final = (1 << 12, 1 << 18)
"""Letters in which a row is looked for: a short piece first, for an error counts all lines before
it, and junk has an error at every brace; then what the longest note can take."""
_DECODER: Final = json.JSONDecoder(parse_constant=_refuse)


def _object_at(text: str, place: int) -> tuple[Any, int]:
    """Return the value that begins at a place, and where it ends; raise ``ValueError`` if none."""
    for room in _WINDOWS:
        piece = text[place : place + room]
        try:
            value, end = _DECODER.raw_decode(piece)
        except json.JSONDecodeError as error:
            is_cut = error.pos >= len(piece) - 1 or error.msg.startswith("Unterminated")
            if len(piece) < room or not is_cut:
                raise
        else:
            return value, place + end
    raise ValueError("longer than any row")


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


def missing_in(present: Tables, earlier: Tables, table: str) -> list[str]:
    """Return the ids of rows that an earlier version holds and that nobody took away since."""
    rows, before = present.get(table, {}), earlier.get(table, {})
    removed = {note["entry"] for note in notes_in(present) if note.get("gone")}
    gone_or_here = {*rows, *removed, *present.get("moved", {}), *present.get("unread", {})}
    return [row_id for row_id in before if row_id not in gone_or_here]


def altered_in(present: Tables, earlier: Tables, table: str) -> list[str]:
    """Return the ids of rows that are others than in an earlier version, without a change since."""
    rows = present.get(table, {})
    return [
        row_id
        for row_id, row in earlier.get(table, {}).items()
        if row_id in rows and rows[row_id] != row
        if not isinstance(rows[row_id], dict) or change_of(rows[row_id]) <= change_of(row)
    ]


def differs(present: Tables, earlier: Tables, table: str) -> bool:
    """Whether an earlier version holds what is lost or altered."""
    return bool(missing_in(present, earlier, table) or altered_in(present, earlier, table))


def otherwise_words(present: Tables, earlier: Tables, table: str) -> str:
    """Return what a file says otherwise than an earlier version, to follow a sentence."""
    altered, missing = altered_in(present, earlier, table), missing_in(present, earlier, table)
    if table != "entries":
        before, now = ((t.get(table, {}).get("all", {})) for t in (earlier, present))
        keys = [key for key in {**before, **now} if before.get(key) != now.get(key)]
        return f": {', '.join(keys)} read otherwise than before" if altered and keys else ""
    words = []
    if altered:
        named = ", ".join(_row_words(present[table][row_id]) for row_id in altered[:_NAMED])
        more = " and others" if len(altered) > _NAMED else ""
        words.append(f"{len(altered)} read otherwise than in its backup ({named}{more})")
    if missing:
        named = ", ".join(_row_words(earlier[table][row_id]) for row_id in missing[:_NAMED])
        more = " and others" if len(missing) > _NAMED else ""
        words.append(f"{len(missing)} of its backup are missing ({named}{more})")
    return f": of its entries {' and '.join(words)}" if words else ""


_NAMED: Final = 3
"""Entries that are named where several are meant."""


def _row_words(row: Row) -> str:
    return f"{row.get('kind', '?')!s:.20} {str(row.get('at', '?'))[:16].replace('T', ' ')} UTC"


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


def saved_of(
    content: bytes, backup: Tables, table: str, is_row: Callable[[str, Any], bool]
) -> Mended:
    """Return what can be saved of a damaged file, with its backup."""
    kept = backup.get(table, {})
    backup = {**backup, table: {i: row for i, row in kept.items() if is_row(i, row)}}
    try:
        tables = parse(content)
    except UnreadableError:
        return mended(salvage(content, table, is_row), backup, table)
    rows = tables.get(table, {})
    values = {row_id: row for row_id, row in rows.items() if is_row(row_id, row)}
    unread = {row_id: row for row_id, row in rows.items() if row_id not in values}
    return mended({**tables, table: values}, backup, table, unread)


def mended_words(
    name: str, trouble: UnreadableError, outcome: Mended, table: str, aside: str
) -> str:
    """Return what became of a damaged file of this name, which is kept as ``aside``."""
    left_out = f", {outcome.unread} left out" if outcome.unread else ""
    saved = (
        f"{count_words(outcome.saved, 'entry', 'entries')} saved from it, {outcome.restored} "
        f"from its backup{left_out}"
    )
    if table != "entries":
        place = "from it" if outcome.saved else "from its backup" if outcome.restored else ""
        saved = f"the {table} were saved {place}" if place else f"no {table} saved"
    return f"{name} {trouble}. It is kept as {aside}: {saved}."
