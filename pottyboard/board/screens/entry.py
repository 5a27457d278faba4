"""The letters of the Day screen: one key, one entry, and the few that ask a question first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import wraps
from typing import Concatenate, ParamSpec

from pottyboard.board.control.actions import BY_ID, EMERGENCY, key_words, keys_of
from pottyboard.board.screens.logging import LoggingScreen
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import TimeError
from pottyboard.core.model.permitted import NOTHING_TO_CLEAN

_P = ParamSpec("_P")


def refusing(
    action: Callable[Concatenate[EntryScreen, _P], None],
) -> Callable[Concatenate[EntryScreen, _P], None]:
    """Let an action that makes an entry say why none can be made."""

    @wraps(action)
    def run(screen: EntryScreen, /, *args: _P.args, **kwargs: _P.kwargs) -> None:
        try:
            action(screen, *args, **kwargs)
        except TimeError as error:
            screen.say(str(error), wrong=True)
            screen.show()

    return run


class EntryScreen(LoggingScreen):
    """Turns letters into entries."""

    @refusing
    def action_log(self, kind: str) -> None:
        """Log one entry, now or the typed minutes ago."""
        self.save_once(kind)

    @refusing
    def action_accident(self) -> None:
        """Say what to do now, and log an accident; it counts from this key on."""
        from pottyboard.board.dialogs.accident import AccidentDialog

        self.show()
        several = self.entries.several_dogs
        dialog = AccidentDialog(self.entries, self.make("pee-inside"), several_dogs=several)

        def closed(answers: dict[str, str] | None) -> None:
            saved = dialog.saved
            if answers is not None and saved is not None:
                self.change(lambda: self._accident_words(saved, dialog.left_open))

        self.app.push_screen(dialog, closed)

    def _accident_words(self, event: Event, left_open: tuple[str, ...]) -> str:
        words = self.entries.saved_words(event)
        if not left_open:
            return words
        return f"{words} {key_words(BY_ID['accident'], self.keymap)} and r asks the rest."

    @refusing
    def action_settled(self) -> None:
        """Ask whether for a nap or the night."""
        from pottyboard.board.dialogs import asked_entries as asked

        event = self.make("settled")
        again = keys_of(BY_ID["settled"], self.keymap)
        asks = asked.sleep_asks(self.situation.settings, event.at, again)
        self.ask("Settled", asks, lambda answers: self.save(replace(event, sleep=answers["sleep"])))

    @refusing
    def action_back(self) -> None:
        """Ask how it went, after a time alone that was long enough to tell; log it in any case."""
        from pottyboard.board.dialogs import asked_entries as asked

        if self.situation.alone_since is None:
            self.save_once("back")
            return
        event = self.make("back")
        asks = asked.back_asks(self.situation, event.at)
        if not asks:
            self.save(event)
            return
        self.ask(
            "Back",
            asks,
            lambda answers: self.save(replace(event, note=answers["how"])),
            lambda: self.save(event),
        )

    @refusing
    def action_duty(self) -> None:
        """Hand over to the next person; ask who, if there are more than two."""
        from pottyboard.board.dialogs import asked_entries as asked

        people = self.situation.settings.home.people
        if not people:
            setup = key_words(BY_ID["setup"], self.keymap)
            self.say(f"Nobody is named yet: write the people into the set-up ({setup}).")
        elif len(people) <= 2:
            self.save_once("duty", by=asked.next_on_duty(self.situation))
        else:
            event = self.make("duty")
            asks = asked.duty_asks(self.situation)
            self.ask("Duty", asks, lambda answers: self.save(replace(event, by=answers["by"])))

    @refusing
    def action_cleaned(self) -> None:
        """Tick off the spot that is to be cleaned; ask which, if there are several."""
        from pottyboard.board.dialogs import asked_entries as asked

        jobs = tuple(job for job in self.situation.open_jobs if job.code == "clean")
        if not jobs:
            self.say(NOTHING_TO_CLEAN)
            return
        event = self.make("cleaned")
        if len(jobs) == 1:
            self.change(lambda: self.entries.save_cleaned(event, jobs))
            return

        def then(answers: dict[str, str]) -> None:
            chosen = [job for job in jobs if answers["about"] in (job.about, asked.ALL_SPOTS)]
            self.change(lambda: self.entries.save_cleaned(event, chosen))

        self.ask("Cleaned up", asked.cleaned_asks(jobs), then)

    @refusing
    def action_note(self) -> None:
        """Ask for a line of text."""
        from pottyboard.board.dialogs import asked_entries as asked

        event = self.make("note")
        asks = asked.note_asks()
        self.ask("Note", asks, lambda answers: self.save(replace(event, note=answers["note"])))

    @refusing
    def action_other(self) -> None:
        """Ask which of the entries that have no key of their own."""
        from pottyboard.board.dialogs import asked_entries as asked

        event = self.make("note")

        def then(answers: dict[str, str]) -> None:
            self.save(replace(event, kind=answers["kind"], **asked.other_details(answers)))
            if answers.get("finding") == asked.EMERGENCY:
                self.app.call_later(self.app.run_action, EMERGENCY.call)

        self.ask("Other entry", asked.other_asks(self.situation.settings), then)
