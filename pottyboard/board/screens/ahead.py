"""The page of the weeks after the first two: what was reached, the plan, a relapse, a new round."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Final

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.ahead_page import page
from pottyboard.board.screens.base import PageKey, PageScreen
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.core.review.next_steps import NextSteps, next_steps

_ASKS: Final = "Begin a new round? Press b once more; undo takes it back."


class AheadScreen(PageScreen):
    """One page that scrolls; b, pressed twice, begins a new round, and its own key closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("N", "leave", "close", show=False),
        Binding("b", "begin", "new round", show=False),
        Binding("u", "undo", "undo", show=False),
    ]

    def __init__(self, entries: Entries) -> None:
        """Look ahead from the log of ``entries``."""
        super().__init__(entries)
        self._asked = False
        self._steps = self._look()

    def _look(self) -> NextSteps:
        now, dog_log = self.situation, self.entries.dog_log
        return next_steps(dog_log.settings, dog_log.events, now.now, now)

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and the day of the round."""
        name, number = words.name_of(self.situation.settings), len(self._steps.rounds)
        which = f", round {number}" if number > 1 else ""
        left = f"{name} {sign('between', self.glyphs)} the weeks ahead"
        return left, f"day {self.situation.round_day}{which}"

    def page(self, width: int, height: int) -> Content:
        """Return the page."""
        return page(self._steps, self.situation, width)

    def hints(self) -> Iterator[PageKey]:
        """Yield the keys that do something."""
        yield PageKey("b", "begin a new round", "screen.begin")
        yield PageKey("u", "undo", "screen.undo")

    def action_begin(self) -> None:
        """Ask once, then begin a new round of the programme."""
        if not self._asked:
            self._asked = True
            self.say(_ASKS)
            return
        self._asked = False
        self.change(lambda: self._saved(self.entries.save(self.entries.make("round"))))

    def action_undo(self) -> None:
        """Take back the last change."""
        self._asked = False
        self.change(lambda: self._saved(self.entries.undo()))

    def _saved(self, said: str) -> str:
        self._steps = self._look()
        return said
