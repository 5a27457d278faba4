"""What has just been typed: the minutes before a letter, and the letter before this one."""

from __future__ import annotations

from datetime import datetime
from typing import Final, NamedTuple

from pottyboard.core.model.localtime import TimeError

_MOST_DIGITS: Final = 4
_MOST_AGO: Final = 24 * 60
_SLIP: Final = 3.0
"""Seconds within which the same letter again is more likely a slip than a second entry."""


class MinutesAgo:
    """The digits before a letter: so many minutes ago was the next entry."""

    def __init__(self) -> None:
        """Begin without any."""
        self.digits = ""

    def type(self, digit: str) -> None:
        """Add a digit."""
        self.digits = (self.digits + digit).lstrip("0")

    def shorten(self) -> None:
        """Take back one digit."""
        self.digits = self.digits[:-1]

    def clear(self) -> None:
        """Forget the digits."""
        self.digits = ""

    @property
    def is_too_long(self) -> bool:
        """Whether more minutes are typed than an entry may lie back."""
        return len(self.digits) > _MOST_DIGITS or int(self.digits or 0) > _MOST_AGO

    def take(self) -> int:
        """Return the minutes; the digits are used up.

        Raises ``TimeError`` for more than a day: longer ago needs a date, which a correction takes.
        """
        is_too_long, digits = self.is_too_long, self.digits
        self.digits = ""
        if is_too_long:
            raise TimeError("More than 24 h ago, nothing saved: type the minutes again.")
        return int(digits or 0)


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
