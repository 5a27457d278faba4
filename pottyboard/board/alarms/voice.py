"""The one way to the terminal for sequences that no widget draws.

The terminal library draws by itself and offers a bell, but no way to write a sequence of one's own;
its driver, which writes all there is in order, may be replaced. So the board's driver is the
library's own, and hands its ``write`` to a :class:`Voice` while it is in charge of the terminal.
What the app says from its own loop then stands between two frames, never within one.
"""

from __future__ import annotations

from collections.abc import Callable

from textual.driver import Driver

from pottyboard.board.alarms.sequences import SAVE_TITLE, restore_title, window_title


class Voice:
    """Writes sequences to the terminal, and gives the window its name back at the end."""

    def __init__(self) -> None:
        """Be silent until a driver is in charge of a terminal."""
        self._write: Callable[[str], None] | None = None
        self._title = ""

    def over(self, base: type[Driver]) -> type[Driver]:
        """Return ``base`` as a driver that this voice speaks through."""
        voice = self

        class Speaking(base):  # type: ignore[valid-type, misc]
            def start_application_mode(self) -> None:
                super().start_application_mode()
                if not self.is_web:
                    voice._begin(self.write)

            def stop_application_mode(self) -> None:
                voice._end()
                super().stop_application_mode()

        return Speaking

    def say(self, sequence: str) -> None:
        """Write a whole sequence."""
        if self._write is not None and sequence:
            self._write(sequence)

    def name_window(self, text: str) -> None:
        """Name the window, with an empty text give its old name back; nothing if it is so."""
        if text == self._title:
            return
        if not text:
            self.say(restore_title())
        else:
            self.say(window_title(text) if self._title else SAVE_TITLE + window_title(text))
        self._title = text

    def _begin(self, write: Callable[[str], None]) -> None:
        self._write, title, self._title = write, self._title, ""
        self.name_window(title)

    def _end(self) -> None:
        """Give the name back; it is taken again if the board comes back from the background."""
        title = self._title
        self.name_window("")
        self._write, self._title = None, title
