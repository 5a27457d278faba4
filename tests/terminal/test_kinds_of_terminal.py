"""The board on kinds of terminal, read back by a terminal emulator (pyte) and by its bytes.

Colours are those of ECMA-48's "select graphic rendition": 30 to 37 and 90 to 97 name sixteen, 38;5
one of 256, 38;2 red, green and blue (ISO/IEC 8613-6, section 13.1.8).
"""

from __future__ import annotations

import re

import pytest

from tests.terminal.laptop import Laptop

SIXTEEN = re.compile(rb"\x1b\[(?:\d+;)*(?:3[0-7]|9[0-7]|4[0-7]|10[0-7])(?:;\d+)*m")
OF_256 = re.compile(rb"\x1b\[(?:\d+;)*[34]8;5;\d+")
TRUE = re.compile(rb"\x1b\[(?:\d+;)*[34]8;2;\d+;\d+;\d+")


@pytest.mark.parametrize(
    ("term", "colorterm", "sent", "never"),
    [
        ("linux", "", SIXTEEN, TRUE),
        ("xterm-16color", "", SIXTEEN, TRUE),
        ("xterm-256color", "", OF_256, TRUE),
        ("tmux-256color", "", OF_256, TRUE),
        ("screen-256color", "", OF_256, TRUE),
        ("xterm-256color", "truecolor", TRUE, None),
    ],
)
def test_the_board_opens_logs_and_leaves_the_terminal_as_it_was(
    laptop: Laptop,
    term: str,
    colorterm: str,
    sent: re.Pattern[bytes],
    never: re.Pattern[bytes] | None,
) -> None:
    laptop.environ |= {"TERM": term, "COLORTERM": colorterm}
    laptop.set_clock("09:00")
    laptop.run("setup", "--name", "Moss", "--zone", "Europe/Oslo", "--arrived", "06:30")
    with laptop.board(columns=80, rows=24) as terminal:
        terminal.until("Moss", "p pee")
        terminal.press("p")
        terminal.until("Moss peed outside, 09:00")
        terminal.press("q")
        assert terminal.ended() == 0
        assert b"\x1b[?1049l" in terminal.sent
    assert sent.search(terminal.sent), "no colour of its kind"
    assert never is None or not never.search(terminal.sent), "colours that it cannot show"
