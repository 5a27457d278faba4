"""The page of warnings: what to do, what in the log raised it, and a note that it was seen to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import ClassVar

from textual.binding import Binding, BindingType

from pottyboard.board.dialogs.questions import Ask
from pottyboard.board.screens.base import PageKey
from pottyboard.board.screens.chosen import ChosenPage, Written
from pottyboard.board.screens.warnings_page import page
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.board.widgets.warning_line import not_noted
from pottyboard.core.health.health_views import Warning
from pottyboard.core.model.events import Event


class WarningsScreen(ChosenPage):
    """Shows the warnings, the gravest first; the chosen one is noted by a key and a few words."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n,enter", "note", "note it", show=False),
        Binding("W", "leave", "close", show=False),
    ]

    @property
    def warning(self) -> Warning | None:
        """The chosen warning."""
        warnings = self.situation.warnings
        return warnings[min(self.at, len(warnings) - 1)] if warnings else None

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and how many warnings wait for a note."""
        name = words.name_of(self.situation.settings)
        waiting = len(not_noted(self.situation))
        left = f"{name} {sign('between', self.glyphs)} warnings"
        return left, f"{waiting} not noted" if waiting else "none to note"

    def count(self) -> int:
        """Return how many warnings stand."""
        return len(self.situation.warnings)

    def write(self, width: int, height: int) -> Written:
        """Return the page."""
        return page(self.situation, self.at, width, height)

    def hints(self) -> Iterator[PageKey]:
        """Yield the keys that do something now."""
        if self.warning is not None:
            yield PageKey("n", "note it", "screen.note")
        if self.count() > 1:
            yield self.arrows()
        yield PageKey("u", "undo", "screen.undo")

    def action_note(self) -> None:
        """Ask for a few words, and note the chosen warning with them."""
        from pottyboard.board.dialogs.ask import AskDialog

        warning = self.warning
        if warning is None:
            return
        entry = self.entries.make("noted", about=warning.code)
        ask = Ask("note", "What was done, or who was asked? It may be empty.", read=str.strip)

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None:
                self.change(lambda: self._note(entry, answers["note"]))

        self.app.push_screen(AskDialog("Note the warning", (ask,), self.glyphs), closed)

    def _note(self, entry: Event, note: str) -> str:
        self.entries.begin(replace(entry, note=note))
        return f"Noted. It comes back if it gets worse. {self.undoes}"
