"""When a break rings: at once when due and when late, then again until somebody goes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from pottyboard.core.engine.reasons import CLOCKS_OF_THE_DAY
from pottyboard.core.model import figures
from pottyboard.core.model.figure import Figure
from pottyboard.core.view.situation import Situation, State

_IN_QUIET: Final = frozenset({"night", "leaving", "bedtime"})
"""What rings in the quiet hours too: planned for then, or soon nobody can go out any more."""


class Alarm(Struct, frozen=True):
    """What the alarm of one dog remembers; :meth:`look` at the situation says whether it rings.

    ``state`` is the last one seen; ``rung`` for which state of the present call it has rung, and
    ``rung_at`` when it last rang at all; ``not_before`` when it may ring again after *5 more
    minutes*; ``going`` when somebody said that they are on the way out.
    """

    state: State | None = None
    rung: Literal["", "due", "late"] = ""
    rung_at: datetime | None = None
    not_before: datetime | None = None
    going: datetime | None = None

    def look(self, situation: Situation) -> tuple[Alarm, bool]:
        """Return the alarm after a look at the situation, and whether it rings now.

        The first look rings for nothing: whoever has just opened the board is reading it.
        """
        now, state = situation.now, situation.next_break.state
        seen = replace(
            self if self._is_going(situation) else replace(self, going=None), state=state
        )
        if state not in ("due", "late"):
            return replace(seen, rung="", not_before=None), False
        if self.state is None:
            return replace(seen, rung=state, rung_at=now), False
        if state == "due" and seen.rung == "late":  # another break: that one was seen to
            seen = replace(seen, rung="due")
        if seen._waits(now) or not _may_ring(situation) or not seen._wants(situation):
            return seen, False
        if _within(now, self.rung_at, figures.RINGS_AGAIN):
            return seen, False
        return replace(seen, rung=state, rung_at=now, not_before=None), True

    def on_the_way(self, now: datetime) -> Alarm:
        """Return it after somebody has said that they go now: it is silent for some minutes."""
        return replace(self, going=now, rung="", not_before=None)

    def later(self, now: datetime) -> Alarm:
        """Return it after somebody has asked for 5 more minutes: then it rings again."""
        return replace(self, not_before=now + _span(figures.RINGS_AGAIN), rung="", going=None)

    def stays(self) -> Alarm:
        """Return it after whoever was on the way has said that they are not."""
        return replace(self, going=None, not_before=None)

    def said(self, situation: Situation) -> str:
        """Return what the board says of it, as a sentence; empty if nobody has answered it."""
        now, clock = situation.now, situation.settings.clock
        if self.going is not None:
            since = f"On the way since {clock(self.going)}"
            if _within(now, self.going, figures.ON_THE_WAY):
                return f"{since}: log what came."
            return f"{since}, nothing logged yet: what came?"
        wait = self.not_before
        return f"Rings again at {clock(wait)}." if wait is not None and self._waits(now) else ""

    def _is_going(self, situation: Situation) -> bool:
        """Whether somebody is still on the way: since then nothing was logged that ends it."""
        going = self.going
        if going is None or not _within(situation.now, going, figures.NOT_ON_THE_WAY):
            return False
        return not any(
            (event.went_out or event.row.is_accident) and (event.logged or event.at) >= going
            for event in situation.recent
        )

    def _waits(self, now: datetime) -> bool:
        """Whether somebody has said that they go, or asked for more minutes, a moment ago."""
        if self.going is not None and _within(now, self.going, figures.ON_THE_WAY):
            return True
        wait = self.not_before
        return wait is not None and now < wait <= now + _span(figures.RINGS_AGAIN)

    def _wants(self, situation: Situation) -> bool:
        """Whether a break that is due or late still has to be rung for."""
        if not self.rung:
            return True
        if situation.next_break.state == "due":
            return False
        calm = situation.round_day > figures.PROGRAMME_DAYS
        if self.rung == "due" and not calm:
            return True
        every = figures.RINGS_AGAIN_CALM if calm else figures.RINGS_AGAIN
        again = situation.settings.board.alarms.again
        return again and not _within(situation.now, self.rung_at, every)


class AlarmClocks:
    """The alarms of all dogs of the home, by the name of the folder; they stay when another dog's
    board is shown."""

    def __init__(self) -> None:
        """Begin with no dog seen."""
        self._alarms: dict[str, Alarm] = {}

    def of(self, dog: str) -> Alarm:
        """Return the alarm of a dog."""
        return self._alarms.get(dog, Alarm())

    def rings(self, dog: str, situation: Situation) -> bool:
        """Return whether it rings for a dog now, and remember that it did."""
        self._alarms[dog], rings = self.of(dog).look(situation)
        return rings

    def on_the_way(self, dogs: Iterable[str], now: datetime) -> None:
        """Remember that somebody goes out with these dogs now."""
        self._alarms.update((dog, self.of(dog).on_the_way(now)) for dog in dogs)

    def later(self, dogs: Iterable[str], now: datetime) -> None:
        """Let these dogs ring again in 5 minutes."""
        self._alarms.update((dog, self.of(dog).later(now)) for dog in dogs)

    def stays(self, dogs: Iterable[str]) -> None:
        """Forget who was on the way with these dogs, and who asked for more minutes."""
        self._alarms.update((dog, self.of(dog).stays()) for dog in dogs)


def _may_ring(situation: Situation) -> bool:
    """Whether what has fallen due may be heard now.

    No clock of the day rings for a dog asleep; in the quiet hours only what belongs there does.
    """
    now, settings = situation.now, situation.settings
    first, *others = situation.next_break.reasons
    due = {first.code, *(reason.code for reason in others if reason.at <= now)}
    if situation.asleep and due <= CLOCKS_OF_THE_DAY:
        return False
    clock = now.astimezone(settings.zone).time()
    return not settings.board.alarms.is_quiet(clock) or bool(due & _IN_QUIET)


def _span(minutes: Figure) -> timedelta:
    return timedelta(minutes=minutes)


def _within(now: datetime, since: datetime | None, minutes: Figure) -> bool:
    """Whether ``since`` is less than so long ago; never where the clock was set back before it."""
    return since is not None and timedelta(0) <= now - since < _span(minutes)
