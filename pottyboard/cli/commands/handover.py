"""The commands for the people who stand in: the visits, the sheet for them, and their messages.

The papers are loaded where one is made, so that a plan on the screen loads no calendar.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterable
from datetime import timedelta
from textwrap import fill
from typing import Final

from pottyboard.cli.commands.request import Request, number_of_days
from pottyboard.cli.output.files import file_named, write_private
from pottyboard.cli.output.messages import DONE, REFUSED, warn
from pottyboard.core.away.overview import AwaySituation, away_situation
from pottyboard.core.away.schedule import as_json
from pottyboard.core.model.printable import printable
from pottyboard.core.transfer.reports import read_report
from pottyboard.papers import PaperError
from pottyboard.papers.replies import report_text, unread_text
from pottyboard.store.shared import add_all

_WIDTH: Final = 80
_MOST_DAYS: Final = 62
_FURTHEST: Final = timedelta(days=366)
_LONGEST_MESSAGE: Final = 100_000
_TELLS: Final = "tells when the home is empty: give it only to those who have to know."


def visits_options(parser: ArgumentParser) -> None:
    """Add the days, the calendar and the form."""
    _days_options(parser)
    parser.add_argument(
        "--ics", metavar="FILE",
        help="write them as a calendar; run it again to update the same file",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="for other programs")


def run_visits(request: Request) -> int:
    """Print the visits for the days that were asked for, and write them as a calendar."""
    args, dog_log, now = request.args, request.dog_log, request.now
    away, settings = _look_ahead(request), dog_log.settings
    if args.ics:
        from pottyboard.papers.handover.calendar import calendar

        path = file_named(args.ics)
        earlier = path.read_bytes() if path.exists() else None
        household = dog_log.folder.name
        made = calendar(settings, away.plan, now, household=household, earlier=earlier)
        write_private(path, made)
        warn(f"the file {_TELLS}")
    if args.json:
        print(json.dumps(as_json(away.plan, settings.zone), indent=2))
        return DONE
    from pottyboard.papers.handover.visit_list import outlook_list, visit_list

    print(visit_list(settings, away.plan))
    if away.outlook.clear.visits or away.outlook.clear.uncovered:
        print("", outlook_list(away.outlook), sep="\n")
    if away.ladder.first is not None:
        print("", fill(f"Practice alone: {away.ladder.words}", _WIDTH), sep="\n")
        if away.ladder.concern:
            print(fill(f"! {printable(away.ladder.concern, 300)}", _WIDTH))
    return DONE


def sheet_options(parser: ArgumentParser) -> None:
    """Add the days, the helper and the page."""
    _days_options(parser)
    parser.add_argument("--helper", metavar="NAME", default="", help="one helper's visits alone")
    parser.add_argument(
        "--fridge", action="store_true",
        help="for those at home: one day's breaks, the signals, the numbers",
    )  # fmt: skip
    parser.add_argument("--html", metavar="FILE", help="write it as a page to print")


def run_sheet(request: Request) -> int:
    """Print the handover sheet, or write it as a page."""
    from pottyboard.papers.handover.sheet import sheet as sheet_of
    from pottyboard.papers.handover.sheet import sheet_text

    if request.args.fridge:
        return _run_fridge(request)
    args, away, settings = request.args, _look_ahead(request), request.dog_log.settings
    names = {helper.name.casefold(): helper.name for helper in settings.home.helpers}
    helper = names.get(args.helper.strip().casefold(), "")
    if args.helper and not helper:
        if not names:
            raise PaperError("No helpers are set up: pottyboard setup --helpers “Mina 11:00-15:00”")
        raise PaperError(f"“{args.helper}” does not visit. Visits by: {_listed(names.values())}.")
    page = sheet_of(settings, away.plan, request.now, helper=helper)
    if args.html:
        from pottyboard.papers.handover.sheet_page import sheet_page

        write_private(file_named(args.html), sheet_page(page).encode())
        warn(f"the file {_TELLS}")
    else:
        print(sheet_text(page), end="")
        warn(f"the sheet {_TELLS}")
    return DONE


def _run_fridge(request: Request) -> int:
    """Print the page for the fridge: of today, from the last thing on of tomorrow."""
    from pottyboard.core.review.tomorrow import tomorrow
    from pottyboard.papers.handover.fridge import fridge, fridge_page, fridge_text

    log, view, day = request.dog_log, request.situation(), request.date()
    after = view.date + timedelta(days=1)
    if day not in (None, view.date, after):
        raise PaperError("The page for the fridge is of today or tomorrow: --from tomorrow.")
    if day == after or (day is None and view.is_evening):
        ahead = tomorrow(log.settings, log.events, request.now)
        page = fridge(view, after, tuple(row.slot for row in ahead.rows if row.change != "gone"))
    else:
        coming = (slot for slot in view.timeline if slot.status in ("due", "planned"))
        page = fridge(view, view.date, tuple(coming))
    if request.args.html:
        write_private(file_named(request.args.html), fridge_page(page).encode())
    else:
        print(fridge_text(page), end="")
    return DONE


def message_options(parser: ArgumentParser) -> None:
    """Add the text, who it is from and its day."""
    parser.add_argument(
        "text", nargs="*", metavar="TEXT", help="the message; - reads it from stdin"
    )
    parser.add_argument("--by", metavar="NAME", required=True, help="who was there")
    parser.add_argument("--day", dest="date", metavar="DATE", help="of which day its times are")


def run_message(request: Request) -> int:
    """Save what a helper's message says, all of it or nothing."""
    args, dog_log, now = request.args, request.dog_log, request.now
    by = args.by.strip()
    if not by:
        raise PaperError("Say who was there: --by NAME.")
    day, text = request.date(), " ".join(args.text)
    if text in ("", "-"):
        if sys.stdin.isatty():
            print("Paste the message, then an empty line and ctrl+d:", file=sys.stderr)
        text = sys.stdin.read(_LONGEST_MESSAGE + 1)
    if len(text) > _LONGEST_MESSAGE:
        raise PaperError(f"Too long for a message: at most {_LONGEST_MESSAGE} letters.")
    read = read_report(text, by, dog_log.settings, now, day=day)
    if read.problems:
        print(unread_text(read.problems), file=sys.stderr)
        return REFUSED
    saved, _ = add_all(request.household, dog_log, read.entries, now)
    request.saved = True
    print(report_text(saved, request.situation(), args.dog))
    return DONE


def _days_options(parser: ArgumentParser) -> None:
    words = "the first day: 2026-03-02, tomorrow, or a day number (default: today)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument(
        "--days", type=number_of_days, metavar="N", default=7, help="how many (default: 7)"
    )


def _look_ahead(request: Request) -> AwaySituation:
    """Return the days away that were asked for; raise :class:`PaperError` for others."""
    args, dog_log, now = request.args, request.dog_log, request.now
    first, settings, today = request.date("coming"), dog_log.settings, request.today
    if not 1 <= args.days <= _MOST_DAYS:
        raise PaperError(f"--days goes from 1 to {_MOST_DAYS}.")
    if first is not None and not today <= first <= max(today, settings.first_date) + _FURTHEST:
        raise PaperError(f"{first} cannot be planned: choose a day from {today} on, up to a year.")
    return away_situation(settings, dog_log.events, now, first=first, days=args.days)


def _listed(names: Iterable[str]) -> str:
    return ", ".join(printable(name) for name in names) or "nobody yet"
