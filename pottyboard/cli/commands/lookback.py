"""The commands that look back over many days: the health diary for the vet, and the review.

The papers are loaded where one is made.
"""

from __future__ import annotations

import gc
from argparse import ArgumentParser
from datetime import datetime, timedelta
from typing import Final

from pottyboard.cli.commands.request import Request, number_of_days
from pottyboard.cli.output.files import file_named, write_private
from pottyboard.cli.output.messages import DONE, warn
from pottyboard.cli.output.progress import LONG, tracked
from pottyboard.core.engine.history import History
from pottyboard.core.model import figures
from pottyboard.papers import PaperError
from pottyboard.store import DogLog


def diary_options(parser: ArgumentParser) -> None:
    """Add the days and the page."""
    words = "the first day: 2026-03-02, yesterday, or a day number (default: the arrival)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument(
        "--days", type=number_of_days, metavar="N", help="how many (default: up to today)"
    )
    parser.add_argument("--html", metavar="FILE", help="write it as a page to read and print")


def run_diary(request: Request) -> int:
    """Print the health diary from ``first`` on, or write it as a page; all days by default."""
    from pottyboard.core.review.diary import diary as diary_of
    from pottyboard.papers.lookback.diary import diary_paper, diary_text

    gc.disable()  # a short life with very many values, none of which is garbage
    args, dog_log, now, first = request.args, request.dog_log, request.now, request.date()
    settings, today = dog_log.settings, request.today
    most = int(figures.DIARY_DAYS)
    if args.days is not None and not 1 <= args.days <= most:
        raise PaperError(f"--days goes from 1 to {most}.")
    if first is not None and args.days is None and (today - first).days >= most:
        raise PaperError(f"A diary holds {most} days: add --days {most}, or begin later.")
    try:
        paper = diary_paper(diary_of(settings, dog_log.events, now, first, args.days))
    except ValueError:
        raise PaperError(
            f"{first} is not in the log: it goes from {settings.first_date} to {today}."
        ) from None
    if args.html:
        from pottyboard.papers.lookback.diary_page import diary_page

        write_private(file_named(args.html), diary_page(paper).encode())
    else:
        print(diary_text(paper), end="")
    warn("the diary holds your notes about your dog: read it through before you hand it over.")
    return DONE


def review_options(parser: ArgumentParser) -> None:
    """Add the days and the page."""
    words = "the first day: 2026-03-02, yesterday, or a day number (default: the last days)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument("--days", type=number_of_days, metavar="N", help="how many (default: 14)")
    parser.add_argument("--html", metavar="FILE", help="write it as a page with drawings")


def run_review(request: Request) -> int:
    """Print the review of some days, the last two weeks by default, or write it as a page."""
    from pottyboard.core.review.report import ReviewError
    from pottyboard.core.review.report import review as review_of
    from pottyboard.papers.lookback.review import PRIVATE, review_text

    gc.disable()
    args, dog_log, now, first = request.args, request.dog_log, request.now, request.date()
    settings, events = dog_log.settings, dog_log.events
    _work_out_the_days(dog_log, now)
    try:
        found = review_of(settings, events, now, first, args.days)
    except ReviewError as error:
        raise PaperError(str(error)) from None
    if args.html:
        from pottyboard.papers.lookback.review_page import review_page

        write_private(file_named(args.html), review_page(found).encode())
        warn(PRIVATE)
    else:
        print(review_text(found), end="")
    return DONE


def _work_out_the_days(dog_log: DogLog, now: datetime) -> None:
    """Work out the days of a long log bit by bit, so that a bar can show how far that is.

    The days are kept (see ``core.history``): the review finds them ready.
    """
    settings, events = dog_log.settings, dog_log.events
    if len(events) < LONG:
        return
    days = max(1, (now.astimezone(settings.zone).date() - settings.first_date).days)
    stops = range(0, days, max(1, days // _STEPS))
    for day in tracked(stops, "Going through the days", entries=len(events)):
        until = settings.up_on(settings.first_date + timedelta(days=day))
        if until > settings.arrived:
            History.of(settings, events, until)


_STEPS: Final = 40
