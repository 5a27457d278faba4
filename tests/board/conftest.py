"""What the tests of the board have in common: a disk that is waited for, however slow it is."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from textual._compositor import Compositor
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet


@pytest.fixture(scope="session", autouse=True)
def styles_read_once() -> Iterator[None]:
    """Read each style sheet once for all boards that open: its rules are never changed."""
    read, known = Stylesheet._parse_rules, dict[tuple[object, ...], list[RuleSet]]()

    def remembered(sheet: Stylesheet, css: str, *told: object, **named: object) -> list[RuleSet]:
        key = css, told, frozenset(named.items()), frozenset(sheet._variables.items())
        if key not in known:
            known[key] = read(sheet, css, *told, **named)  # type: ignore[arg-type]
        return known[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stylesheet, "_parse_rules", remembered)
        patch.setattr(RuleSet, "__hash__", object.__hash__)  # by its place too, but within Python
        yield


@pytest.fixture(scope="session", autouse=True)
def drawn_when_read() -> Iterator[None]:
    """Draw no frame for a terminal that is not there: a test draws the whole screen to read it."""

    def drawn(compositor: Compositor, *told: object, **named: object) -> None:
        compositor._dirty_regions.clear()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Compositor, "render_update", drawn)
        yield


@pytest.fixture(autouse=True)
def patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a change be made before its key is over, as on a healthy disk."""
    monkeypatch.setattr("pottyboard.board.control.saver.PATIENCE", 30.0)


@pytest.fixture(autouse=True)
def found_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the next key go at once where the one before has closed what it was sent to."""
    monkeypatch.setattr("pottyboard.board.app._STRANDED", 0.001)


@pytest.fixture(autouse=True)
def whole_days(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    """Let a story be written to its end before the clock of the test is there."""
    if "clock_set_back" not in request.keywords:
        monkeypatch.setattr("pottyboard.board.app.ahead_words", lambda *_: "")
