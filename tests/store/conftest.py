"""The record that most tests of the store begin with."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from pottyboard.store import Record
from tests.store.house import new_record


@pytest.fixture(autouse=True)
def no_waiting_for_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave fsync out: only a power cut, which no test makes, could tell the difference."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


@pytest.fixture
def record(tmp_path: Path) -> Record:
    """A dog that has just been set up, with an empty log."""
    return new_record(tmp_path / "home")
