"""The commands for the people who stand in: the visits, the sheet for them, and their messages.

The papers are loaded where one is made, so that a plan on the screen loads no calendar.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterable, Sequence
from datetime import timedelta
from pathlib import Path
from textwrap import fill
from typing import Final

from pottyboard.cli.commands.request import Request, number_of_days
from pottyboard.cli.output.files import file_named, write_private
from pottyboard.cli.output.messages import DONE, REFUSED, warn
from pottyboard.core.away.overview import AwaySituation, away_situation
from pottyboard.core.away.proposals import agreeing, leaving, telling, told_words
from pottyboard.core.away.schedule import as_json
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.printable import printable
from pottyboard.core.transfer.duplicates import fresh_in, left_out_words
from pottyboard.core.transfer.reports import read_report
from pottyboard.papers import PaperError
from pottyboard.papers.replies import report_text, unread_text
from pottyboard.store import StoreError
from pottyboard.store.fitting import as_new
from pottyboard.store.shared import add_all

_WIDTH: Final = 80
_MOST_DAYS: Final = 62
_FURTHEST: Final = timedelta(days=366)
_LONGEST_MESSAGE: Final = 100_000
_STAYS: Final = "They stay at these times; “pottyboard undo” takes it back."
_TELLS: Final = "tells when the home is empty: give it only to those who have to know."


def visits_options(parser: ArgumentParser) -> None:
    """Add the days, the calendar, the form, and what was agreed."""
    _days_options(parser)
    parser.add_argument(
        "--ics", metavar="FILE",
        help="write them as a calendar; run it again to update the same file",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.add_argument("--told", action="store_true", help="the helpers were told of them")
    _draft_option(parser)
    change = parser.add_mutually_exclusive_group()
    change.add_argument(
        "--agreed", type=int, nargs="?", const=1, metavar="N",
        help="the helper agreed to change number N (default: 1)",
    )  # fmt: skip
    change.add_argument(
        "--leave", type=int, nargs="?", const=1, metavar="N",
        help="leave what was agreed as it is, in spite of change number N",
    )  # fmt: skip


def run_visits(request: Request) -> int:
    """Print the visits for the days that were asked for, and write them as a calendar."""
    args, dog_log, now = request.args, request.dog_log, request.now
    away, settings = _look_ahead(request), dog_log.settings
    if args.agreed is not None or args.leave is not None:
        away = _settle(request, away)
    if args.ics:
        from pottyboard.papers.handover.calendar import calendar

        path = file_named(args.ics)
        earlier = path.read_bytes() if path.exists() else None
        away, entries = _tell(request, away, "calendar")
        household = dog_log.folder.name
        made = calendar(settings, away.plan, now, household=household, earlier=earlier)
        _write_told(request, path, made, entries)
        warn(f"the file {_TELLS}")
    elif args.told:
        away, entries = _tell(request, away, "said")
        _save_told(request, entries)
    if args.json:
        print(json.dumps(as_json(away.plan, settings.zone), indent=2))
        return DONE
    from pottyboard.papers.handover.visit_list import outlook_list, visit_list

    print(visit_list(settings, away.plan))
    if away.outlook.clear.visits or away.outlook.clear.uncovered:
        print("", outlook_list(away.outlook, settings.home.currency), sep="\n")
    if away.ladder.first is not None:
        print("", fill(f"Practice absences: {away.ladder.words}", _WIDTH), sep="\n")
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
    _draft_option(parser)


def run_sheet(request: Request) -> int:
    """Print the handover sheet, or write it as a page; its visits are told from then on."""
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
    away, entries = _tell(request, away, "sheet", helper)
    page = sheet_of(settings, away.plan, request.now, helper=helper)
    if args.html:
        from pottyboard.papers.handover.sheet_page import sheet_page

        _write_told(request, file_named(args.html), sheet_page(page).encode(), entries)
        warn(f"the file {_TELLS}")
    else:
        _save_told(request, entries)
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
    numbers = tuple(map(str, log.settings.home.numbers))
    if day == after or (day is None and view.is_evening):
        ahead = tomorrow(log.settings, log.events, request.now)
        shown = tuple(row.slot for row in ahead.rows if row.change != "gone")
        page = fridge(view, after, shown, numbers)
    else:
        coming = (slot for slot in view.timeline if slot.status in ("due", "planned"))
        page = fridge(view, view.date, tuple(coming), numbers)
    if request.args.html:
        write_private(file_named(request.args.html), fridge_page(page).encode())
    else:
        print(fridge_text(page), end="")
    return DONE


# --- What the helpers were told -------------------------------------------------------------------


def _draft_option(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--draft", action="store_true", help="only to look at: nobody is told of a visit by it"
    )


def _tell(
    request: Request, away: AwaySituation, means: str, helper: str = ""
) -> tuple[AwaySituation, tuple[Event, ...]]:
    """Return the days away with their visits told, and the entries that say so, not yet saved.

    With ``helper`` that helper's visits alone; none for a draft.
    """
    untold = (v for v in away.plan.untold if v.at > request.now and helper in ("", v.helper))
    visits = () if request.args.draft else tuple(untold)
    if not visits:
        return away, ()
    settings, by = request.dog_log.settings, request.situation().on_duty
    told = telling(visits, request.now, means, by)
    entries = tuple(as_new(entry, settings, request.now) for entry in told)
    return _look_ahead(request, entries), entries


def _save_told(request: Request, entries: Sequence[Event]) -> None:
    if not entries:
        return
    saved = request.dog_log.add_all(entries, request.now)
    request.saved = True
    warn(f"told from now on: {told_words(saved, request.dog_log.settings)}. {_STAYS}")


def _write_told(request: Request, path: Path, content: bytes, entries: Sequence[Event]) -> None:
    """Write a file and save what it tells; without the one there is not the other."""
    before = path.read_bytes() if path.exists() else None
    write_private(path, content)
    try:
        _save_told(request, entries)
    except (StoreError, EventError):
        if before is None:
            path.unlink()
        else:
            write_private(path, before)
        raise


def _settle(request: Request, away: AwaySituation) -> AwaySituation:
    """Save the answer to a proposal, and return the days away with it."""
    args, proposals = request.args, away.plan.proposals
    number = args.agreed if args.agreed is not None else args.leave
    if not 1 <= number <= len(proposals):
        raise PaperError(
            f"There is no change number {number} to what was agreed: pottyboard visits lists "
            f"{count_words(len(proposals), 'change')}."
        )
    answer = agreeing if args.agreed is not None else leaving
    entry = answer(proposals[number - 1], request.now, request.situation().on_duty)
    saved = request.dog_log.add(entry, request.now)
    request.saved = True
    warn(f"saved: {describe(saved, request.dog_log.settings)}. “pottyboard undo” takes it back.")
    return _look_ahead(request)


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
    fresh = fresh_in(read.entries, dog_log.events)
    saved, _ = add_all(request.household, dog_log, fresh, now)
    request.saved = True
    if left_out := left_out_words(len(read.entries) - len(fresh)):
        print(left_out)
    print(report_text(saved, request.situation(), args.dog))
    return DONE


def _days_options(parser: ArgumentParser) -> None:
    words = "the first day: 2026-03-02, tomorrow, or a day number (default: today)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument(
        "--days", type=number_of_days, metavar="N", default=7, help="how many (default: 7)"
    )


def _look_ahead(request: Request, entries: Sequence[Event] = ()) -> AwaySituation:
    """Return the days away that were asked for, with ``entries`` not yet saved.

    Raises :class:`PaperError` for days that cannot be planned.
    """
    args, dog_log, now = request.args, request.dog_log, request.now
    first, settings, today = request.date("coming"), dog_log.settings, request.today
    if not 1 <= args.days <= _MOST_DAYS:
        raise PaperError(f"--days goes from 1 to {_MOST_DAYS}.")
    if first is not None and not today <= first <= max(today, settings.first_date) + _FURTHEST:
        raise PaperError(f"{first} cannot be planned: choose a day from {today} on, up to a year.")
    log = (*dog_log.events, *entries)
    return away_situation(settings, log, now, first=first, days=args.days)


def _listed(names: Iterable[str]) -> str:
    return ", ".join(printable(name) for name in names) or "nobody yet"
