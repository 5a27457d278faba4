"""The commands that bring the log out and in: ``export`` and ``import``."""

from __future__ import annotations

import gc
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Sequence
from dataclasses import fields
from datetime import date, datetime, time, timedelta
from pathlib import Path
from textwrap import fill
from typing import Final, TypeVar

from msgspec import Struct, structs

from pottyboard.cli.commands.log import DETAILS
from pottyboard.cli.commands.request import Request, number_of_days
from pottyboard.cli.output.files import file_named, write_private
from pottyboard.cli.output.messages import DONE, REFUSED
from pottyboard.cli.output.progress import tracked
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import at_clock, count_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.columns import is_own, read_own
from pottyboard.core.transfer.duplicates import addition
from pottyboard.core.transfer.incoming import CellError, Line, Problem, Reading, Row
from pottyboard.core.transfer.kind_words import own_words
from pottyboard.core.transfer.mapping import SKIP, override, propose
from pottyboard.core.transfer.paper_log import Way, missing_in, order_in, read_paper_log, span_of
from pottyboard.core.transfer.table import decoded, rows_of, separator_of
from pottyboard.papers import PaperError
from pottyboard.papers.incoming import (
    head_text,
    imported_text,
    problems_by_line,
    rows_text,
    skipped_words,
    way_text,
)
from pottyboard.papers.tables import (
    csv_lines,
    is_json_lines,
    json_lines,
    numbers_lines,
    read_json_lines,
)
from pottyboard.store import StoreError
from pottyboard.store.restoring import entries_in, is_of_ours

T = TypeVar("T")
_ALWAYS: Final = {
    "local_date": "the date where it was logged, for people; read back where “at” is empty",
    "local_clock": "the clock there",
    "kind": "what happened: see log --help",
    "at": "when: an instant in UTC",
    "id": "names the entry; empty for a new one",
    "by": "who logged it",
    "note": "anything else, in the household's words",
    "zone": "the time zone where it was logged",
    "logged": "when it was typed: an instant in UTC",
}
_CELLS: Final = """cells:
  empty for what was not said; instants in ISO 8601, yes or no, numbers with a point
  a text that a spreadsheet could take for a formula has an apostrophe before it, and so has one
  that begins with an apostrophe; what no UTF-8 file can hold follows it as a JSON string
  import takes all of that back exactly"""


_IMPORTS: Final = """A log of this program, as export writes it, is known by its headings. Of any
other table the columns are told by their headings and cells, and shown with the first rows and
whatever cannot be read, by line. Nothing is saved before you agree, nothing at all while a line
cannot be read, and one undo takes all of it back. Entries that are there already are left out.

a column may mean:
  date  clock  when (both in one)  kind (what happened)  place  by  note  indoors (yes or no)
  found  alone  amount  cause  ml  kind:pee (ticked off with x, or with times)  - (not read)"""


# --- Out ------------------------------------------------------------------------------------------


def export_options(parser: ArgumentParser) -> None:
    """Add the options of ``export``, and the columns from the options of ``log``."""
    own = {name: given[0][1]["help"] for name, given in DETAILS.items()}
    order = [spec.name for spec in fields(Event) if spec.name in own]
    words = {**_ALWAYS, **{name: own[name] for name in order}}
    columns = "\n".join(
        fill(text, 100, initial_indent=f"  {name:12} ", subsequent_indent=" " * 15)
        for name, text in words.items()
    )
    parser.epilog = f"columns:\n{columns}\n\n{_CELLS}\n\n{parser.epilog}"
    form = parser.add_mutually_exclusive_group()
    form.add_argument(
        "--csv", metavar="FILE", help="write a table for spreadsheets (default: to stdout)"
    )
    form.add_argument("--jsonl", metavar="FILE", help="write one JSON document a line")
    form.add_argument(
        "--numbers", metavar="FILE", help="the phone numbers instead, which no other export has"
    )
    parser.add_argument("--from", dest="date", metavar="DATE", help="the first day (default: all)")
    parser.add_argument("--days", type=number_of_days, metavar="N", help="how many (default: all)")


def run_export(request: Request) -> int:
    """Write the log, or some days of it, as a table or as JSON Lines."""
    gc.disable()  # a short life with very many values, none of which is garbage
    args, dog_log = request.args, request.dog_log
    settings = dog_log.settings
    events = _of_days(dog_log.events, settings, request.date(), args.days)
    if args.numbers is not None:
        numbers = settings.home.numbers
        _written(args.numbers, numbers_lines(numbers), count_words(len(numbers), "number"))
        return DONE
    name = args.jsonl if args.jsonl is not None else args.csv
    shown = tracked(events, "Writing", quiet=name is None and sys.stdout.isatty())
    lines = json_lines(shown) if args.jsonl is not None else csv_lines(shown, settings.zone)
    _written(name, lines, count_words(len(events), "entry", "entries"))
    return DONE


def _written(name: str | None, lines: Iterable[str], held: str) -> None:
    """Write lines to a file and say what it holds, or to where the output goes."""
    if name is None or name == "-":
        sys.stdout.flush()
        out = getattr(sys.stdout, "buffer", None)
        for line in lines:
            _ = sys.stdout.write(line) if out is None else out.write(line.encode())
        return
    path = file_named(name)
    write_private(path, "".join(lines).encode())
    print(f"{held} in it", file=sys.stderr)


def _of_days(
    events: Sequence[Event], settings: Settings, first: date | None, days: int | None
) -> Sequence[Event]:
    """Return the entries of the local dates that were asked for, all of them by default."""
    if days is not None and not 1 <= days <= 36_500:
        raise PaperError("--days goes from 1 to 36500.")
    if first is None and days is None:
        return events
    begin = settings.first_date if first is None else first
    try:
        end = date.max if days is None else begin + timedelta(days=days)
    except OverflowError:
        end = date.max
    start = at_clock(begin, time(0), settings.zone)
    stop = float("inf") if end == date.max else at_clock(end, time(0), settings.zone)
    return [event for event in events if start <= event.t < stop]


# --- In -------------------------------------------------------------------------------------------


class _Incoming(Struct, frozen=True):
    """A file as it is read: what it holds, and the words that say how it was understood."""

    reading: Reading
    rows: int
    form: str
    words: str = ""


def import_options(parser: ArgumentParser) -> None:
    """Add the options of ``import``."""
    parser.epilog = f"{_IMPORTS}\n\n{parser.epilog}"
    parser.add_argument("file", metavar="FILE", help="a table (CSV) or JSON Lines; - reads stdin")
    parser.add_argument("--yes", action="store_true", help="save it without asking")
    parser.add_argument(
        "--map", metavar="TEXT", default="", help="what columns mean: “What=kind,Time=clock,4=-”"
    )
    parser.add_argument(
        "--words", metavar="TEXT", default="", help="your words for kinds: “tinkle=pee,kibble=meal”"
    )
    parser.add_argument(
        "--order", choices=("day-first", "month-first"), help="of dates as 3/4/2026"
    )
    parser.add_argument("--day", dest="date", metavar="DATE", help="the day, if no column says it")
    parser.add_argument("--by", metavar="NAME", default="", help="who logged it, if no column says")


def run_import(request: Request) -> int:
    """Show what a file holds, then save all of it or nothing."""
    gc.disable()
    args, dog_log, now, day = request.args, request.dog_log, request.now, request.date()
    settings = dog_log.settings
    try:
        content = _content_of(args.file)
        if is_of_ours(content):
            incoming = _log_itself(content)
        else:
            incoming = _read(decoded(content), args, settings, now, day)
    except CellError as error:
        raise PaperError(f"{args.file}: {error}.") from None
    added = addition(incoming.reading.lines, dog_log.events)
    problems = sorted((*incoming.reading.problems, *added.problems), key=lambda each: each.line)
    print(head_text(args.file, incoming.form, incoming.rows))
    print(
        "", *filter(None, (incoming.words, rows_text(incoming.reading.lines, settings))), sep="\n"
    )
    if skipped_words(added.skipped):
        print("", skipped_words(added.skipped), sep="\n")
    if problems:
        sys.stdout.flush()
        print("", problems_by_line(problems), sep="\n", file=sys.stderr)
        return REFUSED
    if not added.events:
        print("", "Nothing to add.", sep="\n")
        return DONE if incoming.reading.lines or not incoming.rows else REFUSED
    if not (args.yes or _agrees(len(added.events), settings.dog.name)):
        print("", "Nothing was saved. To save it: the same once more with --yes", sep="\n")
        return DONE
    saved = dog_log.add_all(tracked(added.events, "Saving"), now)
    request.saved = True
    print("", imported_text(len(saved), 0, settings.dog.name, args.dog), sep="\n")
    return DONE


def _content_of(name: str) -> bytes:
    if name == "-":
        source = getattr(sys.stdin, "buffer", None)
        found = sys.stdin.read() if source is None else source.read()
        return found.encode() if isinstance(found, str) else bytes(found)
    path = Path(name).expanduser()
    if not path.is_file():
        raise StoreError(f"{path} is no file: name one to read.")
    return path.read_bytes()


def _log_itself(content: bytes) -> _Incoming:
    """Read a month of a log, such as a backup, or what stands whole in one kept aside."""
    events = entries_in(content)
    lines = tuple(Line(number, event) for number, event in enumerate(events, 1))
    return _Incoming(Reading(lines, ()), len(events), "a month of a log")


def _read(
    text: str, args: Namespace, settings: Settings, now: datetime, day: date | None
) -> _Incoming:
    if not text.strip("\ufeff \t\r\n"):
        raise CellError("it is empty")
    if is_json_lines(text):
        lines = text.split("\n")
        reading = read_json_lines(tracked([*enumerate(lines, 1)], "Reading"), settings, now)
        return _Incoming(reading, sum(map(bool, lines)), "JSON Lines")
    text, skipped = _without_hint(text)
    separator = separator_of(text, is_own)
    rows = [row._replace(line=row.line + skipped) for row in rows_of(text, separator)]
    if is_own(rows[0].cells):
        body = rows[1:]
        reading = read_own(rows[0].cells, tracked(body, "Reading"), settings, now)
        return _Incoming(reading, len(body), "a log of this program")
    return _read_paper(rows, separator, args, settings, now, day)


def _without_hint(text: str) -> tuple[str, int]:
    """Return the table without the line in which some spreadsheets name the separator."""
    first, newline, rest = text.lstrip("\ufeff").partition("\n")
    is_hint = first.strip().lower().startswith("sep=") and len(first.strip()) <= len("sep=;")
    return (rest, 1) if newline and is_hint else (text.lstrip("\ufeff"), 0)


def _read_paper(
    rows: list[Row],
    separator: str,
    args: Namespace,
    settings: Settings,
    now: datetime,
    day: date | None,
) -> _Incoming:
    """Read a household's own table by the mapping that is proposed, or asked for."""
    own = own_words(args.words)
    columns, headed = propose(rows, own)
    way = Way(override(columns, args.map), day=day, by=args.by.strip(), own=own)
    body = rows[1:] if headed else rows
    form = "a table" if headed else "a table without headings"
    lacking = missing_in(way)
    if lacking and sum(column.means != SKIP for column in way.columns) < 2:
        raise CellError(f"this does not look like a log: {lacking}")
    if lacking:
        problem = Problem(0, "", "", lacking)
        return _Incoming(Reading((), (problem,)), len(body), form, way_text(way, separator))
    if args.order is not None:
        way = structs.replace(way, order=args.order, order_words="--order")
    else:
        order, words = order_in(way, body, span_of(settings, now))
        way = structs.replace(way, order=order, order_words=words)
    reading = read_paper_log(tracked(body, "Reading"), way, settings, now)
    return _Incoming(reading, len(body), form, way_text(way, separator))


def _agrees(count: int, dog: str) -> bool:
    """Ask on a terminal whether to save; elsewhere nobody agrees."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return False
    from pottyboard.core.model.printable import printable

    entries = count_words(count, "entry", "entries")
    answer = input(f"\nSave {entries} in {printable(dog)}’s log? [y/N] ")
    return answer.strip().casefold() in ("y", "yes")
