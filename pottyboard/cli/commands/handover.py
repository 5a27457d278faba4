"""The commands for the people who stand in: the visits, the sheet for them, and their reports.

The papers are loaded where one is made, so that a plan on the screen loads no calendar.
"""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, timedelta
from textwrap import fill
from typing import Final

from pottyboard.cli.output.files import file_named, write_private
from pottyboard.core.away.overview import AwaySituation, away_situation
from pottyboard.core.away.schedule import as_json
from pottyboard.core.model.printable import printable
from pottyboard.core.transfer.reports import read_report
from pottyboard.core.view.situation import situation
from pottyboard.papers import PaperError
from pottyboard.papers.replies import report_text, unread_text
from pottyboard.store import DogLog

Warn = Callable[[str], None]
"""Says something beside what the command prints."""

_WIDTH: Final = 80
_MOST_DAYS: Final = 62
_FURTHEST: Final = timedelta(days=366)
_LONGEST_MESSAGE: Final = 100_000
_TELLS: Final = "tells when the home is empty: give it only to those who have to know."


def visits(args: Namespace, dog_log: DogLog, now: datetime, first: date | None, warn: Warn) -> bool:
    """Print the visits for ``args.days`` from ``first`` on, and write them as a calendar."""
    away = _look_ahead(args, dog_log, now, first)
    settings = dog_log.settings
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
        return True
    from pottyboard.papers.handover.visit_list import outlook_list, visit_list

    print(visit_list(settings, away.plan))
    if away.outlook.clear.visits or away.outlook.clear.uncovered:
        print("", outlook_list(away.outlook), sep="\n")
    if away.ladder.first is not None:
        print("", fill(f"Practice alone: {away.ladder.words}", _WIDTH), sep="\n")
        if away.ladder.concern:
            print(fill(f"! {printable(away.ladder.concern, 300)}", _WIDTH))
    return True


def sheet(args: Namespace, dog_log: DogLog, now: datetime, first: date | None, warn: Warn) -> bool:
    """Print the handover sheet, or write it as a page."""
    from pottyboard.papers.handover.sheet import sheet as sheet_of
    from pottyboard.papers.handover.sheet import sheet_text

    away, settings = _look_ahead(args, dog_log, now, first), dog_log.settings
    names = {helper.name.casefold(): helper.name for helper in settings.home.helpers}
    helper = names.get(args.helper.strip().casefold(), "")
    if args.helper and not helper:
        raise PaperError(f"“{args.helper}” does not visit. Visits by: {_listed(names.values())}.")
    page = sheet_of(settings, away.plan, now, helper=helper)
    if args.html:
        from pottyboard.papers.handover.sheet_page import sheet_page

        write_private(file_named(args.html), sheet_page(page).encode())
        warn(f"the file {_TELLS}")
    else:
        print(sheet_text(page), end="")
        warn(f"the sheet {_TELLS}")
    return True


def report(args: Namespace, dog_log: DogLog, now: datetime, day: date | None, warn: Warn) -> bool:
    """Save what a helper's message says, all of it or nothing."""
    by = args.by.strip()
    if not by:
        raise PaperError("Say who was there: --by NAME.")
    text = " ".join(args.text)
    if text in ("", "-"):
        if sys.stdin.isatty():
            print("Paste the message, then an empty line and ctrl+d:", file=sys.stderr)
        text = sys.stdin.read(_LONGEST_MESSAGE + 1)
    if len(text) > _LONGEST_MESSAGE:
        raise PaperError(f"Too long for a message: at most {_LONGEST_MESSAGE} letters.")
    read = read_report(text, by, dog_log.settings, now, day=day)
    if read.problems:
        print(unread_text(read.problems), file=sys.stderr)
        return False
    saved = dog_log.add_all(read.entries, now)
    view = situation(dog_log.settings, dog_log.events, now)
    print(report_text(saved, view, args.dog))
    return True


DO: Final[Mapping[str, Callable[[Namespace, DogLog, datetime, date | None, Warn], bool]]] = {
    "visits": visits,
    "sheet": sheet,
    "report": report,
}
"""The commands; each returns whether it was done, and prints why if not."""


def _look_ahead(
    args: Namespace, dog_log: DogLog, now: datetime, first: date | None
) -> AwaySituation:
    """Return the days away that were asked for; raise :class:`PaperError` for others."""
    settings = dog_log.settings
    today = now.astimezone(settings.zone).date()
    if not 1 <= args.days <= _MOST_DAYS:
        raise PaperError(f"--days goes from 1 to {_MOST_DAYS}.")
    if first is not None and not today <= first <= max(today, settings.first_date) + _FURTHEST:
        raise PaperError(f"{first} cannot be planned: choose a day from {today} on, up to a year.")
    return away_situation(settings, dog_log.events, now, first=first, days=args.days)


def _listed(names: Iterable[str]) -> str:
    return ", ".join(printable(name) for name in names) or "nobody yet"
