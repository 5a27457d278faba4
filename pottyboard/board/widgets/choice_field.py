"""One answer out of a few, changed with the arrow keys, a first letter or a click."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from pottyboard.board.text.glyphs import GlyphSet


class ChoiceField(Widget, can_focus=True):
    """Shows the present choice between two arrows."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "turn(-1)", "previous", show=False),
        Binding("right", "turn(1)", "next", show=False),
        Binding("enter", "submit", "accept", show=False),
    ]

    class Changed(Message):
        """Another choice was made."""

    class Submitted(Message):
        """Enter accepted the choice."""

    def __init__(self, value: str, choices: tuple[str, ...], glyphs: GlyphSet) -> None:
        """Begin with ``value``, kept even if it is none of ``choices``."""
        super().__init__(classes="answer")
        self._choices = choices
        self._value = value
        self._typed = ""
        self._arrows = ("<", ">") if glyphs == "ascii" else ("‹", "›")

    @property
    def value(self) -> str:
        """The present choice."""
        return self._value

    @value.setter
    def value(self, value: str) -> None:
        if value != self._value:
            self._value = value
            self.refresh()
            self.post_message(self.Changed())

    def render(self) -> Content:
        """Return the choice."""
        before, after = self._arrows
        return Content(f"{before} {self._value or 'not said'} {after}")

    def action_turn(self, step: int) -> None:
        """Go to the next or the previous choice."""
        self._typed = ""
        at = self._choices.index(self._value) if self._value in self._choices else -step
        self.value = self._choices[(at + step) % len(self._choices)]

    def action_submit(self) -> None:
        """Accept."""
        self.post_message(self.Submitted())

    def on_click(self) -> None:
        """Go to the next choice."""
        self.action_turn(1)

    def on_blur(self) -> None:
        """Forget what was typed."""
        self._typed = ""

    def on_key(self, event: events.Key) -> None:
        """Go to the choice whose name is being typed, or to the next that begins with the letter.

        Any other letter changes nothing; a blank that belongs to no name turns to the next choice.
        """
        letter = (event.character or "").lower()
        if not (letter.isalpha() or letter == " "):
            return
        event.stop()
        at = self._choices.index(self._value) if self._value in self._choices else -1
        order = [*self._choices[at + 1 :], *self._choices[: at + 1]]
        named = [choice for choice in self._choices if choice.startswith(self._typed + letter)]
        if self._typed and named:
            self._typed += letter
            near = self._value if self._value in named else named[0]
            self.value = self._typed if self._typed in named else near
        elif letter == " ":
            self.action_turn(1)
        elif found := [choice for choice in order if choice.startswith(letter)]:
            self._typed, self.value = letter, found[0]
