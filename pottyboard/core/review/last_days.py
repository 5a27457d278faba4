"""Up to which day one looks back: today, or where the log went silent long ago, its last day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pottyboard.core.engine.days import Day
from pottyboard.core.model import figures


def last_day(known: Sequence[Day]) -> date:
    """Return the last day worth looking at, of days in order that reach to today.

    That is today as long as something was logged of late; otherwise the last day with an entry, or
    a household that looks back months later would see empty weeks.
    """
    logged = next((at for at in reversed(range(len(known))) if known[at].events), None)
    if logged is None or len(known) - 1 - logged <= figures.SILENT_DAYS:
        return known[-1].plan.date
    return known[logged].plan.date
