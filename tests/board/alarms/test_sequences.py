"""Every sequence byte by byte, and that nothing a person wrote gets out of its place.

Sources beside each case: the pages that ``sequences`` names.
"""

from __future__ import annotations

import re

import pyte
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.board.alarms.sequences import (
    SAVE_TITLE,
    Protocol,
    notice,
    restore_title,
    through_tmux,
    window_title,
)

PROTOCOLS: tuple[Protocol, ...] = ("osc9", "osc99", "osc777")


@pytest.mark.parametrize(
    ("protocol", "written"),
    [
        # iTerm2, proprietary escape codes: OSC 9 ; message ST
        ("osc9", b"\x1b]9;Break due: Bramble. since pee\x1b\\"),
        # kitty, desktop notifications: two parts of one notice, d=0 while more is to come
        (
            "osc99",
            b"\x1b]99;i=pottyboard:d=0;Break due: Bramble\x1b\\"
            b"\x1b]99;i=pottyboard:d=1:p=body;since pee\x1b\\",
        ),
        # foot-ctlseqs(7): OSC 777 ; notify ; title ; body ST
        ("osc777", b"\x1b]777;notify;Break due: Bramble;since pee\x1b\\"),
    ],
)
def test_a_notice(protocol: Protocol, written: bytes) -> None:
    assert notice(protocol, "Break due: Bramble", "since pee").encode() == written


def test_the_title_of_the_window() -> None:
    # xterm, ctlseqs: OSC 2 ; Pt ST; CSI 22 ; 2 t saves it, CSI 23 ; 2 t restores it.
    assert window_title("LATE 18, Bramble").encode() == b"\x1b]2;LATE 18, Bramble\x1b\\"
    assert SAVE_TITLE.encode() == b"\x1b[22;2t"
    # The empty title is for terminals that save none.
    assert restore_title().encode() == b"\x1b]2;\x1b\\\x1b[23;2t"


def test_within_tmux_every_escape_is_doubled() -> None:
    # tmux, FAQ: ESC P tmux ; with each ESC doubled, ended by ST
    inner = notice("osc9", "Break due: Bramble", "")
    assert through_tmux(inner).encode() == (
        b"\x1bPtmux;\x1b\x1b]9;Break due: Bramble\x1b\x1b\\\x1b\\"
    )


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("a;b", "\x1b]777;notify;a,b;c,d\x1b\\"),
        ("a\x1b\\b", "\x1b]777;notify;a\\b;c,d\x1b\\"),
        ("a\x07b", "\x1b]777;notify;ab;c,d\x1b\\"),
        ("a\x9cb\u202e", "\x1b]777;notify;ab;c,d\x1b\\"),
        ("a\nb", "\x1b]777;notify;a b;c,d\x1b\\"),
    ],
)
def test_what_would_end_a_sequence_or_a_field_is_left_out(name: str, written: str) -> None:
    assert notice("osc777", name, "c;d") == written


def test_no_text_becomes_another_meaning_of_osc_9() -> None:
    # ghostty.org, docs/vt/osc/9: a number and a semicolon at the beginning is something else.
    assert notice("osc9", "4;1;50", "") == "\x1b]9;- 4,1,50\x1b\\"


WILD = st.text(
    st.one_of(st.characters(), st.sampled_from("\x00\x07\x1b\\\x9c\x9d;:\r\n]\u200f\u2028🐕"))
)
FRAMES = {
    "osc9": r"\x1b\]9;(?!\d)[^\x1b]*\x1b\\",
    "osc99": r"\x1b\]99;i=pottyboard:d=0;[^\x1b]*\x1b\\"
    r"\x1b\]99;i=pottyboard:d=1:p=body;[^\x1b]*\x1b\\",
    "osc777": r"\x1b\]777;notify;[^\x1b;]*;[^\x1b;]*\x1b\\",
}


@given(st.sampled_from(PROTOCOLS), WILD, WILD)
def test_whatever_a_text_holds_it_stays_in_its_frame(
    protocol: Protocol, title: str, body: str
) -> None:
    written = notice(protocol, title, body)
    assert re.fullmatch(FRAMES[protocol], written)
    texts = re.sub(r"\x1b(?:\]|\\)", "", written)
    # ECMA-48: C0 and C1 are the control characters; DEL is beside them.
    assert not re.search(r"[\x00-\x1f\x7f-\x9f]", texts)
    assert len(written.encode()) < 1000
    written.encode()  # no half of a letter
    wrapped = through_tmux(written)
    assert (
        wrapped.removeprefix("\x1bPtmux;").removesuffix("\x1b\\").replace("\x1b\x1b", "\x1b")
        == written
    )


@given(st.sampled_from(PROTOCOLS), WILD)
def test_nothing_of_it_is_painted_by_a_terminal(protocol: Protocol, text: str) -> None:
    screen = pyte.Screen(40, 4)
    stream = pyte.Stream(screen)
    stream.feed("here")
    stream.feed(window_title(text) + notice(protocol, text, text) + " we are")
    assert screen.display[0].rstrip() == "here we are"
    assert all(not line.strip() for line in screen.display[1:])
