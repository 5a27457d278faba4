"""The top line of the board: the dog and its day, who is on duty, the clock."""

from __future__ import annotations

from rich.cells import cell_len
from textual.content import Content
from textual.widget import Widget

from pottyboard.board.safe_text import padded


class TopLine(Widget):
    """Shows one text at the left end and one at the right; the right one is never cut."""

    def __init__(self, ends: tuple[str, str]) -> None:
        """Show two ends from the beginning."""
        super().__init__(id="top")
        self._ends = ends

    def show(self, ends: tuple[str, str]) -> None:
        """Show other ends; does nothing if they are the same."""
        if ends != self._ends:
            self._ends = ends
            self.refresh()

    def render(self) -> Content:
        """Return the line for the present width."""
        left, right = self._ends
        return Content(f" {padded(left, self.size.width - cell_len(right) - 3)} {right} ")
