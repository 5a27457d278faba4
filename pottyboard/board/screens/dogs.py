"""The Dogs screen: every dog of the home with its next break, one key to its board."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.style import Style

from pottyboard.board.control.actions import EMERGENCY, binding
from pottyboard.board.control.entries import Entries
from pottyboard.board.control.other_dogs import Glance, glance
from pottyboard.board.dialogs.ask import AskDialog
from pottyboard.board.dialogs.questions import Ask, Choice
from pottyboard.board.screens import dogs_page
from pottyboard.board.screens.dogs_page import accident_words
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.board.widgets.static_text import StaticText
from pottyboard.board.widgets.top_line import TopLine
from pottyboard.store import DogLog, Household, StoreError
from pottyboard.store.shared import Unsettled, settle, unsettled

ANOTHER: Final = ""
"""What the screen returns to set another dog up, in place of a dog's folder name."""

_MARGIN: Final = 3


class DogsScreen(Screen[str | None]):
    """Returns the folder name of the dog whose board is to open, or None after escape."""

    AUTO_FOCUS = "#page"
    CSS_PATH: ClassVar = ["../styles/page_screen.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,D", "leave", "close", show=False),
        Binding("up,k", "choose(-1)", "the dog before", show=False),
        Binding("down,j", "choose(1)", "the next dog", show=False),
        Binding("enter", "take_chosen", "its board", show=False),
        Binding("n", "another", "another dog", show=False),
        Binding("w", "whose", "whose it was", show=False),
        binding(EMERGENCY),
    ]

    def __init__(self, household: Household, entries: Entries) -> None:
        """Show the dogs of ``household``; the board of ``entries`` lies beneath."""
        super().__init__()
        self._household, self._entries = household, entries
        self._here = entries.dog_log.folder.name
        self._glyphs = entries.situation.settings.board.glyphs
        self._left: tuple[Unsettled, ...] = ()
        self._glances: tuple[Glance, ...] = ()
        self._look()
        self._chosen = self._folders.index(self._here) if self._here in self._folders else 0

    @property
    def _folders(self) -> list[str]:
        return [each.folder for each in self._glances]

    def _look(self) -> None:
        now = self._entries.now()
        dog_logs = (DogLog(self._household.folder / name) for name in self._household.dogs())
        self._glances = tuple(glance(dog_log, now) for dog_log in dog_logs)
        self._left = unsettled(self._household)

    # --- Showing ----------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Lay out the page, already filled in."""
        yield TopLine(self._ends())
        with VerticalScroll(id="page", classes="-ascii" if self._glyphs == "ascii" else ""):
            yield StaticText(self._page(self.app.size.width), "page-text")
        yield StaticText(self._keys(), "page-keys")

    def on_resize(self, event: events.Resize) -> None:
        """Write for the new size."""
        self._show(event.size.width)

    def _show(self, width: int) -> None:
        self.query_one(TopLine).show(self._ends())
        self.query_one("#page-text", StaticText).show(self._page(width))
        self.query_one("#page-keys", StaticText).show(self._keys())
        row, page = dogs_page.row_of(self._chosen), self.query_one("#page", VerticalScroll)
        if not page.scroll_y <= row < page.scroll_y + page.scrollable_content_region.height - 1:
            page.scroll_to(y=row, animate=False)

    def _ends(self) -> tuple[str, str]:
        now, zone = self._entries.now(), self._entries.dog_log.settings.zone
        return "Dogs of this home", f"{now.astimezone(zone):%H:%M}"

    def _page(self, width: int) -> Content:
        return dogs_page.page(
            self._glances, self._chosen, self._here, self._left, width - _MARGIN, self._glyphs
        )

    def _keys(self) -> Content:
        keys = [("esc", "back", "leave"), ("enter", "its board", "take_chosen")]
        keys.append(("n", "another dog", "another"))
        if self._left:
            keys.append(("w", "whose was it?", "whose"))
        pieces = [
            Content.assemble((key, "bold"), f" {name}").stylize(
                Style.from_meta({"@click": f"screen.{call}"})
            )
            for key, name, call in keys
        ]
        return Content.assemble(" ", Content("  ").join(pieces))

    # --- Doing ------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Open the board of the dog with this number."""
        if event.character is not None and event.character in "123456789":
            event.stop()
            self.action_take(int(event.character) - 1)

    def action_choose(self, step: int) -> None:
        """Go to the dog before or after."""
        self._chosen = min(max(self._chosen + step, 0), len(self._glances) - 1)
        self._show(self.size.width)

    def action_take_chosen(self) -> None:
        """Open the board of the dog that is marked."""
        self.action_take(self._chosen)

    def action_take(self, number: int) -> None:
        """Open the board of a dog, counted from 0, unless its log cannot be read."""
        if number >= len(self._glances):
            return
        chosen = self._glances[number]
        if chosen.situation is None:
            self._say(chosen.problem, wrong=True)
        else:
            self.dismiss(chosen.folder)

    def action_another(self) -> None:
        """Set another dog up."""
        self.dismiss(ANOTHER)

    def action_leave(self) -> None:
        """Go back to the board."""
        self.dismiss(None)

    def action_whose(self) -> None:
        """Ask whose the latest unsettled accident was, and keep it in that dog's log alone."""
        if not self._left:
            self._say("Of every accident it is known which dog it was.")
            return
        each = self._left[0]
        settings: Mapping[str, str] = {
            name: self._household.dog_log(name).settings.dog.name for name in each.dogs
        }
        choices = tuple(
            Choice(str(number), name, one_line(settings[name], NAME_WIDTH))
            for number, name in enumerate(each.dogs, 1)
        )
        heading = accident_words(each, self._entries.dog_log.settings)

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None and answers["dog"]:
                self._settle(each, answers["dog"], settings[answers["dog"]])

        dialog = AskDialog(
            one_line(heading, 200), (Ask("dog", "Which dog was it?", choices),), self._glyphs
        )
        self.app.push_screen(dialog, closed)

    def _settle(self, each: Unsettled, dog: str, name: str) -> None:
        try:
            by = self._entries.situation.on_duty
            settle(self._household, each.event.id, dog, self._entries.now(), by)
        except (ValueError, StoreError) as error:
            self._say(str(error), wrong=True)
        else:
            self._say(f"It was {one_line(name, NAME_WIDTH)}: taken out of the other logs.")
        self._look()
        self._show(self.size.width)

    def _say(self, text: str, *, wrong: bool = False) -> None:
        self.app.clear_notifications()
        self.app.notify(
            one_line(text, 400), severity="error" if wrong else "information", markup=False
        )
