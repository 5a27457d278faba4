"""What the log said just before an accident, and whether the break was late then.

Both the cause of an accident and what it does to the interval are read from here, so that one
accident has one verdict.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from msgspec import Struct, structs

from pottyboard.core.engine.reasons import first_due
from pottyboard.core.engine.rule_context import Due, RuleContext
from pottyboard.core.log.measures import NO_MEASURES
from pottyboard.core.log.state import LogState, Sleep
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, clock_words, minutes_of


def by_rule(context: RuleContext) -> Due:
    """Return the break that was due by the rule alone: no estimate, no change of the routine."""
    facts = context.facts
    if facts.measures is not NO_MEASURES:
        facts = facts.copy()
        facts.measures = NO_MEASURES
    return first_due(structs.replace(context, facts=facts, estimate=None))


class Circumstances(Struct, frozen=True, dict=True):
    """What the log said just before an accident.

    ``ill_later`` is when a sign of illness was noted within a day after it, None if none was.
    """

    event: Event
    context: RuleContext
    ill_later: Minutes | None = None

    @cached_property
    def due(self) -> Due:
        """The break that stood, worked out only when asked for."""
        return first_due(self.context)

    @cached_property
    def rule(self) -> Due:
        """The break that stood by the rule alone."""
        return by_rule(self.context)

    @property
    def facts(self) -> LogState:
        """The running facts just before it."""
        return self.context.facts

    @property
    def sleep(self) -> Sleep:
        """Whether it slept, as far as the log goes: a nap that nobody ended still lasts."""
        return self.facts.sleep_at(self.context.plan, self.at)

    @property
    def at(self) -> Minutes:
        """When it was seen or found."""
        return self.event.t

    @property
    def earliest(self) -> Minutes | None:
        """The earliest instant at which it can have happened, None where nobody knows."""
        return earliest_of(self.event)

    @property
    def alone_from(self) -> Minutes | None:
        """Since when the dog was alone, None if somebody was there."""
        return self.facts.alone_from(self.context.plan, self.at)

    @property
    def is_pee(self) -> bool:
        """Whether it was pee."""
        return self.event.kind == "pee-inside"

    @cached_property
    def late_by(self) -> float:
        """The minutes by which the break was late at the least when it happened, 0 if it was not
        or nobody knows.

        Late is what the rule called and the board showed: neither an earlier call of the estimate
        makes an accident the household's, nor a break that the board had left out.
        """
        earliest = self.earliest
        if earliest is None or earliest - self.rule.at <= figures.LATE:
            return 0.0
        late = earliest - max(self.rule.at, self.due.at)
        return late if late > figures.LATE else 0.0

    @property
    def unwell_since(self) -> Minutes | None:
        """When a sign of illness was last noted, None if none was within a day before."""
        ill = self.facts.ill
        return ill if ill is not None and self.at - ill <= figures.UNWELL_WITHIN else None

    @property
    def is_unwell(self) -> bool:
        """Whether a sign of illness was noted within a day of it, before or after."""
        return self.unwell_since is not None or self.ill_later is not None

    @property
    def awake_held(self) -> float:
        """The minutes awake since the last pee, at the least; 0 where nobody knows."""
        pee, earliest = self.facts.last_pee, self.earliest
        if pee is None or earliest is None:
            return 0.0
        return max(0.0, earliest - pee - self.facts.asleep_in_hold(self.at))

    @property
    def is_plain(self) -> bool:
        """Whether nothing that can bring an accident is in the log since the last outing."""
        facts, out = self.facts, max(self.facts.last_out or 0.0, self.facts.last_pee or 0.0)
        logged = (
            facts.last_meal, facts.last_water, facts.greeted, facts.last_left, facts.slept_from,
            facts.asks_up, facts.sign, self.unwell_since, facts.tries[-1] if facts.tries else None,
        )  # fmt: skip
        return self.alone_from is None and all(at is None or at < out for at in logged)

    @property
    def is_inside(self) -> bool:
        """Whether the interval was not over yet."""
        pee = self.facts.last_pee
        return pee is not None and self.at - pee <= self.context.interval

    @property
    def is_too_soon(self) -> bool:
        """Whether the last pee was so short a while before that it is not about holding."""
        pee = self.facts.last_pee
        return self.is_pee and pee is not None and self.at - pee < figures.FLOOR_INTERVAL

    def clock(self, at: Minutes) -> str:
        """Return the local clock time of an instant."""
        return clock_words(at, self.context.settings.zone)

    def since(self, entry: Minutes | None, within: float) -> bool:
        """Whether it surely happened after ``entry``, and no more than ``within`` minutes."""
        earliest = self.earliest
        return entry is not None and earliest is not None and earliest >= entry >= self.at - within

    def before_its_break(
        self, entries: Iterable[Minutes], wait: float
    ) -> tuple[Minutes, Minutes] | None:
        """Return the last of ``entries`` that the accident followed before its own break was late,
        and when that was due, ``wait`` minutes after it; None if there is none, or if an outing has
        served it."""
        out = self.facts.last_out or 0.0
        for entry in reversed(tuple(entries)):
            due = entry + wait
            served = out >= max(entry, due - figures.SERVES_WITHIN)
            if self.since(entry, wait + figures.LATE) and not served:
                return entry, due
        return None


def earliest_of(event: Event) -> Minutes | None:
    """Return the earliest instant of an accident: of its sight, or when the floor was last dry.

    None where nobody knows: found with no "last dry", or not yet said to be seen or found.
    """
    if event.found is False:
        return event.t
    return None if event.dry is None else minutes_of(event.dry)
