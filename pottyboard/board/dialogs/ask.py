"""A small dialog of questions, each answered by one key or by Enter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import ModalScreen
from textual.style import Style
from textual.widgets import Input, Static

from pottyboard.board.control.drafts import draft_for
from pottyboard.board.dialogs.frame import DialogFrame
from pottyboard.board.dialogs.questions import TYPE_KEY, Ask, Asking, Choice
from pottyboard.board.keys.actions import EMERGENCY
from pottyboard.board.keys.bindings import binding
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.answer_line import AnswerLine

_TYPED = "typed"
_AT = "typed time"
"""The names in a draft of what stands in the line for typing, and of the time; no question's."""

Done = Callable[[dict[str, str]], None]


class AskDialog(ModalScreen[dict[str, str] | None]):
    """Asks one question after the other; returns the answers, or None after escape."""

    AUTO_FOCUS = ""
    CSS_PATH = "../styles/dialogs.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "accept", "accept", show=False),
        Binding("escape", "leave", "cancel", show=False),
        Binding("backspace,up", "back", "back", show=False),
        binding(EMERGENCY),
    ]

    def __init__(
        self,
        heading: str,
        asks: tuple[Ask, ...],
        glyphs: GlyphSet,
        at: datetime | None = None,
    ) -> None:
        """Ask ``asks`` under a heading; ``at`` is the time that was typed for it, if one was."""
        super().__init__(classes="-ascii" if glyphs == "ascii" else "")
        self._heading = heading
        self.asking = Asking(asks)
        self.glyphs: GlyphSet = glyphs
        self.typing = False
        self.at = at

    def compose(self) -> ComposeResult:
        """Lay out the heading, the questions, the line for typing and the keys."""
        with DialogFrame(id="dialog"):
            yield Static(Content(self._heading), id="dialog-heading")
            yield Static(id="dialog-asks")
            yield AnswerLine(id="dialog-line")
            yield Static(id="dialog-problem")
            yield Static(id="dialog-keys")

    def on_mount(self) -> None:
        """Show the first question that is open."""
        self._take_up()

    # --- Left alone -------------------------------------------------------------------------------

    @property
    def draft_name(self) -> str:
        """The heading, which tells one dialog from another."""
        return self._heading

    def draft(self) -> dict[str, str]:
        """Return the answers so far, what stands in the line for typing, and the typed time."""
        typed = self.query_one(AnswerLine).value if self.typing else ""
        others = {_TYPED: typed, _AT: "" if self.at is None else self.at.isoformat()}
        return {**self.asking.answers, **{name: value for name, value in others.items() if value}}

    def _take_up(self) -> None:
        """Go on where an earlier dialog of this heading was left alone."""
        draft = draft_for(self.app, self)
        typed, at = draft.pop(_TYPED, ""), draft.pop(_AT, "")
        if at and self.at is None:
            self.at = datetime.fromisoformat(at)
        if draft:
            self.asking = Asking(self.asking.asks, draft)
        self.typing = bool(typed)
        line = self.query_one(AnswerLine)
        line.select_on_focus = not typed  # the next letter goes on from what is there
        self.show_asks()
        line.value = typed

    # --- Keys -------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Take a one-key answer."""
        ask = self.asking.current
        if self.typing or ask is None:
            return
        if event.key in ask.again:
            event.stop()
            self.go_on(self.asking.accept())
        elif event.character is not None and self.take(event.character):
            event.stop()

    def take(self, key: str) -> bool:
        """Take a one-key answer to the current question; return whether the key is one."""
        ask = self.asking.current
        if key == TYPE_KEY and ask is not None and ask.read is not None:
            self._type()
        elif (after := self.asking.press(key)) is not None:
            self.go_on(after)
        else:
            return False
        return True

    def action_choose(self, key: str) -> None:
        """Answer by a click."""
        self.take(key)

    def action_accept(self) -> None:
        """Accept the default of the current question."""
        if not self.typing:
            self.go_on(self.asking.accept())

    def action_back(self) -> None:
        """Return to the question before."""
        if not self.typing:
            self.asking = self.asking.back()
            self.show_asks()

    def action_leave(self) -> None:
        """Leave the line for typing, or the dialog without saving."""
        ask = self.asking.current
        if self.typing and ask is not None and ask.choices:
            self.typing = False
            self.show_asks()
        else:
            self.dismiss(None)

    @on(Input.Submitted)
    def _typed(self, submitted: Input.Submitted) -> None:
        submitted.stop()
        try:
            after = self.asking.type(submitted.value)
        except ValueError as error:
            self.show_problem(str(error))
            return
        self.go_on(after)

    # --- Showing ----------------------------------------------------------------------------------

    def _type(self) -> None:
        self.typing = True
        self.show_asks()

    def show_problem(self, words: str) -> None:
        """Say what is wrong with an answer; the question stays."""
        problem = f"{sign('problem', self.glyphs)} {one_line(words, 200)}"
        self.query_one("#dialog-problem", Static).update(Content(problem))

    def go_on(self, asking: Asking) -> None:
        """Ask the next question, or close with the answers."""
        self.asking = asking
        self.typing = False
        if asking.current is None:
            self.dismiss(dict(asking.answers))
        else:
            self.show_asks()

    def show_asks(self) -> None:
        """Show the questions, and the line for typing if one is being typed."""
        ask = self.asking.current
        assert ask is not None
        if not ask.choices:
            self.typing = True
        line = self.query_one(AnswerLine)
        line.display = self.typing
        if self.typing:
            line.value = ""
            line.focus()
        else:
            self.set_focus(None)
        self.query_one("#dialog-problem", Static).update(Content(""))
        self.query_one(DialogFrame).names_emergency = not self.typing
        self.show_lines(ask)
        self.query_one("#dialog-keys", Static).update(Content(self.keys(ask)))

    def show_lines(self, ask: Ask) -> None:
        """Show the questions for the present size."""
        self.query_one("#dialog-asks", Static).update(Content("\n").join(self.lines(ask)))

    def keys(self, ask: Ask) -> str:
        """Return the line that says which keys there are."""
        if self.typing:
            return f"enter saves, {'esc back' if ask.choices else 'esc cancel'}"
        if self.asking.answers:
            return "key answers, enter accepts, backspace back, esc cancel"
        return "one key answers, enter accepts, esc cancel"

    def lines(self, current: Ask) -> Iterator[Content]:
        """Yield the questions with their answers, the current one with its choices."""
        for ask in self.asking.asked:
            if ask.name in self.asking.answers:
                answer = one_line(ask.words_of(self.asking.answers[ask.name]), 40)
                done = sign("done", self.glyphs)
                yield Content.styled(f"{done} {ask.words} {answer}", "dim")
            elif ask is current:
                yield Content.styled(f"{sign('chosen', self.glyphs)} {ask.words}", "bold")
                yield from self.choices(ask)
            else:
                yield Content.styled(f"  {ask.words}", "dim")

    def choices(self, ask: Ask) -> Iterator[Content]:
        """Yield the choices of a question, each on a line of its own."""
        if self.typing:
            return
        for choice in ask.choices:
            yield self.choice(choice, default=choice.value == ask.default)
        if ask.read is not None:
            yield self.choice(Choice(TYPE_KEY, "", "type another"), default=False)

    def choice(self, choice: Choice, *, default: bool) -> Content:
        """Return one choice, which can be clicked; Enter takes the ``default``."""
        click = Style.from_meta({"@click": f"screen.choose('{choice.key}')"})
        text = f" {choice.key}  {one_line(choice.words, 38)} "
        enter = "  enter" if default else ""
        style = "reverse" if default else ""
        return Content.assemble("    ", (text, style), (enter, "dim")).stylize(click)
