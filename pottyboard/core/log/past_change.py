"""A change of the log that can be taken back: whose it was, how old it is, and in which words."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words, day_clock_words, span_words
from pottyboard.core.model.settings import Settings

Action = Literal["add", "edit", "delete"]

_FRESH: Final = timedelta(minutes=10)
"""A change older than this is taken back only after a question (our own choice)."""

_DONE: Final[dict[Action, str]] = {"add": "logged", "edit": "corrected", "delete": "deleted"}


class PastChange(Struct, frozen=True):
    """A change with its ``number``: what was added, or what an entry was before it.

    ``by`` made it (empty if nobody is named, or several are) at the instant ``at`` (None: unknown).
    """

    number: int
    action: Action
    events: tuple[Event, ...]
    by: str = ""
    at: datetime | None = None

    def needs_asking(self, by: str, now: datetime) -> bool:
        """Whether ``by`` should be asked first: it is somebody else's, or old."""
        is_old = self.at is None or now - self.at > _FRESH
        return is_old or self.by != by


def logged(event: Event) -> PastChange:
    """Return the change that logged an entry; its number is not known here."""
    return PastChange(0, "add", (event,), event.by, event.logged)


def what_words(past: PastChange, settings: Settings, now: datetime) -> str:
    """Return the entries of a change: ``poop outside 14:05``; of many, how many and from when."""
    first, *_, last = (past.events[0], *past.events)
    from_, to = (day_clock_words(event.at, now, settings.zone) for event in (first, last))
    if len(past.events) == 1:
        return f"{describe(last, settings)} {to}"
    return f"{count_words(len(past.events), 'entry', 'entries')}, {from_} to {to}"


def whose_words(past: PastChange, now: datetime) -> str:
    """Return who made a change and how long ago: ``logged by Ben 3 min ago``."""
    by = f" by {past.by}" if past.by else ""
    return f"{_DONE[past.action]}{by}{_ago(past.at, now)}"


def undone_words(past: PastChange, settings: Settings, now: datetime) -> str:
    """Return what an undo took back, in words."""
    what, whose = what_words(past, settings, now), whose_words(past, now)
    if past.action == "add":
        return f"Taken back: {what}, {whose}"
    if past.action == "delete":
        return f"Back again: {what}, {whose}"
    return f"Correction taken back: {what} again, {whose}"


def redone_words(past: PastChange, settings: Settings, now: datetime) -> str:
    """Return what was made again after an undo, in words."""
    what = what_words(past, settings, now)
    return {
        "add": f"Back again: {what}, {whose_words(past, now)}",
        "delete": f"Deleted again: {what}",
        "edit": f"Corrected again: {what}",
    }[past.action]


def _ago(at: datetime | None, now: datetime) -> str:
    if at is None:
        return ""
    minutes = int((now - at).total_seconds() // 60)
    return f" {span_words(minutes)} ago" if minutes > 0 else " just now"
