"""What screens have in common: a log to read and to change, and pages of one text that scrolls."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar, Final, NamedTuple

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen, ScreenResultType
from textual.widgets import Static

from pottyboard.board.control.entries import Entries
from pottyboard.board.control.windows import ROOMY_FROM
from pottyboard.board.keys.actions import BY_ID
from pottyboard.board.keys.keymap import shown
from pottyboard.board.keys.keymapped import keymap_of
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.said import in_rows
from pottyboard.board.text.words import name_of
from pottyboard.board.widgets.key_line import Key, KeyLine
from pottyboard.board.widgets.top_line import PageTop
from pottyboard.core.view.situation import Situation
from pottyboard.store import StoreError

_SOON: Final = 0.1
"""Seconds until the next look at what is on its way to the disk."""

_MARGINS: Final = Size(3, 2)
"""What the page leaves free: a blank at either side and the scroll bar; the first and last line."""


class LogScreen(Screen[ScreenResultType]):
    """Shows something of the log of ``entries``, and may change it.

    Everything that a person wrote reaches the screen as plain text.
    """

    def __init__(self, entries: Entries, id: str | None = None, classes: str = "") -> None:
        """Read from ``entries`` and write to it."""
        super().__init__(id=id, classes=classes)
        self.entries = entries

    # --- What a subclass says ---------------------------------------------------------------------

    def look(self) -> None:
        """Work out anew what is shown, where that is more than the situation."""

    def show(self) -> None:
        """Present what was last looked at."""
        raise NotImplementedError

    # --- What it has ------------------------------------------------------------------------------

    @property
    def situation(self) -> Situation:
        """The situation that is shown."""
        return self.entries.situation

    @property
    def glyphs(self) -> GlyphSet:
        """The household's set of glyphs."""
        return self.entries.situation.settings.board.glyphs

    @property
    def keymap(self) -> Mapping[str, str]:
        """The household's keymap."""
        return keymap_of(self.app)

    def arrows(self, *keys: str) -> str:
        """Return arrow keys such as ``up`` for reading."""
        return " ".join(shown(key, ascii_only=self.glyphs == "ascii") for key in keys)

    # --- Doing ------------------------------------------------------------------------------------

    def say(self, words: str, *, wrong: bool = False) -> None:
        """Show a short message in place of the one before; in a low window what fits the rows that
        are free for it, but for a refusal, which stands whole."""
        self.app.clear_notifications()
        line, size = one_line(words, 400), self.app.size
        if not wrong and size.height < ROOMY_FROM:
            line = in_rows(line, size.width)
        self.app.notify(line, severity="error" if wrong else "information", markup=False)

    def change(self, work: Callable[[], str]) -> None:
        """Do ``work``, which saves and returns what it saved, and say so, or why it was refused."""
        try:
            said = work()
        except (ValueError, StoreError) as error:
            self.entries.refuse()
            self.say(str(error), wrong=True)
        else:
            # What is known already of a slow save stands in its place: two messages sent in one
            # breath would both stay.
            if not self._tell_news():
                self.say(said)
        self.look()
        self.show()
        self.follow()

    def action_undo(self) -> None:
        """Take back the last change; ask first where it may be another than was meant."""
        self.if_sure("Undo", self.entries.undo_question(), self.take_back)

    def if_sure(self, heading: str, question: str, work: Callable[[], None]) -> None:
        """Do ``work`` after a ``question`` that is answered by yes; at once where none is asked."""
        if not question:
            work()
            return
        from pottyboard.board.dialogs.ask import AskDialog
        from pottyboard.board.dialogs.asked_entries import SURE, sure_asks

        def closed(answers: dict[str, str] | None) -> None:
            if answers == SURE:
                work()

        self.app.push_screen(AskDialog(heading, sure_asks(question), self.glyphs), closed)

    def take_back(self) -> None:
        """Take back the last change, or the one that was asked about."""
        self.change(self.entries.undo)

    def follow(self) -> None:
        """Say what has become of changes on their way to the disk, as soon as it is known.

        What could not be saved is tried again.
        """
        if self._tell_news():
            self.look()
            self.show()
        if self.entries.is_saving:
            self.set_timer(_SOON, self.follow)

    def _tell_news(self) -> bool:
        """Say what has become of changes that were on their way; return whether there was any."""
        told = False
        for words, wrong in self.entries.news():
            self.say(words, wrong=wrong)
            told = True
        return told


def closing(action: str) -> Binding:
    """Return the binding that closes a page by the key of the action that has opened it."""
    return Binding(BY_ID[action].key, "leave", "close", show=False, id=action)


class PageScreen(LogScreen[ScreenResultType]):
    """Shows a page that a subclass writes, between a top line and a line of keys.

    It shows things as they stand when it opens; escape and q close it.
    """

    AUTO_FOCUS = "#page"
    CSS_PATH: ClassVar = ["../styles/page_screen.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q", "leave", "close", show=False)]

    def __init__(self, entries: Entries) -> None:
        """Look at the log of ``entries``."""
        super().__init__(entries)
        self._was_covered = False
        self.look()

    # --- What a subclass says ---------------------------------------------------------------------

    def ends(self) -> tuple[str, ...]:
        """Return the ends of the top line (see :class:`PageTop`)."""
        raise NotImplementedError

    def page(self, width: int, height: int) -> Content:
        """Return the page for a window with room for ``width`` × ``height`` cells."""
        raise NotImplementedError

    def hints(self) -> Iterator[Key]:
        """Yield the keys of the bottom line after ``esc``, the most needed first."""
        yield from ()

    def in_view(self) -> tuple[int, int] | None:
        """Return the first and the last row that are to stay in view, None if all may scroll."""
        return None

    def titled(self, text: str) -> str:
        """Return ``text`` after the dog's name."""
        settings = self.situation.settings
        return f"{name_of(settings)} {sign('between', settings.board.glyphs)} {text}"

    # --- Showing ----------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Lay out the page, already filled in."""
        yield PageTop(self.ends())
        with VerticalScroll(id="page", classes="-ascii" if self.glyphs == "ascii" else ""):
            yield Static(self._page(self.app.size), id="page-text")
        yield KeyLine(self._keys())

    def on_resize(self, event: events.Resize) -> None:
        """Write for the new size."""
        self.show()

    def on_screen_suspend(self) -> None:
        """Remember that something else lies over the page."""
        self._was_covered = True

    def on_screen_resume(self) -> None:
        """Look again: what lay over the page may have changed something."""
        if self._was_covered:
            self._was_covered = False
            self.look()
            self.show()

    def show(self) -> None:
        """Write the page."""
        self.query_one(PageTop).show(self.ends())
        self.query_one("#page-text", Static).update(self._page(self.size))
        self.query_one(KeyLine).show(self._keys())
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

    def _keys(self) -> tuple[Key, ...]:
        return Key("esc", "back", "screen.leave"), *self.hints()

    # --- Doing ------------------------------------------------------------------------------------

    def action_leave(self) -> None:
        """Go back to what lay under the page."""
        self.dismiss()


UNDO: Final = Binding("u", "undo", "take back", show=False)
"""The key of the pages that take back the last change."""

UNDO_KEY: Final = Key("u", "undo", "screen.undo")
UNDOES: Final = "u takes it back."
"""What such a page says after a change."""


class Written(NamedTuple):
    """A page that is written: its ``lines``, and the first and the last ``row`` of the chosen."""

    lines: list[Content]
    row: int = 0
    last: int = 0


class ChoicePage(PageScreen[ScreenResultType]):
    """A page on which one thing is chosen: the arrows go from one to the next, and keep it in view.

    The subclass writes the page and says how many there are.
    """

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "choose(-1)", "the one before", show=False),
        Binding("down", "choose(1)", "the one after", show=False),
        Binding("pageup", "turn(-1)", "page up", show=False),
        Binding("pagedown,space", "turn(1)", "page down", show=False),
    ]

    def __init__(self, entries: Entries) -> None:
        """Begin with the first."""
        self.at = self._row = self._last = 0
        super().__init__(entries)

    def count(self) -> int:
        """Return how many there are to choose from."""
        raise NotImplementedError

    def write(self, width: int, height: int) -> Written:
        """Return the page for a window with room for ``width`` × ``height`` cells."""
        raise NotImplementedError

    def page(self, width: int, height: int) -> Content:
        """Return the page, and remember where the chosen one stands."""
        self.at = min(self.at, max(0, self.count() - 1))
        lines, self._row, self._last = self.write(width, height)
        return Content("\n").join(lines)

    def in_view(self) -> tuple[int, int]:
        """Return the rows of the chosen one; the whole top of the page with the first."""
        return (0 if self.at == 0 else self._row), self._last

    def choosing(self) -> Iterator[Key]:
        """Yield the hint for the arrows, where there is more than one to choose from."""
        if self.count() > 1:
            yield Key(self.arrows("up", "down"), "others")

    def action_choose(self, step: int) -> None:
        """Go to the one before or after."""
        self.at = min(max(self.at + step, 0), max(0, self.count() - 1))
        self.show()

    def action_turn(self, step: int) -> None:
        """Scroll by a window."""
        page = self.query_one("#page", VerticalScroll)
        page.scroll_relative(y=step * page.scrollable_content_region.height, animate=False)
