"""What the tests of the board have in common: a disk that is waited for, however slow it is."""

from __future__ import annotations

import pytest


@pytest.fixture(autouse=True)
def patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a change be made before its key is over, as on a healthy disk."""
    monkeypatch.setattr("pottyboard.board.control.saver.PATIENCE", 30.0)


@pytest.fixture(autouse=True)
def whole_days(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    """Let a story be written to its end before the clock of the test is there."""
    if "clock_set_back" not in request.keywords:
        monkeypatch.setattr("pottyboard.board.app.ahead_words", lambda *_: "")
