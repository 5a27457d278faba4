"""What the log of a day leaves open: hours awake without an entry, or without a pee.

Silence is no proof. A day with one is unknown until the household says that nothing happened; that
clears the day and makes no hold.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from pottyboard.core.log.state import LogState
from pottyboard.core.log.waits import Hold
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, span_words
from pottyboard.core.model.plan import DayPlan


class Silence(Struct, frozen=True):
    """A stretch of a day of which the log says too little, in epoch minutes.

    ``of`` names what is missing: any entry, or a pee.
    """

    start: Minutes
    end: Minutes
    of: str = "entry"

    @property
    def length(self) -> float:
        """How long it is, in minutes."""
        return self.end - self.start

    def is_answered(self, answers: Iterable[Minutes]) -> bool:
        """Whether the household has said, after it, that nothing happened."""
        return any(self.end <= at <= self.end + figures.ASKED_FOR for at in answers)

    @property
    def words(self) -> str:
        """What the day lacks, in words."""
        if self.of == "pee":
            return f"no pee logged for {span_words(self.length)} by day: too little to tell"
        return f"nothing logged for {span_words(self.length)} by day: too little to tell"


def silence_limit(interval: float) -> float:
    """Return the minutes awake without an entry that are no silence yet."""
    wide = interval > figures.WIDE_INTERVAL
    return figures.SILENCE_WIDE if wide else figures.SILENCE


def silence_until(
    facts: LogState, plan: DayPlan, until: Minutes, interval: float
) -> Silence | None:
    """Return the silence from the last entry of ``facts`` to ``until``, None if there is none.

    Only hours awake of the day count: a nap that nobody ended counts as over after 3 h. Before the
    first entry of all nobody had begun to log.
    """
    if facts.last_entry is None:
        return None
    start, end = max(facts.last_entry, plan.start), min(until, plan.bed)
    asleep, settled = 0.0, facts.slept_from
    if facts.sleep and settled is not None and settled >= plan.start:
        if facts.sleep == "night":
            return None
        asleep = facts.slept_until(end) - max(start, settled)
    if end - start - max(0.0, asleep) <= silence_limit(interval):
        return None
    return Silence(start, end)


def without_pee(hold: Hold, interval: float) -> Silence | None:
    """Return the silence that a hold awake of over twice the interval is, else None."""
    if hold.night or hold.silent or hold.awake <= figures.HOLD_TOO_LONG * interval:
        return None
    return Silence(hold.ended - hold.length, hold.ended, "pee")
