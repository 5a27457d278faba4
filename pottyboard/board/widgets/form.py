"""A form: one question a line, how its answer was read beside it, what is wrong with it below.

Enter alone walks through.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import ClassVar

from msgspec import Struct
from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.answer_line import AnswerLine
from pottyboard.board.widgets.choice_field import ChoiceField


class Line(Struct, frozen=True):
    """One line of a form: its ``key``, what it asks, help for it, and the few choices if any.

    ``heading`` is written above it.
    """

    key: str
    label: str
    help: str = ""
    choices: tuple[str, ...] = ()
    heading: str = ""


class _Reading(Static):
    """How an answer was read, where there is room for all of it."""

    def __init__(self) -> None:
        super().__init__(classes="form-reading")
        self._words = ""

    def show(self, words: str) -> None:
        self._words = words
        self._fit()

    def on_resize(self) -> None:
        self._fit()

    def _fit(self) -> None:
        fits = cell_len(self._words) <= self.content_size.width
        self.update(Content(self._words if fits else ""))


class _FormLine(Vertical):
    """The widgets of one line."""

    def __init__(self, line: Line, value: str, glyphs: GlyphSet) -> None:
        super().__init__(classes="form-line")
        self.line = line
        self._said = ("", "")
        self._glyphs: GlyphSet = glyphs
        self.answer: AnswerLine | ChoiceField
        if line.choices:
            self.answer = ChoiceField(value, line.choices, glyphs)
        else:
            self.answer = AnswerLine(value, classes="answer")
        self._reading = _Reading()
        self._problem = Static(classes="form-problem")

    def compose(self) -> ComposeResult:
        with Horizontal(classes="form-asked"):
            yield Static(Content(self.line.label), classes="form-label")
            yield self.answer
            yield self._reading
        yield self._problem

    def show(self, problem: str, reading: str) -> None:
        """Write the problem whole, in as many rows as it needs; while one types it is in view."""
        if (problem, reading) == self._said:
            return
        self._said = (problem, reading)
        words = f"{sign('problem', self._glyphs)} {one_line(problem, 300)}" if problem else ""
        self._reading.show("" if problem else one_line(reading, 200))
        self._problem.set_class(bool(problem), "-wrong")
        self._problem.update(Content(words))
        if problem and self.answer.has_focus:
            self.call_after_refresh(self.scroll_visible, animate=False)


class Form(VerticalScroll, can_focus=False):
    """Shows questions with their answers as text."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "previous", show=False),
        Binding("down", "step(1)", "next", show=False),
        Binding("pageup", "part(-1)", "previous part", show=False),
        Binding("pagedown", "part(1)", "next part", show=False),
    ]

    class Changed(Message):
        """An answer changed."""

    class Finished(Message):
        """Enter was pressed on the last line."""

    class Entered(Message):
        """Another line has the focus."""

        def __init__(self, line: Line) -> None:
            """Name the line."""
            super().__init__()
            self.line = line

    def __init__(self, lines: Iterable[Line], answers: Mapping[str, str], glyphs: GlyphSet) -> None:
        """Ask ``lines``, with ``answers`` to begin with."""
        super().__init__(id="form")
        self._glyphs: GlyphSet = glyphs
        self._lines = [_FormLine(line, answers.get(line.key, ""), glyphs) for line in lines]

    def compose(self) -> ComposeResult:
        """Lay out the lines under their headings."""
        for line in self._lines:
            if line.line.heading:
                yield Static(Content(line.line.heading), classes="form-heading")
            yield line

    async def fit(self, lines: Iterable[Line], answers: Mapping[str, str]) -> None:
        """Ask ``lines`` from now on; one that is asked already stays as it is, focus and all.

        The first line has to stay.
        """
        asked = {line.line: line for line in self._lines}
        fitting = [
            asked.pop(line)
            if line in asked
            else _FormLine(line, answers.get(line.key, ""), self._glyphs)
            for line in lines
        ]
        await self.remove_children(asked.values())
        for before, line in pairwise(fitting):
            if line not in self._lines:
                await self.mount(line, after=before)
        self._lines = fitting

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of the lines, in order."""
        return tuple(line.line.key for line in self._lines)

    @property
    def answers(self) -> dict[str, str]:
        """The answers as they stand, by key."""
        return {line.line.key: line.answer.value for line in self._lines}

    def show_messages(self, problems: Mapping[str, str], readings: Mapping[str, str]) -> None:
        """Show below each line what is wrong with its answer, else beside it how that was read, if
        it is worth a word.
        """
        for line in self._lines:
            line.show(problems.get(line.line.key, ""), readings.get(line.line.key, ""))

    def fill(self, answers: Mapping[str, str]) -> None:
        """Put other answers in place of those that stand there."""
        for line in self._lines:
            line.answer.value = answers.get(line.line.key, line.answer.value)

    def go_to(self, key: str) -> None:
        """Put the focus on a line."""
        for line in self._lines:
            if line.line.key == key:
                line.answer.focus()
                line.call_after_refresh(line.scroll_visible, animate=False)

    def action_step(self, step: int) -> None:
        """Go to the next or the previous line."""
        at = self._at()
        if 0 <= at + step < len(self._lines):
            self._lines[at + step].answer.focus()

    def action_part(self, step: int) -> None:
        """Go to the first line of the next or the previous part; without one, to the very end."""
        at, last = self._at(), len(self._lines) - 1
        ahead = range(at + 1, last + 1) if step > 0 else range(at - 1, -1, -1)
        goal = next((n for n in ahead if self._lines[n].line.heading), last if step > 0 else 0)
        self._lines[goal].answer.focus()

    def _at(self) -> int:
        focused = self.screen.focused
        return next((n for n, line in enumerate(self._lines) if line.answer is focused), 0)

    @on(Input.Submitted)
    @on(ChoiceField.Submitted)
    def _next(self, event: Message) -> None:
        event.stop()
        if self._at() == len(self._lines) - 1:
            self.post_message(self.Finished())
        else:
            self.action_step(1)

    @on(Input.Changed)
    @on(ChoiceField.Changed)
    def _changed(self, event: Message) -> None:
        event.stop()
        self.post_message(self.Changed())

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Tell which line has the focus."""
        self.post_message(self.Entered(self._lines[self._at()].line))
