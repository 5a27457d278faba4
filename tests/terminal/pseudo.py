"""A program in a real pseudo-terminal, its screen read back through a terminal emulator."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import termios
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from types import TracebackType
from typing import Final

import pyte

PATIENCE: Final = 30.0
"""Seconds until a test gives up: far more than any machine needs."""

_GLANCE: Final = 0.02

KEYS: Final = {
    "enter": "\r", "escape": "\x1b", "tab": "\t", "backspace": "\x7f", "ctrl+s": "\x13",
    "up": "\x1b[A", "down": "\x1b[B", "right": "\x1b[C", "left": "\x1b[D",
}  # fmt: skip


class _Screen(pyte.Screen):
    """The emulator's screen, deaf to the private sequences that it would take for others."""

    def select_graphic_rendition(self, *attrs: int, private: bool = False) -> None:
        if not private:
            super().select_graphic_rendition(*attrs)


@contextmanager
def _heeded_signals() -> Iterator[None]:
    """Let a program that is started meanwhile end by these signals, also where the tests ignore
    them because they run in the background."""
    before = {each: signal.signal(each, signal.SIG_DFL) for each in (signal.SIGINT, signal.SIGHUP)}
    try:
        yield
    finally:
        for each, was in before.items():
            signal.signal(each, was)


class PseudoTerminal:
    """Runs a program; keys go in, and :meth:`until` waits for what the screen shows."""

    def __init__(
        self, command: Sequence[str], environ: Mapping[str, str], columns: int = 120, rows: int = 40
    ) -> None:
        """Start ``command`` on a terminal of this size."""
        self.screen = _Screen(columns, rows)
        self._stream = pyte.ByteStream(self.screen)
        self._text: str | None = None
        self.sent = b""
        self._end, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        with _heeded_signals():
            self._program = subprocess.Popen(
                command, stdin=theirs, stdout=theirs, stderr=theirs, env=dict(environ),
                start_new_session=True, close_fds=True,
            )  # fmt: skip
        os.close(theirs)

    def __enter__(self) -> PseudoTerminal:
        """Return the terminal."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End the program, if it still runs."""
        if self._program.poll() is None:
            self._program.send_signal(signal.SIGKILL)
        self._program.wait()
        os.close(self._end)

    @property
    def text(self) -> str:
        """What the screen shows, without blanks at the ends of lines."""
        if self._text is None:
            self._text = "\n".join(line.rstrip() for line in self.screen.display)
        return self._text

    def press(self, *keys: str) -> None:
        """Press keys, by name or letter by letter."""
        for key in keys:
            os.write(self._end, KEYS.get(key, key).encode())

    def until(self, *wanted: str, gone: str = "") -> str:
        """Wait until the screen shows every text and no longer ``gone``; return the screen."""
        self.until_true(
            lambda: (
                all(words in self.text for words in wanted) and not (gone and gone in self.text)
            ),
            f"{wanted}, gone: {gone!r}",
        )
        return self.text

    def until_true(self, condition: Callable[[], bool], words: str) -> None:
        """Wait for a condition on the screen; ``words`` say what was waited for."""
        deadline = time.monotonic() + PATIENCE
        while not condition():
            is_open = self._read()
            # The last of what it wrote may come with the end of its side.
            if (time.monotonic() > deadline or not is_open) and not condition():
                raise AssertionError(f"waited for {words}:\n{self.text}")

    def background(self, words: str, column: int) -> str:
        """Return the background colour of a cell in the first line that begins with ``words``."""
        for row, line in enumerate(self.screen.display):
            if line.strip().startswith(words):
                return str(self.screen.buffer[row][column].bg)
        return ""

    def end(self, how: signal.Signals) -> None:
        """Send the program a signal."""
        self._program.send_signal(how)

    def ended(self) -> int:
        """Wait until the program ends; return its exit code."""
        deadline = time.monotonic() + PATIENCE
        while self._program.poll() is None:
            self._read()
            assert time.monotonic() < deadline, self.text
        while self._read() and select.select([self._end], [], [], 0)[0]:
            pass
        return self._program.returncode

    def _read(self) -> bool:
        """Take in all that the program has written; false once it has closed its side."""
        patience = _GLANCE
        while select.select([self._end], [], [], patience)[0]:
            try:
                written = os.read(self._end, 65536)
            except OSError:  # Linux says so when the other side is closed
                return False
            if not written:
                return False
            self.sent += written
            self._stream.feed(written)
            self._text, patience = None, 0
        return True
