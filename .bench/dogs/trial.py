"""One dog, one owner and one way of calling breaks for two weeks, minute by minute."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any, NamedTuple

from dogs.body import Anatomy, Body
from dogs.life import Moment, moments, spans
from dogs.owner import Owner
from dogs.policies import Maker, Predicted
from dogs.population import ARRIVAL, DAYS, MIDNIGHT, Traits
from pottyboard.core.model.events import Event

ABOUT_TO_GO = 0.8
"""How close to going indoors the all-knowing owner lets it come."""
LOOKS_AGAIN = 15
"""After a delay longer than this the owner looks again at what calls, before going out."""


class Waited(NamedTuple):
    """One wait by day, from an outing or an accident to the next: what was predicted, what came."""

    predicted: Predicted
    came: str
    day: int


@dataclass(slots=True)
class Outcome:
    """What two weeks came to: counts for one dog.

    ``by_day`` are the accidents of each day; ``by_reason`` for each reason that called the outings,
    the empty ones, and those that were needed: where the dog was past the half of what it holds.
    ``outings_by_day`` are those of each day, ``waits`` the waits by day of which the way of calling
    said what it expected.
    """

    pee: int = 0
    stool: int = 0
    outings: int = 0
    empty: int = 0
    interval: float = 0.0
    signs: int = 0
    events: int = 0
    by_day: list[int] = field(default_factory=lambda: [0] * DAYS)
    outings_by_day: list[int] = field(default_factory=lambda: [0] * DAYS)
    by_reason: dict[str, list[int]] = field(default_factory=dict)
    waits: list[Waited] = field(default_factory=list)

    @property
    def accidents(self) -> int:
        """Accidents of both kinds."""
        return self.pee + self.stool


class Trial:
    """Two weeks: :meth:`run` returns the outcome; ``log`` is what the household wrote down."""

    def __init__(
        self, traits: Traits, anatomy: Anatomy, make: Maker, seed: int, owner: Owner | None = None
    ) -> None:
        self.traits = traits
        self.body = Body(traits, anatomy, seed)
        self.owner = owner or Owner(traits, seed)
        self.days = spans(traits, seed)
        self.moments = moments(traits, seed, self.days)
        self.log: list[Event] = []
        self.policy = make(traits, self.days, self.log)
        self.outcome = Outcome()
        self.asleep = self.night = self.away = False
        self.nap_logged = False
        self.last_out, self.last_empty = ARRIVAL - 60, False
        self.delay: float | None = None
        self.called_by_sign: int | None = None
        self.unfound: list[tuple[float, str, int]] = []
        self.late_entries: list[tuple[int, str, int, dict[str, Any]]] = []
        self.last_dry = self.wait_from = ARRIVAL
        self.slept_through = False

    def run(self) -> Outcome:
        """Live through the days and return the counts."""
        for now in range(ARRIVAL, self.days[DAYS].up):
            for moment in self.moments.get(now, ()):
                self._live(moment, now)
            accident = self.body.advance(now, self.asleep)
            if accident:
                self._accident(accident, now)
            elif self.body.shows_need():
                self._sign(now)
            self._look_around(now)
            if self.late_entries:
                self._catch_up(now)
            if not self.away and self._should_go(now):
                self._go_out(now)
        self.outcome.interval = self.policy.interval(self.days[DAYS].up - 1)
        self.outcome.events = len(self.log)
        return self.outcome

    # --- Entries ----------------------------------------------------------------------------------

    def _write(self, kind: str, at: int, now: int, **details: Any) -> None:
        at = max(ARRIVAL, at)
        self.log.append(
            Event(
                kind,
                MIDNIGHT + timedelta(minutes=at),
                id=f"{len(self.log):06d}",
                logged=MIDNIGHT + timedelta(minutes=now),
                **details,
            )
        )

    def _maybe_write(self, odds: float, kind: str, now: int, **details: Any) -> bool:
        if not self.owner.logs(odds):
            return False
        self._write(kind, now - self.owner.slip(), now, **details)
        return True

    # --- What happens -----------------------------------------------------------------------------

    def _live(self, moment: Moment, now: int) -> None:
        what, body = moment.what, self.body
        if what == "up":
            self.asleep = self.night = False
            body.get_up(now)
            if now > ARRIVAL:
                self._maybe_write(0.93, "up", now)
            self.delay = self.owner.delay(now, first_thing=True)
        elif what == "meal":
            body.eat(now)
            self.policy.ate(now)
            self._maybe_write(0.97, "meal", now)
        elif what == "drink" and not self.asleep:
            body.drink(moment.amount)
            if not self.away:
                self._maybe_write(0.65, "water", now)
        elif what == "play" and not self.asleep and not self.away:
            body.play(now)
            self._maybe_write(0.7, "play", now)
        elif what == "nap":
            self.asleep = True
            self.nap_logged = not self.away and self._maybe_write(0.65, "settled", now, sleep="nap")
        elif what == "nap-over" and self.asleep:
            self.asleep = False
            if self.nap_logged and not self.away:
                self._maybe_write(0.9, "up", now)
        elif what == "left" and not self.policy.sees_inside:
            self.away = True
            self._maybe_write(0.85, "left", now)
        elif what == "back" and self.away:
            self.away = False
            self._maybe_write(0.85, "back", now)
        elif what == "bed":
            self._go_to_bed(now)

    def _go_to_bed(self, now: int) -> None:
        if not self.policy.sees_inside and (now - self.last_out > 30 or self.last_empty):
            self._go_out(now, "last thing")
        self.asleep = self.night = self.slept_through = True
        self.body.end_day(clear=self.outcome.by_day[now // 1440] == 0)
        if self.owner.logs(0.9):
            self._settle_for_night(now)

    def _settle_for_night(self, now: int) -> None:
        self.late_entries.append((now + 3, "settled", now + 3, {"sleep": "night"}))

    def _end_wait(self, came: str, now: int) -> None:
        """Note what was expected of the wait that ends now, unless a night lies in it."""
        if not (self.night or self.slept_through):
            predicted = self.policy.predicted(self.wait_from, now)
            if predicted is not None:
                self.outcome.waits.append(Waited(predicted, came, now // 1440))
        self.wait_from, self.slept_through = now, self.night

    def _accident(self, kind: str, now: int) -> None:
        outcome = self.outcome
        self._end_wait(kind, now)
        outcome.pee += kind == "pee-inside"
        outcome.stool += kind == "poop-inside"
        outcome.by_day[min(DAYS - 1, now // 1440)] += 1
        if not self.away and not self.night and self.owner.sees_accident():
            self._maybe_write(0.98, kind, now, found=False)
        else:
            self.unfound.append((now + self.owner.finds_after(), kind, self.last_dry))
            return
        self.last_dry = now

    def _look_around(self, now: int) -> None:
        """Find what lies on the floor; every 20 minutes somebody knows that it is dry."""
        if self.away or self.night:
            return
        for found in [one for one in self.unfound if one[0] <= now]:
            self.unfound.remove(found)
            dry = MIDNIGHT + timedelta(minutes=found[2]) if self.owner.logs(0.6) else None
            self._maybe_write(0.98, found[1], now, found=True, dry=dry)
        if now % 20 == 0 and not self.unfound:
            self.last_dry = now

    def _sign(self, now: int) -> None:
        watching = not (self.away or self.night) and self.policy.watching(now)
        if self.away or not self.owner.notices_sign(self.night, watching):
            return
        self.outcome.signs += 1
        self.called_by_sign = now + (3 if not self.night else 5)
        if self.owner.logs(0.6):
            self._write("sign", now, now, sign="sniffing")

    def _catch_up(self, now: int) -> None:
        for late in [one for one in self.late_entries if one[0] <= now]:
            self.late_entries.remove(late)
            self._write(late[1], late[2], now, **late[3])

    # --- Going out --------------------------------------------------------------------------------

    def _should_go(self, now: int) -> bool:
        if self.called_by_sign is not None:
            return now >= self.called_by_sign
        if self.policy.sees_inside:
            return self.body.urge >= ABOUT_TO_GO
        if now - self.last_out < (10 if self.last_empty else 20):
            return False
        due = self.policy.due(now, self.night)
        if due > now:
            return False
        if self.delay is None:
            self.delay = self.owner.delay(now)
        if now < due + self.delay:
            return False
        if self.delay > LOOKS_AGAIN or self.night:
            self.policy.look()
        return self.policy.due(now, self.night) <= now

    def _go_out(self, now: int, why: str = "") -> None:
        why = why or ("sign seen" if self.called_by_sign is not None else self.policy.reason)
        self._end_wait("", now)
        needed = self.body.urge > 0.5
        pee, poop = self.body.go_outside(now)
        if self.policy.sees_inside:
            while self.body.urge >= ABOUT_TO_GO:
                more = self.body.go_outside(now)
                pee, poop = pee or more[0], poop or more[1]
        kind = "both" if pee and poop else "pee" if pee else "poop" if poop else "nothing"
        self.outcome.outings += 1
        self.outcome.outings_by_day[min(DAYS - 1, now // 1440)] += 1
        self.outcome.empty += kind == "nothing"
        counts = self.outcome.by_reason.setdefault(why, [0, 0, 0])
        for index, one in enumerate((True, kind == "nothing", needed)):
            counts[index] += one
        self.last_out, self.last_empty = now, kind == "nothing"
        self.called_by_sign = self.delay = None
        self.policy.went(now)
        if not self._maybe_write(0.97, kind, now) and self.owner.logs(0.7):
            self.late_entries.append((now + 15, kind, now, {}))
        if not self.night:
            self.asleep = False
        elif self.owner.logs(0.8):
            self._settle_for_night(now)
