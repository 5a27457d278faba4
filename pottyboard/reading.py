"""The commands that look back over many days: the health diary for the vet.

The papers are loaded where one is made.
"""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Final

from pottyboard.core import figures
from pottyboard.papers import PaperError
from pottyboard.store import Record
from pottyboard.written import file_named, write_private

Warn = Callable[[str], None]
"""Says something beside what the command prints."""


def diary(args: Namespace, record: Record, now: datetime, first: date | None, warn: Warn) -> bool:
    """Print the health diary from ``first`` on, or write it as a page; all days by default."""
    from pottyboard.core.health.diary import diary as diary_of
    from pottyboard.papers.diary import diary_paper, diary_text

    settings = record.settings
    today = now.astimezone(settings.zone).date()
    most = int(figures.DIARY_DAYS)
    if args.days is not None and not 1 <= args.days <= most:
        raise PaperError(f"--days goes from 1 to {most}.")
    if first is not None and args.days is None and (today - first).days >= most:
        raise PaperError(f"A diary holds {most} days: add --days {most}, or begin later.")
    try:
        paper = diary_paper(diary_of(settings, record.events, now, first, args.days))
    except ValueError:
        raise PaperError(
            f"{first} is not in the log: it goes from {settings.first_date} to {today}."
        ) from None
    if args.html:
        from pottyboard.papers.diary_page import diary_page

        write_private(file_named(args.html), diary_page(paper).encode())
    else:
        print(diary_text(paper), end="")
    warn("the diary holds your notes about your dog: read it through before you hand it over.")
    return True


DO: Final[Mapping[str, Callable[[Namespace, Record, datetime, date | None, Warn], bool]]] = {
    "diary": diary,
}
"""The commands; each returns whether it was done, and prints why if not."""
