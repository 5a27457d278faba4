"""Paper logs in the shapes in which spreadsheets save them, and their faults by line."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pottyboard.core.model.events import Event
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.transfer.dates import Dates, clock_in, date_in, order_of
from pottyboard.core.transfer.duplicates import addition
from pottyboard.core.transfer.incoming import CellError, Line, Reading
from pottyboard.core.transfer.kind_words import own_words, read_kinds
from pottyboard.core.transfer.mapping import override, propose
from pottyboard.core.transfer.paper_log import Way, missing_in, order_in, read_paper_log, span_of
from pottyboard.core.transfer.table import decoded, rows_of, separator_of

NOW = datetime(2026, 3, 16, 12, tzinfo=UTC)
SETTINGS = settings_from(
    {
        **default_answers(NOW, "Europe/Oslo"),
        "name": "Bramble",
        "weight": "8",
        "arrived": "2026-03-02 09:00",
    },
    NOW,
)
SPAN = span_of(SETTINGS, NOW)


def understood(text: str, mapping: str = "", words: str = "") -> tuple[Way, Reading]:
    """Return how a table is understood without any help, and what is read of it."""
    own = own_words(words)
    rows = list(rows_of(text, separator_of(text)))
    columns, headed = propose(rows, own)
    way = Way(override(columns, mapping), own=own)
    assert missing_in(way) == ""
    body = rows[headed:]
    order, _ = order_in(way, body, SPAN)
    way = Way(way.columns, order, own=own)
    return way, read_paper_log(body, way, SETTINGS, NOW)


def said(text: str, **options: str) -> list[str]:
    """Return the entries in short, such as ``3 10:05 pee garden Mina``."""
    _, reading = understood(text, **options)
    assert [str(problem) for problem in reading.problems] == []
    shown = []
    for _, event in reading.lines:
        wall = event.at.astimezone(SETTINGS.zone)
        words = (f"{wall.day} {wall:%H:%M}", event.kind, event.place, event.by, event.note)
        shown.append(" ".join(word for word in words if word))
    return shown


SHAPES = {
    "commas": (
        "Date,Time,What,Where,Who,Note\r\n"
        "2026-03-03,07:05,pee,garden,Mina,\r\n"
        '2026-03-03,13:30,accident pee,kitchen,Otto,"on the mat, small"\r\n'
    ),
    "semicolons, dots, a date once": (
        "\ufeffDate;Time;What;Where;Who;Note\n"
        "3.3.2026;7.05;Wee;garden;Mina;\n;13.30;Pee (accident);kitchen;Otto;on the mat, small\n"
    ),
    "tabs and another order": (
        "What\tWho\tWhere\tNote\tTime\tDate\n"
        "peed outside\tMina\tgarden\t\t7:05:00\tTue 3 Mar 2026\n"
        "pee indoors\tOtto\tkitchen\ton the mat, small\t1:30 PM\t3 March\n"
    ),
    "date and time in one": (
        "When,Entry,Room,Logged by,Remarks\n"
        "2026-03-03 07:05,pee,garden,Mina,\n"
        '03/03/2026 13:30,puddle: pee,kitchen,Otto,"on the mat, small"\n'
    ),
    "headings of another language": (
        "Datum;Uhrzeit;Was;Place;By;Notes\n"
        "03.03.26;07:05;pee;garden;Mina;\n03.03.26;13:30;pee inside;kitchen;Otto;"
        "on the mat, small\n"
    ),
    "a column for accidents": (
        "Day,Time,What,Accident,Where,Who,Comments\n"
        "2026-03-03,0705,wee,no,garden,Mina,\n"
        '2026-03-03,1330,wee,yes,kitchen,Otto,"on the mat, small"\n'
    ),
    "ticks": (
        "Date,Time,Pee,Poop,Accident,Where,Who,Note\n"
        "2026-03-03,07:05,x,,,garden,Mina,\n"
        '2026-03-03,13:30,x,,x,kitchen,Otto,"on the mat, small"\n'
    ),
}


@pytest.mark.parametrize("shape", SHAPES)
def test_one_paper_log_in_many_shapes(shape: str) -> None:
    assert said(SHAPES[shape]) == [
        "3 07:05 pee garden Mina",
        "3 13:30 pee-inside kitchen Otto on the mat, small",
    ]


def test_a_table_without_headings_is_told_by_its_cells() -> None:
    way, reading = understood("2026-03-03;07:05;pee;x\n2026-03-03;09:10;poo;\n")
    assert [column.means for column in way.columns] == ["date", "clock", "kind", "-"]
    assert [line.event.kind for line in reading.lines] == ["pee", "poop"]


def test_times_under_a_kind_are_entries_of_their_own() -> None:
    text = 'Date,Pee,Meal,Time\n2026-03-03,"7:05, 9.30",07:15,\n2026-03-03,,x,17:30\n'
    assert said(text) == ["3 07:05 pee", "3 09:30 pee", "3 07:15 meal", "3 17:30 meal"]


def test_pee_and_poop_ticked_in_one_row_are_one_outing() -> None:
    assert said("Date,Time,Pee,Poo,Food\n2026-03-03,07:05,x,x,1\n") == [
        "3 07:05 both",
        "3 07:05 meal",
    ]


def test_after_midnight_the_night_goes_on_under_one_date() -> None:
    text = "Date,Time,What\n2026-03-03,22:30,pee\n,00:20,pee\n,07:00,pee\n2026-03-05,23:10,pee\n"
    assert said(text) == ["3 22:30 pee", "4 00:20 pee", "4 07:00 pee", "5 23:10 pee"]


def test_rows_out_of_order_stay_on_their_day() -> None:
    assert said("Date,Time,What\n2026-03-03,12:30,pee\n,07:00,pee\n") == [
        "3 12:30 pee",
        "3 07:00 pee",
    ]


def test_a_column_can_be_given_another_meaning() -> None:
    text = "Date,Time,What,Mood\n2026-03-03,07:05,pee,cheerful\n"
    assert said(text) == ["3 07:05 pee"]
    assert said(text, mapping="Mood=note") == ["3 07:05 pee cheerful"]
    assert said(text, mapping="4=by") == ["3 07:05 pee cheerful"]


def test_the_household_may_have_words_of_its_own() -> None:
    text = "Date,Time,What\n2026-03-03,07:05,Tinkle\n2026-03-03,07:06,accident tinkle\n"
    assert said(text, words="tinkle=pee") == ["3 07:05 pee", "3 07:06 pee-inside"]


def test_a_row_with_words_alone_is_a_note() -> None:
    text = "Date,Time,What,Note\n2026-03-03,07:05,,new collar\n2026-03-03,08:05,breakfast,half\n"
    assert said(text) == ["3 07:05 note new collar", "3 08:05 meal half, breakfast"]


def test_a_skipped_time_is_asked_about() -> None:
    rows = list(rows_of("Date,Time,What\n2026-03-29,02:30,pee\n2026-03-29,03:30,pee\n", ","))
    way = Way(propose(rows, {})[0])
    reading = read_paper_log(rows[1:], way, SETTINGS, datetime(2026, 4, 1, tzinfo=UTC))
    assert [line.event.at.hour for line in reading.lines] == [1]
    [problem] = reading.problems
    assert "line 2: 2026-03-29 02:30 does not exist in" in str(problem)


def test_of_a_repeated_time_the_offset_tells_which() -> None:
    text = "Date,Time,What\n2026-10-25,02:30,pee\n2026-10-25,2026-10-25T02:30+01:00,pee\n"
    rows = list(rows_of(text, ","))
    way = Way(propose(rows, {})[0])
    reading = read_paper_log(rows[1:], way, SETTINGS, datetime(2026, 11, 1, tzinfo=UTC))
    assert [line.event.at.hour for line in reading.lines] == [1]
    [problem] = reading.problems
    assert "happens twice" in str(problem)
    assert "2026-10-25T02:30+01:00 for the second" in str(problem)


def test_what_cannot_be_read_is_named_by_line_all_of_it() -> None:
    text = (
        "Date,Time,What,Where,Amount\n"
        "2026-03-03,07:05,pee,garden,\n"
        "2026-03-03,25:00,pee,garden,\n"
        "2026-13-03,07:05,pee,garden,\n"
        '2026-03-03,07:05,"walkies\n(long)",,\n'
        "2026-03-03,07:05,accident,,\n"
        "2026-03-03,07:05,pee,kitchen,\n"
        "2026-03-03,07:05,pee indoors,outside,\n"
        "2026-03-03,,pee,,\n"
        "2026-03-03,07:05,,,\n"
        "2026-03-01,07:05,pee,,\n"
        "2026-03-17,07:05,pee,,\n"
        "2026-03-03,07:05,poop,,huge\n"
        "2026-03-03,07:05,poop,,small\n"
    )
    _, reading = understood(text)
    assert [(p.line, p.column) for p in reading.problems] == [
        (3, "Time"), (4, "Date"), (5, "What"), (7, "What"), (8, "Where"), (9, "Where"), (10, ""),
        (11, ""), (12, ""), (13, ""), (14, "Amount"), (15, ""),
    ]  # fmt: skip
    words = " / ".join(problem.words for problem in reading.problems)
    for part in ("hours and minutes", "no such date", "--words", "pee or poop?", "indoors?",
                 "outside?", "there is no time", "what happened", "before the dog arrived",
                 "still to come", "small, usual, large", "A poop has no “amount”"):  # fmt: skip
        assert part in words
    assert [line.line for line in reading.lines] == [2]


def test_dates_at_the_end_of_all_calendars_are_named_too() -> None:
    text = "Date,Time,What\n9999-12-31,23:59,pee\n,00:10,pee\n0001-01-01,00:10,pee\n"
    rows = list(rows_of(text, ","))
    reading = read_paper_log(rows[1:], Way(propose(rows, {})[0]), SETTINGS, NOW)
    assert [problem.line for problem in reading.problems] == [2, 3, 4]


CELLS = st.one_of(
    st.sampled_from(
        ["", "x", "pee", "accident", "7:05", "25:00", "7 pm", "3/4/2026", "2026-03-03", "31/31/31",
         "2026-03-03 07:05", "2026-03-03T07:05:00+99:00", "9999-12-31", "0001-01-01", "Feb 30",
         "29 Feb", "inf", "1e400", "Time", "Date", "What", "Pee", "²:30", "٣:٤٥", "=1", "'\"x"]
    ),
    st.text(max_size=12),
)  # fmt: skip
TABLES = st.lists(st.lists(CELLS, max_size=5), min_size=1, max_size=6)


@given(TABLES, st.sampled_from([";", ",", "\t"]))
@example([['"']], ";")
@settings(max_examples=300)
def test_no_table_at_all_breaks_the_reader(table: list[list[str]], separator: str) -> None:
    text = "\r\n".join(separator.join(row) for row in table)
    try:
        rows = list(rows_of(text, separator_of(text)))
    except CellError:  # a lone quote: an answer too
        return
    if not rows:
        return
    columns, headed = propose(rows, {})
    way = Way(columns, day=date(2026, 3, 3))
    try:
        order, _ = order_in(way, rows[headed:], SPAN)
    except CellError:
        order = "day-first"
    reading = read_paper_log(rows[headed:], Way(columns, order), SETTINGS, NOW)
    assert all(problem.words for problem in reading.problems)
    assert len(reading.lines) + len(reading.problems) >= len(rows[headed:])


# --- Dates ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cells", "order"),
    [
        (["3/4/2026", "14/3/2026"], "day-first"),
        (["3/4/2026", "3/14/2026"], "month-first"),
        (["4.3.2026"], "day-first"),
        (["3/3/2026"], "day-first"),
        (["2026-03-04"], "day-first"),
        (["3/4/2026"], "month-first"),  # 3 April is still to come
        (["5/3/26", "6/3"], "day-first"),  # May and June are still to come
    ],
)
def test_all_rows_together_say_which_comes_first(cells: list[str], order: str) -> None:
    assert order_of(cells, SPAN)[0] == order


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        (["3/4/2026", "4/3/2026"], "“3/4/2026” could be 3 April or 4 March"),
        (["3/14/2026", "14/3/2026"], "“3/14/2026” has the month first and “14/3/2026” the day"),
    ],
)
def test_where_they_do_not_it_is_asked_for(cells: list[str], words: str) -> None:
    with pytest.raises(CellError, match="--order day-first or --order month-first") as refused:
        order_of(cells, Dates(date(2026, 3, 2), date(2026, 4, 30)))
    assert words in str(refused.value)


@pytest.mark.parametrize(
    "text",
    ["2026-03-04", "4/3/2026", "04.03.26", "4.3.", "4 Mar", "Wed 4 March 2026", "Mar 4, 2026",
     "4th March", "2026/3/4"],
)  # fmt: skip
def test_a_date_in_many_forms(text: str) -> None:
    assert date_in(text, "day-first", SPAN) == date(2026, 3, 4)


def test_a_date_without_a_year_lies_between_arrival_and_today() -> None:
    over_new_year = Dates(date(2025, 12, 20), date(2026, 1, 5))
    assert date_in("24 Dec", "day-first", over_new_year) == date(2025, 12, 24)
    assert date_in("2 Jan", "day-first", over_new_year) == date(2026, 1, 2)


@pytest.mark.parametrize("text", ["", "soon", "31/2/2026", "4 Foo", "99", "3/4/5/6"])
def test_no_date_is_no_date(text: str) -> None:
    with pytest.raises(CellError):
        date_in(text, "day-first", SPAN)


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("7:05", time(7, 5)), ("7.05", time(7, 5)), ("07h05", time(7, 5)), ("0705", time(7, 5)),
        ("19:20:00", time(19, 20)), ("7:05 pm", time(19, 5)), ("12:10 a.m.", time(0, 10)),
        ("12 PM", time(12, 0)),
    ],
)  # fmt: skip
def test_a_clock_time_in_many_forms(text: str, clock: time) -> None:
    assert clock_in(text) == clock


@pytest.mark.parametrize("text", ["7.5", "13:00 pm", "25", "25:00", "7:61", "noonish", ""])
def test_no_clock_time_is_no_clock_time(text: str) -> None:
    with pytest.raises(CellError):
        clock_in(text)


# --- Kinds ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("pee", ["pee"]), ("Wee!", ["pee"]), ("pee-inside", ["pee-inside"]),
        ("Accident (poo)", ["poop-inside"]), ("pee + poo", ["both"]), ("wee and poo", ["both"]),
        ("peed and pooped outside", ["both"]),
        ("pee & poop indoors", ["pee-inside", "poop-inside"]),
        ("went out, nothing came", ["nothing"]), ("dinner and wee", ["meal", "pee"]),
        ("cleaned up", ["cleaned"]), ("circling", ["sign"]), ("bedtime", ["settled"]),
        ("left alone", ["left"]), ("vet", ["vet"]),
    ],
)  # fmt: skip
def test_kinds_in_the_words_of_people(text: str, kinds: list[str]) -> None:
    assert [each.kind for each in read_kinds(text, {})] == kinds


@pytest.mark.parametrize("text", ["accident", "walkies", "", "pee then zoom", "no pee"])
def test_what_could_mean_something_else_is_asked_back(text: str) -> None:
    with pytest.raises(CellError):
        read_kinds(text, {})


# --- The table beneath ----------------------------------------------------------------------------


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_files_in_the_encodings_of_spreadsheets(encoding: str) -> None:
    assert decoded("Måltid – ok".encode(encoding)) == "Måltid – ok"


def test_a_picture_is_no_table() -> None:
    with pytest.raises(CellError, match="save the sheet as CSV"):
        decoded(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\xff\xfe")


def test_lines_are_counted_through_quoted_breaks() -> None:
    rows = list(rows_of('a,b\r\n"one\r\ntwo",x\r\n\r\n,\r\nlast,"y\u2028z"\r\n', ","))
    assert [row.line for row in rows] == [1, 2, 6]
    assert rows[1].cells == ("one\r\ntwo", "x")
    assert rows[2].cells == ("last", "y\u2028z")


def test_exact_duplicates_are_left_out_and_near_ones_are_not() -> None:
    at = datetime(2026, 3, 3, 6, 5, tzinfo=UTC)
    log = [Event("pee", at, "a", "Mina", zone="Europe/Oslo", logged=NOW)]
    lines = [
        Line(2, Event("pee", at, by="Mina")),
        Line(3, Event("pee", at, by="Otto")),
        Line(4, Event("pee", at, by="Otto")),
        Line(5, Event("poop", at, "b")),
        Line(6, Event("poop", at, "c")),
        Line(7, Event("pee", at, "a", "Mina")),
        Line(8, Event("pee", at, "a", "Otto")),
    ]
    added = addition(lines, log)
    assert [(event.kind, event.by, event.id) for event in added.events] == [
        ("pee", "Otto", ""), ("poop", "", "b"), ("poop", "", "c"),
    ]  # fmt: skip
    assert added.skipped == 3
    assert [(problem.line, problem.column) for problem in added.problems] == [(8, "id")]


@pytest.mark.parametrize(
    ("mapping", "words"),
    [
        ("Mood=note", "there is no column “Mood”: Date, Time, What"),
        ("What=thing", "a column cannot mean “thing”"),
        ("What", "is no pair"),
    ],
)
def test_a_mapping_that_cannot_be_is_refused(mapping: str, words: str) -> None:
    rows = list(rows_of("Date,Time,What\n2026-03-03,07:05,pee\n", ","))
    with pytest.raises(CellError, match=words):
        override(propose(rows, {})[0], mapping)


@pytest.mark.parametrize(
    ("typed", "ml"),
    [("200", 200), ("200 ml", 200), ("200ml", 200), ("2dl", 200), ("0,2 l", 200), ("0.25L", 250)],
)
def test_amounts_are_read_in_the_units_that_people_write(typed: str, ml: float) -> None:
    _, reading = understood(f"date;time;kind;ml\n2026-03-03;10:05;water;{typed}\n")
    assert [str(problem) for problem in reading.problems] == []
    assert [event.ml for _, event in reading.lines] == [pytest.approx(ml)]
