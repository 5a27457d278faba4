"""The set-up: the dog, the home, the routine, and the first day drawn up as they are filled in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cached_property, partial
from typing import ClassVar, Final

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from pottyboard.board.alarms.ringer import ringer_of
from pottyboard.board.control.clock import zone_of
from pottyboard.board.control.drafts import draft_for, keep_draft
from pottyboard.board.control.entries import Clock
from pottyboard.board.control.saver import Change, Saver
from pottyboard.board.control.standing import standing_of
from pottyboard.board.control.windows import class_for
from pottyboard.board.keys.board_file import COLOURS, read_board_file, save_board_file
from pottyboard.board.keys.keymap import KeymapError, read_keymap
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.form import Form, Line
from pottyboard.board.widgets.timeline_rows import first_day
from pottyboard.board.widgets.top_line import PageTop
from pottyboard.core.model.alarms import Alarms
from pottyboard.core.model.questions import (
    QUESTIONS,
    SettingsError,
    answers_from,
    default_answers,
    problems_in,
    settings_from,
)
from pottyboard.core.model.understood import understood
from pottyboard.core.view.levels import level_meaning
from pottyboard.core.view.situation import situation
from pottyboard.store import DogLog, Household, StoreError

_HEADINGS: Final = {
    "dog": "The dog",
    "home": "The home",
    "routine": "The routine",
    "board": "The board",
}
_OF_THE_HOME: Final = (
    Line("colours", "Colours", "for every dog of this home; evening is dark", ("", *COLOURS)),
    Line("keys", "Own keys", "such as accident=f2 note=f3; empty for the usual ones (?)"),
)
"""What stands in the settings file of the board."""

_NOT_SAVED: Final = (
    "Nothing is saved yet: ctrl+s saves. esc once more closes, and forgets all of it."
)
_AGAIN: Final = "What you typed before is here again, not saved yet. ctrl+r: as it was saved."
_SOON: Final = 0.1
"""Seconds until the next look whether the answers are saved."""

_WIDTHS: Final = [(0, "-plain"), (80, "-close"), (100, "-roomy")]


class SetupScreen(Screen[DogLog | None]):
    """Asks the questions of the set-up; returns the dog's record, or None after escape."""

    AUTO_FOCUS = ".answer"
    KEYS: ClassVar = "pgdn: next part  ctrl+s: save  ctrl+g: ring  esc: leave"
    CSS_PATH: ClassVar = ["../styles/setup_screen.tcss", "../styles/form.tcss"]
    HORIZONTAL_BREAKPOINTS = _WIDTHS
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False, priority=True),
        Binding("ctrl+s", "save", "save", show=False, priority=True),
        Binding("ctrl+r", "as_saved", "as it was saved", show=False, priority=True),
        Binding("ctrl+g", "ring", "ring now", show=False, priority=True),
    ]

    def __init__(
        self, household: Household, dog_log: DogLog | None, now: Clock, *, plain: bool = False
    ) -> None:
        """Ask for a new dog, or change the answers of ``record``; ``plain`` glyphs on demand."""
        super().__init__(id="setup")
        self._household = household
        self._dog_log = dog_log
        self._now = now
        if dog_log is None:
            self._answers = default_answers(now(), zone_of(now()))
        else:
            self._answers = {
                key: one_line(answer, 1000) for key, answer in _answers_of(dog_log).items()
            }
            file = read_board_file(household.folder)
            self._answers |= {"colours": file.colours, "keys": file.keys_text}
        self._saver = Saver()
        self._before = dict(self._answers)
        self._line = Line("", "")
        self._problems: dict[str, str] = {}
        self._readings: dict[str, str] = {}
        self._leaves_at_once = dog_log is not None
        self._goes_on = False
        self._came: dict[str, str] = {}
        is_plain = plain or self._answers.get("glyphs") == "ascii"
        self._glyphs: Final[GlyphSet] = "ascii" if is_plain else "drawn"

    @property
    def stays_open(self) -> bool:
        """Whether the board leaves it alone: a dog that is being set up has no board yet."""
        return self._dog_log is None

    @property
    def draft_name(self) -> str:
        """The dog that is set up."""
        return "" if self._dog_log is None else str(self._dog_log.folder)

    def draft(self) -> dict[str, str]:
        """Return the answers, if any was changed."""
        answers = self.query_one(Form).answers
        return {} if answers == self._before else answers

    def compose(self) -> ComposeResult:
        """Lay out the form, the first day and the help for the present question."""
        draft = draft_for(self.app, self)
        self._goes_on = bool(draft)
        self._answers.update(draft)
        self._came = {line.key: self._answers.get(line.key, "") for line in self._lines()}
        yield PageTop((self._title(), ""), names_emergency=False)
        with Horizontal(id="setup-body"):
            yield Form(self._lines(), self._answers, self._glyphs)
            with Vertical(id="setup-preview"):
                yield Static(Content("The first day"), classes="form-heading")
                yield Static(id="setup-day")
        yield Static(id="setup-help")
        yield Static(Content(self.KEYS), id="setup-keys")

    def _title(self) -> str:
        """Return what the form is for."""
        return "Set-up" if self._dog_log else "A new dog: press enter to accept each answer"

    def _lines(self) -> list[Line]:
        """Return what is asked."""
        return _questions() + ([] if self._dog_log is None else [*_OF_THE_HOME])

    def on_mount(self) -> None:
        """What was said before it opened goes."""
        self.app.clear_notifications()

    def on_resize(self) -> None:
        """Draw the first day up for the new width."""
        self._look()

    @on(Form.Changed)
    def _look(self) -> None:
        answers, of_the_home = self._parted()
        now = self._now()
        problems = {**problems_in(answers, now), **_key_problems(of_the_home)}
        self._problems = problems
        self._readings = understood(answers, now)
        self.query_one(Form).show_messages(problems, self._readings)
        self._help()
        day = self.query_one("#setup-day", Static)
        day.set_class(bool(problems), "-old")
        if not problems:
            settings = settings_from(answers, now)
            first = situation(settings, (), settings.dog.arrived)
            day.update(Content("\n".join(first_day(first, self._preview_width))))

    @on(Form.Entered)
    def _entered(self, entered: Form.Entered) -> None:
        self._line = entered.line
        self._help()

    def _parted(self) -> tuple[dict[str, str], dict[str, str]]:
        """Return the answers of the dog, and those for the whole home."""
        answers = self.query_one(Form).answers
        names = [line.key for line in _OF_THE_HOME if line.key in answers]
        return answers, {name: answers.pop(name) for name in names}

    @property
    def _preview_width(self) -> int:
        """The cells of the preview, without its padding."""
        # By the width itself: the class for it comes only after the first look.
        return 28 if class_for(self.app.size.width, _WIDTHS) == "-close" else 36

    def _help(self) -> None:
        """Write what is wrong with the present answer in full, or else the help for it.

        Until somebody moves or types, a draft says that it is here again.
        """
        line = self._line
        if problem := self._problems.get(line.key):
            self._say(problem, wrong=True)
        elif self._is_as_it_came:
            self._say(_AGAIN)
        elif reading := self._readings.get(line.key):
            self._say(f"{line.label} reads: {reading}")
        else:
            told = self._levels if line.key == "risk" and self._dog_log else line.help
            self._say(f"{line.label}: {told}" if told else "")

    @property
    def _is_as_it_came(self) -> bool:
        """Whether a draft stands as it came back, with its first line in focus."""
        form = self.query_one(Form)
        is_first = self._line.key in ("", form.keys[0])
        return self._goes_on and is_first and form.answers == self._came

    @cached_property
    def _levels(self) -> str:
        """What each level means for the dog, worked out when somebody comes to that question."""
        log = self._dog_log
        assert log is not None
        try:
            return level_meaning(log.settings, log.events, self._now()).brief
        except StoreError as error:
            return str(error)

    def _say(self, words: str, *, wrong: bool = False) -> None:
        line = self.query_one("#setup-help", Static)
        line.set_class(wrong, "-wrong")
        mark = f"{sign('problem', self._glyphs)} " if wrong else ""
        line.update(Content(mark + one_line(words, 300)))

    def action_leave(self) -> None:
        """Leave without saving; what was typed is kept until the set-up opens again.

        On a first start the board closes with it: then it asks once more.
        """
        if self.draft() and not self._leaves_at_once and standing_of(self.app) is None:
            self._leaves_at_once = True
            self._say(_NOT_SAVED, wrong=True)
            return
        keep_draft(self.app, self)
        self.dismiss(None)

    def action_as_saved(self) -> None:
        """Forget what was typed."""
        self.query_one(Form).fill(self._before)

    def action_ring(self) -> None:
        """Ring as the answers would have it, and say what was done."""
        try:
            alarms = settings_from(self._parted()[0], self._now()).board.alarms
        except SettingsError:
            self._say("First mend the answers that do not fit: then it rings.", wrong=True)
            return
        ringer_of(self.app).try_out(alarms)
        self._say_rung(alarms)

    def _say_rung(self, alarms: Alarms) -> None:
        """Say what a trial did; of the program, once it has ended."""
        ringer = ringer_of(self.app)
        busy = ringer.is_busy  # before the words: it may end meanwhile
        self._say(
            f"{ringer.tried(alarms)} The program still runs …" if busy else ringer.tried(alarms)
        )
        if busy:
            self.set_timer(_SOON, partial(self._say_rung, alarms))

    @on(Form.Finished)
    def action_save(self) -> None:
        """Save, or go to the first answer that does not fit."""
        if self._saver.waiting:
            return
        (answers, of_the_home), now = self._parted(), self._now()
        if _key_problems(of_the_home):
            self.query_one(Form).go_to("keys")
            return
        change = Change(
            lambda: self._saved(answers, of_the_home, now), lambda shown: None, keep=False
        )
        if self._saver.make(change):
            self._close(change)
        else:
            self._say("Saving …")
            self._wait_for(change)

    def _wait_for(self, change: Change) -> None:
        """Close once the answers are saved."""
        if change.tried.is_set():
            self._close(change)
        else:
            self.set_timer(_SOON, partial(self._wait_for, change))

    def _close(self, change: Change) -> None:
        """Close with what was saved, or say why it was not."""
        error, form = change.error, self.query_one(Form)
        if isinstance(error, SettingsError):
            form.go_to(next(key for key in form.keys if key in error.problems))
        elif isinstance(error, StoreError):
            self._say(str(error), wrong=True)
        elif error is not None:
            raise error
        else:
            self.dismiss(change.result)

    def _saved(
        self, answers: dict[str, str], of_the_home: Mapping[str, str], now: datetime
    ) -> DogLog:
        if self._dog_log is None:
            return self._household.create(answers, now)
        # Another view of the same log: the board goes on reading its own meanwhile.
        DogLog(self._dog_log.folder).save_answers(answers, now)
        if any(self._before[name] != answer for name, answer in of_the_home.items()):
            save_board_file(self._household.folder, **of_the_home)
        return self._dog_log


def _answers_of(dog_log: DogLog) -> dict[str, str]:
    """Return the answers as the form writes them, or as they stand where they do not fit."""
    try:
        return answers_from(dog_log.settings)
    except StoreError:
        return dog_log.answers


def _key_problems(of_the_home: Mapping[str, str]) -> dict[str, str]:
    """Return what is wrong with the keys of the household, by the name of the line."""
    try:
        read_keymap(of_the_home.get("keys", ""))
    except KeymapError as error:
        return {"keys": str(error)}
    return {}


def _questions() -> list[Line]:
    lines, section = [], ""
    for question in QUESTIONS:
        heading = _HEADINGS[question.section] if question.section != section else ""
        section = question.section
        lines.append(Line(question.key, question.label, question.help, question.choices, heading))
    return lines
