"""Today from top to bottom, with one entry selectable."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from pottyboard.board.widgets.timeline_rows import Row, heading, rows
from pottyboard.core.view.situation import Situation


class Timeline(ScrollView, can_focus=False):
    """Today's plan and log, under a heading that stays; keeps now, or the selected entry, in view.

    It scrolls by itself: a third of its height is kept for what comes next.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "timeline--heading",
        "timeline--logged",
        "timeline--accident",
        "timeline--planned",
        "timeline--due",
        "timeline--missed",
        "timeline--chosen",
        "timeline--now",
    }

    class Clicked(Message):
        """A row that shows an entry was clicked."""

        def __init__(self, event_id: str) -> None:
            """Name the entry."""
            super().__init__()
            self.event_id = event_id

    def __init__(self, situation: Situation) -> None:
        """Show ``situation`` as soon as the size is known."""
        ascii_only = situation.settings.board.glyphs == "ascii"
        super().__init__(id="timeline", classes="-ascii" if ascii_only else "")
        self._situation = situation
        self._chosen = ""
        self._rows: tuple[Row, ...] = ()
        self._looks: dict[str, Style] = {}

    @property
    def lines(self) -> tuple[Row, ...]:
        """The rows of today, in view or not."""
        return self._rows

    def show(self, situation: Situation, chosen: str) -> None:
        """Show another situation or selection; repaints only if a row differs."""
        self._situation, self._chosen = situation, chosen
        self._lay_out()

    def on_resize(self, event: events.Resize) -> None:
        """Cut the rows anew for the new width."""
        self._lay_out()

    def _lay_out(self) -> None:
        width = self.scrollable_content_region.width
        if width == 0:
            return
        fresh = rows(self._situation, width, self._chosen)
        if fresh != self._rows:
            self._rows = fresh
            self.virtual_size = Size(width, len(fresh) + 1)
            self.refresh()
        self._keep_in_view()

    def _keep_in_view(self) -> None:
        look = "chosen" if any(row.look == "chosen" for row in self._rows) else "now"
        line = next((at for at, row in enumerate(self._rows) if row.look == look), 0)
        room = self.scrollable_content_region.height - 1
        if look == "now":
            self.scroll_to(y=max(0, line - room * 2 // 3), animate=False, immediate=True)
        elif line < self.scroll_offset.y:
            self.scroll_to(y=line, animate=False, immediate=True)
        elif line >= self.scroll_offset.y + room:
            self.scroll_to(y=line - room + 1, animate=False, immediate=True)

    def render_line(self, y: int) -> Strip:
        """Return one line of the visible part: the heading, then the rows in view."""
        width = self.scrollable_content_region.width
        if y == 0:
            return self._strip(heading(width, self._situation), "heading")
        at = self.scroll_offset.y + y - 1
        if at >= len(self._rows):
            return self._strip(" " * width, "logged")
        return self._strip(self._rows[at].text, self._rows[at].look)

    def _strip(self, text: str, look: str) -> Strip:
        if look not in self._looks:
            component = self.get_component_rich_style(f"timeline--{look}")
            self._looks[look] = self.rich_style + component
        return Strip([Segment(text, self._looks[look])])

    def notify_style_update(self) -> None:
        """Look the styles up anew when the colours change."""
        self._looks.clear()
        super().notify_style_update()

    def on_click(self, event: events.Click) -> None:
        """Select the entry under the mouse."""
        at = self.scroll_offset.y + event.y - 1
        if event.y > 0 and at < len(self._rows) and self._rows[at].event_id:
            self.post_message(self.Clicked(self._rows[at].event_id))
