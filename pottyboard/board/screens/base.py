"""A page over the board: one text that scrolls, between a top line and a line of keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import ClassVar, Final, NamedTuple

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.style import Style

from pottyboard.board.control.entries import Entries
from pottyboard.board.text.glyphs import GlyphSet
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.static_text import StaticText
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.core.view.situation import Situation
from pottyboard.store import StoreError

_MARGINS: Final = Size(3, 2)
"""What the page leaves free: a blank at either side and the scroll bar; the first and last line."""

_GAP: Final = "  "


class PageKey(NamedTuple):
    """A key in the bottom line: how it reads, what it does, and what Textual runs on a click."""

    key: str
    words: str
    call: str = ""


class PageScreen(Screen[None]):
    """Shows what a subclass writes, as things stand; escape and q close it."""

    AUTO_FOCUS = "#page"
    CSS_PATH: ClassVar = ["../styles/page_screen.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q", "leave", "close", show=False)]

    def __init__(self, entries: Entries) -> None:
        """Read from ``entries`` and write to it."""
        super().__init__()
        self.entries = entries

    # --- What a subclass says ---------------------------------------------------------------------

    def ends(self) -> tuple[str, ...]:
        """Return the ends of the top line (see :class:`TopLine`)."""
        raise NotImplementedError

    def page(self, width: int, height: int) -> Content:
        """Return the page for a window with room for ``width`` × ``height`` cells."""
        raise NotImplementedError

    def hints(self) -> Iterator[PageKey]:
        """Yield the keys of the bottom line after ``esc``, the most needed first."""
        raise NotImplementedError

    def in_view(self) -> tuple[int, int] | None:
        """Return the first and the last row that are to stay in view, None if all may scroll."""
        return None

    # --- What it has ------------------------------------------------------------------------------

    @property
    def situation(self) -> Situation:
        """The situation as last looked at."""
        return self.entries.situation

    @property
    def glyphs(self) -> GlyphSet:
        """The household's set of glyphs."""
        return self.situation.settings.board.glyphs

    # --- Showing ----------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Lay out the page, already filled in."""
        size = self.app.size
        yield TopLine(self.ends())
        with VerticalScroll(id="page", classes="-ascii" if self.glyphs == "ascii" else ""):
            yield StaticText(self._page(size), "page-text")
        yield StaticText(self._keys(size.width), "page-keys")

    def on_mount(self) -> None:
        """Take away a message that was about what lies under the page."""
        self.app.clear_notifications()

    def on_resize(self, event: events.Resize) -> None:
        """Write for the new size."""
        self.show(event.size)

    def on_screen_resume(self) -> None:
        """Look again: what lay over the page may have changed something."""
        self.show()

    def show(self, size: Size | None = None) -> None:
        """Present the situation; what has not changed is not painted again."""
        size = self.size if size is None else size
        self.query_one(TopLine).show(self.ends())
        self.query_one("#page-text", StaticText).show(self._page(size))
        self.query_one("#page-keys", StaticText).show(self._keys(size.width))
        self.call_after_refresh(self._keep_in_view)

    def _keep_in_view(self) -> None:
        wanted, page = self.in_view(), self.query_one("#page", VerticalScroll)
        if wanted is None:
            return
        first, last = wanted
        rows = page.scrollable_content_region.height
        if first < page.scroll_y or last - first >= rows:
            page.scroll_to(y=first, animate=False)
        elif last >= page.scroll_y + rows:
            page.scroll_to(y=last - rows + 1, animate=False)

    def _page(self, size: Size) -> Content:
        return self.page(size.width - _MARGINS.width, size.height - _MARGINS.height)

    def _keys(self, width: int) -> Content:
        """Return as many keys as fit."""
        line = Content(" ")
        for piece in (PageKey("esc", "back", "screen.leave"), *self.hints()):
            text = Content.assemble((piece.key, "bold"), f" {piece.words}")
            if piece.call:
                text = text.stylize(Style.from_meta({"@click": piece.call}))
            if line.cell_length + text.cell_length > width:
                break
            line = Content.assemble(line, text, _GAP)
        return line

    # --- Doing ------------------------------------------------------------------------------------

    def say(self, words: str, *, wrong: bool = False) -> None:
        """Show a short message in place of the one before."""
        self.app.clear_notifications()
        self.app.notify(
            one_line(words, 400), severity="error" if wrong else "information", markup=False
        )

    def change(self, work: Callable[[], str]) -> None:
        """Do ``work``, which saves and returns what it saved, and say so, or why it was refused."""
        try:
            said = work()
        except (ValueError, StoreError) as error:
            self.say(str(error), wrong=True)
        else:
            self.say(said)
        self.show()

    def action_leave(self) -> None:
        """Go back to what lay under the page."""
        self.dismiss(None)
