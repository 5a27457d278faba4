"""A small dialog of questions, each answered by one key or by Enter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.style import Style
from textual.widgets import Input, Static

from pottyboard.board.actions import EMERGENCY, binding
from pottyboard.board.answer_line import AnswerLine
from pottyboard.board.ask import TYPE_KEY, Ask, Asking
from pottyboard.board.glyphs import GlyphSet, sign
from pottyboard.board.safe_text import one_line

Done = Callable[[dict[str, str]], None]


class AskDialog(ModalScreen[dict[str, str] | None]):
    """Asks one question after the other; returns the answers, or None after escape."""

    AUTO_FOCUS = ""
    CSS_PATH = "dialogs.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "accept", "accept", show=False),
        Binding("escape", "leave", "cancel", show=False),
        Binding("backspace,up", "back", "back", show=False),
        binding(EMERGENCY),
    ]

    def __init__(self, heading: str, asks: tuple[Ask, ...], glyphs: GlyphSet) -> None:
        """Ask ``asks`` under a heading."""
        super().__init__()
        self._heading = heading
        self._asking = Asking(asks)
        self._glyphs: GlyphSet = glyphs
        self._typing = False

    def compose(self) -> ComposeResult:
        """Lay out the heading, the questions, the line for typing and the keys."""
        with Vertical(id="dialog"):
            yield Static(Content(self._heading), id="dialog-heading")
            yield Static(id="dialog-asks")
            yield AnswerLine(id="dialog-line")
            yield Static(id="dialog-problem")
            yield Static(id="dialog-keys")

    def on_mount(self) -> None:
        """Show the first question."""
        self._show()

    # --- Keys -------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Take a one-key answer."""
        ask = self._asking.current
        if self._typing or ask is None:
            return
        if event.key in ask.again:
            event.stop()
            self._go_on(self._asking.accept())
        elif event.character is None:
            return
        elif event.character == TYPE_KEY and ask.read is not None:
            event.stop()
            self._type()
        elif (after := self._asking.press(event.character)) is not None:
            event.stop()
            self._go_on(after)

    def action_choose(self, key: str) -> None:
        """Answer by a click."""
        ask = self._asking.current
        if key == TYPE_KEY and ask is not None and ask.read is not None:
            self._type()
        elif (after := self._asking.press(key)) is not None:
            self._go_on(after)

    def action_accept(self) -> None:
        """Accept the default of the current question."""
        if not self._typing:
            self._go_on(self._asking.accept())

    def action_back(self) -> None:
        """Return to the question before."""
        if not self._typing:
            self._asking = self._asking.back()
            self._show()

    def action_leave(self) -> None:
        """Leave the line for typing, or the dialog without saving."""
        ask = self._asking.current
        if self._typing and ask is not None and ask.choices:
            self._typing = False
            self._show()
        else:
            self.dismiss(None)

    @on(Input.Submitted)
    def _typed(self, submitted: Input.Submitted) -> None:
        submitted.stop()
        try:
            after = self._asking.type(submitted.value)
        except ValueError as error:
            problem = f"{sign('problem', self._glyphs)} {one_line(str(error), 200)}"
            self.query_one("#dialog-problem", Static).update(Content(problem))
            return
        self._go_on(after)

    # --- Showing ----------------------------------------------------------------------------------

    def _type(self) -> None:
        self._typing = True
        self._show()

    def _go_on(self, asking: Asking) -> None:
        self._asking = asking
        self._typing = False
        if asking.current is None:
            self.dismiss(dict(asking.answers))
        else:
            self._show()

    def _show(self) -> None:
        ask = self._asking.current
        assert ask is not None
        if not ask.choices:
            self._typing = True
        line = self.query_one(AnswerLine)
        line.display = self._typing
        if self._typing:
            line.value = ""
            line.focus()
        else:
            self.set_focus(None)
        self.query_one("#dialog-problem", Static).update(Content(""))
        self.query_one("#dialog-asks", Static).update(Content("\n").join(self._lines(ask)))
        self.query_one("#dialog-keys", Static).update(Content(self._keys(ask)))

    def _keys(self, ask: Ask) -> str:
        if self._typing:
            return f"enter saves, {'esc back' if ask.choices else 'esc cancel'}"
        if self._asking.answers:
            return "key answers, enter accepts, backspace back, esc cancel"
        return "one key answers, enter accepts, esc cancel"

    def _lines(self, current: Ask) -> Iterator[Content]:
        for ask in self._asking.asked:
            if ask.name in self._asking.answers:
                answer = one_line(ask.words_of(self._asking.answers[ask.name]), 40)
                done = sign("done", self._glyphs)
                yield Content.styled(f"{done} {ask.words} {answer}", "dim")
            elif ask is current:
                yield Content.styled(f"{sign('chosen', self._glyphs)} {ask.words}", "bold")
                yield from self._choices(ask)
            else:
                yield Content.styled(f"  {ask.words}", "dim")

    def _choices(self, ask: Ask) -> Iterator[Content]:
        if self._typing:
            return
        for choice in ask.choices:
            default = choice.value == ask.default
            yield self._choice(choice.key, choice.words, default)
        if ask.read is not None:
            yield self._choice(TYPE_KEY, "type another", False)

    def _choice(self, key: str, words: str, default: bool) -> Content:
        click = Style.from_meta({"@click": f"screen.choose('{key}')"})
        text = f" {key}  {one_line(words, 38)} "
        enter = "  enter" if default else ""
        style = "reverse" if default else ""
        return Content.assemble("    ", (text, style), (enter, "dim")).stylize(click)
