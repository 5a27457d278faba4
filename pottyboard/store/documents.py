"""An entry as a plain document for the file, and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from datetime import UTC, datetime
from typing import Any, Final

from pottyboard.core.events import INSTANTS, Event

_FIELDS: Final = tuple(spec.name for spec in fields(Event) if spec.init)
_KNOWN: Final = frozenset(_FIELDS)


def document_of(event: Event) -> dict[str, Any]:
    """Return the fields that are set, instants as ISO 8601 in UTC."""
    document: dict[str, Any] = {}
    for name in _FIELDS:
        value = getattr(event, name)
        if value is None or value == "":
            continue
        document[name] = value.isoformat() if isinstance(value, datetime) else value
    return document


def event_of(document: Mapping[str, Any]) -> Event:
    """Return the entry; raise ``ValueError`` or ``TypeError`` if the document is not one."""
    if not isinstance(document, Mapping):
        raise TypeError("not an entry")
    values = {name: value for name, value in document.items() if name in _KNOWN}
    for name in INSTANTS:
        if name in values:
            values[name] = datetime.fromisoformat(values[name]).astimezone(UTC)
    return Event(**values)
