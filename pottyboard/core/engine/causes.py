"""Why an accident likely happened: one table, a row for each cause, read from the log alone.

The first row that speaks gives the cause, in the order of :data:`CAUSES_IN_ORDER`: what is no
failure of the plan comes first (marking, greeting, asleep), then what the household could see or do
(a sign, a late break, roaming, a meal, leaving), and last the dog's own limit. What the household
says counts more than any row. Nothing is read from an instant that nobody knows: an accident found
with no "last dry", or not yet said to be seen or found, speaks only for causes that need no time.

Sources: small amounts on upright things, a house-soiling handout at docest.com/doc/438813; loss at
greetings, the same and Lindell DACVB, Clinician's Brief, February 2017; wet while asleep, Idaho
Mountain Express vet column; soon after leaving and only when alone, urbananimalveterinary.com (all
published). The minutes are our own choice, in ``figures``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from msgspec import Struct

from pottyboard.core.engine.circumstances import Circumstances
from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.model import figures
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import OTHER_CAUSES
from pottyboard.core.model.localtime import Minutes, span_words

# --- What speaks for each cause -------------------------------------------------------------------


def _marking(c: Circumstances) -> str | None:
    if not (c.is_pee and c.event.upright and c.event.amount == "small"):
        return None
    return "A small amount, against something upright."


_GREETED: Final = {
    "back": "somebody came home", "visit": "the visit came", "play": "the play began",
}  # fmt: skip


def _greeting(c: Circumstances) -> str | None:
    greeted = c.facts.greeted
    if not c.is_pee or greeted is None or not 0 <= c.at - greeted <= figures.GREETING_WITHIN:
        return None
    small = c.event.amount == "small"
    unsaid = c.event.found is None and c.event.dry is None
    fits = c.since(greeted, figures.GREETING_WITHIN) or unsaid
    if not (fits if small else c.event.found is False and not c.event.amount and c.is_inside):
        return None
    what = _GREETED[c.facts.greeted_by]
    how = "a small amount" if small else "and the interval was not over"
    return f"{span_words(c.at - greeted)} after {what} at {c.clock(greeted)}, {how}."


def _leak(c: Circumstances) -> str | None:
    settled, sleep = c.facts.slept_from, c.context.sleep
    if not (c.is_pee and c.facts.sleep and sleep) or c.event.upright or settled is None:
        return None
    # Few people log that a dog got up and went to a corner: only a wet bed says that it did not.
    if c.event.surface != "fabric":
        return None
    if sleep == "nap" and not c.since(settled, figures.NAP_ASLEEP_MOST):
        return None
    if sleep == "night" and (c.earliest or settled) < settled:
        return None
    return f"Settled at {c.clock(settled)}, nobody logged that it got up, and its bed is wet."


def _sign(c: Circumstances) -> str | None:
    sign = c.facts.sign
    if sign is None or not c.since(sign, figures.SIGN_MISSED_WITHIN):
        return None
    shown = RULE_BY_CODE["sign"].words(c.context, sign)
    return f"{shown}, and no outing followed in the {span_words(c.at - sign)} until then."


def _late(c: Circumstances) -> str | None:
    if not c.late_by:
        return None
    least = "at least " if c.event.found is not False else ""
    title = RULE_BY_CODE[c.rule.code].title
    return (
        f"The break due at {c.clock(c.rule.at)} ({title}) was {least}{span_words(c.late_by)} late."
    )


def _empty(c: Circumstances) -> str | None:
    out = c.facts.dry_out
    if out is None or not c.facts.empties or c.context.sleep:
        return None
    if not c.since(out, figures.EMPTY_WITHIN):
        return None
    return f"Nothing came at {c.clock(out)}; {span_words(c.at - out)} later it came indoors."


def meal_before(c: Circumstances) -> tuple[Minutes, Minutes] | None:
    """Return the meal that an accident followed and when its break was still to come, if any.

    That is the first break after a meal for pee and stool, and the second one for stool.
    """
    out = c.facts.last_out or 0.0
    for meal in reversed(c.facts.fed):
        due = meal + figures.AFTER_MEAL
        if c.since(meal, due + figures.LATE - meal) and out < due - figures.SERVES_WITHIN:
            return meal, due
    if c.is_pee:
        return None
    for meal in reversed(c.facts.waiting_meals):
        due = meal + c.context.digestion
        if c.since(meal, due + figures.LATE - meal) and out < due - figures.SERVES_WITHIN:
            return meal, due
    return None


def _meal(c: Circumstances) -> str | None:
    found = meal_before(c)
    if found is None:
        return None
    meal, due = found
    return (
        f"{span_words(c.at - meal)} after the meal at {c.clock(meal)}; "
        f"the break for it, due at {c.clock(due)}, had not come yet."
    )


def left_at(c: Circumstances) -> Minutes | None:
    """Return when the dog was left, if the accident came soon after that while it was alone."""
    facts, soon = c.facts, figures.ALONE_SOON
    left, back = facts.last_left, facts.last_back
    before = (c.earliest or left or 0.0) < (left or 0.0) and not c.event.alone
    if left is None or c.event.alone is False or before:
        return None
    if c.alone_from is not None:
        return left if c.at - left <= soon else None
    on_return = back is not None and 0 <= back - left <= soon and c.at - back <= figures.LATE
    return left if on_return and c.event.found else None


def _alone(c: Circumstances) -> str | None:
    left, back = left_at(c), c.facts.last_back
    if left is None:
        return None
    if c.alone_from is not None or back is None:
        return f"{span_words(c.at - left)} after it was left alone at {c.clock(left)}."
    return f"Found after {span_words(back - left)} alone, left at {c.clock(left)}."


def _longer(c: Circumstances) -> str | None:
    pee, earliest = c.facts.last_pee, c.earliest
    if not c.is_pee or pee is None or earliest is None or earliest <= pee or c.is_too_soon:
        return None
    least = "" if c.event.found is False else "At least "
    held = f"{least}{span_words(earliest - pee)} after the last pee at {c.clock(pee)}"
    if c.context.sleep == "night" or pee < c.context.plan.start:
        return f"{held}, over the night: longer than it holds asleep so far."
    awake = earliest - pee - c.facts.asleep_in_hold(c.at)
    longest = c.facts.longest_hold
    if longest and awake > longest:
        return f"{held}; the longest it has held awake so far is {span_words(longest)}."
    if c.at - pee > c.context.interval + figures.LATE:
        return None
    where = "inside" if c.is_inside else "about"
    interval = span_words(c.context.interval)
    return f"{held}, {where} the interval of {interval}, and nothing else in the log explains it."


def _unknown(c: Circumstances) -> str | None:
    if c.event.found is None and c.event.dry is None:
        return "Not said yet whether it was seen or found: with that the log can tell more."
    if c.earliest is None:
        return "Found, and nobody knows since when the floor was wet."
    # Seen as it happened it has no span for a break to fall into, and none is worked out.
    if c.earliest < c.at and c.earliest <= c.due.at + figures.LATE < c.at:
        due, dry = c.clock(c.due.at), c.clock(c.earliest)
        return f"Last dry at {dry}: it came before the break due at {due}, or when that was late."
    pee = c.facts.last_pee
    if c.is_too_soon and pee is not None:
        return (
            f"Only {span_words(c.at - pee)} after the last pee at {c.clock(pee)}: "
            "too soon to be about holding."
        )
    return "Nothing in the log explains it."


class Row(Struct, frozen=True):
    """One row of the table: a cause, and what in the log speaks for it, None if not."""

    code: str
    speaks: Callable[[Circumstances], str | None]


CAUSES_IN_ORDER: Final[tuple[Row, ...]] = (
    Row("marking", _marking),
    Row("greeting", _greeting),
    Row("leak", _leak),
    Row("sign", _sign),
    Row("late", _late),
    Row("empty", _empty),
    Row("meal", _meal),
    Row("alone", _alone),
    Row("longer", _longer),
    Row("unknown", _unknown),
)


class Why(Struct, frozen=True):
    """The cause of an accident with its reasoning; ``said`` if the household has set it."""

    cause: str
    reasoning: str
    said: bool = False

    @property
    def is_other(self) -> bool:
        """Whether it says nothing about the plan: marking, greeting, asleep."""
        return self.cause in OTHER_CAUSES


def likely(circumstances: Circumstances) -> Why:
    """Return the cause that the log alone speaks for."""
    if circumstances.event.unsure:
        return Why("unknown", "Another dog may have done it.")
    for row in CAUSES_IN_ORDER:
        reasoning = row.speaks(circumstances)
        if reasoning is not None:
            return Why(row.code, reasoning)
    raise AssertionError("the last row always speaks")


def why(circumstances: Circumstances) -> Why:
    """Return the cause of an accident: as the household has set it, otherwise the likely one."""
    said, read = circumstances.event.cause, likely(circumstances)
    if not said:
        return read
    if said == read.cause:
        return Why(said, f"Set by you. {read.reasoning}", said=True)
    if read.cause == "unknown":
        return Why(said, "Set by you.", said=True)
    words = CAUSE_WORDS[read.cause]
    return Why(said, f"Set by you. The log alone says “{words}”: {read.reasoning}", said=True)
