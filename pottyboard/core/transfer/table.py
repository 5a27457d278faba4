"""A table as text: separators, quotes, lines and the bytes beneath (RFC 4180 and what is around).

A cell that a spreadsheet would take for a formula is written with an apostrophe before it; so is a
cell that begins with one, so that :func:`opened` gives back exactly what :func:`guarded` took. A
text that no UTF-8 file can hold (half a character, a NUL) follows the apostrophe as a JSON string.
"""

from __future__ import annotations

import codecs
import csv
import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from pottyboard.core.transfer.incoming import CellError, Row

GUARD: Final = "'"
SEPARATORS: Final = (",", ";", "\t", "|")
# Spreadsheets take the wide letters for the narrow ones.
_FORMULA: Final = tuple("=+-@＝＋－＠")
_FIRST: Final = (GUARD, "\t", "\r", "\n")
_UNWRITABLE: Final = re.compile("[\ud800-\udfff\0]")
_LINE: Final = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")
_SAMPLE: Final = 50
"""Lines that tell the separator."""

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


# --- Cells ----------------------------------------------------------------------------------------


def guarded(text: str) -> str:
    """Return a text as the cell of a table in which nothing is a formula."""
    if _UNWRITABLE.search(text):
        return GUARD + json.dumps(text)
    if text.startswith(_FIRST) or text.lstrip().startswith(_FORMULA):
        return GUARD + text
    return text


def opened(cell: str) -> str:
    """Return the text that :func:`guarded` wrote; raise :class:`CellError` if it did not."""
    if not cell.startswith(GUARD):
        return cell
    text = cell[len(GUARD) :]
    if not text.startswith('"'):
        return text
    try:
        read = json.loads(text)
    except ValueError:
        raise CellError("what follows '\" is no text in quotes: take the apostrophe away") from None
    return str(read)


# --- Rows -----------------------------------------------------------------------------------------


class _Echo:
    """A file for the writer of tables: gives back what is written."""

    def write(self, text: str) -> str:
        return text


def lines_of(rows: Iterable[Iterable[str]]) -> Iterator[str]:
    """Yield each row as text of RFC 4180: commas, double quotes where needed, ending in CRLF."""
    writer = csv.writer(_Echo(), lineterminator="\r\n")
    for row in rows:
        yield writer.writerow(row)  # what the file's write returns


def rows_of(text: str, separator: str) -> Iterator[Row]:
    """Yield the rows that hold anything; raise :class:`CellError` where quotes never end."""
    csv.field_size_limit(max(len(text), csv.field_size_limit()))
    reader = csv.reader((found[0] for found in _LINE.finditer(text)), delimiter=separator)
    line = 1
    for cells in reader:
        if any(cells):
            yield Row(line, tuple(cells))
        line = reader.line_num + 1


def separator_of(text: str) -> str:
    """Return the separator under which the first lines have the most columns alike."""
    lines = [found[0] for _, found in zip(range(_SAMPLE), _LINE.finditer(text), strict=False)]

    def fit(separator: str) -> tuple[int, int]:
        widths = Counter(len(row) for row in csv.reader(lines, delimiter=separator) if any(row))
        width, rows = max(widths.items(), key=lambda item: (item[0] > 1, item[1]), default=(1, 0))
        return (rows, width) if width > 1 else (0, 0)

    return max(SEPARATORS, key=fit)


def decoded(content: bytes) -> str:
    """Return the text of a file: by its byte-order mark, else UTF-8, else Windows Latin.

    Raises :class:`CellError` for what is no text.
    """
    for mark, encoding in _MARKS:
        if content.startswith(mark):
            return _text(content, encoding)
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        if b"\0" in content:
            raise CellError(_NO_TEXT) from None
        return _text(content, "cp1252")


_NO_TEXT: Final = "this is no text: save the sheet as CSV (UTF-8) and name that file"


def _text(content: bytes, encoding: str) -> str:
    try:
        return content.decode(encoding)
    except UnicodeDecodeError:
        raise CellError(_NO_TEXT) from None


def filled(cells: Sequence[str], at: int) -> str:
    """Return a cell without blanks around it, empty where the row is too short."""
    return cells[at].strip() if at < len(cells) else ""
