"""The dialog for a helper's message: it shows beneath the text what it reads, as it is typed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Final

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static, TextArea

from pottyboard.board.control.drafts import draft_for
from pottyboard.board.control.entries import Entries
from pottyboard.board.dialogs.frame import DialogFrame
from pottyboard.board.text.glyphs import kind_glyph, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.answer_line import AnswerLine
from pottyboard.board.widgets.choice_field import ChoiceField
from pottyboard.board.widgets.message_area import MessageArea
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.duplicates import not_in
from pottyboard.core.transfer.reports import Report
from pottyboard.store import StoreError

_KEYS: Final = "ctrl+s saves all of it, tab: who, esc cancel"
_EXAMPLE: Final = "such as: 12:10 pee, 12:14 poop, water, all calm"
_SHOWN: Final = 4
_WIDTH: Final = 56
_LONGEST: Final = 20_000


class ReportDialog(ModalScreen[str | None]):
    """Takes a message and who it is from; returns what was saved in words, or None after escape.

    With anything in it that cannot be read, nothing is saved, and the dialog stays.
    """

    AUTO_FOCUS = "#report-text"
    CSS_PATH: ClassVar = [
        "../styles/dialogs.tcss",
        "../styles/form.tcss",
        "../styles/report_dialog.tcss",
    ]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "cancel", show=False, priority=True),
        Binding("ctrl+s", "save", "save", show=False, priority=True),
    ]

    def __init__(self, entries: Entries) -> None:
        """Read against the log and clock of ``entries``."""
        super().__init__()
        self._entries = entries
        self._glyphs: Final = entries.situation.settings.board.glyphs
        self._names = _names(entries)

    def compose(self) -> ComposeResult:
        """Lay out the message, who it is from, and what it reads as."""
        with DialogFrame(id="dialog"):
            yield Static(Content("Visit report: the message as it came"), id="dialog-heading")
            yield MessageArea("report-text")
            with Horizontal(id="report-by"):
                yield Static(Content("From"), classes="form-label")
                if self._names:
                    yield ChoiceField(self._names[0], self._names, self._glyphs)
                else:
                    yield AnswerLine(classes="answer")
            yield Static(Content(_EXAMPLE), id="report-read")
            yield Static(Content(_KEYS), id="dialog-keys")

    @property
    def draft_name(self) -> str:
        """There is one message at a time."""
        return "message"

    def draft(self) -> dict[str, str]:
        """Return the message and who it is from, if there is one."""
        text = self.query_one(MessageArea).text
        return {"text": text, "by": self._by} if text.strip() else {}

    def on_mount(self) -> None:
        """Go on with a message that was left alone."""
        draft = draft_for(self.app, self)
        if not draft:
            return
        self.query_one(MessageArea).text = draft["text"]
        if not self._names:
            self.query_one(AnswerLine).value = draft["by"]
        elif draft["by"] in self._names:
            self.query_one(ChoiceField).value = draft["by"]

    @property
    def _by(self) -> str:
        if self._names:
            return self.query_one(ChoiceField).value
        return self.query_one(AnswerLine).value.strip()

    def _read(self) -> Report | None:
        """Return what the message says, None while there is none."""
        text = self.query_one(MessageArea).text
        return self._entries.read_report(text[:_LONGEST], self._by) if text.strip() else None

    @on(TextArea.Changed)
    def _look(self) -> None:
        report = self._read()
        lines = [Content(_EXAMPLE)] if report is None else list(self._lines(report))
        self._show(lines, wrong=report is not None and bool(report.problems))

    def _lines(self, report: Report) -> Iterator[Content]:
        """Yield the entries that a message becomes, or what cannot be read and where."""
        settings = self._entries.situation.settings
        fresh = set(map(id, not_in(report.entries, self._entries.events)))
        said = [
            f"{sign('problem', self._glyphs)} {one_line(str(problem), 2 * _WIDTH)}"
            for problem in report.problems
        ] or [
            f"{settings.clock(event.at)}  {kind_glyph(event.row, self._glyphs)} "
            f"{one_line(_told(event, settings, is_there=id(event) not in fresh), _WIDTH - 10)}"
            for event in report.entries
        ]
        yield from self._whole([Content(line) for line in said])

    def _whole(self, lines: list[Content]) -> list[Content]:
        """Return the first of ``lines``, as many as fit whole, and how many more there are."""
        width, height = self.query_one("#report-read").size
        for shown in range(min(len(lines), _SHOWN), 0, -1):
            left = len(lines) - shown
            said = [*lines[:shown], *([Content(f"and {left} more")] if left else [])]
            if shown == 1 or sum(line.get_height({}, max(1, width)) for line in said) <= height:
                return said
        return lines

    def _show(self, lines: list[Content], *, wrong: bool) -> None:
        read = self.query_one("#report-read", Static)
        read.set_class(wrong, "-wrong")
        read.update(Content("\n").join(lines))

    def action_leave(self) -> None:
        """Leave without saving."""
        self.dismiss(None)

    @on(ChoiceField.Submitted)
    @on(AnswerLine.Submitted)
    def action_save(self) -> None:
        """Save all that the message says, or show what keeps it out."""
        area, report = self.query_one(MessageArea), self._read()
        if report is None:
            area.focus()
        elif len(area.text) > _LONGEST:
            self._refuse(f"Too long for a message: at most {_LONGEST} characters.")
        elif not self._by:
            self._refuse("Who was there? Write a name.")
            self.query_one(".answer").focus()
        elif report.problems:
            self._look()
            area.focus()
            area.go_to(report.problems[0].line, report.problems[0].column)
        else:
            try:
                self.dismiss(self._entries.save_report(report))
            except (ValueError, StoreError) as error:
                self._refuse(str(error))

    def _refuse(self, words: str) -> None:
        mark = sign("problem", self._glyphs)
        self._show([Content(f"{mark} {one_line(words, 4 * _WIDTH)}")], wrong=True)


def _told(event: Event, settings: Settings, *, is_there: bool) -> str:
    """Return an entry in words, and whether the log holds it already."""
    return f"{'already there: ' if is_there else ''}{describe(event, settings)}"


def _names(entries: Entries) -> tuple[str, ...]:
    """Return who may have been there: who was due first, then the helpers, then the household."""
    situation = entries.situation
    home, watching = situation.settings.home, situation.watch
    due = (watching.who,) if watching is not None and watching.visit is not None else ()
    names = (*due, *(helper.name for helper in home.helpers), *home.people)
    return tuple(dict.fromkeys(name for name in names if name))
