"""What holds of the warnings for every log, checked on random ones."""

from __future__ import annotations

import dataclasses
import random
from datetime import datetime

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.engine.history import History
from pottyboard.core.health.health_views import LEVELS
from pottyboard.core.health.warnings import TABLE, warnings_between, warnings_of
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import situation
from tests.core.test_properties import from_scratch, logs, quick

Log = tuple[Settings, tuple[Event, ...], datetime]
ROWS = {row.code: row for row in TABLE}


@quick
@given(logs())
def test_each_warning_is_whole(log: Log) -> None:
    household, entries, now = log
    warnings = situation(household, entries, now).warnings
    ranks = [(LEVELS.index(w.level), w.noted is not None) for w in warnings]
    assert ranks == sorted(ranks)
    assert len({w.code for w in warnings}) == len(warnings)
    for warning in warnings:
        assert warning.words == ROWS[warning.code].words[warning.level]
        assert household.dog.arrived <= warning.since <= now
        assert warning.because
        assert "\n" not in warning.because


@quick
@given(logs(), st.randoms(use_true_random=False))
def test_the_order_of_the_entries_does_not_matter(log: Log, chance: random.Random) -> None:
    household, entries, now = log
    shuffled = list(entries)
    chance.shuffle(shuffled)
    before = from_scratch(household, entries, now).warnings
    assert from_scratch(household, tuple(shuffled), now).warnings == before


@quick
@given(logs())
def test_a_kept_history_tells_the_same(log: Log) -> None:
    household, entries, now = log
    for count in (len(entries) // 2, len(entries)):
        again = tuple(dataclasses.replace(entry) for entry in entries[:count])
        kept = situation(household, again, now).warnings
        assert kept == from_scratch(household, entries[:count], now).warnings


@quick
@given(logs())
def test_all_are_quiet_once_noted_and_nothing_else_changes(log: Log) -> None:
    household, entries, now = log
    before = situation(household, entries, now).warnings
    notes = tuple(
        Event("noted", now, id=f"n{n}", about=w.code, note="seen") for n, w in enumerate(before)
    )
    after = situation(household, (*entries, *notes), now).warnings
    # A note that was there already at this minute may be the one that counts.
    assert all(w.noted is not None for w in after)
    assert {replace(w, noted=None) for w in before} == {replace(w, noted=None) for w in after}


@quick
@given(logs())
def test_what_is_still_to_come_is_not_seen(log: Log) -> None:
    household, entries, now = log
    past = tuple(entry for entry in entries if entry.at <= now)
    assert (
        from_scratch(household, entries, now).warnings
        == from_scratch(household, past, now).warnings
    )


@quick
@given(logs())
def test_what_stands_is_among_what_stood(log: Log) -> None:
    household, entries, now = log
    history = History.of(household, entries, minutes_of(now))
    standing = {(w.code, w.since) for w in warnings_of(history, now)}
    stood = warnings_between(history, household.dog.arrived, now)
    assert standing <= {(w.code, w.since) for w in stood}
