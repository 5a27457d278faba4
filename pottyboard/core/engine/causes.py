"""Why an accident likely happened: one table, a row for each cause, read from the log alone.

The first row that speaks gives the cause, in the order of :data:`CAUSES_IN_ORDER`: what is no
failure of the plan comes first (marking, greeting, asleep), then what the household saw or left
undone (a sign, a late break), a sign of illness, what came shortly before (nothing came outside,
waking, a meal, a drink, play, leaving), and last the dog's own limit. Of what came shortly before
one thing alone gives the cause: of two nobody knows which it was. What the household says counts
more than any row, and a noted sign of illness is named with every cause. Nothing is read from an
instant that nobody knows: an accident found with no "last dry", or not yet said to be seen or
found, speaks only for causes that need no time.

Sources: frequent small amounts on upright things, Clinician's Brief, Urine Marking in Dogs; loss at
greetings, Lindell DACVB, Clinician's Brief, February 2017; leaks mostly while lying, a congress
paper of the World Small Animal Veterinary Association on sphincter incompetence, VIN 3852252; after
a meal, a drink, play and waking, Wisconsin Humane Society (all published). That a dog may go soon
after it is left is common practice, no source; so are the minutes, or our own choice, in
``figures``.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby, islice
from operator import attrgetter
from typing import Final

from msgspec import Struct

from pottyboard.core.engine.circumstances import Circumstances
from pottyboard.core.engine.interval import near
from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.model import figures
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import OTHER_CAUSES, SPARING_CAUSES
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
    if c.facts.greeted_by == "play" and not small:
        return None
    what = _GREETED[c.facts.greeted_by]
    how = "a small amount" if small else "and the interval was not over"
    return f"{span_words(c.at - greeted)} after {what} at {c.clock(greeted)}, {how}."


def _leak(c: Circumstances) -> str | None:
    settled, sleep = c.facts.slept_from, c.sleep
    if not (c.is_pee and c.facts.sleep and sleep) or c.event.upright or settled is None:
        return None
    # Few people log that a dog got up and went to a corner: only a wet bed says that it did not.
    if c.event.surface != "fabric" or (c.earliest or settled) < settled:
        return None
    if sleep == "nap" and c.at - settled > figures.NAP_ASLEEP_MOST:
        return None
    found = f"Settled at {c.clock(settled)}, nobody logged that it got up, and its bed is wet"
    return f"{found}." if c.earliest is not None else f"{found}: possibly in its sleep."


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


def _unwell(c: Circumstances) -> str | None:
    noted = c.unwell_since or c.ill_later
    if noted is None:
        return None
    when = "before" if noted <= c.at else "later"
    return (
        f"A symptom of illness was noted {span_words(c.at - noted)} {when}: no break can make up "
        "for that. Ask your vet."
    )


def _empty(c: Circumstances) -> str | None:
    tries = c.context.tries if c.is_pee else c.facts.tries
    if not tries or c.sleep:
        return None
    out = tries[-1]
    if not c.since(out, figures.EMPTY_WITHIN):
        return None
    return f"Nothing came at {c.clock(out)}; {span_words(c.at - out)} later it came indoors."


def _woke(c: Circumstances) -> str | None:
    facts, out, up = c.facts, c.facts.last_out or 0.0, c.facts.asks_up
    if up is not None and up > out and c.since(up, figures.WOKE_WITHIN):
        return f"It got up at {c.clock(up)}, {span_words(c.at - up)} before, and was not out since."
    settled = facts.slept_from
    if c.sleep != "nap" or settled is None or c.event.surface in ("", "fabric"):
        return None
    slept = c.at - settled
    if c.event.found is False and figures.LONG_NAP <= slept <= figures.NAP_ASLEEP_MOST:
        return (
            f"Settled at {c.clock(settled)} and seen {span_words(slept)} later, away from its bed."
        )
    return None


def meal_before(c: Circumstances) -> tuple[Minutes, Minutes] | None:
    """Return the meal that an accident followed and when its break was still to come, if any.

    That is the first break after a meal for pee and stool, and the second one for stool.
    """
    if c.context.grazes:
        return None
    first = c.before_its_break(c.facts.fed, figures.AFTER_MEAL)
    if first is not None or c.is_pee:
        return first
    return c.before_its_break(c.facts.waiting_meals, c.context.digestion)


def _break_to_come(
    c: Circumstances, what: str, found: tuple[Minutes, Minutes] | None
) -> str | None:
    if found is None:
        return None
    entry, due = found
    later = span_words(c.at - entry)
    stood = "had not come yet" if due >= c.at else "had not been made yet"
    return f"{later} after {what} at {c.clock(entry)}; the break for it, {c.clock(due)}, {stood}."


def _meal(c: Circumstances) -> str | None:
    return _break_to_come(c, "the meal", meal_before(c))


def _drink(c: Circumstances) -> str | None:
    found = c.before_its_break(c.facts.drank, figures.AFTER_DRINK) if c.is_pee else None
    return _break_to_come(c, "a long drink", found)


def _play(c: Circumstances) -> str | None:
    return _break_to_come(c, "play", c.before_its_break(c.facts.played, figures.AFTER_PLAY))


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
    if c.sleep == "night" or pee < c.context.plan.start:
        if earliest - pee <= c.facts.longest_night:
            return None
        return f"{held}, over the night: longer than it has held asleep so far."
    if c.sleep or c.facts.tries or c.at - pee > c.context.interval + figures.LATE:
        return None
    least_held = c.context.interval * figures.LONGER_FROM
    longest = c.facts.longest_hold
    if longest and c.awake_held > longest and c.awake_held >= least_held:
        return f"{held}; the longest it has held awake so far is {span_words(longest)}."
    if not longest and c.is_plain and c.awake_held >= least_held:
        return f"{held}, and nothing else in the log explains it; no longer wait is known so far."
    if c.awake_held < near(c.context.interval):
        return None
    interval = span_words(c.context.interval)
    nothing = ", and nothing else in the log explains it" if c.is_plain else ""
    return f"{held}, about the interval of {interval}{nothing}."


def _unknown(c: Circumstances) -> str | None:
    if c.event.found is None and c.event.dry is None:
        return "Not said yet whether it was seen or found: with that the log can tell more."
    if c.earliest is None:
        return "Found, and nobody knows since when the floor was wet."
    # Seen as it happened it has no span for a break to fall into, and none is worked out.
    if c.earliest < c.at and c.earliest <= c.rule.at + figures.LATE < c.at:
        due, dry = c.clock(c.rule.at), c.clock(c.earliest)
        return f"Last dry at {dry}: it came before the break due at {due}, or when that was late."
    pee = c.facts.last_pee
    if c.is_too_soon and pee is not None:
        return (
            f"Only {span_words(c.at - pee)} after the last pee at {c.clock(pee)}: "
            "too soon to be about holding."
        )
    if c.is_pee and c.sleep == "nap" and not c.event.surface:
        return "It had settled: in its sleep, or just awake? Say what it lay on."
    if not c.is_plain:
        return "What is in the log does not say which it was."
    longest = c.facts.longest_hold
    if c.is_pee and pee is not None and longest >= c.awake_held > 0:
        return f"Nothing in the log explains it: it has held {span_words(longest)} before."
    return "Nothing in the log explains it."


class Row(Struct, frozen=True):
    """One row of the table: a cause, and what in the log speaks for it, None if not.

    Of rows that ``share`` their place two that speak leave it open which it was.
    """

    code: str
    speaks: Callable[[Circumstances], str | None]
    share: bool = False


CAUSES_IN_ORDER: Final[tuple[Row, ...]] = (
    Row("marking", _marking),
    Row("greeting", _greeting),
    Row("leak", _leak),
    Row("sign", _sign),
    Row("late", _late),
    Row("unwell", _unwell),
    Row("empty", _empty, share=True),
    Row("woke", _woke, share=True),
    Row("meal", _meal, share=True),
    Row("drink", _drink, share=True),
    Row("play", _play, share=True),
    Row("alone", _alone, share=True),
    Row("longer", _longer, share=True),
    Row("unknown", _unknown),
)


class Why(Struct, frozen=True):
    """The cause of an accident with its reasoning; ``said`` if the household has set it."""

    cause: str
    reasoning: str
    said: bool = False

    @property
    def is_other(self) -> bool:
        """Whether it says nothing about the plan: marking, greeting, asleep, unwell."""
        return self.cause in OTHER_CAUSES

    @property
    def spares_interval(self) -> bool:
        """Whether it says nothing about how long the dog can wait by day."""
        return self.cause in SPARING_CAUSES


def likely(circumstances: Circumstances) -> Why:
    """Return the cause that the log alone speaks for."""
    if circumstances.event.unsure:
        return Why("unknown", "Another dog may have done it.")
    for shared, rows in groupby(CAUSES_IN_ORDER, key=attrgetter("share")):
        told = ((row.code, words) for row in rows if (words := row.speaks(circumstances)))
        speaking = tuple(told) if shared else tuple(islice(told, 1))
        if len(speaking) > 1:
            both = " ".join(words for _, words in speaking)
            return Why("unknown", f"More than one thing can explain it. {both}")
        if speaking:
            (cause, reasoning), *_ = speaking
            return Why(cause, reasoning + _vet_too(circumstances, cause))
    raise AssertionError("the last row always speaks")


def _vet_too(c: Circumstances, cause: str) -> str:
    """Return that a vet has to hear of it, where a sign of illness was noted within a day."""
    if not c.is_unwell or cause == "unwell":
        return ""
    return " A symptom of illness was noted too: tell your vet."


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
