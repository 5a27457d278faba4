"""What a diary tells at a clock time: the day so far, and the running facts after it."""

from __future__ import annotations

from pottyboard.core.engine.days import Day
from pottyboard.core.log.state import LogState
from pottyboard.core.model.localtime import minutes_of
from tests.core.diary import Diary


def today(page: Diary, clock: str) -> Day:
    """Return the day that a clock time falls on, worked out up to it."""
    return page.days(clock)[-1]


def facts(page: Diary, clock: str) -> LogState:
    """Return the running facts at a clock time."""
    return today(page, clock).facts


def minute(page: Diary, clock: str) -> float:
    """Return a clock time in epoch minutes."""
    return minutes_of(page.instant(clock))
