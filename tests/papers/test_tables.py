"""The log out and in again: every field of every kind, and texts that want to be something else."""

from __future__ import annotations

import csv
import io
import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pottyboard.core.model.events import CHOICES, KINDS, Event, check_details
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.columns import HEADER, is_own, read_own
from pottyboard.core.transfer.incoming import Problem, Reading
from pottyboard.core.transfer.table import decoded, guarded, opened, rows_of, separator_of
from pottyboard.papers.tables import csv_lines, is_json_lines, json_lines, read_json_lines
from pottyboard.store.documents import document_of, event_of

NOW = datetime(2026, 3, 16, 12, tzinfo=UTC)
ARRIVED = datetime(2026, 3, 2, 8, tzinfo=UTC)
SETTINGS: Settings = settings_from(
    {
        **default_answers(NOW, "Europe/Oslo"),
        "name": "Bramble",
        "weight": "8",
        "arrived": "2026-03-02 09:00",
    },
    NOW,
)

NASTY = st.one_of(
    st.sampled_from(
        [
            "=1+1", "+47", "-", "@SUM(A1)", "\tx", "\rx", "\nx", "'", "''", "'\"", "'\"x\"",
            '"', '""', " =1", "＝1", "a,b;c", "line\r\nbreak", "\r", "\n", "\x00", "\ud800",
            "\udfff'", "\ufeff",
            "\u2028\x85\x0b", "\\ud800", "yes", "1", " ", "{", "#", "𝄞", "e\u0301",
        ]
    ),
    st.text(st.characters(exclude_categories=[]), max_size=30),
)  # fmt: skip
INSTANTS = st.integers(0, 14 * 24 * 3600 * 1000).map(
    lambda ms: ARRIVED + timedelta(milliseconds=ms)
)
TRUTHS = st.sampled_from([None, True, False])
NUMBERS = st.none() | st.floats(1, 1440) | st.integers(1, 1440)
BY_FIELD: dict[str, st.SearchStrategy[Any]] = {
    "place": NASTY,
    "about": NASTY,
    "whom": NASTY,
    "comes": st.none() | INSTANTS,
    **dict.fromkeys(("found", "alone", "upright", "unsure"), TRUTHS),
    **dict.fromkeys(("ml", "rest", "minutes"), NUMBERS),
    **{name: st.sampled_from(["", *values]) for name, values in CHOICES.items()},
}


@st.composite
def events(draw: st.DrawFn) -> Event:
    """Draw an entry of any kind with any of its fields, as the store would give it back."""
    row = KINDS[draw(st.sampled_from(sorted(KINDS)))]
    at = draw(INSTANTS)
    details = {name: draw(BY_FIELD[name]) for name in row.carries if name != "dry"}
    if "dry" in row.carries:
        details["dry"] = draw(st.none() | st.just(at - timedelta(microseconds=12345)))
    event = Event(
        row.code,
        at,
        id=draw(NASTY),
        by=draw(NASTY),
        note=draw(NASTY),
        zone=draw(st.sampled_from(["", "Europe/Oslo", "Australia/Lord_Howe", "Nowhere/At_All"])),
        logged=draw(st.none() | INSTANTS),
        **details,
    )
    return event_of(document_of(check_details(event)))


def through_csv(log: list[Event]) -> Reading:
    """Return what is read of the bytes that are written."""
    text = decoded("".join(csv_lines(log, SETTINGS.zone)).encode("utf-8"))
    separator = separator_of(text)
    assert separator == ","
    header, *rows = rows_of(text, separator)
    assert is_own(header.cells)
    return read_own(header.cells, rows, SETTINGS, NOW)


def through_json(log: list[Event]) -> Reading:
    """Return what is read of the bytes that are written."""
    text = "".join(json_lines(log)).encode("utf-8").decode("utf-8")
    assert is_json_lines(text) or not log
    return read_json_lines(enumerate(text.split("\n"), 1), SETTINGS, NOW)


@given(st.lists(events(), max_size=8))
@settings(max_examples=150)
@example([Event("note", NOW, note="\ud83d\ude00"[:1] + "=")])
def test_what_goes_out_comes_in_again(log: list[Event]) -> None:
    for read in (through_csv, through_json):
        back = read(log)
        assert back.problems == ()
        assert [line.event for line in back.lines] == log


def test_every_field_of_an_entry_makes_the_round() -> None:
    at = ARRIVED + timedelta(days=1)
    accident: dict[str, Any] = {
        "place": "hall", "found": True, "dry": at, "alone": False, "cause": "late",
        "amount": "small", "surface": "carpet", "upright": False, "unsure": True,
    }  # fmt: skip
    log = [
        Event("pee-inside", at, "a", "Mina", "x", "Europe/Oslo", at, **accident),
        Event("bowl", at, "b", ml=250.5, rest=30),
        Event("routine", at, "c", measure="earlier", minutes=15, about="a"),
        Event("health", at, "d", finding="off-food"),
        Event("settled", at, "e", sleep="night"),
        Event("sign", at, "f", sign="circling"),
        Event("told", at, "g", whom="Mina", comes=at, means="sheet"),
    ]
    filled = {name for event in log for name in document_of(event)}
    assert filled == set(HEADER) - {"local_date", "local_clock"}
    assert [line.event for line in through_csv(log).lines] == log


# --- The form -------------------------------------------------------------------------------------


def test_another_reader_of_tables_sees_what_rfc_4180_says() -> None:
    note = 'said "no",\r\nthen went out'
    text = "".join(csv_lines([Event("note", ARRIVED, "n1", note=note)], SETTINGS.zone))
    assert text.endswith("\r\n")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert [*rows[0]] == list(HEADER)
    assert rows[0]["note"] == note
    assert (rows[0]["local_date"], rows[0]["local_clock"]) == ("2026-03-02", "09:00")
    assert rows[0]["at"] == "2026-03-02T08:00:00+00:00"


def test_the_local_columns_show_the_clock_of_the_place() -> None:
    event = Event("pee", datetime(2026, 3, 29, 1, 30, tzinfo=UTC), "p", zone="Europe/Oslo")
    elsewhere = Event("pee", datetime(2026, 3, 29, 1, 30, tzinfo=UTC), "q", zone="Asia/Tokyo")
    rows = [line.split(",")[:2] for line in csv_lines([event, elsewhere], SETTINGS.zone)]
    assert rows[1:] == [["2026-03-29", "03:30"], ["2026-03-29", "10:30"]]


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("=HYPERLINK(A1)", "'=HYPERLINK(A1)"),
        ("+47 900", "'+47 900"),
        ("-5", "'-5"),
        ("@home", "'@home"),
        ("\tx", "'\tx"),
        ("\rx", "'\rx"),
        ("  =1", "'  =1"),
        ("'quoted'", "''quoted'"),
        ("\ud800", '\'"\\ud800"'),
        ("calm, 5-6 steps", "calm, 5-6 steps"),
        ("", ""),
    ],
)
def test_formulas_are_made_harmless_and_nothing_else_is_touched(text: str, cell: str) -> None:
    assert guarded(text) == cell
    assert opened(cell) == text


@given(NASTY)
def test_no_cell_begins_like_a_formula(text: str) -> None:
    cell = guarded(text)
    assert cell.lstrip()[:1] not in tuple("=+-@") or not cell
    cell.encode("utf-8")
    assert opened(cell) == text


def test_json_lines_hold_one_plain_document_each() -> None:
    event = Event("note", ARRIVED, "n1", note="two\nlines \ud800")
    lines = list(json_lines([event, event]))
    assert all(line.count("\n") == 1 for line in lines)
    assert json.loads(lines[0]) == document_of(event)


# --- What people change in a spreadsheet ----------------------------------------------------------


def read(*rows: str, header: str = ",".join(HEADER)) -> Reading:
    """Return what is read of rows under the header."""
    first, *others = rows_of("\r\n".join((header, *rows)), ",")
    assert is_own(first.cells)
    return read_own(first.cells, others, SETTINGS, NOW)


SHORT = "local_date,local_clock,kind,at,id,zone,note,found"


def test_a_row_that_was_added_needs_a_date_and_a_clock_alone() -> None:
    found = read("2026-03-03,07:05,pee,,,,,", header=SHORT)
    assert found.lines[0].event == Event("pee", datetime(2026, 3, 3, 6, 5, tzinfo=UTC))


def test_a_skipped_clock_time_is_asked_about() -> None:
    late = datetime(2026, 4, 2, tzinfo=UTC)
    header, row = rows_of(f"{SHORT}\n2026-03-29,02:30,pee,,,,,\n", ",")
    found = read_own(header.cells, [row], SETTINGS, late)
    assert found.lines == ()
    assert "does not exist in Europe/Oslo" in str(found.problems[0])


@pytest.mark.parametrize(
    ("row", "column", "words"),
    [
        ("2026-03-03,07:05,pee,2026-03-03T06:10:00+00:00,,,,", "local_clock", "at says 07:10"),
        ("2026-03-04,07:05,pee,2026-03-03T06:05:00+00:00,,,,", "local_date", "at says 2026-03-03"),
        ("3 March,07:05,pee,,,,,", "local_date", "write a date such as 2026-03-02"),
        (",,pee,2026-03-03 06:10,,,,", "at", "write an instant such as"),
        (",,pee,,,,,", "", "there is no time"),
        (",,,2026-03-03T06:05:00+00:00,,,,", "", "there is no kind"),
        (",,pea,2026-03-03T06:05:00+00:00,,,,", "", "is not a kind of entry"),
        (",,pee-inside,2026-03-03T06:05:00+00:00,,,,maybe", "found", "write yes or no"),
        (",,pee,2026-03-03T06:05:00+00:00,,,,yes", "", "has no “found”"),
        (",,note,2026-03-03T06:05:00+00:00,,,'\"x,", "note", "no text in quotes"),
        (",,pee,2026-03-03T06:05:00+00:00,,,a,,b", "", "more cells than columns"),
        (",,pee,2026-03-01T06:05:00+00:00,,,,", "", "before the dog arrived"),
        (",,pee,2026-03-17T06:05:00+00:00,,,,", "", "still to come"),
    ],
)
def test_what_is_wrong_is_said_by_line(row: str, column: str, words: str) -> None:
    found = read("2026-03-03,07:05,pee,,,,,", row, header=SHORT)
    (problem,) = found.problems
    assert (problem.line, problem.column) == (3, column)
    assert words in problem.words
    assert len(found.lines) == 1


def test_a_spreadsheet_may_change_the_form_of_what_it_knows() -> None:
    found = read("03/03/2026,7:05,PEE,2026-03-03T06:05:00+00:00,,,,", header=SHORT)
    assert [str(problem) for problem in found.problems] == [
        "line 2: “PEE” is not a kind of entry. Did you mean “pee”?"
    ]
    found = read("03/03/2026,7:05,pee-inside,2026-03-03T06:05:00+00:00,,,,TRUE", header=SHORT)
    assert found.lines[0].event.found is True


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("[1]", "each line has to be one entry"),
        ("{", "Expecting property name"),
        ('{"kind":"pee"}', "missing 1 required"),
        ('{"kind":"pee","at":"2026-03-03T06:05:00"}', "no offset"),
        ('{"kind":"pee","at":"2026-03-03T06:05:00+00:00","found":true}', "has no"),
        ("[" * 100_000, "too deep"),
    ],
)
def test_a_line_of_json_that_is_no_entry_is_named(line: str, words: str) -> None:
    found = read_json_lines([(1, ""), (2, line)], SETTINGS, NOW)
    assert [problem.line for problem in found.problems] == [2]
    assert words in str(found.problems[0])


def test_a_problem_says_where_it_is() -> None:
    problem = Problem(7, "Time", "25:00", "no clock time")
    assert str(problem) == "line 7, “Time”, “25:00”: no clock time"
    assert str(Problem(0, "", "", "no column")) == "no column"
