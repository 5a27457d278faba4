"""Tables whose quotes, separators and lengths are not as one would wish (RFC 4180)."""

from __future__ import annotations

import pytest

from pottyboard.core.transfer.columns import HEADER, is_own
from pottyboard.core.transfer.incoming import CellError
from pottyboard.core.transfer.table import decoded, lines_of, rows_of, separator_of

HEAD = "Date,Time,What,Note\n"


@pytest.mark.parametrize(
    "rows",
    [
        '2026-03-02,10:00,pee,"oops\n2026-03-02,11:00,poop,\n2026-03-02,12:00,pee,\n',
        '2026-03-02,10:00,pee,"oops\n2026-03-02,11:00,poop,\n2026-03-02,12:00,pee,5"\n',
        '2026-03-02,10:00,pee,"oops\n2026-03-02,11:00,poop,"so"\n',
        '2026-03-02,10:00,pee,"',
    ],
)
def test_a_lone_quote_that_takes_in_other_lines_is_named(rows: str) -> None:
    text = f"{HEAD}{rows}\n"
    with pytest.raises(CellError, match=r'a quote \("\) in line 2 takes in the lines after it'):
        list(rows_of(text, ","))


def test_a_note_of_several_lines_is_one_cell() -> None:
    text = HEAD + '2026-03-02,10:00,pee,"first\n2 seconds, maybe\nthird"\n2026-03-02,11:00,poop,\n'
    rows = list(rows_of(text, ","))
    assert [row.line for row in rows] == [1, 2, 5]
    assert rows[1].cells[3] == "first\n2 seconds, maybe\nthird"


def test_a_quote_in_the_middle_of_a_cell_is_a_letter() -> None:
    rows = list(rows_of(HEAD + '2026-03-02,10:00,pee,the 5" pot\n', ","))
    assert rows[1].cells[3] == 'the 5" pot'


def test_an_own_table_tells_its_separator_whatever_its_notes_hold() -> None:
    note = "\n".join(["one; two; three"] * 60)
    rows = [HEADER, [note if name == "note" else "" for name in HEADER]]
    text = "".join(lines_of(rows))
    assert separator_of(text, is_own) == ","
    assert separator_of(text.replace(",", "|"), is_own) == "|"


def test_a_cell_may_be_very_long() -> None:
    rows = [("Date", "What", "Note"), ("2026-03-02", "pee", "n" * 200_000)]
    text = "".join(lines_of(rows))
    assert separator_of(text) == ","
    assert len(list(rows_of(text, ","))[1].cells[2]) == 200_000


@pytest.mark.parametrize("begin", [b"PK\x03\x04plain", b"\xd0\xcf\x11\xe0\xa1\xb1plain"])
def test_a_workbook_is_named_as_what_it_is(begin: bytes) -> None:
    with pytest.raises(CellError, match="save the sheet as CSV"):
        decoded(begin)
