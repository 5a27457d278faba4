"""When the page of the weeks ahead opens by itself: once for a dog, at the end of the two weeks."""

from __future__ import annotations

from pottyboard.core.model import figures
from pottyboard.core.view.situation import Situation
from pottyboard.store import Household, StoreError


def looks_ahead(now: Situation, household: Household, dog: str) -> bool:
    """Whether it opens now, which is remembered: it never does so again.

    It waits while a break is near, due or late, while the dog sleeps or is alone, and while an
    accident is still to be cleaned up or asked about. A disk that cannot remember keeps it closed.
    """
    if now.round_day < figures.PROGRAMME_DAYS or now.next_break.state != "rest":
        return False
    if any(job.code in ("clean", "left-open") for job in now.open_jobs):
        return False
    try:
        return household.looks_ahead_once(dog)
    except StoreError:
        return False
