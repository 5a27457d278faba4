"""The board within GNU screen: what reaches the terminal around it, by bytes (tried with 4.09)."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from tests.terminal.laptop import Laptop
from tests.terminal.pseudo import PseudoTerminal
from tests.terminal.test_alarms import bramble, named, until_sent

pytestmark = pytest.mark.skipif(shutil.which("screen") is None, reason="no screen here")


def within_screen(laptop: Laptop, folder: Path, *settings: str) -> PseudoTerminal:
    """Start the board in a screen of its own, in a terminal that calls itself xterm."""
    (folder / "sockets").mkdir(mode=0o700)
    (folder / "rc").write_text("\n".join(("startup_message off", *settings, "")))
    environ = {**laptop.environ, "TERM": "xterm-256color", "SCREENDIR": str(folder / "sockets")}
    board = ["sh", "-c", shlex.join(laptop.command())]
    words = ["screen", "-c", str(folder / "rc"), "-S", "board", *board]
    return PseudoTerminal(words, environ, 80, 24)


@pytest.mark.parametrize(
    ("notice", "bytes_"),
    [
        ("osc9", b"\x1b]9;Break due: Bramble. Last pee 09:00, a break every 2 h\a"),
        ("osc777", b"\x1b]777;notify;Break due: Bramble;Last pee 09:00, a break every 2 h\a"),
        ("osc99", b"\x1b]99;i=pottyboard:d=0;Break due: Bramble\a"
                  b"\x1b]99;i=pottyboard:d=1:p=body;Last pee 09:00; a break every 2 h\a"),
    ],
)  # fmt: skip
def test_notice_and_title_reach_the_terminal_around_screen(
    laptop: Laptop, tmp_path: Path, notice: str, bytes_: bytes
) -> None:
    named(laptop)
    bramble(laptop, "--notice", notice)
    with within_screen(laptop, tmp_path, "vbell off") as terminal:
        terminal.until("break at 11:00", "p pee")
        until_sent(terminal, b"\x1b]2;12 min, Bramble\x1b\\")
        laptop.set_clock("11:00")
        until_sent(terminal, b"\x1b]2;DUE, Bramble\x1b\\", bytes_)
        shown = terminal.until("break due at 11:00")
        assert "Break due: Bramble" not in shown, "nothing of a sequence is painted"
        terminal.press("q")
        assert terminal.ended() == 0
