"""The bottom line: the few keys that matter, or what is being typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.style import Style
from textual.widget import Widget

from pottyboard.board.control.actions import Action, footer, keys_of, shown

_GAP: Final = "  "


class KeyBar(Widget):
    """Shows as many keys as fit, the most needed first; each can be clicked.

    While something is typed or selected it shows that in their place.
    """

    def __init__(self, keymap: Mapping[str, str]) -> None:
        """Show the footer's actions with the keys that they have under ``keymap``."""
        super().__init__(id="keys")
        self._keymap = keymap
        self._prompt = ""

    def prompt(self, words: str) -> None:
        """Show a prompt instead of the keys; the keys again if it is empty."""
        if words != self._prompt:
            self._prompt = words
            self.set_class(bool(words), "-prompt")
            self.refresh()

    def render(self) -> Content:
        """Return the line for the present width."""
        width = self.size.width
        if self._prompt:
            return Content(f" {self._prompt}").truncate(width, ellipsis=True)
        return keys_line(width, self._keymap)


def keys_line(width: int, keymap: Mapping[str, str]) -> Content:
    """Return the keys of the footer that fit into ``width`` cells; the last one always does.

    A blank goes before and after them where there is room for it.
    """
    *actions, last = (action for action in footer() if keys_of(action, keymap))
    shown_actions: list[Action] = []
    room = width - _cells(last, keymap)
    for action in actions:
        room -= _cells(action, keymap) + len(_GAP)
        if room < 0:
            break
        shown_actions.append(action)
    line = Content(_GAP).join(_piece(action, keymap) for action in (*shown_actions, last))
    return Content.assemble(" ", line, " ") if line.cell_length + 2 <= width else line


def _cells(action: Action, keymap: Mapping[str, str]) -> int:
    return cell_len(_piece(action, keymap).plain)


def _piece(action: Action, keymap: Mapping[str, str]) -> Content:
    click = Style.from_meta({"@click": action.call})
    key = shown(keys_of(action, keymap)[0])
    return Content.assemble((key, "bold"), f" {action.words}").stylize(click)
