"""The top line of every screen: what is shown, and how to reach the page for an emergency."""

from __future__ import annotations

from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.style import Style
from textual.widget import Widget

from pottyboard.board.control.standing import standing_of
from pottyboard.board.keys.actions import EMERGENCY
from pottyboard.board.keys.keymap import keys_of, shown
from pottyboard.board.keys.keymapped import keymap_of
from pottyboard.board.text.safe_text import padded
from pottyboard.board.text.words import standing


class TopLine(Widget):
    """Shows one text at the left end and one at the right, and behind it the key for an emergency.

    The right end is never cut; texts after the second are shorter ones for the left end. In place
    of the second one, ``rights`` may give right ends of several lengths, the longest first.
    """

    def __init__(self, ends: tuple[str, ...], rights: tuple[str, ...] = ()) -> None:
        """Show the ends from the beginning."""
        super().__init__(id="top")
        self._ends, self._rights = ends, rights

    def show(self, ends: tuple[str, ...], rights: tuple[str, ...] = ()) -> None:
        """Show other ends; does nothing if they are the same."""
        if (ends, rights) != (self._ends, self._rights):
            self._ends, self._rights = ends, rights
            self.refresh()

    def render(self) -> Content:
        """Return the line for the present width."""
        emergency = self._emergency()
        left, right, *shorter = self._ends
        free = self.size.width - emergency.cell_length - 4
        least = min(map(cell_len, (left, *shorter)))
        rights = self._rights or (right,)
        right = next((text for text in rights if cell_len(text) + least < free), rights[-1])
        room = free - cell_len(right)
        text = next((text for text in (left, *shorter) if cell_len(text) < room), left)
        return Content.assemble(f" {padded(text, room)} {right} ", emergency, " ")

    def _emergency(self) -> Content:
        keys = keys_of(EMERGENCY, keymap_of(self.app))
        if not keys:
            return Content("")
        click = Style.from_meta({"@click": EMERGENCY.call})
        return (
            Content.assemble(f" {shown(keys[0])} {EMERGENCY.words} ")
            .stylize("reverse")
            .stylize(click)
        )


_MARKS: Final = ("due", "late")


class PageTop(TopLine):
    """The top line of a page: its right end says how things stand on the board under it."""

    def __init__(self, ends: tuple[str, ...], *, names_emergency: bool = True) -> None:
        """Show the ends from the beginning; lines for typing take the key of an emergency."""
        super().__init__(ends)
        self._page, self._names_emergency = ends, names_emergency

    def on_mount(self) -> None:
        """Say how things stand from the beginning."""
        self.look()

    def show(self, ends: tuple[str, ...], rights: tuple[str, ...] = ()) -> None:
        """Show other ends of the page."""
        self._page = ends
        self.look()

    def _emergency(self) -> Content:
        return super()._emergency() if self._names_emergency else Content("")

    def look(self) -> None:
        """Say how things stand by now."""
        now = standing_of(self.app)
        if now is None:
            super().show(self._page)
            return
        left, right, *shorter = self._page
        for state in _MARKS:
            self.set_class(now.next_break.state == state, f"-{state}")
        said = standing(now)
        whole = [f"{right}   {said[1]}", said[1], said[2]] if right else said[1:]
        super().show((left, said[-1], *shorter), tuple(whole))
