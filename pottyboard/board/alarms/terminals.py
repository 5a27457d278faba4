"""What a terminal understands, by the names that it gives itself in the environment."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, NamedTuple

from pottyboard.board.alarms.sequences import Protocol, notice, through_screen, through_tmux
from pottyboard.core.model.alarms import Notice

_KNOWN: Final[tuple[tuple[str, str, Protocol], ...]] = (
    ("TERM", "xterm-kitty", "osc99"),
    ("TERM", "foot", "osc777"),
    ("TERM", "rxvt-unicode", "osc777"),
    ("TERM", "xterm-ghostty", "osc777"),
    ("TERM_PROGRAM", "ghostty", "osc777"),
    ("TERM_PROGRAM", "wezterm", "osc777"),
    ("TERM_PROGRAM", "iterm", "osc9"),
    ("LC_TERMINAL", "iterm", "osc9"),
    ("KITTY_WINDOW_ID", "", "osc99"),
    ("WEZTERM_PANE", "", "osc777"),
)
"""A variable, how it begins, and what it says that the terminal understands. Within tmux or screen
the first ones speak of that, the others still of the terminal around it."""

_WITH_TITLES: Final = ("xterm", "rxvt", "foot", "alacritty", "tmux", "konsole", "vte", "mlterm")
_WITHOUT: Final = (
    "dumb",
    "linux",
    "vt1",
    "vt2",
    "vt3",
    "vt4",
    "vt5",
    "ansi",
    "cons",
    "screen",
    "unknown",
)
"""No window around it, or none whose name can be given back: the console, a serial line."""

_COLOURS: Final = ("-256color", "-16color")
"""What the name of screen may end with, which says nothing of the terminal around it."""


class Terminal(NamedTuple):
    """What it shows: a ``notice`` of its own accord, window ``titles``, ``any_notice`` on request;
    whether ``tmux`` or GNU ``screen`` stands between."""

    notice: Protocol | None = None
    any_notice: bool = False
    titles: bool = False
    tmux: bool = False
    screen: bool = False

    def protocol(self, wanted: Notice) -> Protocol | None:
        """Return the protocol of a notice that the household wants, if it can be sent at all."""
        if wanted == "no" or not self.any_notice:
            return None
        return self.notice if wanted == "auto" else wanted

    def notice_of(self, wanted: Notice, title: str, body: str) -> str:
        """Return the sequence of a notice, empty where none is wanted or understood."""
        protocol = self.protocol(wanted)
        if protocol is None:
            return ""
        sequence = notice(protocol, title, body)
        if self.tmux:
            return through_tmux(sequence)
        return through_screen(sequence) if self.screen else sequence


def terminal_of(environ: Mapping[str, str]) -> Terminal:
    """Return what the terminal of this environment understands; the least where it is unknown."""
    term = environ.get("TERM", "").lower()
    tmux = bool(environ.get("TMUX")) or term.startswith("tmux")
    windows = bool(environ.get("WT_SESSION"))
    screen = not tmux and bool(environ.get("STY")) and term.startswith("screen")
    if screen:  # it names the terminal around it behind its own name, where it knows that
        environ = {**environ, "TERM": (term := term.removeprefix("screen").removeprefix("."))}
    unknown = screen and term in ("", *_COLOURS)
    if not (tmux or windows or unknown) and (not term or term.startswith(_WITHOUT)):
        return Terminal()
    known = (
        protocol
        for name, begins, protocol in _KNOWN
        if environ.get(name) and environ[name].lower().startswith(begins)
    )
    titles = tmux or windows or term.startswith(_WITH_TITLES)
    return Terminal(next(known, None), any_notice=True, titles=titles, tmux=tmux, screen=screen)
