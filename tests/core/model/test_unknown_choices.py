"""A choice that only a newer version knows, or that somebody wrote by hand: kept, and shown."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from pottyboard.core.model.describe import CAUSE_WORDS, FINDING_WORDS, MEASURE_WORDS, describe
from pottyboard.core.model.events import CHOICES, KINDS, Event
from pottyboard.core.model.questions import settings_from

NOW = datetime(2026, 3, 10, 12, tzinfo=UTC)
SETTINGS = settings_from({"name": "Bramble", "arrived": "2026-03-02 09:00"}, NOW)


@pytest.mark.parametrize("field", CHOICES)
def test_an_unknown_choice_of_any_field_reads_as_other(field: str) -> None:
    kind = next(code for code, row in KINDS.items() if field in row.carries)
    event = Event(kind, NOW, **{field: "moonlight"})  # type: ignore[arg-type]
    assert "other" in describe(event, SETTINGS)
    assert "moonlight" not in describe(event, SETTINGS)


def test_the_words_of_an_unknown_choice() -> None:
    for words in (CAUSE_WORDS, FINDING_WORDS, MEASURE_WORDS):
        assert words["moonlight"] == "other"
        assert "moonlight" not in words
