"""What every key of the Day screen needs: minutes ago, saving and asking."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any, ClassVar, Final, NamedTuple

from textual import events
from textual.binding import BindingType

from pottyboard.board.control.actions import bindings
from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.mending import MendingScreen
from pottyboard.core.model.events import KINDS, Event
from pottyboard.core.model.localtime import TimeError

if TYPE_CHECKING:
    from pottyboard.board.dialogs.questions import Ask

_MOST_DIGITS: Final = 4
_MOST_AGO: Final = 24 * 60
_SLIP: Final = 3.0
"""Seconds within which the same letter again is more likely a slip than a second entry."""


class Just(NamedTuple):
    """The entry that one key has just saved: its kind, its time, and when by the steady clock."""

    kind: str
    at: datetime
    tick: float


class LoggingScreen(MendingScreen):
    """Turns keys into entries; what that looks like is the business of the subclass.

    Everything that a person wrote reaches the screen as plain text.
    """

    BINDINGS: ClassVar[list[BindingType]] = [*bindings()]

    def __init__(self, entries: Entries, keymap: Mapping[str, str]) -> None:
        """Write to ``entries``; ``keymap`` names the keys in messages."""
        super().__init__(entries, keymap, "day")
        self.ago = ""
        self._just: Just | None = None

    # --- Minutes ago ------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Collect digits: the minutes ago of the next entry."""
        event.set_sender(self)
        if event.character is not None and event.character in "0123456789":
            event.stop()
            self.ago = (self.ago + event.character).lstrip("0")
            self.show()

    @property
    def is_too_long_ago(self) -> bool:
        """Whether more minutes are typed than an entry may lie back."""
        return len(self.ago) > _MOST_DIGITS or int(self.ago or 0) > _MOST_AGO

    def action_shorten(self) -> None:
        """Take back one digit."""
        self.ago = self.ago[:-1]
        self.show()

    def action_clear(self) -> None:
        """Forget the digits, then the selection."""
        if self.ago:
            self.ago = ""
        else:
            self.chosen = ""
        self.show()

    # --- Saving -----------------------------------------------------------------------------------

    def change(self, work: Callable[[], str], *, can_undo: bool = True) -> None:
        """Do ``work``, which saves and returns what it saved, and say so, or why it was refused."""
        self._just = None
        super().change(work, can_undo=can_undo)

    def make(self, kind: str, **details: Any) -> Event:
        """Return an entry that happened the typed minutes ago; the digits are used up.

        Raises ``TimeError`` for more than a day: longer ago needs a date, which a correction takes.
        """
        if self.is_too_long_ago:
            self.ago = ""
            raise TimeError("More than 24 h ago, nothing saved: type the minutes again.")
        ago, self.ago = int(self.ago or 0), ""
        return self.entries.make(kind, ago, **details)

    def save(self, event: Event) -> None:
        """Save an entry."""
        self.change(lambda: self.entries.save(event))

    def save_once(self, kind: str, **details: Any) -> None:
        """Save the entry of one key, unless the key has just been pressed: then ask for it again.

        Typed minutes say that another entry is meant.
        """
        just, self._just = self._just, None
        if just is not None and just.kind == kind and not self.ago and self._is_soon_after(just):
            at = self.situation.settings.clock(just.at)
            words = KINDS[kind].words
            self.say(f"Just saved {words} at {at}: press again to save another.")
            return
        event = self.make(kind, **details)
        self.save(event)
        self._just = Just(kind, event.at, self.entries.ticks())

    def _is_soon_after(self, just: Just) -> bool:
        """Whether both clocks say so: the steady one may stand still while a laptop sleeps."""
        by_wall = (self.entries.now() - just.at).total_seconds()
        return self.entries.ticks() - just.tick < _SLIP and by_wall < _SLIP

    def ask(
        self,
        heading: str,
        asks: tuple[Ask, ...],
        then: Callable[[dict[str, str]], None],
        otherwise: Callable[[], None] | None = None,
    ) -> None:
        """Ask, then go on with the answers; after escape do what is to be done ``otherwise``."""
        from pottyboard.board.dialogs.ask import AskDialog

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None:
                then(answers)
            elif otherwise is not None:
                otherwise()

        self.show()
        glyphs = self.situation.settings.board.glyphs
        self.app.push_screen(AskDialog(heading, asks, glyphs), closed)
