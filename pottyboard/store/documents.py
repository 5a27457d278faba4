"""An entry as a plain document for the file, and back: made from the fields of ``Event`` alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import UTC, datetime
from typing import Any, Final, get_args, get_type_hints

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import FIRST_YEAR, LAST_YEAR


def document_of(event: Event) -> dict[str, Any]:
    """Return the fields that are set; instants as ISO 8601 in UTC, ending in ``+00:00``."""
    document: dict[str, Any] = {}
    for name in _READERS:
        value = getattr(event, name)
        if value is None or value == "":
            continue
        if isinstance(value, datetime):
            value = value.isoformat()
        elif isinstance(value, str):
            value = _whole_characters(value)
        document[name] = value
    return document


def event_of(document: Mapping[str, Any]) -> Event:
    """Return the entry; names that are no field of an entry are passed over.

    Raises ``ValueError`` if the document is no entry: an unknown kind, a time without an offset, a
    number that is none, a wrong type.
    """
    try:
        return Event(
            **{name: _READERS[name](value) for name, value in document.items() if name in _READERS}
        )
    except (TypeError, AttributeError, OverflowError) as error:
        raise ValueError(f"not an entry: {error}") from error


def _whole_characters(text: str) -> str:
    """Join the two halves of a character, as any reader of JSON would; lone halves stay."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return text.encode("utf-16", "surrogatepass").decode("utf-16", "surrogatepass")
    return text


# --- One reader for each type of field ------------------------------------------------------------


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r:.40} is not text")
    return value


def _instant(value: Any) -> datetime:
    instant = datetime.fromisoformat(value)
    if instant.tzinfo is None:
        raise ValueError(f"{value} has no offset")
    if not FIRST_YEAR <= instant.year <= LAST_YEAR:
        raise ValueError(f"{value} is out of all range")
    return instant.astimezone(UTC)


def _truth(value: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError(f"{value!r:.40} is neither true nor false")
    return value


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise TypeError(f"{value!r:.40} is not a number")
    return value


_BY_TYPE: Final[dict[Any, Callable[[Any], Any]]] = {
    str: _text,
    datetime: _instant,
    bool: _truth,
    int: _number,
    float: _number,
}


def _readers() -> dict[str, Callable[[Any], Any]]:
    hints = get_type_hints(Event)
    readers = {}
    for spec in fields(Event):
        if spec.init:
            hint = hints[spec.name]
            kind = next((arg for arg in get_args(hint) if arg is not type(None)), hint)
            readers[spec.name] = _BY_TYPE[kind]
    return readers


_READERS: Final = _readers()

FIELDS: Final = frozenset(_READERS)
"""The names of an entry's fields in a document."""
