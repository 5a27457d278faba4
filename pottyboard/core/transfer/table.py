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
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from pottyboard.core.transfer.incoming import CellError, Row

GUARD: Final = "'"
SEPARATORS: Final = (",", ";", "\t", "|")
# Spreadsheets take the wide letters for the narrow ones.
_FORMULA: Final = tuple("=+-@＝＋－＠")
_FIRST: Final = (GUARD, "\t", "\r", "\n")
_UNWRITABLE: Final = re.compile("[\ud800-\udfff\0]")
_LINE: Final = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")
_LONGEST_CELL: Final = 2**31 - 1
_SAMPLE: Final = 50
"""Lines that tell the separator."""

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_SPREADSHEETS: Final = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
"""How a packed workbook (.xlsx, .ods) and one of the older form (.xls) begin."""


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
    """Yield the rows that hold anything.

    Raises :class:`CellError` where a quote swallows the lines after it: where it never ends, where
    it ends in the middle of a cell, and where what is in it reads as rows of their own.
    """
    taken: list[str] = []
    reader = _reader(_noting(text, taken), separator)
    line, width = 1, 0
    for cells in reader:
        if len(taken) > 1 or taken[0].count('"') % 2:
            _check_quotes(taken, separator, line, width)
        if any(cells):
            width = width or len(cells)
            yield Row(line, tuple(cells))
        line += len(taken)
        taken.clear()


def _reader(lines: Iterable[str], separator: str, *, strict: bool = False) -> Iterator[list[str]]:
    csv.field_size_limit(_LONGEST_CELL)
    return csv.reader(lines, delimiter=separator, strict=strict)


def _noting(text: str, taken: list[str]) -> Iterator[str]:
    """Yield the lines of a text, each noted as taken."""
    for found in _LINE.finditer(text):
        taken.append(found[0])
        yield found[0]


def _check_quotes(taken: Sequence[str], separator: str, line: int, width: int) -> None:
    """Raise :class:`CellError` unless the lines of one row are one row in earnest."""
    alone = (next(_reader([text], separator), []) for text in taken[1:])
    try:
        list(_reader(taken, separator, strict=True))
        swallowed = width > 1 and any(
            len(cells) >= width and cells[0][:1].isdigit() for cells in alone
        )
    except csv.Error:
        swallowed = True
    if swallowed:
        raise CellError(
            f'a quote (") in line {line} takes in the lines after it: close it, or take it away'
        )


def _nobody_knows(row: Sequence[str]) -> bool:
    return False


def separator_of(text: str, is_known: Callable[[Sequence[str]], bool] = _nobody_knows) -> str:
    """Return the separator under which the first lines have the most columns alike.

    A first row that ``is_known`` tells it alone.
    """
    lines = [found[0] for _, found in zip(range(_SAMPLE), _LINE.finditer(text), strict=False)]
    for separator in SEPARATORS:
        if is_known(next(_reader(lines[:1], separator), [])):
            return separator

    def fit(separator: str) -> tuple[int, int]:
        widths = Counter(len(row) for row in _reader(lines, separator) if any(row))
        width, rows = max(widths.items(), key=lambda item: (item[0] > 1, item[1]), default=(1, 0))
        return (rows, width) if width > 1 else (0, 0)

    return max(SEPARATORS, key=fit)


def decoded(content: bytes) -> str:
    """Return the text of a file: by its byte-order mark, else UTF-8, else Windows Latin.

    Raises :class:`CellError` for what is no text.
    """
    if content.startswith(_SPREADSHEETS):
        raise CellError("this is a spreadsheet program's own file: save the sheet as CSV (UTF-8)")
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
