"""The command ``calendar``: the plan of the next days, for the phones of the household."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError
from datetime import timedelta

from pottyboard.cli.commands.request import Request, number_of_days
from pottyboard.cli.output.files import file_named, write_private
from pottyboard.cli.output.messages import DONE, warn
from pottyboard.core.coming.days_ahead import days_ahead
from pottyboard.core.model import figures
from pottyboard.papers import PaperError


def calendar_options(parser: ArgumentParser) -> None:
    """Add the file, the days, the alarm and the numbers."""
    parser.add_argument("file", metavar="FILE", help="run it again to renew the same file")
    parser.add_argument(
        "--days", type=number_of_days, metavar="N", default=int(figures.CALENDAR_DAYS),
        help=f"how many, today among them (default: {figures.CALENDAR_DAYS:g})",
    )  # fmt: skip
    parser.add_argument(
        "--alarm", type=_minutes, metavar="MIN", default=float(figures.CALENDAR_ALARM),
        help=f"so many minutes ahead, or no (default: {figures.CALENDAR_ALARM:g})",
    )  # fmt: skip
    parser.add_argument("--numbers", action="store_true", help="with the phone numbers")


def _minutes(text: str) -> float | None:
    """Read how long ahead an alarm rings; None for no alarm."""
    if text.strip().lower() in ("no", "none"):
        return None
    if text.strip().isdecimal() and int(text) <= figures.CALENDAR_ALARM_MOST:
        return float(text)
    raise ArgumentTypeError(
        f"“{text}” is no alarm: write minutes from 0 to {figures.CALENDAR_ALARM_MOST:g}, or no."
    )


def run_calendar(request: Request) -> int:
    """Write the plan as a calendar, or renew the file that an earlier run wrote."""
    from pottyboard.papers.handover.plan_calendar import plan_calendar

    args, log, now = request.args, request.dog_log, request.now
    most = int(figures.CALENDAR_DAYS_MOST)
    if not 1 <= args.days <= most:
        raise PaperError(f"--days goes from 1 to {most}: later days nobody can know.")
    path = file_named(args.file)
    coming = days_ahead(log.settings, log.events, now, args.days)
    first = request.situation().date
    made = plan_calendar(
        log.settings,
        coming,
        now,
        [first + timedelta(days=step) for step in range(args.days)],
        household=log.folder.name,
        alarm=args.alarm,
        numbers=args.numbers,
        earlier=path.read_bytes() if path.exists() else None,
    )
    write_private(path, made.content)
    print(f"{made.words}. Breaks move with what happens: renew it, or ask the board.")
    warn("the file tells when a household comes and goes: keep it in your own phones.")
    return DONE
