"""The top line of every screen: what is shown, and how to reach the page for an emergency."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from rich.cells import cell_len
from textual.content import Content
from textual.style import Style
from textual.widget import Widget

from pottyboard.board.actions import EMERGENCY, keys_of, shown
from pottyboard.board.safe_text import padded

if TYPE_CHECKING:
    from pottyboard.board.app import BoardApp


class TopLine(Widget):
    """Shows one text at the left end and one at the right, and behind it the key for an emergency.

    The right end is never cut; texts after the second are shorter ones for the left end.
    """

    def __init__(self, ends: tuple[str, ...]) -> None:
        """Show the ends from the beginning."""
        super().__init__(id="top")
        self._ends = ends

    def show(self, ends: tuple[str, ...]) -> None:
        """Show other ends; does nothing if they are the same."""
        if ends != self._ends:
            self._ends = ends
            self.refresh()

    def render(self) -> Content:
        """Return the line for the present width."""
        emergency = self._emergency()
        left, right, *shorter = self._ends
        room = self.size.width - cell_len(right) - emergency.cell_length - 4
        text = next((text for text in (left, *shorter) if cell_len(text) < room), left)
        return Content.assemble(f" {padded(text, room)} {right} ", emergency, " ")

    def _emergency(self) -> Content:
        keys = keys_of(EMERGENCY, cast("BoardApp", self.app).keymap)
        if not keys:
            return Content("")
        click = Style.from_meta({"@click": EMERGENCY.call})
        return (
            Content.assemble(f" {shown(keys[0])} {EMERGENCY.words} ")
            .stylize("reverse")
            .stylize(click)
        )
