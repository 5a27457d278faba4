"""What each terminal is sent, by the names in its environment."""

from __future__ import annotations

import pytest

from pottyboard.board.alarms.terminals import Terminal, terminal_of
from pottyboard.core.model.alarms import NOTICES


@pytest.mark.parametrize(
    ("names", "notice", "titles"),
    [
        ("TERM=xterm-kitty", "osc99", True),
        ("TERM=xterm-256color KITTY_WINDOW_ID=3", "osc99", True),
        ("TERM=foot", "osc777", True),
        ("TERM=foot-extra", "osc777", True),
        ("TERM=rxvt-unicode-256color", "osc777", True),
        ("TERM=xterm-ghostty TERM_PROGRAM=ghostty", "osc777", True),
        ("TERM=xterm-256color TERM_PROGRAM=WezTerm", "osc777", True),
        ("TERM=xterm-256color TERM_PROGRAM=iTerm.app", "osc9", True),
        ("TERM=xterm-256color TERM_PROGRAM=Apple_Terminal", None, True),
        ("TERM=xterm-256color", None, True),
        ("TERM=xterm-256color NO_COLOR=1", None, True),
        ("TERM=alacritty", None, True),
        ("WT_SESSION=1234", None, True),
        ("TERM=eterm-color", None, False),
    ],
)
def test_outside_tmux(names: str, notice: str | None, titles: bool) -> None:
    terminal = terminal_of(dict(pair.split("=") for pair in names.split()))
    assert (terminal.notice, terminal.titles, terminal.tmux) == (notice, titles, False)
    assert terminal.any_notice


@pytest.mark.parametrize(
    "names",
    ["", "TERM=dumb", "TERM=linux", "TERM=vt100", "TERM=screen.linux", "TERM=screen",
     "TERM=screen.linux STY=1.tty", "TERM=screen.vt220 STY=1.tty KITTY_WINDOW_ID=1",
     "TERM=dumb NO_COLOR=1", "TERM=ansi", "TERM=linux KITTY_WINDOW_ID=1"],
)  # fmt: skip
def test_where_nothing_is_understood_nothing_is_sent(names: str) -> None:
    terminal = terminal_of(dict(pair.split("=") for pair in names.split()))
    assert terminal == Terminal()
    for wanted in NOTICES:
        assert terminal.notice_of(wanted, "Break due", "") == ""


@pytest.mark.parametrize(
    ("names", "notice"),
    [
        ("TERM=tmux-256color TMUX=/x,1,0 TERM_PROGRAM=tmux", None),
        ("TERM=screen-256color TMUX=/x,1,0", None),
        ("TERM=tmux-256color TMUX=/x,1,0 KITTY_WINDOW_ID=1", "osc99"),
        ("TERM=screen TMUX=/x,1,0 LC_TERMINAL=iTerm2", "osc9"),
    ],
)
def test_within_tmux_the_terminal_around_it_is_meant(names: str, notice: str | None) -> None:
    terminal = terminal_of(dict(pair.split("=") for pair in names.split()))
    assert (terminal.notice, terminal.titles, terminal.tmux) == (notice, True, True)
    assert terminal.notice_of("osc777", "a", "b").startswith("\x1bPtmux;\x1b\x1b]777;")


@pytest.mark.parametrize(
    ("names", "notice", "titles"),
    [
        ("TERM=screen STY=1.tty", None, False),
        ("TERM=screen-256color STY=1.tty KITTY_WINDOW_ID=1", "osc99", False),
        ("TERM=screen.xterm-256color STY=1.tty", None, True),
        ("TERM=screen.xterm-256color STY=1.tty TERM_PROGRAM=WezTerm", "osc777", True),
        ("TERM=screen.foot STY=1.tty", "osc777", True),
    ],
)
def test_within_screen_the_terminal_around_it_is_meant(
    names: str, notice: str | None, titles: bool
) -> None:
    terminal = terminal_of(dict(pair.split("=") for pair in names.split()))
    assert (terminal.notice, terminal.titles, terminal.screen) == (notice, titles, True)
    assert not terminal.tmux
    assert terminal.notice_of("osc9", "a", "b") == "\x1bP\x1b]9;a. b\a\x1b\\"


def test_the_household_may_name_the_sequence_or_have_none() -> None:
    terminal = terminal_of({"TERM": "xterm-kitty"})
    assert terminal.notice_of("auto", "a", "").startswith("\x1b]99;")
    assert terminal.notice_of("osc9", "a", "") == "\x1b]9;a\x1b\\"
    assert terminal.notice_of("no", "a", "") == ""
    assert terminal_of({"TERM": "xterm"}).notice_of("auto", "a", "") == ""
