"""The help: every key, the states and their marks, and where the log is kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from pottyboard.board.control.entries import Entries
from pottyboard.board.dialogs.frame import DialogFrame
from pottyboard.board.keys.actions import EMERGENCY
from pottyboard.board.keys.bindings import binding
from pottyboard.board.keys.handbook import Row, keys, states
from pottyboard.board.keys.keymapped import keymap_of
from pottyboard.board.text.glyphs import GlyphSet, kind_glyph
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.model.events import KINDS


class HelpScreen(ModalScreen[None]):
    """One page that scrolls; any of escape, ? and q closes it."""

    AUTO_FOCUS = "#help-page"
    CSS_PATH = "../styles/help_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,question_mark,q,enter", "leave", "close", show=False),
        binding(EMERGENCY),
    ]

    def __init__(self, entries: Entries) -> None:
        """Describe the keys, and where the log of ``entries`` is kept."""
        super().__init__()
        self._folder = str(entries.dog_log.folder)
        self._glyphs: GlyphSet = entries.settings.board.glyphs

    @property
    def _keymap(self) -> Mapping[str, str]:
        return keymap_of(self.app)

    def compose(self) -> ComposeResult:
        """Lay out the page."""
        with DialogFrame(id="help-page", can_focus=True) as page:
            scroll = "" if self._glyphs == "ascii" else "\u2191 \u2193 "
            page.names_emergency = True
            page.border_subtitle = f"{scroll}scroll, esc closes"
            yield Static(Content("\n").join([*self._lines()][1:]))

    def action_leave(self) -> None:
        """Close the page."""
        self.dismiss(None)

    def _lines(self) -> Iterator[Content]:
        for rows in (keys, states):
            for row in rows(self._keymap, self._glyphs):
                if row.words:
                    yield _line(row)
                else:
                    yield from (Content(""), Content.styled(row.mark, "bold"))
        yield Content("")
        yield Content.styled("Marks on the timeline", "bold")
        marks = [f"{kind_glyph(kind, self._glyphs)} {kind.words}" for kind in KINDS.values()]
        for start in range(0, len(marks), 3):
            yield Content("  " + "".join(f"{mark:20}" for mark in marks[start : start + 3]))
        yield Content("")
        yield Content("To print, in a shell: pottyboard sheet, for a helper; sheet --fridge, for")
        yield Content("those at home; diary, for the vet. Each with --html and a file's name.")
        yield Content(f"The log is kept in {one_line(self._folder, 400)}")
        yield Content("This board plans breaks; it does not diagnose. Ask your vet if in doubt.")


def _line(row: Row) -> Content:
    mark, words = f"{row.mark:12}", f" {row.words:14} "
    return Content.assemble("  ", (mark, "bold"), words, (row.help, "dim"))
