"""The forms in which people write times, dates, days and money, through every reader of ours.

The set-up, ``--at`` of the command line, the import of a paper log and a helper's message read a
form alike, or refuse it with a form that works.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time
from typing import Any, NamedTuple

import pytest

from pottyboard.core.model.localtime import read_when
from pottyboard.core.model.questions import default_answers, problems_in, settings_from
from pottyboard.core.transfer.mapping import override, propose
from pottyboard.core.transfer.paper_log import Way, order_in, read_paper_log, span_of
from pottyboard.core.transfer.reports import read_report
from pottyboard.core.transfer.table import rows_of

NOW = datetime(2026, 11, 27, 22, 30, tzinfo=UTC)
"""23:30 in Oslo on Friday 27 November 2026."""
ANSWERS = {
    **default_answers(NOW, "Europe/Oslo"),
    "name": "Bramble",
    "arrived": "2026-11-23 05:00",
    "workdays": "mon-fri",
}
SETTINGS = settings_from(ANSWERS, NOW)
ZONE = SETTINGS.zone


def wall(at: datetime) -> str:
    return f"{at.astimezone(ZONE):%d %H:%M}"


def in_set_up(key: str, text: str) -> Any:
    """Return the value of an answer, or what is wrong with it."""
    answers = {**ANSWERS, key: f"{text} home" if key == "exceptions" else text}
    if problems := problems_in(answers, NOW):
        return problems[key]
    read = settings_from(answers, NOW)
    values: dict[str, Callable[[], Any]] = {
        "leave": lambda: read.home.work and f"27 {read.home.work.leave:%H:%M}",
        "meals": lambda: read.home.meals,
        "arrived": lambda: wall(read.dog.arrived),
        "exceptions": lambda: read.home.other_days[0].first,
        "workdays": lambda: read.home.work and sorted(read.home.work.days),
        "helpers": lambda: (read.home.helpers[0].cost, read.home.helpers[0].currency),
    }
    return values[key]()


def at_the_command_line(text: str) -> str:
    try:
        return wall(read_when(text, NOW, ZONE))
    except ValueError as error:
        return str(error)


def in_a_table(heading: str, text: str) -> Any:
    """Return when the entries of one row were, or what is wrong with the row."""
    table = {
        "Time": f"Date;Time;What\n2026-11-27;{text};pee\n",
        "When": f"When;What\n{text};pee\n",
        "Date": f"Date;Time;What\n{text};08:00;pee\n",
        "Pee": f"Date;Pee\n2026-11-27;{text}\n",
    }[heading]
    rows = list(rows_of(table, ";"))
    columns, headed = propose(rows, {})
    way = Way(override(columns, f"{heading}=clock" if heading == "Time" else ""))
    span = span_of(SETTINGS, NOW)
    way = Way(way.columns, order_in(way, rows[headed:], span)[0])
    reading = read_paper_log(rows[headed:], way, SETTINGS, NOW)
    if reading.problems:
        return str(reading.problems[0])
    return [wall(event.at) for _, event in reading.lines]


def in_a_message(text: str) -> Any:
    read = read_report(text, "Mina", SETTINGS, NOW)
    return [wall(event.at) for event in read.entries] or str(read.problems[0])


class Form(NamedTuple):
    """One form: what each reader makes of it; a text is part of the refusal."""

    text: str
    set_up: tuple[str, Any]
    at: str
    table: tuple[str, Any]
    message: tuple[str, Any]


SEVEN_AND_SIX = (time(7), time(18))
FORMS = (
    Form("5:30 pm", ("leave", "27 17:30"), "27 17:30", ("Time", ["27 17:30"]),
         ("{} pee", ["27 17:30"])),
    Form("11pm", ("leave", "27 23:00"), "27 23:00", ("Time", ["27 23:00"]),
         ("{} pee", ["27 23:00"])),
    Form("6.30", ("leave", "27 06:30"), "27 06:30", ("Time", ["27 06:30"]),
         ("{} pee", ["27 06:30"])),
    Form("630", ("leave", "27 06:30"), "27 06:30", ("Time", ["27 06:30"]),
         ("{} pee", ["27 06:30"])),
    Form("7", ("leave", "27 07:00"), "27 07:00", ("Time", ["27 07:00"]),
         ("{} pee", ["27 07:00"])),
    Form("0700", ("leave", "27 07:00"), "27 07:00", ("Time", ["27 07:00"]),
         ("{} pee", ["27 07:00"])),
    Form("noon", ("leave", "27 12:00"), "27 12:00", ("Time", ["27 12:00"]),
         ("{} pee", ["27 12:00"])),
    Form("07:00 18:00", ("meals", SEVEN_AND_SIX), "write 10:05", ("Pee", ["27 07:00", "27 18:00"]),
         ("{} pee", "such as 07:00 pee, 18:00 pee")),
    Form("7 and 18", ("meals", SEVEN_AND_SIX), "write 10:05", ("Pee", ["27 07:00", "27 18:00"]),
         ("{} pee", "such as 07:00 pee, 18:00 pee")),
    Form("27 Nov", ("exceptions", date(2026, 11, 27)), "write 27 Nov 10:05", ("Date", ["27 08:00"]),
         ("{}\n8:00 pee", ["27 08:00"])),
    Form("27.11.2026 8:00", ("arrived", "27 08:00"), "27 08:00", ("When", ["27 08:00"]),
         ("{} pee", ["27 08:00"])),
    Form("2026-11-27", ("exceptions", date(2026, 11, 27)), "write 27 Nov 10:05",
         ("Date", ["27 08:00"]), ("{}\n8:00 pee", ["27 08:00"])),
    Form("27 November 8am", ("arrived", "27 08:00"), "27 08:00", ("When", ["27 08:00"]),
         ("{} pee", ["27 08:00"])),
    Form("yesterday 22:40", ("arrived", "26 22:40"), "26 22:40", ("When", "such as 2026-03-02"),
         ("{} pee", ["26 22:40"])),
    Form("Fri 11:31", ("arrived", "27 11:31"), "27 11:31", ("When", ["27 11:31"]),
         ("{} pee", ["27 11:31"])),
    Form("Thu 11:31", ("arrived", "write 26 Nov or 3 Dec"), "26 11:31", ("When", ["26 11:31"]),
         ("{} pee", ["26 11:31"])),
    Form("5.5", ("leave", "write 05:05 or 05:30 or 05:50"), "write 05:05 or 05:30 or 05:50",
         ("Time", "write 05:05 or 05:30 or 05:50"), ("{} pee", "such as 12:10")),
    Form("3/4/2026 8:00", ("arrived", "write 3 Apr 2026 or 4 Mar 2026"),
         "write 3 Apr 2026 or 4 Mar 2026", ("When", "could be 3 April or 4 March"),
         ("{} pee", "write 3 Apr 2026 or 4 Mar 2026")),
    Form("mon and thu", ("workdays", [1, 4]), "write 10:05", ("Date", "such as 2026-03-02"),
         ("{} pee", "such as 12:10")),
    Form("€12.50", ("helpers", (12.5, "€")), "write 10:05", ("Time", "such as 19:20"),
         ("{} pee", "such as 12:10")),
    Form("12,50 EUR", ("helpers", (12.5, "€")), "write 10:05", ("Time", "such as 19:20"),
         ("{} pee", "such as 12:10")),
    Form("$8", ("helpers", (8.0, "$")), "write 10:05", ("Time", "such as 19:20"),
         ("{} pee", "such as 12:10")),
)  # fmt: skip


@pytest.mark.parametrize("form", FORMS, ids=[form.text for form in FORMS])
@pytest.mark.parametrize("reader", ["set-up", "--at", "import", "message"])
def test_a_form_reads_alike_everywhere(form: Form, reader: str) -> None:
    if reader == "set-up":
        key, expected = form.set_up
        found = in_set_up(key, f"Mina 11-15 {form.text}" if key == "helpers" else form.text)
    elif reader == "--at":
        expected, found = form.at, at_the_command_line(form.text)
    elif reader == "import":
        heading, expected = form.table
        try:
            found = in_a_table(heading, form.text)
        except ValueError as error:
            found = str(error)
    else:
        frame, expected = form.message
        found = in_a_message(frame.format(form.text))
    if isinstance(found, str) and isinstance(expected, str):
        assert expected in found
    else:
        assert found == expected
