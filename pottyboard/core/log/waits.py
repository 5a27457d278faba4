"""The waits of a dog that entries end: from a pee to the next, from a meal to its stool."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from pottyboard.core.model import priors
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.statistics.survival import CensoredTime


class Hold(Struct, frozen=True):
    """One hold: from a pee to the next, in minutes, ``awake`` and ``asleep`` apart.

    ``ended`` is the instant of the later pee. ``how`` tells how it ended: *out* (it could have held
    longer), *seen* (an accident at that instant), *found* (an accident some time after the floor
    was last dry, ``dry`` minutes into the hold) or *pad* (it chose its own time). ``night`` marks a
    hold over a night; ``other_cause`` an accident that says nothing about holding (marking,
    greeting, leak, or right after a pee); ``asked`` one that the dog itself ended by a sign.
    ``silent`` marks a hold over a silence of the log: what ended outside is as long as its part
    before the silence, and no longer.
    """

    ended: Minutes
    awake: float
    asleep: float
    how: Literal["out", "seen", "found", "pad"]
    dry: float = 0.0
    night: bool = False
    other_cause: bool = False
    asked: bool = False
    silent: bool = False

    @property
    def length(self) -> float:
        """The whole hold in minutes."""
        return self.awake + self.asleep

    @property
    def tells(self) -> bool:
        """Whether it says something about holding: no other cause."""
        return not self.other_cause

    @property
    def chosen(self) -> bool:
        """Whether the dog chose its time: after a sign, or on the pad at hand."""
        return self.asked or self.how == "pad"

    @property
    def proves(self) -> bool:
        """Whether it shows that the dog can wait so long by day: somebody took it out, unasked."""
        return self.how == "out" and not (self.night or self.asked or self.silent)

    @property
    def indoors(self) -> bool:
        """Whether an accident ended it."""
        return self.how in ("seen", "found")


class Digested(Struct, frozen=True):
    """What became of one meal, in minutes after it.

    ``bare`` is the last outing without stool; ``stool`` the stool, if it came; ``indoors`` whether
    that was an accident, and ``dry`` when the floor was last clean, if it was found; ``pad``
    whether it came on the pad, which does not say how long it would have held.
    """

    bare: float
    stool: float | None = None
    indoors: bool = False
    dry: float | None = None
    pad: bool = False

    @property
    def ended(self) -> bool:
        """Whether the stool came."""
        return self.stool is not None

    @property
    def ready(self) -> CensoredTime:
        """When an outing would have brought stool: after ``bare``, by ``stool``."""
        if self.stool is None:
            return CensoredTime(self.bare)
        return CensoredTime(min(self.bare, self.stool), self.stool)

    @property
    def stool_hold(self) -> CensoredTime | None:
        """How long stool was held once it was ready, some time after ``bare``; None if none came.

        Indoors it was held no longer than since then; outside at least to that outing, on average
        from half way, but no more than an hour is made of that.
        """
        if self.stool is None:
            return None
        span = max(0.0, self.stool - self.bare)
        if self.pad:
            return CensoredTime(0.0)
        if self.indoors:
            return CensoredTime(0.0, max(1.0, span))
        return CensoredTime(min(span / 2, float(priors.STOOL_HELD_MOST)))


class Stool(Struct, frozen=True):
    """One stool, wherever: ``ready`` is when it likely was, in epoch minutes."""

    ready: Minutes


Wait = Hold | Digested | Stool
"""What an entry can say of the waits of this dog."""
