"""What has just been typed: the time before a letter, and the letter before this one."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import Final, NamedTuple

from pendulum import Timezone

from pottyboard.core.model.localtime import TimeError, last_at, read_clock

_MOST_DIGITS: Final = 4
_MOST_AGO: Final = 24 * 60
_SLIP: Final = 3.0
"""Seconds within which the same letter again is more likely a slip than a second entry."""


class TypedTime:
    """The digits before a letter: so many minutes ago was the next entry, or at that clock time."""

    def __init__(self) -> None:
        """Begin without any."""
        self.digits = ""
        self.is_clock = False
        self._fixed: datetime | None = None

    def type(self, digit: str) -> None:
        """Add a digit."""
        self.digits += digit

    def shorten(self) -> None:
        """Take back one digit, and then that they are a clock time."""
        self.is_clock = self.is_clock and bool(self.digits)
        self.digits = self.digits[:-1]

    def clear(self) -> None:
        """Forget the digits."""
        self.digits = ""
        self.is_clock = False
        self._fixed = None

    def at_clock(self) -> None:
        """Let the digits, and those to come, be a clock time."""
        self.is_clock = True

    def fix(self, at: datetime) -> None:
        """Let the next entry be of this instant."""
        self._fixed = at

    @property
    def is_empty(self) -> bool:
        """Whether the next entry is of now."""
        return not self.digits and not self.is_clock and self._fixed is None

    @property
    def minutes(self) -> int:
        """The minutes ago."""
        return int(self.digits or 0)

    @property
    def is_too_long(self) -> bool:
        """Whether more minutes are typed than an entry may lie back."""
        return not self.is_clock and (
            len(self.digits.lstrip("0")) > _MOST_DIGITS or self.minutes > _MOST_AGO
        )

    @property
    def clock(self) -> time | None:
        """The clock time that the digits would be, ``705`` as ``7`` hours ``05``; None if none."""
        hours = len(self.digits) - 2 if len(self.digits) > 2 else 2
        try:
            return read_clock(f"{self.digits[:hours]}:{self.digits[hours:] or '00'}")
        except TimeError:
            return None

    def clock_at(self, now: datetime, zone: Timezone) -> datetime | None:
        """Return the last instant at which it was the typed clock time; None if none is typed.

        Raises ``TimeError`` if the digits are no clock time.
        """
        if not self.is_clock:
            return None
        if self.clock is None:
            raise self._no_clock()
        return last_at(self.clock, now, zone)

    def take_clock(self) -> time | None:
        """Return the clock time that the digits are, None without any; they are used up.

        Raises ``TimeError`` if they are no clock time.
        """
        if not self.digits:
            return None
        clock = self.clock
        if clock is None:
            raise self._no_clock()
        self.clear()
        return clock

    def _no_clock(self) -> TimeError:
        """Forget the digits, and return what to say of them."""
        digits, self.digits, self.is_clock = self.digits, "", False
        return TimeError(f"“{digits}” is no clock time, nothing saved: write 2240 for 22:40.")

    def take(self, now: datetime, zone: Timezone) -> datetime:
        """Return the instant that was typed, ``now`` if nothing was; the digits are used up.

        Raises ``TimeError`` for more than a day: longer ago needs a date, which a correction takes;
        and for what is no clock time.
        """
        fixed, is_too_long, minutes = self._fixed, self.is_too_long, self.minutes
        try:
            at = self.clock_at(now, zone)
        finally:
            self.clear()
        if fixed is not None or at is not None:
            return fixed or at or now
        if is_too_long:
            raise TimeError("More than 24 h ago, nothing saved: type the minutes again.")
        return now - timedelta(minutes=minutes)


class JustSaved(NamedTuple):
    """The entry that one key has just saved: its kind, its time, and when by the steady clock."""

    kind: str
    at: datetime
    tick: float

    def is_repeated_by(self, kind: str, now: datetime, tick: float) -> bool:
        """Whether an entry now is more likely a slip of the finger.

        Both clocks must say so: the steady one may stand still while a laptop sleeps.
        """
        by_wall = (now - self.at).total_seconds()
        return kind == self.kind and tick - self.tick < _SLIP and by_wall < _SLIP
