"""The frame around a dialog: its upper edge says how things stand under it."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.content import Content
from textual.reactive import reactive

from pottyboard.board.control.standing import standing_of
from pottyboard.board.keys.actions import EMERGENCY
from pottyboard.board.keys.keymap import key_words
from pottyboard.board.keys.keymapped import keymap_of
from pottyboard.board.text import words

_CORNERS = 8
"""Cells of the upper edge that no text takes."""


class DialogFrame(VerticalScroll, can_focus=False):
    """Holds a dialog; its edge names state, next break and, if it ``names_emergency``, its key.

    A line for typing takes the key of an emergency itself.
    """

    names_emergency: reactive[bool] = reactive(False)

    def watch_names_emergency(self) -> None:
        """Write the edge anew."""
        self.look()

    def on_mount(self) -> None:
        """Write the edge from the beginning."""
        self.look()

    def on_resize(self) -> None:
        """Write what the new width has room for."""
        self.look()

    def look(self) -> None:
        """Write the edge anew as things stand."""
        keys, now = key_words(EMERGENCY, keymap_of(self.app)), standing_of(self.app)
        emergency = f"{keys} {EMERGENCY.words}" if keys and self.names_emergency else ""
        room = (self.outer_size.width or self.app.size.width) - _CORNERS - len(emergency)
        said = "" if now is None else words.fitting(words.standing(now), room)
        title = Content("   ".join(filter(None, (said, emergency)))).markup
        if self.border_title != title:
            self.border_title = title
