"""The options of ``export`` and ``import``, and the columns that their help documents."""

from __future__ import annotations

import argparse
from dataclasses import fields
from typing import Final

from pottyboard.cli.commands.log_options import DETAILS
from pottyboard.core.model.events import Event

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


def export_options(parser: argparse.ArgumentParser) -> None:
    """Add the options of ``export``, and the columns from the options of ``log``."""
    own = {name: given[0][1]["help"] for name, given in DETAILS.items()}
    order = [spec.name for spec in fields(Event) if spec.name in own]
    words = {**_ALWAYS, **{name: own[name] for name in order}}
    columns = "\n".join(f"  {name:12} {text}" for name, text in words.items())
    parser.epilog = f"columns:\n{columns}\n\n{_CELLS}\n\n{parser.epilog}"
    form = parser.add_mutually_exclusive_group()
    form.add_argument(
        "--csv", metavar="FILE", help="write a table for spreadsheets (default: to stdout)"
    )
    form.add_argument("--jsonl", metavar="FILE", help="write one JSON document a line")
    parser.add_argument("--from", dest="date", metavar="DATE", help="the first day (default: all)")
    parser.add_argument("--days", type=int, metavar="N", help="how many (default: all)")


_IMPORTS: Final = """A log of this program, as export writes it, is known by its headings. Of any
other table the columns are told by their headings and cells, and shown with the first rows and
whatever cannot be read, by line. Nothing is saved before you agree, nothing at all while a line
cannot be read, and one undo takes all of it back. Entries that are there already are left out.

a column may mean:
  date  clock  when (both in one)  kind (what happened)  place  by  note  indoors (yes or no)
  found  alone  amount  cause  ml  kind:pee (ticked off with x, or with times)  - (not read)"""


def import_options(parser: argparse.ArgumentParser) -> None:
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
