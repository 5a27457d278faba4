"""A piece of plain text on the board that repaints only when it changes."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget


class StaticText(Widget):
    """Shows text that never is markup. Its place has a fixed size, so it never moves others."""

    def __init__(self, content: Content, id: str) -> None:
        """Show ``content`` from the beginning."""
        super().__init__(id=id)
        self._content = content

    @property
    def content(self) -> Content:
        """What is shown."""
        return self._content

    def show(self, content: Content) -> None:
        """Show other content; does nothing if text and styles are the same."""
        if not content.is_same(self._content):
            self._content = content
            self.refresh(layout=self.styles.is_auto_height)

    def render(self) -> Content:
        """Return the content."""
        return self._content
