"""What a log raises, in a form that a table of cases can hold."""

from __future__ import annotations

from pottyboard.core.health.health_views import Warning
from tests.core.diary import Diary


def raised(page: Diary, clock: str = "23:00") -> dict[str, str]:
    """Return the level of every warning that stands at a clock time, by its code."""
    return {warning.code: warning.level for warning in page.read(clock).warnings}


def the(code: str, page: Diary, clock: str = "23:00") -> Warning:
    """Return the warning with this code."""
    (found,) = (w for w in page.read(clock).warnings if w.code == code)
    return found


def loud(page: Diary, clock: str = "23:00") -> list[str]:
    """Return the codes of the warnings that nobody has noted."""
    return [warning.code for warning in page.read(clock).warnings if warning.noted is None]


def ill(page: Diary, *notes: str) -> Diary:
    """Write health notes, each as ``"07:05 blood"``."""
    for note in notes:
        clock, finding = note.split()
        page = page.at(clock, "health", finding=finding)
    return page


def drinks(page: Diary, ml: float, clock: str = "20:00") -> Diary:
    """Write a drink of so many millilitres."""
    return page.at(clock, "water", ml=ml)


def seen(page: Diary, clock: str, kind: str = "pee-inside", **details: object) -> Diary:
    """Write an accident that was seen happening."""
    return page.at(clock, kind, found=False, **details)


def alone_day(page: Diary, minutes: int, *, distressed: bool = True) -> Diary:
    """Write a morning on which it was left at 10:00, and had an accident so many minutes later."""
    page = page.all_at("06:30 up", "06:35 both", "08:20 pee", "09:55 pee", "10:00 left")
    page = seen(page, f"{10 + minutes // 60}:{minutes % 60:02d}", alone=True)
    return page.at("13:00", "back", note="distressed, barked" if distressed else "")
