"""The numbers of a review again, by another way: straight from the entries, date by date.

Nothing here uses ``core/review``. A date begins at 05:30, between the last outing of a night and
the first of a morning in the samples.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from itertools import pairwise

from pottyboard.core.engine.history import History
from pottyboard.core.engine.reasons import first_due
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import holds_by_day
from pottyboard.core.log.measures import NO_MEASURES
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.hold_report import hold_report
from pottyboard.core.view.situation import situation

NIGHT_ENDS = timedelta(hours=5, minutes=30)
TEN = timedelta(minutes=10)
PEED = {"pee", "both", "pee-inside"}


@dataclass(frozen=True)
class Recount:
    """A log, the instant at which it is read, and the dates looked at (both included)."""

    settings: Settings
    log: tuple[Event, ...]
    now: datetime
    first: date
    last: date

    def on(self, event: Event) -> date:
        return (event.at.astimezone(self.settings.zone) - NIGHT_ENDS).date()

    def of(self, *kinds: str) -> list[Event]:
        return [e for e in self.log if e.kind in kinds and self.first <= self.on(e) <= self.last]

    @cached_property
    def events(self) -> list[Event]:
        return [e for e in self.log if self.first <= self.on(e) <= self.last]

    @cached_property
    def dates(self) -> list[date]:
        return [self.first + timedelta(days=n) for n in range((self.last - self.first).days + 1)]

    @property
    def today(self) -> date:
        return (self.now.astimezone(self.settings.zone) - NIGHT_ENDS).date()

    # --- Outings and accidents --------------------------------------------------------------------

    @cached_property
    def outings(self) -> list[list[Event]]:
        """The outings: entries outside, those within ten minutes of the one before together."""
        groups: list[list[Event]] = []
        for event in self.of("pee", "poop", "both", "nothing"):
            if event.place.casefold() == "pad":
                continue
            if groups and event.at - groups[-1][-1].at <= TEN:
                groups[-1].append(event)
            else:
                groups.append([event])
        return groups

    @property
    def fruitful(self) -> int:
        return sum(any(e.kind != "nothing" for e in outing) for outing in self.outings)

    @cached_property
    def tardy(self) -> int:
        """Outings over 15 min after their time, asked of the log as it was just before each.

        The rule alone counts: neither the estimate nor a change of the routine.
        """
        late = 0
        for outing in self.outings:
            at = outing[0].t
            before = tuple(e for e in self.log if e.at < outing[0].at)
            day = History.of(self.settings, before, at).today
            day.facts.measures = NO_MEASURES
            context = RuleContext(day.facts, day.plan, self.settings, day.interval, at, None)
            late += at > first_due(context).at + 15
        return late

    @cached_property
    def accidents(self) -> list[Event]:
        return [e for e in self.of("pee-inside", "poop-inside") if not e.unsure]

    @property
    def causes(self) -> Counter[str]:
        """The likely causes in words, from what the board shows of each accident."""
        shown = situation(self.settings, self.log, self.now).accidents
        mine = {e.id for e in self.accidents}
        return Counter(account.words for account in shown if account.event.id in mine)

    # --- Days -------------------------------------------------------------------------------------

    def verdict(self, day: date) -> str:
        here = [e for e in self.log if self.on(e) == day]
        if any(e.kind.endswith("-inside") and not e.unsure for e in here):
            return "accident"
        if day == self.today:
            return "open"
        up, bed = self.settings.up_on(day), self.settings.bed_on(day)
        marks = [*(min(e.t, bed) for e in here), bed]
        if not here or (day == self.settings.first_date and here[0].t > up + 1):
            return "unknown"
        silence = max(b - a for a, b in pairwise(marks))
        outings = [o for o in self.outings if self.on(o[0]) == day]
        return "clear" if len(outings) >= 4 and silence <= 480 else "unknown"

    @cached_property
    def verdicts(self) -> list[str]:
        return [self.verdict(day) for day in self.dates]

    def run(self, verdicts: Sequence[str]) -> int:
        """The clear days in a row at the end."""
        clear = 0
        for verdict in reversed(verdicts):
            if verdict == "accident":
                break
            clear += verdict == "clear"
        return clear

    @property
    def best(self) -> int:
        return max(self.run(self.verdicts[:end]) for end in range(1, len(self.verdicts) + 1))

    # --- The interval -----------------------------------------------------------------------------

    def interval_at(self, at: float) -> float:
        return History.of(self.settings, self.log, at).today.interval

    @cached_property
    def steps(self) -> Counter[str]:
        """The changes: at each morning, at each accident, and those that somebody set."""
        found = Counter({"household": len(self.of("interval"))})
        for event in self.accidents:
            found["narrower"] += self.interval_at(event.t) < self.interval_at(event.t - 0.5)
        for day in self.dates:
            if day == self.settings.first_date:
                continue
            first = next((e for e in self.log if self.on(e) == day), None)
            if first is not None:
                evening = self.interval_at(first.t - 180)
                found["wider"] += self.interval_at(first.t) > evening
        return found

    # --- Holds, nights, absences ------------------------------------------------------------------

    @cached_property
    def longest(self) -> tuple[int, date]:
        """The longest waking time by day from a pee to one outside, and its date."""
        days = History.of(self.settings, self.log, minutes_of(self.now)).days
        held = [
            (hold.awake, self.on(event))
            for day in days
            for hold in day.holds
            if hold.how == "out" and not hold.night
            for event in self.log
            if event.t == hold.ended and event.kind in PEED
        ]
        most, on = max((h for h in held if self.first <= h[1] <= self.last), key=lambda h: h[0])
        if len(self.dates) > (self.today - self.settings.first_date).days:
            assert round(most) == hold_report(self.settings, self.log, self.now).longest[0]
        return int(most), on

    @cached_property
    def hold(self) -> tuple[int, int, int, int]:
        """The holds by day, those indoors, and what the three longest dry ones have reached."""
        days = History.of(self.settings, self.log, minutes_of(self.now)).days
        holds = [h for day in days for h in holds_by_day(day.holds)]
        dry = sorted(
            h.awake
            for day in days[-28:]
            for h in day.holds
            if h.how == "out" and not h.night and not h.silent and h.awake <= 480
        )
        reached = int(dry[-min(3, len(dry))] // 5 * 5) if dry else 0
        return len(holds), sum(h.indoors for h in holds), reached, sum(h >= reached for h in dry)

    @property
    def safe(self) -> int:
        return hold_report(self.settings, self.log, self.now).estimate.safe

    @cached_property
    def nights(self) -> tuple[int, int]:
        """The nights between two dates with entries, and how many had no accident."""
        with_entries = {self.on(e) for e in self.log}
        nights = [
            day
            for day in self.dates
            if day in with_entries and day + timedelta(days=1) in with_entries
        ]
        wet = {
            (e.at.astimezone(self.settings.zone) - timedelta(hours=12)).date()
            for e in self.accidents
            if self._by_night(e)
        }
        return len(nights), sum(night not in wet for night in nights)

    def _by_night(self, event: Event) -> bool:
        day = self.on(event)
        if event.t >= self.settings.bed_on(day):
            return True
        here = [o[0].t for o in self.outings if self.on(o[0]) == day]
        first = min(here, default=float("inf"))
        woke = min(e.t for e in self.log if self.on(e) == day)
        return (
            bool(event.found)
            and event.t <= first
            and (event.dry is None or minutes_of(event.dry) < woke)
        )

    @property
    def away(self) -> list[float]:
        """The length of each absence that has a return, in minutes."""
        found: list[float] = []
        left: Event | None = None
        for event in self.of("left", "back"):
            if event.kind == "left":
                left = event
            elif left is not None:
                found.append(event.t - left.t)
                left = None
        return found

    # --- Chance -----------------------------------------------------------------------------------

    def half(self, which: Callable[[list[date]], list[date]]) -> int:
        whole = [day for day in self.dates if day != self.today]
        return sum(self.on(e) in which(whole) for e in self.accidents)


def bound_of(days: int) -> float:
    """The rate at which no accident in so many days still has one chance in twenty: bisection."""
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if (1 - middle) ** days > 0.05 else (low, middle)
    return low


def chance_of(one: int, other: int) -> float:
    """The chance of a split at least as uneven, by tossing the coins one after the other."""
    shares = {0: 1.0}
    for _ in range(one + other):
        after: dict[int, float] = {}
        for heads, share in shares.items():
            for more in (0, 1):
                after[heads + more] = after.get(heads + more, 0.0) + share / 2
        shares = after
    uneven = abs(one - other)
    return sum(s for heads, s in shares.items() if abs(one + other - 2 * heads) >= uneven)
