"""The other dogs of the home, as the board of one dog sees them: when their next break is due."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from msgspec import Struct

from pottyboard.board.alarms.when import AlarmClocks
from pottyboard.board.control.entries import Clock
from pottyboard.core.view.situation import Situation, situation
from pottyboard.store import DogLog, Household, StoreError


class Glance(Struct, frozen=True):
    """One dog at an instant: its ``folder`` name, its situation, or why there is none."""

    folder: str
    situation: Situation | None
    problem: str = ""


class OtherDogs:
    """Looks at each other dog at most once a minute, and says whose break has fallen due."""

    def __init__(self, household: Household, here: Path, now: Clock, clocks: AlarmClocks) -> None:
        """Look at all dogs of ``household`` but the one in the folder ``here``.

        ``clocks`` say when it rings for a dog.
        """
        self._household, self._here, self._now = household, here, now
        self._clocks = clocks
        self._dog_logs: dict[str, DogLog] = {}
        self._apart: dict[str, str] = {}
        self._minute = -1
        self.glances: tuple[Glance, ...] = ()
        self.fallen_due: tuple[Situation, ...] = ()
        self.called: tuple[str, ...] = ()
        """The folders of the dogs whose break is due or late."""
        self.look()

    def look(self) -> None:
        """Look again if a minute has passed; :attr:`fallen_due` are those for whom it rings."""
        now = self._now()
        minute = int(now.timestamp() // 60)
        self.fallen_due = ()
        if minute == self._minute:
            return
        self._minute = minute
        self.glances = tuple(self._glance(name, now) for name in self._names())
        seen = [(each.folder, each.situation) for each in self.glances if each.situation]
        self.fallen_due = tuple(view for name, view in seen if self._clocks.rings(name, view))
        self.called = tuple(name for name, view in seen if view.next_break.state in ("due", "late"))

    def first_of(self, here: Situation) -> Situation:
        """Return whose break is due first: that of the dog shown ``here``, or of another one."""
        views = (here, soonest(self.glances) or here)
        return min(views, key=lambda view: view.next_break.at)

    def _names(self) -> list[str]:
        try:
            self._apart = self._household.apart()
            return [name for name in self._household.dogs() if name != self._here.name]
        except StoreError:
            return []

    def _glance(self, name: str, now: datetime) -> Glance:
        dog_log = self._dog_logs.setdefault(name, DogLog(self._household.folder / name))
        dog_log.apart = self._apart.get(name, "")
        return glance(dog_log, now)


def glance(dog_log: DogLog, now: datetime) -> Glance:
    """Return how a dog is at ``now``, or why that cannot be said."""
    try:
        return Glance(dog_log.folder.name, situation(dog_log.settings, dog_log.events, now))
    except StoreError as error:
        return Glance(dog_log.folder.name, None, str(error))


def soonest(glances: tuple[Glance, ...]) -> Situation | None:
    """Return the situation of the dog whose break is due first."""
    views = (each.situation for each in glances if each.situation)
    return min(views, key=lambda view: view.next_break.at, default=None)
