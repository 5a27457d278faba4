"""One day of the log: its plan beside its entries, any of which can be corrected or deleted."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content

from pottyboard.board.control.entries import Entries
from pottyboard.board.control.typed import TypedTime
from pottyboard.board.dialogs.ask import AskDialog
from pottyboard.board.dialogs.entry_keys import EntryKeys
from pottyboard.board.dialogs.questions import Ask, Choice
from pottyboard.board.keys.actions import BY_ID, Action
from pottyboard.board.keys.bindings import bindings
from pottyboard.board.keys.keymap import key_words, keys_of
from pottyboard.board.screens.editable import EditableScreen
from pottyboard.board.text.glyphs import VERDICTS, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import name_of
from pottyboard.board.widgets.key_line import Key, KeyLine
from pottyboard.board.widgets.timeline import Timeline
from pottyboard.board.widgets.top_line import PageTop
from pottyboard.board.widgets.whole_lines import Piece, WholeLines
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.model.describe import describe
from pottyboard.core.model.localtime import TimeError, count_words, read_on, span_words
from pottyboard.core.review.past_day import day_as_it_ended
from pottyboard.core.view.situation import Change, Situation

_MENDING = frozenset({"earlier", "later", "correct", "delete", "undo", "redo", "shorten", "help"})
_LOGGED = frozenset({"accident", "settled", "back", "note", "other"})
"""What is asked about and can be logged later too; so can all that one key logs."""

_LONGEST = 300


class PastDayScreen(EditableScreen[date]):
    """A day as it ended, or today so far; closing it says which day was shown last.

    Up and down select an entry, as on the Day screen; left and right turn the days.
    """

    CSS_PATH: ClassVar = ["../styles/past_day_screen.tcss"]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            binding
            for binding in bindings()
            if binding.id in _MENDING | _LOGGED or binding.action.startswith("screen.log(")
        ),
        Binding("escape", "back", "back", show=False),
        Binding("q", "leave", "back", show=False),
        Binding("left", "turn(-1)", "the day before", show=False),
        Binding("right", "turn(1)", "the day after", show=False),
    ]

    def __init__(self, entries: Entries, day: date) -> None:
        """Show ``day`` of the log of ``entries``."""
        super().__init__(entries, "past-day")
        self._day = day
        self._letters = EntryKeys(self)
        self.look()

    @property
    def typed(self) -> TypedTime:
        """The digits before a letter: a clock time of this day."""
        return self._letters.typed

    @property
    def situation(self) -> Situation:
        """The day as it ended."""
        return self._view

    def look(self) -> None:
        """Look at the day again."""
        log, now = self.entries, self.entries.situation.now
        self._view = day_as_it_ended(log.settings, log.events, self._day, now)

    def compose(self) -> ComposeResult:
        """Lay out the day, already filled in."""
        yield PageTop(title(self._view))
        with Container(id="past-body"):
            yield WholeLines(told(self._view), "told")
            yield Timeline(self._view)
        yield KeyLine(self._keys())

    def show(self) -> None:
        """Present the day with the selection."""
        if not self.is_mounted:
            return
        self.query_one(PageTop).show(title(self._view))
        self.query_one("#told", WholeLines).show(told(self._view))
        self.query_one(Timeline).show(self._view, self.chosen)
        cut = sign("cut", self.glyphs)
        self.query_one(KeyLine).show(self._keys(), self._prompt or self.chosen_words, cut)

    def _keys(self) -> Iterator[Key]:
        """Yield what can be done on this day."""
        yield Key("esc", "back", "screen.leave")
        yield Key(self.arrows("up", "down"), "select")
        yield Key(self.arrows("left", "right"), "other days")
        yield Key(key_words(BY_ID["undo"], self.keymap), "undo", "screen.undo")
        yield Key("a letter", "logs here")
        help_ = BY_ID["help"]
        if keys := key_words(help_, self.keymap):
            yield Key(keys, help_.words, help_.call, stays=True)

    @property
    def _prompt(self) -> str:
        """What stands in place of the keys while a time is typed: what was understood."""
        typed = self.typed
        if not typed.digits:
            return ""
        if typed.clock is None:
            return f"{typed.digits}: type it like 2240 for 22:40 (esc to clear)"
        return f"{typed.clock:%H:%M} {self._on_day}: now press a letter (esc to clear)"

    @property
    def _on_day(self) -> str:
        day = self._day
        return f"on {day:%a} {day.day} {day:%b}"

    # --- Logging on this day ----------------------------------------------------------------------

    def action_log(self, kind: str) -> None:
        """Log one entry on this day: ask at what time, and offer the one that was typed."""
        self._at_a_time(BY_ID[kind], lambda: self._letters.log(kind))

    def action_ask(self, name: str) -> None:
        """Log an entry that asks a question, after that about the time."""
        self._at_a_time(BY_ID[name], lambda: self._letters.ask(name))

    def _at_a_time(self, action: Action, work: Callable[[], None]) -> None:
        day, log = self._day, self.entries

        def read(text: str) -> str:
            return read_on(text, day, log.now(), log.settings.zone).isoformat()

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None:
                self._letters.at(datetime.fromisoformat(answers["at"]), work)

        try:
            clock = self.typed.take_clock()
            typed = "" if clock is None else f"{clock:%H:%M}"
            offered = tuple(Choice("y", read(text), text) for text in (typed,) if text)
        except TimeError as error:
            log.refuse()
            self.say(str(error), wrong=True)
            self.show()
            return
        self.show()
        question, default = f"At what time {self._on_day}?", ""
        if offered:
            default = offered[0].value
        else:
            question += " Such as 22:40"
        when = Ask("at", question, offered, default, read, keys_of(action, self.keymap))
        heading = f"{action.words.capitalize()}, {self._on_day.removeprefix('on ')}"
        self.app.push_screen(AskDialog(heading, (when,), self.glyphs), closed)

    # --- Doing ------------------------------------------------------------------------------------

    def action_turn(self, step: int) -> None:
        """Go to the day before or after, within the log."""
        first, today = self._view.settings.first_date, self.entries.situation.date
        self._day = min(max(self._day + timedelta(days=step), first), today)
        self.chosen = ""
        self.typed.clear()
        self.look()
        self.show()

    def action_back(self) -> None:
        """Forget the digits, then the selection; without either, go back."""
        if self.typed.digits:
            self.typed.clear()
            self.show()
        elif self.chosen:
            self.chosen = ""
            self.show()
        else:
            self.action_leave()

    def action_leave(self) -> None:
        """Go back to the page of many days."""
        self.dismiss(self._day)


# --- The page ------------------------------------------------------------------------------------


def title(view: Situation) -> tuple[str, ...]:
    """Return the ends of the top line: the dog and the day; the verdict."""
    glyphs, day = view.settings.board.glyphs, view.date
    dot, date = sign("between", glyphs), f"{day:%a} {day.day} {day:%b}"
    mark, word = VERDICTS[_summary(view).verdict]
    name = name_of(view.settings)
    return f"{name} {dot} day {view.day} {dot} {date}", f"{sign(mark, glyphs)} {word}", date


def told(view: Situation) -> tuple[Piece, ...]:
    """Return the verdict and why, accidents with their causes, the interval and the holds."""
    glyphs, summary = view.settings.board.glyphs, _summary(view)
    mark, word = VERDICTS[summary.verdict]
    verdict = summary.words if summary.accidents else f"{word.capitalize()}: {summary.words}"
    pieces = [_piece(f"{sign(mark, glyphs)} {verdict}.", 0, "bold")]
    accounts = {account.event: account for account in view.accidents}
    for slot in view.timeline:
        event = slot.event
        if event is None or not event.row.is_accident:
            continue
        what = f"{view.settings.clock(event.at)} {describe(event, view.settings)}"
        account = accounts.get(event)
        if account is None:
            pieces.append(_piece(f"{sign('problem', glyphs)} {what}.", 1))
        else:
            short = f"{sign('problem', glyphs)} {what}: {account.words}."
            pieces.append(_piece(f"{short} {account.reasoning}", 1, shorter=short))
    changes = [change for change in view.interval.changes if _is_on(change, view)]
    first = "At the end of the day a" if changes else "A"
    pieces.append(_piece(f"{first} break every {span_words(summary.interval)}.", 2))
    for change in changes:
        pieces.append(_piece(f"{view.settings.clock(change.at)}: {change.words}", 2, "dim"))
    pieces.append(_piece(_holds(summary), 3, "dim"))
    return tuple(pieces)


def _piece(text: str, rank: int, style: str = "", shorter: str = "") -> Piece:
    texts = (one_line(each, _LONGEST) for each in (text, shorter) if each)
    return Piece(tuple(Content.styled(each, style) for each in texts), rank)


def _summary(view: Situation) -> DaySummary:
    return next(day for day in view.days if day.date == view.date)


def _is_on(change: Change, view: Situation) -> bool:
    return change.at.astimezone(view.settings.zone).date() == view.date


def _holds(summary: DaySummary) -> str:
    outings = count_words(summary.outings, "outing")
    if not summary.holds:
        return f"{outings}."
    longest = span_words(max(summary.holds))
    return f"{outings}, {count_words(len(summary.holds), 'wait')} by day, the longest {longest}."
