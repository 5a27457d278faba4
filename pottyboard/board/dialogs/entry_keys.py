"""The letters that log: one key, one entry, and the few that ask a question first."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final, Protocol

from pendulum import Timezone

from pottyboard.board.control.entries import Entries
from pottyboard.board.control.typed import JustSaved, TypedTime
from pottyboard.board.keys.actions import BY_ID, EMERGENCY
from pottyboard.board.keys.keymap import key_words, keys_of
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.model.events import KINDS, Event
from pottyboard.core.model.localtime import TimeError, day_clock_words, span_words
from pottyboard.core.model.permitted import NOTHING_TO_CLEAN
from pottyboard.core.view.situation import Situation

if TYPE_CHECKING:
    from textual.app import App

    from pottyboard.board.dialogs.questions import Ask


class Board(Protocol):
    """The screen whose keys these are: it shows and says what comes of them."""

    entries: Entries

    @property
    def app(self) -> App[Any]: ...

    @property
    def keymap(self) -> Mapping[str, str]: ...

    @property
    def situation(self) -> Situation: ...

    def show(self) -> None: ...

    def say(self, words: str, *, wrong: bool = False) -> None: ...

    def change(self, work: Callable[[], str]) -> None: ...


class EntryKeys:
    """Turns the letters of a board into entries, now or at the time typed before them."""

    def __init__(self, board: Board) -> None:
        """Write to the entries of ``board``."""
        self.typed = TypedTime()
        self._board = board
        self._just: JustSaved | None = None
        self._asked: Final[Mapping[str, Callable[[], None]]] = {
            "accident": self._accident,
            "settled": self._settled,
            "back": self._back,
            "duty": self._duty,
            "cleaned": self._cleaned,
            "answer": self._answer,
            "calls": self._calls,
            "note": self._note,
            "other": self._other,
        }

    def log(self, kind: str) -> None:
        """Log one entry by one key."""
        self._refusing(lambda: self._on_its_day(lambda: self._save_once(kind)))

    def ask(self, name: str) -> None:
        """Do what an action of this name asks; ``KeyError`` for any other."""
        self._refusing(lambda: self._on_its_day(self._asked[name]))

    def forget(self) -> None:
        """Let the next letter be no slip: something else has happened since the last."""
        self._just = None

    @property
    def prompt(self) -> str:
        """What stands in place of the keys while a time is typed: what was understood."""
        typed, zone, now = self.typed, self._zone, self._board.entries.now()
        if typed.is_empty:
            return ""
        if typed.is_clock and typed.clock is None:
            return f"{typed.digits or 'at what time?'}: type it like 2240 for 22:40 (esc to clear)"
        if typed.is_clock:
            when = day_clock_words(typed.clock_at(now, zone) or now, now, zone)
            return f"{when}: now press a letter (esc to clear)"
        keys = key_words(BY_ID["at"], self._board.keymap)
        as_clock = keys and len(typed.digits) > 2 and typed.clock is not None
        clock = f"{keys} makes it {typed.clock:%H:%M}, " if as_clock else ""
        if typed.is_too_long:
            return f"more than 24 h ago: {clock}esc clears, backspace takes a digit back"
        span = f", {span_words(typed.minutes)}" if typed.minutes >= 60 else ""
        return f"{typed.minutes} min{span} ago: now press a letter ({clock}esc to clear)"

    def at(self, at: datetime, work: Callable[[], None]) -> None:
        """Do what makes an entry, as of the instant ``at``."""
        self.typed.fix(at)
        work()
        self.typed.clear()  # where nothing was made of it, the next entry is of now

    def at_clock(self) -> None:
        """Let what is typed be a clock time."""
        self.typed.at_clock()
        self._board.show()

    @property
    def _zone(self) -> Timezone:
        return self._board.situation.settings.zone

    # --- Saving -----------------------------------------------------------------------------------

    def _refusing(self, work: Callable[[], None]) -> None:
        """Do what makes an entry, or say why none can be made."""
        try:
            work()
        except TimeError as error:
            self._board.entries.refuse()
            self._board.say(str(error), wrong=True)
            self._board.show()

    def _make(self, kind: str, **details: Any) -> Event:
        entries = self._board.entries
        return entries.make(kind, self.typed.take(entries.now(), self._zone), **details)

    def _on_its_day(self, work: Callable[[], None]) -> None:
        """Do what makes an entry, after a question where the typed clock time is of another day."""
        from pottyboard.board.dialogs import asked_entries as asked
        from pottyboard.board.dialogs.ask import AskDialog

        now, zone = self._board.entries.now(), self._zone
        at = self.typed.clock_at(now, zone)
        if at is None or at.astimezone(zone).date() == now.astimezone(zone).date():
            work()
            return

        def closed(answers: dict[str, str] | None) -> None:
            if answers == asked.SURE:
                self.at(at, lambda: self._refusing(work))
            else:
                self.typed.clear()
                self._board.show()

        wall = at.astimezone(zone)
        day = f"{wall:%a} {wall.day} {wall:%b}"
        question = f"{day_clock_words(at, now, zone)}, {day}: log it then?"
        glyphs = self._board.situation.settings.board.glyphs
        dialog = AskDialog("Yesterday", asked.sure_asks(question, "yes"), glyphs)
        self._board.app.push_screen(dialog, closed)

    def _save(self, event: Event) -> None:
        self._board.change(lambda: self._board.entries.save(event))

    def _save_once(self, kind: str, **details: Any) -> None:
        """Save the entry of one key, unless the key has just been pressed: then ask for it again.

        Typed minutes say that another entry is meant.
        """
        entries, just = self._board.entries, self._just
        self.forget()
        is_slip = just is not None and just.is_repeated_by(kind, entries.now(), entries.ticks())
        if just is not None and is_slip and self.typed.is_empty:
            at = self._board.situation.settings.clock(just.at)
            words = KINDS[kind].words
            self._board.say(f"Just saved {words} at {at}: press again to save another.")
            return
        event = self._make(kind, **details)
        self._save(event)
        self._just = JustSaved(kind, event.at, entries.ticks())

    # --- Asking -----------------------------------------------------------------------------------

    def _ask(
        self,
        heading: str,
        asks: tuple[Ask, ...],
        event: Event,
        then: Callable[[Event, dict[str, str]], None],
        otherwise: Callable[[], None] | None = None,
    ) -> None:
        """Ask, then go on with the entry and the answers; after escape do what is to be done
        ``otherwise``.

        A dialog that was left alone keeps the time that was typed before it, until another is.
        """
        from pottyboard.board.dialogs.ask import AskDialog

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None:
                then(replace(event, at=dialog.at or event.at), answers)
            elif otherwise is not None:
                otherwise()

        self._board.show()
        glyphs = self._board.situation.settings.board.glyphs
        is_typed = event.at != self._board.entries.now()
        dialog = AskDialog(heading, asks, glyphs, event.at if is_typed else None)
        self._board.app.push_screen(dialog, closed)

    def _accident(self) -> None:
        """Say what to do now, and log an accident; it counts from this key on."""
        self._open(self._make("pee-inside"))

    def _open(self, event: Event) -> None:
        from pottyboard.board.dialogs.accident import AccidentDialog

        entries = self._board.entries
        self._board.show()
        dialog = AccidentDialog(entries, event, several_dogs=entries.several_dogs)

        def closed(answers: dict[str, str] | None) -> None:
            saved = dialog.saved
            if answers is not None and saved is not None:
                self._board.change(lambda: self._accident_words(saved, dialog.left_open))

        self._board.app.push_screen(dialog, closed)

    def _accident_words(self, event: Event, left_open: tuple[str, ...]) -> str:
        words = self._board.entries.saved_words(event)
        if not left_open:
            return words
        accident = key_words(BY_ID["accident"], self._board.keymap)
        return f"{words} More questions later: press {accident}, then r."

    def _settled(self) -> None:
        """Ask whether for a nap or the night."""
        from pottyboard.board.dialogs import asked_entries as asked

        event = self._make("settled")
        again = keys_of(BY_ID["settled"], self._board.keymap)
        asks = asked.sleep_asks(self._board.situation.settings, event.at, again)
        self._ask(
            "Settled",
            asks,
            event,
            lambda event, answers: self._save(replace(event, sleep=answers["sleep"])),
        )

    def _back(self) -> None:
        """Ask how it went, after a time alone that was long enough to tell; log it in any case."""
        from pottyboard.board.dialogs import asked_entries as asked

        if self._board.situation.alone_since is None:
            self._save_once("back")
            return
        event = self._make("back")
        asks = asked.back_asks(self._board.situation, event.at)
        if not asks:
            self._save(event)
            return
        self._ask(
            "Back",
            asks,
            event,
            lambda event, answers: self._save(replace(event, note=answers["how"])),
            lambda: self._save(event),
        )

    def _duty(self) -> None:
        """Hand over to the next person; ask who, if there are more than two."""
        from pottyboard.board.dialogs import asked_entries as asked

        now = self._board.situation
        people = now.settings.home.people
        if not people:
            setup = key_words(BY_ID["setup"], self._board.keymap)
            self._board.say(f"Nobody is named yet: write the people into the set-up ({setup}).")
        elif len(people) <= 2:
            self._save_once("duty", by=asked.next_on_duty(now))
        else:
            event = self._make("duty")
            self._ask(
                "Duty",
                asked.duty_asks(now),
                event,
                lambda event, answers: self._save(replace(event, by=answers["by"])),
            )

    def _cleaned(self) -> None:
        """Tick off the spot that is to be cleaned; ask which, if there are several."""
        from pottyboard.board.dialogs import asked_entries as asked

        board = self._board
        jobs = tuple(job for job in board.situation.open_jobs if job.code == "clean")
        if not jobs:
            board.say(NOTHING_TO_CLEAN)
            return
        event = self._make("cleaned")
        if len(jobs) == 1:
            board.change(lambda: board.entries.save_cleaned(event, jobs))
            return

        def then(event: Event, answers: dict[str, str]) -> None:
            chosen = [job for job in jobs if answers["about"] in (job.about, asked.ALL_SPOTS)]
            board.change(lambda: board.entries.save_cleaned(event, chosen))

        self._ask("Cleaned up", asked.cleaned_asks(jobs), event, then)

    def _answer(self) -> None:
        """Answer the first question that stands: at once where one answer is all there is.

        Of an accident that was left alone, ask all that is open.
        """
        from pottyboard.board.dialogs import asked_entries as asked

        board = self._board
        job = next((job for job in board.situation.open_jobs if job.is_question), None)
        if job is None:
            board.say("Nothing is asked.")
            return
        accident = board.entries.find(job.about) or board.entries.unsaved
        if job.code == "left-open" and accident is not None:
            self._open(accident)
            return
        if len(job.answers) == 1:
            self._save(self._make(job.answers[0], about=job.about))
            return
        if job.measures:
            again = keys_of(BY_ID["answer"], board.keymap)
            self._take_measure(one_line(job.name, 60), asked.measure_asks(job, again))
            return
        event = self._make("note")
        self._ask(
            "Answer",
            asked.answer_asks(job),
            event,
            lambda event, answers: self._save(
                replace(event, kind=answers["kind"], about=job.about)
            ),
        )

    def _calls(self) -> None:
        """Ask which call of the first days comes back, or is dropped again."""
        from pottyboard.board.dialogs import asked_entries as asked

        now = self._board.situation
        if now.calls:
            self._take_measure("What calls a break", asked.calls_asks(now))
        else:
            self._board.say(asked.not_known(now))

    def _take_measure(self, heading: str, asks: tuple[Ask, ...]) -> None:
        """Ask for a change of the routine, and save it if there is one."""
        event = self._make("routine")

        def then(event: Event, answers: dict[str, str]) -> None:
            if answers["measure"]:
                self._save(replace(event, measure=answers["measure"]))

        self._ask(heading, asks, event, then)

    def _note(self) -> None:
        """Ask for a line of text."""
        from pottyboard.board.dialogs import asked_entries as asked

        event = self._make("note")
        self._ask(
            "Note",
            asked.note_asks(),
            event,
            lambda event, answers: self._save(replace(event, note=answers["note"])),
        )

    def _other(self) -> None:
        """Ask which of the entries that have no key of their own."""
        from pottyboard.board.dialogs import asked_entries as asked

        event = self._make("note")

        def then(event: Event, answers: dict[str, str]) -> None:
            self._save(replace(event, kind=answers["kind"], **asked.other_details(answers)))
            if answers.get("finding") == asked.EMERGENCY:
                app = self._board.app
                app.call_later(app.run_action, EMERGENCY.call)

        self._ask("Other entry", asked.other_asks(self._board.situation.settings), event, then)
