"""An entry as it goes to disk: with an id, a zone and the time of logging, and read back once."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import datetime
from typing import Any

from pottyboard.core.model.events import CHOICES, Event, EventError, check_details, check_time
from pottyboard.core.model.settings import Settings
from pottyboard.store.documents import document_of, event_of


def ready(event: Event, settings: Settings, now: datetime) -> Event:
    """Return an event as it is saved; raise ``EventError`` if it does not fit."""
    stored = as_stored(as_new(event, settings, now))
    return check_time(check_details(stored), now, settings.dog.arrived)


def as_new(event: Event, settings: Settings, now: datetime) -> Event:
    """Return an event with an id, a zone and the time of logging, where it has none."""
    return replace(
        event,
        id=event.id or new_id(event),
        zone=event.zone or settings.home.zone,
        logged=event.logged or now,
    )


def as_stored(event: Event) -> Event:
    """Return an event as it will be read back; raise ``EventError`` if that is not possible."""
    try:
        return event_of(document_of(event))
    except EventError:
        raise
    except ValueError as error:
        check_details(event)  # which says it better where a number is out of range
        raise EventError(f"This cannot be saved: {error}.") from error


def unknown_in(before: Event, after: Event) -> dict[str, Any]:
    """Return what a correction leaves as it was although nobody knows it: it stays, unchecked."""
    return {
        name: ""
        for name, known in CHOICES.items()
        if (value := getattr(before, name)) and value not in known
        if value == getattr(after, name)
    }


def new_id(event: Event) -> str:
    """Return a new id: the minute for people, and enough chance that two never meet."""
    return f"{event.at:%Y%m%d-%H%M}-{os.urandom(5).hex()}"
