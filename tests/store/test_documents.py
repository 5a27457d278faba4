"""An entry as a document and back: nothing that somebody wrote gets lost on the way."""

from __future__ import annotations

import dataclasses
import json
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.events import KINDS, Event
from pottyboard.store.documents import FIELDS, document_of, event_of

AT = datetime(2026, 3, 2, 9, 5, tzinfo=UTC)
INSTANTS = st.datetimes(
    min_value=datetime(2000, 1, 1), max_value=datetime(2100, 1, 1), timezones=st.timezones()
)
ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=200)
"""Every character there is, and halves of characters too."""

BY_TYPE: dict[str, st.SearchStrategy[Any]] = {
    "str": ANY_TEXT,
    "datetime": INSTANTS,
    "datetime | None": st.none() | INSTANTS,
    "bool | None": st.none() | st.booleans(),
    "float | None": st.none() | st.floats(allow_nan=False, allow_infinity=False),
}
EVENTS = st.builds(
    Event,
    **{
        spec.name: st.sampled_from(sorted(KINDS))
        if spec.name == "kind"
        else BY_TYPE[str(spec.type)]
        for spec in dataclasses.fields(Event)
        if spec.init
    },
)


@given(EVENTS)
def test_an_entry_comes_back_from_json_as_it_was(event: Event) -> None:
    through_json = json.loads(json.dumps(document_of(event), allow_nan=False))
    back = event_of(through_json)
    for name in FIELDS:
        assert whole(getattr(back, name)) == whole(getattr(event, name))
    assert event_of(document_of(back)) == back


def whole(value: object) -> object:
    """Return a value with halves of characters joined, where both stand side by side."""
    if isinstance(value, str):
        return value.encode("utf-16", "surrogatepass")
    return value


def test_only_what_is_set_is_written() -> None:
    assert document_of(Event("pee", AT)) == {"kind": "pee", "at": "2026-03-02T09:05:00+00:00"}
    assert document_of(Event("pee-inside", AT, found=False, alone=True)) == {
        "kind": "pee-inside",
        "at": "2026-03-02T09:05:00+00:00",
        "found": False,
        "alone": True,
    }


def test_every_field_of_an_entry_is_written() -> None:
    assert {spec.name for spec in dataclasses.fields(Event) if spec.init} == FIELDS


def test_instants_are_read_with_any_offset_and_kept_in_utc() -> None:
    for text in ("2026-03-02T10:05:00+01:00", "2026-03-02T09:05Z", "2026-03-02T09:05:00+00:00"):
        event = event_of({"kind": "pee", "at": text})
        assert event.at == AT
        assert event.at.tzinfo is UTC


def test_names_of_a_later_version_are_passed_over() -> None:
    assert event_of({"kind": "pee", "at": "2026-03-02T09:05Z", "mood": 4}) == Event("pee", AT)


@pytest.mark.parametrize(
    "wrong",
    [
        {"kind": "bark"},
        {"kind": 5},
        {"kind": None},
        {"at": "2026-03-02T09:05:00"},
        {"at": "soon"},
        {"at": "2026-02-30T09:05Z"},
        {"at": "0001-01-01T00:00:00+14:00"},
        {"at": 1_772_000_000},
        {"at": None},
        {"note": 5},
        {"note": None},
        {"ml": "200"},
        {"ml": True},
        {"ml": float("nan")},
        {"ml": float("inf")},
        {"ml": 10**400},
        {"found": "yes"},
        {"alone": 1},
        {"dry": "yesterday"},
    ],
)
def test_what_is_no_entry_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValueError, match=r"."):
        event_of({"kind": "pee", "at": "2026-03-02T09:05Z", **wrong})


def test_an_entry_needs_a_kind_and_a_time() -> None:
    for short in ({"kind": "pee"}, {"at": "2026-03-02T09:05Z"}, {}):
        with pytest.raises(ValueError, match="not an entry"):
            event_of(short)
