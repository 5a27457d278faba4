"""The Emergency page, from anywhere on the board: the signs, and to phone a vet now."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.screens.base import PageKey, PageScreen
from pottyboard.board.screens.emergency_page import page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign


class EmergencyScreen(PageScreen):
    """Says what to do; its own key, escape and q close it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("exclamation_mark", "leave", "close", show=False),
    ]

    def ends(self) -> tuple[str, ...]:
        """Return the dog and the clock."""
        name, clock = words.name_of(self.situation.settings), words.title(self.situation)[1]
        return f"{name} {sign('between', self.glyphs)} emergency", clock

    def page(self, width: int, height: int) -> Content:
        """Return the signs and what the log can tell the vet."""
        return page(self.situation, width, height)

    def hints(self) -> Iterator[PageKey]:
        """Yield no more than the way back."""
        yield from ()
