"""The control sequences that show a notice or name the window, byte by byte.

Sources, read in excerpts, xterm, foot and tmux as others quote them: OSC 9, the proprietary escape
codes of iTerm2, "post a notification", and ghostty.org, docs/vt/osc/9 (a text that begins with a
number and a semicolon is something else); OSC 99, the desktop notifications of kitty (title and
body under one identifier, ended by ST, with no control characters in them); OSC 777, foot-
ctlseqs(7) (notify;title;body); OSC 2 and XTWINOPS 22 and 23, xterm's ctlseqs (the window's title;
save it, restore it); DCS tmux, the FAQ of tmux (each ESC doubled; the option allow-passthrough lets
it through); GNU screen's manual, "Control Sequences" (a device control string goes to the terminal
around it as it stands), from memory, and tried with screen 4.09: the first ST ends it, so that a
command within has to end by BEL.
"""

from __future__ import annotations

from typing import Final, Literal

from pottyboard.core.model.printable import printable

Protocol = Literal["osc9", "osc99", "osc777"]

_ESC: Final = "\x1b"
_OSC: Final = f"{_ESC}]"
_ST: Final = f"{_ESC}\\"
BELL: Final = "\a"
SAVE_TITLE: Final = f"{_ESC}[22;2t"
_RESTORE: Final = f"{_ESC}[23;2t"

_TITLE: Final = 60
_BODY: Final = 120
_IDENTIFIER: Final = "pottyboard"


def notice(protocol: Protocol, title: str, body: str) -> str:
    """Return the sequence that shows a notice, its texts cut to what one line holds.

    A notice of OSC 99 takes the place of the one before.
    """
    title, body = printable(title, _TITLE), printable(body, _BODY)
    if protocol == "osc99":
        begun = f"{_OSC}99;i={_IDENTIFIER}:d=0;{title}{_ST}"
        return f"{begun}{_OSC}99;i={_IDENTIFIER}:d=1:p=body;{body}{_ST}"
    title, body = title.replace(";", ","), body.replace(";", ",")
    if protocol == "osc777":
        return f"{_OSC}777;notify;{title};{body}{_ST}"
    text = f"{title}. {body}" if body else title
    # A digit in front would make it one of the other meanings of OSC 9.
    return f"{_OSC}9;{'- ' if text[:1].isdigit() else ''}{text}{_ST}"


def window_title(text: str) -> str:
    """Return the sequence that names the window."""
    return f"{_OSC}2;{printable(text, _TITLE)}{_ST}"


def restore_title() -> str:
    """Return what gives the window its old name back, or none where it was not saved."""
    return window_title("") + _RESTORE


def through_tmux(sequence: str) -> str:
    """Return a sequence as tmux hands it on to the terminal around it."""
    return f"{_ESC}Ptmux;{sequence.replace(_ESC, _ESC * 2)}{_ST}"


def through_screen(sequence: str) -> str:
    """Return a sequence as GNU screen hands it on to the terminal around it."""
    return f"{_ESC}P{sequence.replace(_ST, BELL)}{_ST}"
