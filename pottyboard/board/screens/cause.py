"""The page of causes: why each accident likely happened, and one change for tomorrow."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType

from pottyboard.board.screens.base import PageKey
from pottyboard.board.screens.cause_page import CAUSE_KEYS, LOG_KEY, page
from pottyboard.board.screens.chosen import ChosenPage, Written
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import Event


class CauseScreen(ChosenPage):
    """Shows one accident at a time; each cause has a key, and so has the change."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t,enter", "take", "take the change", show=False),
        Binding("e", "ask_rest", "ask the rest", show=False),
        Binding("j", "leave", "close", show=False),
    ]

    @property
    def account(self) -> Account | None:
        """The accident that is shown."""
        accounts = self.situation.accidents
        return accounts[min(self.at, len(accounts) - 1)] if accounts else None

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and which accident of how many is shown."""
        name, count = words.name_of(self.situation.settings), self.count()
        number = f"{self.at + 1} of {count}" if count else "none"
        return f"{name} {sign('between', self.glyphs)} why it happened indoors", number

    def count(self) -> int:
        """Return how many accidents there are."""
        return len(self.situation.accidents)

    def write(self, width: int, height: int) -> Written:
        """Return the page of the chosen accident."""
        return page(self.situation, self.at, width, height)

    def hints(self) -> Iterator[PageKey]:
        """Yield the keys that do something now."""
        account = self.account
        if account is None:
            return
        if account.offer is not None and account.offer.measure and not account.offer.taken:
            yield PageKey("t", "take the change", "screen.take")
        yield PageKey("1-0 a-d", "cause")
        yield PageKey("e", "ask the rest", "screen.ask_rest")
        if self.count() > 1:
            yield self.arrows()
        yield PageKey("u", "undo", "screen.undo")

    # --- Doing ------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Take the key of a cause."""
        if event.character is not None and event.character in (*CAUSE_KEYS, LOG_KEY):
            event.stop()
            self.action_say_cause(event.character)

    def action_say_cause(self, key: str) -> None:
        """Save what the household says was the cause, or leave it to the log again."""
        account = self.account
        if account is not None:
            cause = CAUSE_KEYS.get(key, "")
            self.change(lambda: self._say_cause(account, cause))

    def _say_cause(self, account: Account, cause: str) -> str:
        self.entries.complete(account.event.id, {"cause": cause}, joined=False)
        said = f"“{CAUSE_WORDS[cause]}”" if cause else "as the log says"
        return f"Cause of {self.situation.settings.clock(account.event.at)}: {said}. {self.undoes}"

    def action_take(self) -> None:
        """Take the change into the routine."""
        account = self.account
        offer = None if account is None else account.offer
        if account is None or offer is None:
            return
        if offer.taken or not offer.measure:
            self.say("Taken already." if offer.taken else "Nothing to take: this is for you to do.")
            return
        entry = self.entries.make(
            "routine", measure=offer.measure, minutes=offer.minutes, about=account.event.id
        )
        self.change(lambda: self._take(entry, offer.words))

    def _take(self, entry: Event, words: str) -> str:
        self.entries.begin(entry)
        return f"Taken: {words} {self.undoes}"

    def action_ask_rest(self) -> None:
        """Ask what is not yet known about the accident."""
        from pottyboard.board.dialogs.accident import AccidentDialog

        account = self.account
        if account is None:
            return
        dialog = AccidentDialog(self.entries, account.event, several_dogs=self.entries.several_dogs)
        if not dialog.left_open:
            self.say("Everything is known already: correct it on the Day screen.")
            return
        self.app.push_screen(dialog, lambda _: self.show())
