"""The record that most tests of the store begin with."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from pottyboard.store import DogLog
from tests.store.house import new_dog_log


@pytest.fixture(autouse=True)
def no_waiting_for_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave fsync out: only a power cut, which no test makes, could tell the difference."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


@pytest.fixture
def dog_log(tmp_path: Path) -> DogLog:
    """A dog that has just been set up, with an empty log."""
    return new_dog_log(tmp_path / "home")
