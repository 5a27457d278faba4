"""The Dogs screen: every dog of the home with its next break, one key to its board."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import ClassVar, Final

from rich.cells import cell_len
from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.style import Style

from pottyboard.board.control.entries import Entries
from pottyboard.board.control.other_dogs import Glance, glance
from pottyboard.board.dialogs.ask import AskDialog
from pottyboard.board.dialogs.asked_entries import SURE, sure_asks
from pottyboard.board.dialogs.questions import Ask, Choice
from pottyboard.board.keys.actions import EMERGENCY
from pottyboard.board.keys.bindings import binding
from pottyboard.board.screens.base import ChoicePage, Written, closing
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import LOOKS, GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.board.widgets.key_line import Key
from pottyboard.core.model.describe import describe
from pottyboard.core.model.questions import BY_KEY
from pottyboard.core.model.settings import Settings
from pottyboard.store import DogLog, Household, StoreError
from pottyboard.store.shared import Unsettled, unsettled
from pottyboard.store.system.naming import slug

ANOTHER: Final = ""
"""What the screen returns to set another dog up, in place of a dog's folder name."""

MOST_KEYS = 9
"""Dogs that have a digit of their own; any more are reached by the arrows."""


class DogsScreen(ChoicePage[str]):
    """Returns the folder name of the dog whose board is to open, or None after escape."""

    BINDINGS: ClassVar[list[BindingType]] = [
        closing("dogs"),
        Binding("k", "choose(-1)", "the dog before", show=False),
        Binding("j", "choose(1)", "the next dog", show=False),
        Binding("enter", "take_chosen", "its board", show=False),
        Binding("n", "another", "another dog", show=False),
        Binding("w", "whose", "whose it was", show=False),
        Binding("r", "rename", "another name", show=False),
        Binding("a", "archive", "archive it", show=False),
        Binding("b", "bring_back", "bring one back", show=False),
        binding(EMERGENCY),
    ]

    _glances: tuple[Glance, ...] = ()
    _left: tuple[Unsettled, ...] = ()
    _archived: Mapping[str, str] = MappingProxyType({})

    def __init__(self, household: Household, entries: Entries) -> None:
        """Show the dogs of ``household``; the board of ``entries`` lies beneath."""
        self._household = household
        super().__init__(entries)
        folders = [each.folder for each in self._glances]
        self._here = entries.dog_log.folder.name
        self.at = folders.index(self._here) if self._here in folders else 0

    def look(self) -> None:
        """Look at every dog."""
        now = self.entries.now()
        try:
            dog_logs = map(self._household.in_folder, self._household.dogs())
            self._glances = tuple(glance(dog_log, now) for dog_log in dog_logs)
            self._left = unsettled(self._household)
            self._archived = {
                name: _name_of(self._household.in_folder(name))
                for name in self._household.archived()
            }
        except StoreError:  # out of reach: the board beneath says so, and here stands what was seen
            return

    def ends(self) -> tuple[str, ...]:
        """Return what is shown, and the clock."""
        now, zone = self.entries.now(), self.entries.settings.zone
        return "Dogs of this home", f"{now.astimezone(zone):%H:%M}"

    def count(self) -> int:
        """Return how many dogs there are."""
        return len(self._glances)

    def write(self, width: int, height: int) -> Written:
        """Return two lines for each dog, and what is unsettled."""
        archived = tuple(self._archived.values())
        lines = page(self._glances, self.at, self._here, self._left, width, self.glyphs, archived)
        return Written(lines, row_of(self.at), row_of(self.at) + 1)

    def hints(self) -> Iterator[Key]:
        """Yield the keys that do something now."""
        yield Key("enter", "its board", "screen.take_chosen")
        yield Key("n", "another dog", "screen.another")
        if self._left:
            yield Key("w", "whose was it?", "screen.whose")
        yield Key("r", "rename", "screen.rename")
        yield Key("a", "archive", "screen.archive")
        if self._archived:
            yield Key("b", "bring back", "screen.bring_back")

    # --- Doing ------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Open the board of the dog with this number."""
        if event.character is not None and event.character in "123456789":
            event.stop()
            self.action_take(int(event.character) - 1)

    def action_take_chosen(self) -> None:
        """Open the board of the dog that is marked."""
        self.action_take(self.at)

    def action_take(self, number: int) -> None:
        """Open the board of a dog, counted from 0, unless its log cannot be read."""
        if number >= len(self._glances):
            return
        chosen = self._glances[number]
        if chosen.situation is None:
            self.say(chosen.problem, wrong=True)
        else:
            self.dismiss(chosen.folder)

    def action_another(self) -> None:
        """Set another dog up."""
        self.dismiss(ANOTHER)

    def action_whose(self) -> None:
        """Ask whose the latest unsettled accident was, and keep it in that dog's log alone."""
        if not self._left:
            self.say("No accident is waiting for an owner.")
            return
        each = self._left[0]
        settings: Mapping[str, str] = {
            name: words.name_of(self._household.in_folder(name).settings) for name in each.dogs
        }
        choices = tuple(
            Choice(str(number), name, settings[name]) for number, name in enumerate(each.dogs, 1)
        )
        heading = accident_words(each, self.entries.settings)

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None and answers["dog"]:
                dog = answers["dog"]
                self.change(lambda: self._settle(each, dog, settings[dog]))

        dialog = AskDialog(
            one_line(heading, 200), (Ask("dog", "Which dog was it?", choices),), self.glyphs
        )
        self.app.push_screen(dialog, closed)

    def _settle(self, each: Unsettled, dog: str, name: str) -> str:
        said = f"It was {name}: taken out of the other logs."
        return self.entries.settle(each.event.id, dog, said)

    # --- Names, and dogs that have gone -----------------------------------------------------------

    def action_rename(self) -> None:
        """Ask for another name of the dog that is marked; its log goes on."""
        chosen = self._glances[self.at]
        if chosen.situation is None:
            self.say(chosen.problem, wrong=True)
            return
        before = words.name_of(chosen.situation.settings)

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None:
                self.change(lambda: self._rename(chosen.folder, before, answers["name"]))

        ask = Ask("name", f"What is {before} called from now on?", read=BY_KEY["name"].read)
        self.app.push_screen(AskDialog("Another name", (ask,), self.glyphs), closed)

    def _rename(self, folder: str, before: str, name: str) -> str:
        dog_log = self._household.in_folder(folder)  # another view: the board reads on meanwhile
        dog_log.save_answers({**dog_log.answers, "name": name}, self.entries.now())
        self.entries.look()
        after = words.name_of(self._household.in_folder(folder).settings)
        return f"{before} is called {after} now. The log goes on."

    def action_archive(self) -> None:
        """Ask whether the dog that is marked is to be archived."""
        chosen = self._glances[self.at]
        if len(self._glances) == 1:
            self.say("The only dog here stays: set another one up first (n), or bring one back.")
            return
        view = chosen.situation
        name = one_line(chosen.folder, NAME_WIDTH) if view is None else words.name_of(view.settings)

        def closed(answers: dict[str, str] | None) -> None:
            if answers == SURE:
                self.change(lambda: self._archive(chosen.folder, name))
                if chosen.folder == self._here and self._household.is_archived(self._here):
                    self.dismiss(self._household.dogs()[0])  # its board has gone with it

        question = f"Archive {name}? Its log is kept; b brings it back."
        self.app.push_screen(AskDialog("Archive", sure_asks(question), self.glyphs), closed)

    def _archive(self, folder: str, name: str) -> str:
        self._household.archive_folder(folder)
        return f"{name} is archived: its log is kept."

    def action_bring_back(self) -> None:
        """Ask which archived dog comes back; the only one does at once."""
        archived = self._archived
        if not archived:
            self.say("No dog is archived.")
            return
        if len(archived) == 1:
            self.change(lambda: self._bring_back(*archived))
            return

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None and answers["dog"]:
                self.change(lambda: self._bring_back(answers["dog"]))

        choices = tuple(
            Choice(str(number), folder, name)
            for number, (folder, name) in enumerate([*archived.items()][:MOST_KEYS], 1)
        )
        ask = Ask("dog", "Which one comes back?", choices)
        self.app.push_screen(AskDialog("Bring back", (ask,), self.glyphs), closed)

    def _bring_back(self, folder: str) -> str:
        self._household.bring_folder_back(folder)
        return f"{self._archived[folder]} is back."


def _name_of(dog_log: DogLog) -> str:
    """Return the name of a dog that was archived, with its folder where that says more."""
    folder = one_line(dog_log.folder.name, NAME_WIDTH)
    try:
        name = words.name_of(dog_log.settings)
    except StoreError:
        return folder
    return name if slug(dog_log.settings.dog.name) == dog_log.folder.name else f"{name} ({folder})"


# --- The page ------------------------------------------------------------------------------------


def page(
    glances: tuple[Glance, ...],
    chosen: int,
    here: str,
    left: tuple[Unsettled, ...],
    width: int,
    glyphs: GlyphSet,
    archived: tuple[str, ...] = (),
) -> list[Content]:
    """Return two lines for each dog, ``chosen`` marked and ``here`` named, and what is unsettled.

    ``left`` are the accidents of which nobody knows whose they are, the latest first; ``archived``
    the names of the dogs that no list has.
    """
    lines: list[Content] = []
    for number, each in enumerate(glances):
        is_here = each.folder == here
        lines.extend(_dog(number, each, number == chosen, is_here, width, glyphs))
        lines.append(Content(""))
    lines += _unsettled(left, glances)
    if archived:
        lines.append(Content.styled(f"      archived: {', '.join(archived)}", "dim"))
    return lines


def row_of(chosen: int) -> int:
    """Return the row of the page on which a dog begins."""
    return 3 * chosen


def _dog(
    number: int,
    glance: Glance,
    is_chosen: bool,
    is_here: bool,
    width: int,
    glyphs: GlyphSet,
) -> Iterator[Content]:
    mark = sign("chosen", glyphs) if is_chosen else " "
    key = str(number + 1) if number < MOST_KEYS else " "
    click = Style.from_meta({"@click": f"screen.take({number})"})
    view = glance.situation
    if view is None:
        problem = sign("problem", glyphs)
        name = one_line(glance.folder, words.NAME_WIDTH)
        yield Content.assemble(f"{mark} ", (key, "bold"), f"  {problem} ", (name, "bold"))
        yield Content(one_line(glance.problem, 300))
        return
    face = words.face(view)
    state = f"{LOOKS[face.state].glyph(glyphs)} "
    said = f"  {face.word.upper()}  {face.figures}" if face.figures != "NOW" else "  DUE NOW"
    name = words.name_of(view.settings)
    shown = "  (on the board now)" if is_here else ""
    head = Content.assemble(f"{mark} ", (key, "bold"), f"  {state}", (name, "bold"), said)
    if head.cell_length + cell_len(shown) <= width:
        head = Content.assemble(head, (shown, "dim"))
    yield head.stylize(click)
    yield Content.styled(f"      {face.line}", "dim").stylize(click)


def _unsettled(left: tuple[Unsettled, ...], glances: tuple[Glance, ...]) -> Iterator[Content]:
    if not left:
        return
    settings = {each.folder: each.situation.settings for each in glances if each.situation}
    known = settings.get(left[0].dogs[0])
    if known is None:
        return
    yield Content.assemble(("w", "bold"), "  whose accident was it?")
    yield Content(f"   {one_line(accident_words(left[0], known), 200)}")
    if len(left) > 1:
        yield Content.styled(f"   and {len(left) - 1} more, of which it is not known", "dim")


def accident_words(each: Unsettled, settings: Settings) -> str:
    """Return when and what an unsettled accident was; that it is unsettled is plain from where."""
    at = each.event.at.astimezone(settings.zone)
    what = describe(replace(each.event, unsure=None), settings)
    return f"{at:%a} {at.day} {at:%b %H:%M}, {what}"
