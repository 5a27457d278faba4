"""The commands that show how things stand: ``now``, of one dog or all, and ``day``."""

from __future__ import annotations

import json
from argparse import ArgumentParser

from pottyboard.cli.commands.request import Request
from pottyboard.cli.output.messages import DONE, exit_code, warn
from pottyboard.core.model.localtime import WHEN, read_when
from pottyboard.core.view.situation import as_json, situation
from pottyboard.papers.plain import day_text, now_line, now_text
from pottyboard.store import StoreError


def now_options(parser: ArgumentParser) -> None:
    """Add the form, the instant, and whether of every dog."""
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="for other programs")
    form.add_argument("--line", action="store_true", help="in one line")
    parser.add_argument("--all", action="store_true", help="every dog of the home")
    parser.add_argument("--at", metavar="WHEN", help=f"at another time: {WHEN}")


def run_now(request: Request) -> int:
    """Print when the next break is due, and why."""
    args = request.args
    if args.all:
        return exit_code(now_of_all(request))
    at = args.at and read_when(args.at, request.now, request.dog_log.settings.zone)
    view = request.situation(at)
    if args.json:
        print(json.dumps(as_json(view), indent=2))
    else:
        print(now_line(view) if args.line else now_text(view))
    return DONE


def now_of_all(request: Request) -> bool:
    """Print the situation of every dog; return whether each could be read."""
    args, household, now = request.args, request.household, request.now
    views, well = [], True
    for name in household.dogs() or (None,):
        try:
            dog_log = household.dog_log() if name is None else household.in_folder(name)
            settings = dog_log.settings
            at = now if args.at is None else read_when(args.at, now, settings.zone)
            views.append(situation(settings, dog_log.events, at))
        except StoreError as error:
            warn(str(error))
            well = False
    if args.json:
        print(json.dumps({"schema": 1, "dogs": [as_json(view) for view in views]}, indent=2))
    elif args.line:
        print(*map(now_line, views), sep="\n")
    else:
        print(*map(now_text, views), sep="\n\n")
    return well


def day_options(parser: ArgumentParser) -> None:
    """Add the day."""
    words = "2026-03-02, yesterday, or a day number such as 3"
    parser.add_argument("date", nargs="?", metavar="DATE", help=words)


def run_day(request: Request) -> int:
    """Print a day: what was planned beside what was logged."""
    from pottyboard.core.review.past_day import day_as_it_ended

    log, day = request.dog_log, request.date()
    if day is None:
        view = request.situation()
    else:
        view = day_as_it_ended(log.settings, log.events, day, request.now)
    print(day_text(view))
    return DONE
