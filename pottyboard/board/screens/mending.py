"""What mends entries: select one by its row, correct it, delete it, take the last change back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from textual.screen import Screen

from pottyboard.board.control.actions import BY_ID, key_words
from pottyboard.board.control.entries import Entries
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.model.events import Event
from pottyboard.core.view.situation import Situation
from pottyboard.store import StoreError


class MendingScreen(Screen[Any]):
    """A screen with rows of entries, one of them selectable; the subclass shows them.

    Everything that a person wrote reaches the screen as plain text.
    """

    AUTO_FOCUS = ""

    def __init__(self, entries: Entries, keymap: Mapping[str, str], id: str) -> None:
        """Mend ``entries``; ``keymap`` names the keys in messages."""
        super().__init__(id=id)
        self.entries = entries
        self.keymap = keymap
        self.chosen = ""

    @property
    def situation(self) -> Situation:
        """The situation whose timeline is shown."""
        return self.entries.situation

    def show(self) -> None:
        """Present the situation and the selection."""
        raise NotImplementedError

    def say(self, words: str, *, wrong: bool = False) -> None:
        """Show a short message in place of the one before."""
        self.app.clear_notifications()
        self.app.notify(
            one_line(words, 400), severity="error" if wrong else "information", markup=False
        )

    def change(self, work: Callable[[], str], *, can_undo: bool = True) -> None:
        """Do ``work``, which saves and returns what it saved, and say so, or why it was refused."""
        self.chosen = ""
        try:
            said = work()
        except (ValueError, StoreError) as error:
            self.say(str(error), wrong=True)
        else:
            undo = key_words(BY_ID["undo"], self.keymap)
            self.say(f"{said} {undo} takes it back." if can_undo else said)
        self.show()

    def action_undo(self) -> None:
        """Take back the last change."""
        self.change(self.entries.undo, can_undo=False)

    def action_choose(self, step: int) -> None:
        """Select the entry before or after the selected one; the last one to begin with.

        On a day of the past, going down begins with the first.
        """
        entries = [slot.event.id for slot in self.situation.timeline if slot.event is not None]
        if not entries:
            self.say(f"Nothing is logged {'on this day' if self.situation.is_past else 'today'}.")
        elif self.chosen in entries:
            at = entries.index(self.chosen) + step
            self.chosen = entries[min(max(at, 0), len(entries) - 1)]
        else:
            self.chosen = entries[0 if self.situation.is_past and step > 0 else -1]
        self.show()

    def action_correct(self) -> None:
        """Open the selected entry for correction."""
        event = self._chosen_event()
        if event is None:
            return
        from pottyboard.board.dialogs.correct import CorrectDialog

        def closed(changes: dict[str, Any] | None) -> None:
            if changes:
                self.change(lambda: self.entries.correct(event.id, changes))

        dialog = CorrectDialog(event, self.situation.settings, self.entries.now)
        self.app.push_screen(dialog, closed)

    def action_delete(self) -> None:
        """Delete the selected entry; undo brings it back."""
        event = self._chosen_event()
        if event is not None:
            self.change(lambda: self.entries.delete(event.id))

    def _chosen_event(self) -> Event | None:
        event = self.entries.find(self.chosen) if self.chosen else None
        if event is None:
            back, on = (key_words(BY_ID[name], self.keymap) for name in ("earlier", "later"))
            self.say(f"Select an entry first, with {back} or {on}.")
        return event
