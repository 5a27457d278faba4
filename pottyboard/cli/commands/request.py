"""What was typed, and the rooms behind it: the home, the dog's log, the situation, the board."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentTypeError, Namespace
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime, timedelta
from functools import cached_property

from pottyboard.cli.output.messages import warn
from pottyboard.core.log.ahead import ahead_words
from pottyboard.core.view.situation import Situation, situation
from pottyboard.core.written.dates import Facing, is_day, read_day
from pottyboard.core.written.text import TimeError
from pottyboard.store import DogLog, Household, StoreError

Clock = Callable[[], datetime]
"""The one clock: returns the aware instant now."""


class Request:
    """One command as it was typed: its options as ``args``, ``now`` the instant it was typed."""

    def __init__(self, args: Namespace, clock: Clock) -> None:
        """Take what was typed; nothing is read yet."""
        self.args = args
        self.clock = clock
        self.now = clock()
        self.saved = False  # whether something was saved already: then nothing is refused any more

    @cached_property
    def household(self) -> Household:
        """The home that was named, else the one of this user."""
        household = Household(Household.default_folder(self.args.home, os.environ))
        with suppress(StoreError):
            if len(household.everyone()) > 1:
                from pottyboard.store.shared import catch_up

                for words in catch_up(household, self.now):
                    warn(words)
        return household

    @cached_property
    def dog_log(self) -> DogLog:
        """The log of the dog that was named, else of the only one."""
        dog_log = opened(self.household.dog_log(self.args.dog))
        if words := ahead_words(dog_log.events, self.now, dog_log.settings):
            warn(words)
        return dog_log

    def situation(self, at: datetime | None = None) -> Situation:
        """Return how things stand now, or ``at`` another instant, with all that is logged."""
        log = self.dog_log
        return situation(log.settings, log.events, self.now if at is None else at)

    @property
    def today(self) -> date:
        """The local date."""
        return self.now.astimezone(self.dog_log.settings.zone).date()

    def date(self, facing: Facing = "past") -> date | None:
        """Return the day that was typed, if one was: a date, a near day, or a day number.

        ``facing`` says which day a weekday means.
        """
        if self.args.date is None:
            return None
        text = self.args.date.strip()
        if text.isdecimal() and len(text) < 4:
            return self.dog_log.settings.first_date + timedelta(days=int(text) - 1)
        if not is_day(text):
            raise TimeError(
                f"“{text}” is not a day: write 2026-03-02, 2 Mar, yesterday, or a day number such "
                f"as 3."
            )
        return read_day(text, self.today, facing)

    def open_board(
        self,
        household: Household,
        dog: str | None,
        clock: Clock,
        *,
        set_up: bool = False,
        demo: str = "",
    ) -> int:
        """Open the board, and return its exit code once it is closed."""
        from pottyboard import board

        return board.run(household, dog, clock, set_up=set_up, demo=demo)


def opened(dog_log: DogLog) -> DogLog:
    """Read the whole log, so that whatever is wrong with its files is said at once."""
    _ = dog_log.settings, dog_log.events
    for words in dog_log.notices:
        warn(words)
    return dog_log


def on_terminal() -> bool:
    """Whether a person sits before a terminal that can show the board."""
    dumb = os.environ.get("TERM", "") == "dumb"
    return sys.stdin.isatty() and sys.stdout.isatty() and not dumb


def zone_here(now: datetime) -> str:
    """Return the name of this computer's time zone."""
    from pottyboard.board.control.clock import zone_of

    return zone_of(now)


def number_of_days(text: str) -> int:
    """Read a number of days."""
    try:
        return int(text)
    except ValueError:
        raise ArgumentTypeError(f"“{text}” is no number of days: write one such as 7.") from None
