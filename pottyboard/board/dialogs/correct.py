"""The dialog that corrects one entry."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, ClassVar, Final

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from pottyboard.board.control.drafts import draft_for
from pottyboard.board.control.entries import Clock
from pottyboard.board.dialogs.corrections import changes_from, lines_for, texts_of
from pottyboard.board.dialogs.frame import DialogFrame
from pottyboard.board.text.glyphs import sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.form import Form
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.settings import Settings

_KEYS: Final = "up and down move, enter on the last line or ctrl+s saves, esc cancel"


class CorrectDialog(ModalScreen[dict[str, Any] | None]):
    """Shows an entry's fields as text; returns what was changed, or None after escape."""

    AUTO_FOCUS = ".answer"
    CSS_PATH: ClassVar = ["../styles/dialogs.tcss", "../styles/form.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "cancel", show=False, priority=True),
        Binding("ctrl+s", "save", "save", show=False, priority=True),
    ]

    def __init__(self, event: Event, settings: Settings, now: Clock) -> None:
        """Show ``event``; times are read against ``now``."""
        super().__init__()
        self._event = event
        self._settings = settings
        self._now = now
        self._before = texts_of(event, settings)
        self._texts = self._before

    @property
    def draft_name(self) -> str:
        """The entry that is corrected."""
        return f"correct {self._event.id}"

    def draft(self) -> dict[str, str]:
        """Return the fields, if any was changed."""
        answers = self.query_one(Form).answers
        return {} if answers == self._before else answers

    def compose(self) -> ComposeResult:
        """Lay out the form."""
        event, settings = self._event, self._settings
        title = f"Correct: {settings.clock(event.at)} {describe(event, settings)}"
        self._texts = {**self._before, **draft_for(self.app, self)}
        kind = self._texts.get("kind", event.kind)
        with DialogFrame(id="dialog"):
            yield Static(Content(one_line(title, 56)), id="dialog-heading")
            yield Form(lines_for(replace(event, kind=kind)), self._texts, settings.board.glyphs)
            yield Static(id="dialog-problem")
            yield Static(Content(_KEYS), id="dialog-keys")

    @on(Form.Changed)
    async def _fit_lines(self) -> None:
        """Ask for what another kind of entry carries, once that kind is picked."""
        form = self.query_one(Form)
        answers = form.answers
        lines = lines_for(replace(self._event, kind=answers["kind"]))
        if form.keys != tuple(line.key for line in lines):
            await form.fit(lines, {**self._texts, **answers})

    def action_leave(self) -> None:
        """Leave everything as it was."""
        self.dismiss(None)

    @on(Form.Finished)
    def action_save(self) -> None:
        """Return the changes, or show what does not fit."""
        answers = self.query_one(Form).answers
        try:
            changes = changes_from(self._event, answers, self._settings, self._now())
        except ValueError as error:
            mark = sign("problem", self._settings.board.glyphs)
            words = f"{mark} {one_line(str(error), 200)}"
            self.query_one("#dialog-problem", Static).update(Content(words))
            return
        self.dismiss(changes)
