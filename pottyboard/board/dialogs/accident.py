"""The first ten seconds of an accident: what to do now, then questions that may all wait.

The first answer saves the entry, each further one adds to it: whatever ends the dialog, what was
answered is on disk.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import zip_longest
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from pottyboard.board.control.entries import Entries
from pottyboard.board.dialogs.accident_asks import (
    OPEN,
    accident_asks,
    answers_of,
    changes_of,
    first_lines,
    open_words,
)
from pottyboard.board.dialogs.ask import AskDialog
from pottyboard.board.dialogs.frame import DialogFrame
from pottyboard.board.dialogs.questions import Ask, Asking, Choice
from pottyboard.board.text.glyphs import sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.answer_line import AnswerLine
from pottyboard.board.widgets.large_lines import LargeLines, draw
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.store import StoreError

REST_KEY: Final = "r"
"""The key that asks the rest about the accident before, instead of logging a new one."""

_LATELY: Final = timedelta(hours=24)
_FRAME: Final = 6
_ASKS_ROOM: Final = 17
"""Rows that the questions need under the large lines."""
_TIGHT_ROOM: Final = 12
"""The same with two choices in a row and no margin."""


class AccidentDialog(AskDialog):
    """Logs an accident that was noticed when its key was pressed, or asks the rest about one.

    Returns the answers once something is saved (see :attr:`saved`), None otherwise.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("full_stop,tab", "leave", "ask me later", show=False),
    ]

    def __init__(
        self,
        entries: Entries,
        event: Event,
        *,
        several_dogs: bool = False,
    ) -> None:
        """Log ``event``; one that has an ``id`` is on disk already and only completed.

        With ``several_dogs`` in the household, another one may have done it.
        """
        self._entries = entries
        self._settings = entries.situation.settings
        self._several_dogs = several_dogs
        self._event = event
        self._before = self._unfinished()
        self._joined = self._tight = False
        super().__init__("", self._asks(event), self._settings.board.glyphs)
        if event.id:
            self._complete(event)

    @property
    def saved(self) -> Event | None:
        """The entry as it is on disk, None if nothing was answered."""
        return self._event if self._event.id else None

    @property
    def left_open(self) -> tuple[str, ...]:
        """The questions that were not answered."""
        return open_words(self._event, self.asking.asks)

    @property
    def draft_name(self) -> str:
        """What is kept is kept with the entries."""
        return "accident"

    def draft(self) -> dict[str, str]:
        """Keep an accident of which nothing was answered as an open job."""
        if not self.saved:
            self._entries.unsaved = self._event
            self._entries.look()
        return {}

    def _asks(self, event: Event) -> tuple[Ask, ...]:
        places = self._entries.places()
        return accident_asks(self._settings, places, event.at, several_dogs=self._several_dogs)

    def _unfinished(self) -> Event | None:
        """Return the last accident if it was lately and has open questions."""
        last = next((e for e in reversed(self._entries.events) if e.row.is_accident), None)
        if last is None or self._event.at - last.at > _LATELY:
            return None
        return last if open_words(last, self._asks(last)) else None

    def _complete(self, event: Event) -> None:
        """Ask only what an entry that is on disk leaves open."""
        self._event, self._before, self._joined = event, None, False
        asks = self._asks(event)
        self.asking = Asking(asks, answers_of(event, asks))

    # --- Layout -----------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Lay out what to do now above the questions."""
        with DialogFrame(id="dialog"):
            yield LargeLines(first_lines(None), self.glyphs, "accident-first")
            yield Static(id="dialog-heading")
            yield Static(id="dialog-asks")
            yield AnswerLine(id="dialog-line")
            yield Static(id="dialog-problem")
            yield Static(id="dialog-keys")

    def on_resize(self, event: events.Resize) -> None:
        """Draw the large lines for the new size, and the choices beside it."""
        self._show_first()
        if self.asking.current is not None:
            self.show_lines(self.asking.current)

    def _show_first(self) -> None:
        """Draw what to do now as large as there is room, which the questions leave if need be."""
        lines, size = first_lines(self._event.found), self.app.size
        width, plain = size.width - _FRAME, len(lines)
        drawn = draw(lines, width, max(plain, size.height - _ASKS_ROOM), self.glyphs)
        close = draw(lines, width, max(plain, size.height - _TIGHT_ROOM), self.glyphs)
        self._tight = len(drawn) == plain < len(close)
        first = self.query_one(LargeLines)
        first.show(lines)
        first.styles.height = len(close if self._tight else drawn)
        self.set_class(self._tight, "-tight")

    # --- Keys -------------------------------------------------------------------------------------

    def take(self, key: str) -> bool:
        """Take a one-key answer; at first also whether it was seen, or the accident before."""
        ask = self.asking.current
        if ask is not None and ask.name == "kind" and not self.saved:
            found = self.asking.asks[1]
            seen = next((choice for choice in found.choices if choice.key == key), None)
            if seen is not None:
                self.go_on(Asking(self.asking.asks, {found.name: seen.value}))
                return True
            if key == REST_KEY and self._before is not None:
                self._complete(self._before)
                self.show_asks()
                return True
        return super().take(key)

    def action_leave(self) -> None:
        """Leave the line for typing, or the dialog: what was answered stays saved."""
        ask = self.asking.current
        if self.typing and ask is not None and ask.choices:
            super().action_leave()
        else:
            if not self.saved:
                self._drop()
            self.dismiss(dict(self.asking.answers) if self.saved else None)

    def _drop(self) -> None:
        """Let go of an accident that was begun, now that it is saved or is none."""
        if self._entries.unsaved is not None:
            self._entries.unsaved = None
            self._entries.look()

    def action_back(self) -> None:
        """Return to the question before."""
        if self.asking.answers:
            super().action_back()

    # --- Saving and showing -----------------------------------------------------------------------

    def go_on(self, asking: Asking) -> None:
        """Save what was answered, then ask the next question."""
        try:
            self._save(asking)
        except (ValueError, StoreError) as error:
            self.show_problem(str(error))
            return
        super().go_on(asking)

    def _save(self, asking: Asking) -> None:
        changes = changes_of(self._event, asking.asks, asking.answers)
        if not self._event.id:
            self._drop()
            self._event = self._entries.begin(replace(self._event, **changes))
        elif changes:
            self._event = self._entries.complete(self._event.id, changes, joined=self._joined)
        else:
            return
        self._joined = True

    def show_asks(self) -> None:
        """Show the heading and what to do now, then the question."""
        at = self._settings.clock(self._event.at)
        if self.saved:
            done, entry = sign("done", self.glyphs), describe(self._event, self._settings)
            heading = f"{done} saved: {at} {one_line(entry, 160)}"
        else:
            heading = f"Accident, {at}"
        self.query_one("#dialog-heading", Static).update(Content(heading))
        self._show_first()
        super().show_asks()

    def lines(self, current: Ask) -> Iterator[Content]:
        """Yield the question with its choices, and how many come after it."""
        yield Content.styled(f"{sign('chosen', self.glyphs)} {current.words}", "bold")
        yield from self.choices(current)

    def choices(self, ask: Ask) -> Iterator[Content]:
        """Yield the rows of choices, two beside each other where room is scarce."""
        choices = list(self._choices(ask))
        if not self._tight:
            yield from choices
            return
        half = (self.app.size.width - _FRAME) // 2
        for left, right in zip_longest(choices[::2], choices[1::2], fillvalue=Content("")):
            gap = " " * (half - left.cell_length)
            yield Content.assemble(left, gap, right) if gap else left
            if not gap:
                yield right

    def _choices(self, ask: Ask) -> Iterator[Content]:
        """Yield the choices; at first also those of the next question and the accident before."""
        yield from super().choices(ask)
        if ask.name != "kind" or self.saved:
            return
        for choice in self.asking.asks[1].choices:
            yield self.choice(choice, default=False)
        if self._before is not None:
            at = self._settings.clock(self._before.at)
            yield self.choice(
                Choice(REST_KEY, OPEN, f"the other questions about {at}"), default=False
            )

    def keys(self, ask: Ask) -> str:
        """Return the line that says which keys there are."""
        if self.typing:
            return "enter saves, esc back"
        if not self.saved:
            return "one key saves, esc saves nothing"
        return "enter skips, backspace back, esc: ask me later"
