"""Entries that are later than the clock: it was set back, or was wrong when they were logged."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words, minutes_of
from pottyboard.core.model.settings import Settings


def ahead_words(events: Sequence[Event], now: datetime, settings: Settings) -> str:
    """Return what is to be said of entries that are still to come at ``now``, empty if none are.

    ``events`` are in order of time, ``now`` is aware; a minute is nothing.
    """
    ahead = 0
    for event in reversed(events):
        if event.t <= minutes_of(now) + 1:
            break
        ahead += 1
    if not ahead:
        return ""
    first = events[-ahead].at.astimezone(settings.zone)
    clock = now.astimezone(settings.zone)
    count = count_words(ahead, "entry is", "entries are")
    return (
        f"{count} later than this computer’s clock ({clock:%a %Y-%m-%d %H:%M}) and not shown yet, "
        f"the first of {first:%a %Y-%m-%d %H:%M}. Is the clock right?"
    )
