"""A screen with rows of entries: select one, correct it, delete it, take the last change back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual import events, on
from textual.screen import ScreenResultType

from pottyboard.board.control.entries import Entries
from pottyboard.board.control.typed import TypedTime
from pottyboard.board.keys.actions import BY_ID
from pottyboard.board.keys.keymap import key_words
from pottyboard.board.screens.base import LogScreen
from pottyboard.board.widgets.timeline import Timeline
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event


class EditableScreen(LogScreen[ScreenResultType]):
    """Mends the entries of the timeline of its situation, one of them selected at a time."""

    AUTO_FOCUS = ""

    def __init__(self, entries: Entries, id: str, classes: str = "") -> None:
        """Begin without a selection."""
        super().__init__(entries, id, classes)
        self.chosen = ""

    def change(self, work: Callable[[], str], *, can_undo: bool = True) -> None:
        """Do ``work`` as any screen does, forget the selection, and name the key that undoes it."""
        self.chosen = ""
        undo = key_words(BY_ID["undo"], self.keymap)
        super().change(lambda: f"{work()} {undo} takes it back." if can_undo else work())

    @property
    def typed(self) -> TypedTime:
        """The digits before a letter."""
        raise NotImplementedError

    def on_key(self, event: events.Key) -> None:
        """Collect digits: the time of the next entry."""
        if event.character is not None and event.character in "0123456789":
            event.stop()
            self.app.clear_notifications()  # they lie where the time is told that is being typed
            self.typed.type(event.character)
            self.show()

    def action_shorten(self) -> None:
        """Take back one digit."""
        self.typed.shorten()
        self.show()

    @property
    def chosen_words(self) -> str:
        """The selected entry, and the keys that mend it; empty without one."""
        event = self.entries.find(self.chosen) if self.chosen else None
        if event is None:
            return ""
        settings = self.situation.settings
        correct, delete = (key_words(BY_ID[name], self.keymap) for name in ("correct", "delete"))
        entry = f"{settings.clock(event.at)} {describe(event, settings)}"
        return f"{correct} corrects, {delete} deletes: {entry}"

    @on(Timeline.Clicked)
    def select_or_open(self, clicked: Timeline.Clicked) -> None:
        """Select an entry by a click; a second click opens it."""
        if clicked.event_id == self.chosen:
            self.action_correct()
        else:
            self._choose(clicked.event_id)
            self.show()

    def take_back(self) -> None:
        """Take back the last change, and name the key that brings it back."""
        redo = key_words(BY_ID["redo"], self.keymap)
        self.change(lambda: f"{self.entries.undo()} {redo} brings it back.", can_undo=False)

    def action_redo(self) -> None:
        """Take the last undo back."""
        self.change(self.entries.redo)

    def action_choose(self, step: int) -> None:
        """Select the entry before or after the selected one; the last one to begin with.

        On a day of the past, going down begins with the first.
        """
        entries = [slot.event.id for slot in self.situation.timeline if slot.event is not None]
        if not entries:
            self.say(f"Nothing is logged {'on this day' if self.situation.is_past else 'today'}.")
        elif self.chosen in entries:
            at = entries.index(self.chosen) + step
            self._choose(entries[min(max(at, 0), len(entries) - 1)])
        else:
            self._choose(entries[0 if self.situation.is_past and step > 0 else -1])
        self.show()

    def _choose(self, event_id: str) -> None:
        """Select an entry; messages lie where it is told which, and go."""
        self.app.clear_notifications()
        self.chosen = event_id

    def action_correct(self) -> None:
        """Open the selected entry for correction."""
        event = self._chosen_event()
        if event is None:
            return
        from pottyboard.board.dialogs.correct import CorrectDialog

        def closed(changes: dict[str, Any] | None) -> None:
            if changes:
                self.change(lambda: self.entries.correct(event.id, changes, event))

        dialog = CorrectDialog(event, self.situation.settings, self.entries.now)
        self.app.push_screen(dialog, closed)

    def action_delete(self) -> None:
        """Delete the selected entry, and ask first as an undo does; undo brings it back."""
        event = self._chosen_event()
        if event is None:
            return

        def delete() -> None:
            self.change(lambda: self.entries.delete(event.id))

        self.if_sure("Delete", self.entries.delete_question(event), delete)

    def _chosen_event(self) -> Event | None:
        event = self.entries.find(self.chosen) if self.chosen else None
        if event is None:
            back, on = (key_words(BY_ID[name], self.keymap) for name in ("earlier", "later"))
            self.say(f"Select an entry first, with {back} or {on}.")
        return event
