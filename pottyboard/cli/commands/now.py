"""The commands that show how things stand: ``now``, of one dog or all, and ``day``."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from collections.abc import Callable, Mapping, Sequence
from typing import Final

from pottyboard.cli.commands.request import Request
from pottyboard.cli.output.messages import DONE, exit_code, warn
from pottyboard.core.model.localtime import WHEN, read_when
from pottyboard.core.view.in_short import URGENCY, in_short, in_short_of, with_clock
from pottyboard.core.view.situation import Situation, State, as_json, situation
from pottyboard.papers.plain import day_text, now_line, now_text
from pottyboard.store import StoreError

_LINES: Final[Mapping[str, Callable[[Situation], str]]] = {
    "short": in_short,
    "middle": with_clock,
    "long": now_line,
}
EXIT_CODES: Final[Mapping[State, int]] = {
    "rest": 0,
    "soon": 10,
    "due": 11,
    "late": 12,
    "watching": 13,
    "asleep": 14,
    "alone": 15,
}
"""What the exit code says on request. Under 10 it keeps its usual meaning."""


def now_options(parser: ArgumentParser) -> None:
    """Add the form, the instant, and whether of every dog."""
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="for other programs")
    form.add_argument(
        "--line",
        nargs="?",
        choices=tuple(_LINES),
        const="long",
        metavar="LENGTH",
        help="in one line: short (LATE 18), middle, or long, as without a length",
    )
    parser.add_argument("--all", action="store_true", help="every dog of the home")
    parser.add_argument("--at", metavar="WHEN", help=f"at another time: {WHEN}")
    codes = ", ".join(f"{code} {state}" for state, code in EXIT_CODES.items())
    parser.add_argument("--exit-state", action="store_true", help=f"the exit code says: {codes}")


def run_now(request: Request) -> int:
    """Print when the next break is due, and why."""
    args = request.args
    if args.all:
        return now_of_all(request)
    at = args.at and read_when(args.at, request.now, request.dog_log.settings.zone)
    view = request.situation(at)
    if args.json:
        print(json.dumps(as_json(view), indent=2))
    else:
        print(_LINES[args.line](view) if args.line else now_text(view))
    return _code([view]) if args.exit_state else DONE


def _code(views: Sequence[Situation]) -> int:
    """Return the exit code for the most urgent of these situations."""
    states = {view.next_break.state for view in views}
    return next((EXIT_CODES[state] for state in URGENCY if state in states), DONE)


def now_of_all(request: Request) -> int:
    """Print the situation of every dog; return the exit code, refused if one cannot be read."""
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
        several = args.line == "short" and len(views) > 1
        print(*map(in_short_of if several else _LINES[args.line], views), sep="\n")
    else:
        print(*map(now_text, views), sep="\n\n")
    return _code(views) if well and args.exit_state else exit_code(well)


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
