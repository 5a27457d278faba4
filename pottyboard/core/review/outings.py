"""By how much outings fall over the days: today's beside those of the first days."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.model.settings import Settings

_FIRST: Final = 3
"""The whole days at the beginning that later ones are held against."""


def outings_words(settings: Settings, days: Sequence[DaySummary]) -> str:
    """Return today's outings (the last of ``days``) beside a day of the first three whole ones.

    Of a day with too little logged nothing is known; the day of arrival counts if it was whole.
    """
    *earlier, today = days
    whole = [day for day in earlier if _is_whole(settings, day)][:_FIRST]
    words = f"{today.outings} today"
    if len(whole) < _FIRST:
        return words
    first = round(sum(day.outings for day in whole) / _FIRST)
    words = f"{words}; {first} a day in the first three whole days"
    fewer = first - today.outings
    if today.verdict == "open" and fewer >= 0:  # the evening's last ones may be still to come
        return words
    return f"{words}, {abs(fewer)} {'fewer' if fewer > 0 else 'more'} now" if fewer else words


def _is_whole(settings: Settings, day: DaySummary) -> bool:
    arrived_late = settings.arrived > settings.up_on(settings.first_date)
    return day.verdict in ("clear", "accident") and not (day.number == 1 and arrived_late)
