"""What the tests of the board have in common: a disk that is waited for, however slow it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from rich.console import RenderableType
from textual._compositor import Compositor
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.screen import Screen


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
        yield


@pytest.fixture(scope="session", autouse=True)
def drawn_when_read() -> Iterator[None]:
    """Draw no frame for a terminal that is not there: a test draws the whole screen to read it.

    A dialog is drawn as ever, since it takes what lies below it from that.
    """
    draw = Compositor.render_update

    def drawn(
        compositor: Compositor,
        full: bool = False,
        screen_stack: list[Screen[Any]] | None = None,
        simplify: bool = False,
    ) -> RenderableType | None:
        if screen_stack:
            return draw(compositor, full, screen_stack, simplify)
        compositor._dirty_regions.clear()
        return None

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
