"""What the alarm sends to a real pseudo-terminal, by bytes; what the emulator paints of it."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

import pytest

from tests.terminal.laptop import Laptop
from tests.terminal.pseudo import PseudoTerminal

ALARM_BYTES = re.compile(rb"\x1b\](?:0|1|2|9|99|777);|\x1b\[2[23];?\d*t|\x1bPtmux;")
"""How a title or a notice begins."""

COMMANDS = re.compile(rb"\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)")
"""An operating system command: the byte of a bell may end it, and rings nothing."""


def bramble(laptop: Laptop, *answers: str) -> None:
    """Set up Bramble, whose break is due at 11:00."""
    laptop.set_clock("09:00")
    laptop.run(
        "setup", "--name", "Bramble", "--zone", "Europe/Oslo", "--arrived", "06:30", *answers
    )
    laptop.run("log", "pee")
    laptop.set_clock("10:48")


def named(laptop: Laptop, **environ: str) -> None:
    """Let the terminal give itself these names and no others."""
    for name in ("TERM", "TERM_PROGRAM", "KITTY_WINDOW_ID", "TMUX", "STY", "LC_TERMINAL"):
        laptop.environ.pop(name, None)
    laptop.environ.update(environ)


def bells(terminal: PseudoTerminal) -> int:
    """Return how often the bell was rung."""
    return COMMANDS.sub(b"", terminal.sent).count(b"\a")


def until_sent(terminal: PseudoTerminal, *sequences: bytes) -> None:
    """Wait until the program has sent all of these."""
    terminal.until_true(
        lambda: all(sequence in terminal.sent for sequence in sequences), str(sequences)
    )


def test_a_break_that_falls_due_reaches_through_every_means(laptop: Laptop, tmp_path: Path) -> None:
    show = tmp_path / "show"
    show.write_text(f'#!/bin/sh\nprintf "%s|" "$@" > {tmp_path}/seen\n')
    show.chmod(show.stat().st_mode | stat.S_IXUSR)
    named(laptop, TERM="xterm-kitty", PATH=f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    bramble(laptop, "--notifier", "show -u critical")
    with laptop.board() as terminal:
        terminal.until("break at 11:00", "p pee")
        until_sent(terminal, b"\x1b[22;2t\x1b]2;12 min, Bramble\x1b\\")
        assert bells(terminal) == 0
        laptop.set_clock("11:00")
        until_sent(
            terminal,
            b"\x1b]2;DUE, Bramble\x1b\\",
            b"\x1b]99;i=pottyboard:d=0;Break due: Bramble\x1b\\"
            b"\x1b]99;i=pottyboard:d=1:p=body;Last pee 09:00; a break every 2 h\x1b\\",
        )
        assert terminal.screen.title == "DUE, Bramble"
        shown = terminal.until("break due at 11:00")
        assert "Break due: Bramble" not in shown, "nothing of a sequence is painted"
        terminal.until_true((tmp_path / "seen").exists, "the program")
        laptop.set_clock("11:16")
        until_sent(terminal, b"\x1b]2;LATE 16, Bramble\x1b\\", b"Break late by 16 min: Bramble")
        terminal.press(" ")
        terminal.until("On the way since 11:16: log what came.")
        assert bells(terminal) == 2
        laptop.set_clock("11:24")
        until_sent(terminal, b"\x1b]2;LATE 24, Bramble\x1b\\")
        assert bells(terminal) == 2
        laptop.set_clock("11:26")
        terminal.until("On the way since 11:16, nothing logged yet: what came?")
        until_sent(terminal, b"Break late by 26 min: Bramble")
        terminal.press("q")
        assert terminal.ended() == 0
    assert (tmp_path / "seen").read_text().startswith("-u|critical|Break ")
    # The old name comes back, or none, before the terminal is given back.
    restored = terminal.sent.rindex(b"\x1b]2;\x1b\\\x1b[23;2t")
    assert restored < terminal.sent.rindex(b"\x1b[?1049l")
    assert terminal.sent.count(b"\x1b[22;2t") == terminal.sent.count(b"\x1b[23;2t") == 1


def test_within_tmux_a_notice_is_wrapped_and_a_title_is_not(laptop: Laptop) -> None:
    named(laptop, TERM="tmux-256color", TMUX="/tmp/none,1,0", TERM_PROGRAM="tmux")
    bramble(laptop, "--notice", "osc777", "--bell", "no")
    with laptop.board() as terminal:
        terminal.until("break at 11:00", "p pee")
        laptop.set_clock("11:00")
        until_sent(
            terminal,
            b"\x1b]2;DUE, Bramble\x1b\\",
            b"\x1bPtmux;\x1b\x1b]777;notify;Break due: Bramble;Last pee 09:00, a break every 2 h"
            b"\x1b\x1b\\\x1b\\",
        )
        assert bells(terminal) == 0
        terminal.press("q")
        assert terminal.ended() == 0
    with laptop.board("setup", "--ring") as terminal:
        assert terminal.ended() == 0
    # The emulator knows no DCS, which tmux takes: this is read by bytes alone.
    assert b"Rang by notice (OSC 777 through tmux, which needs allow-passthrough on)." in (
        terminal.sent
    )
    assert terminal.sent.startswith(b"\x1bPtmux;\x1b\x1b]777;notify;Trial of the alarm;")


@pytest.mark.parametrize("term", ["linux", "vt220"])
def test_where_nothing_more_is_understood_it_rings_the_bell_alone(
    laptop: Laptop, term: str
) -> None:
    named(laptop, TERM=term, NO_COLOR="1", KITTY_WINDOW_ID="1")
    bramble(laptop, "--notice", "osc9")
    with laptop.board() as terminal:
        terminal.until("break at 11:00", "p pee")
        assert not ALARM_BYTES.findall(terminal.sent)
        laptop.set_clock("11:00")
        terminal.until("break due at 11:00")
        terminal.until_true(lambda: bells(terminal) == 1, "the bell")
        terminal.press("q")
        assert terminal.ended() == 0
    assert not ALARM_BYTES.findall(terminal.sent)


def test_a_dumb_terminal_gets_text_alone(laptop: Laptop) -> None:
    named(laptop, TERM="dumb")
    bramble(laptop, "--notice", "osc9")
    laptop.set_clock("11:00")
    with laptop.board() as terminal:
        terminal.until("Bramble")
        assert terminal.ended() == 0
    with laptop.board("setup", "--ring") as ring:
        ring.until("Rang by bell.")
        assert ring.ended() == 0
    assert b"\x1b" not in terminal.sent + ring.sent
