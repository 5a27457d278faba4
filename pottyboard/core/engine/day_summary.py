"""One day of the record, as the views show it; nothing here computes."""

from __future__ import annotations

from datetime import date
from typing import Literal

from msgspec import Struct

Verdict = Literal["clear", "accident", "unknown", "open"]


class DaySummary(Struct, frozen=True):
    """One local day of the record.

    ``verdict`` is *clear*, *accident*, *unknown* (too few entries to tell, or not a whole day) or
    *open* (today); ``words`` says why. ``holds`` are the awake holds in minutes.
    """

    date: date
    number: int
    verdict: Verdict
    words: str
    outings: int
    accidents: int
    holds: tuple[int, ...]
    interval: int
