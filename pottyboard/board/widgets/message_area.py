"""A few lines for a message that is typed or pasted."""

from __future__ import annotations

import re
from typing import Final

from textual.widgets import TextArea
from textual.widgets.text_area import Edit, EditResult

from pottyboard.board.text.safe_text import typeable

_NEW_LINE: Final = re.compile("\r\n?|[\n\u2028\u2029]")


class MessageArea(TextArea):
    """A text of several lines whose cursor stands still, and into which only what shows gets in."""

    def __init__(self, id: str) -> None:
        """Begin empty."""
        super().__init__(id=id, compact=True, highlight_cursor_line=False)
        self.cursor_blink = False

    def edit(self, edit: Edit) -> EditResult:
        """Make one change: typing, pasting and deleting all come here.

        A terminal may paste a new line as a carriage return.
        """
        edit.text = "\n".join(typeable(line) for line in _NEW_LINE.split(edit.text))
        return super().edit(edit)

    def go_to(self, line: int, column: int) -> None:
        """Put the cursor on a line and column, both from 1."""
        row = min(line, self.document.line_count) - 1
        self.move_cursor((row, min(column - 1, len(self.document.get_line(row)))))
