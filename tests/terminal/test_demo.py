"""The demo in a real pseudo-terminal: it says what it is, and leaves nothing behind."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest

from tests.terminal.laptop import Laptop


@pytest.mark.parametrize("ending", ["q", "SIGINT", "SIGTERM", "SIGHUP"])
def test_the_demo_says_what_it_is_and_leaves_nothing(
    laptop: Laptop, tmp_path: Path, ending: str
) -> None:
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    laptop.environ["TMPDIR"] = str(temporary)
    laptop.set_clock("13:00")
    with laptop.board("demo", columns=80, rows=24) as terminal:
        shown = terminal.until("break", "Other demos")
        assert "DEMO · " in shown.splitlines()[0]
        assert "pottyboard demo odin" in " ".join(shown.replace("▌", " ").split())
        assert [path.name[:16] for path in temporary.iterdir()] == ["pottyboard-demo-"]
        if ending == "q":
            terminal.press("q")
        else:
            terminal.end(getattr(signal, ending))
        terminal.ended()
        assert b"\x1b[?1049l" in terminal.sent, "the terminal is as it was before"
    assert list(temporary.iterdir()) == []
