"""The calls that a known dog no longer gets, and what its own log says for dropping them.

While a dog is not known, meals, long drinks and play call a break each. Once it is known they are
evidence for the one chance that calls: the board says which calls it dropped, and why.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.reasons import RULES, Rule
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, minutes_of, span_words
from pottyboard.core.view.situation_views import ALL_CALLS, FixedCall, Slot


class _FixedEntry(Struct, frozen=True):
    """What a fixed reason comes from: its ``kind`` of entry, its words, how long after it calls."""

    kind: str
    one: str
    many: str
    each: str
    wait: float


_FIXED: Final = {
    "meal": _FixedEntry("meal", "meal", "meals", "each meal", figures.AFTER_MEAL),
    "drink": _FixedEntry("water", "drink", "long drinks", "each long drink", figures.AFTER_DRINK),
    "play": _FixedEntry("play", "play", "play", "play", figures.AFTER_PLAY),
}
_SOONER, _LATER = 10, 20
"""Minutes around a call within which an outing is taken to have followed it."""
_DAYS: Final = 14
"""Days back that speak for it: of a year ago it was another dog."""
_FEW: Final = 3
"""Outings under which their count proves nothing and is not told."""


def fixed_calls(
    context: RuleContext, days: Sequence[Day], rows: Sequence[Slot]
) -> tuple[FixedCall, ...]:
    """Return the fixed reasons and whether they still call, each with its record of the last weeks;
    none while the log does not know the dog.

    ``rows`` are the day's: the break that serves a meal is one of them.
    """
    if not context.log_knows:
        return ()
    if not context.knows_dog:
        return (_ALL_KEPT,)
    newest = days[-_DAYS:]
    rules = [rule for rule in RULES if rule.fixed]
    return (*(_call(context, rule, newest, rows) for rule in rules), _ALL_DROPPED)


_ALL_KEPT: Final = FixedCall(
    ALL_CALLS,
    True,
    "As you asked, the fixed reasons of the first days call the breaks (meals, long drinks, play), "
    "beside its own log.",
    "breaks by its own log",
)
_ALL_DROPPED: Final = FixedCall(
    ALL_CALLS,
    False,
    "Its own log calls the breaks, beside the interval and what cannot wait.",
    "the fixed reasons of the first days",
)


def _call(context: RuleContext, rule: Rule, days: Sequence[Day], rows: Sequence[Slot]) -> FixedCall:
    """Return one fixed reason of a known dog, with its record."""
    call = _FIXED[rule.code]
    if rule.calls(context):
        words = f"A break {span_words(call.wait)} after {call.each}, as you asked."
        return FixedCall(rule.code, True, words, f"no break of its own after {call.many}")
    empties = [empty for day in days for _, empty in _followed(call, day)]
    words = f"No break of its own after {call.many}: {_proof(empties)}."
    if rule.code == "meal":
        words = f"{words}{''.join(_each_meal(context, days, rows))}"
    change = f"a break after {call.each} again"
    return FixedCall(rule.code, False, words, change, len(empties), sum(empties))


def _each_meal(context: RuleContext, days: Sequence[Day], rows: Sequence[Slot]) -> Iterator[str]:
    """Yield for each meal of the routine what came of the breaks after it, where that is a good
    reason, and which break of today serves it."""
    for place, meal in enumerate(context.plan.meals):
        empties = [
            empty
            for day in days
            if place < len(day.plan.meals)
            for at, empty in _followed(_FIXED["meal"], day)
            if abs(at - day.plan.meals[place]) <= figures.MEAL_MATCH
        ]
        serving = next((row for row in rows if _serves(row, meal)), None)
        if not _speaks(empties) or serving is None:
            continue
        serves = "served" if serving.event else "serves"
        after = f"After the {context.clock(meal)} meal {_record(empties, 'breaks')}"
        yield f" {after}: the {context.clock(minutes_of(serving.at))} break {serves} it."


def _serves(row: Slot, meal: Minutes) -> bool:
    """Whether a row is a break after a meal, whether it has been or is to come."""
    return row.kind == "break" and row.status != "missed" and minutes_of(row.at) > meal


def _proof(empties: Sequence[bool]) -> str:
    """Return what the log says for dropping a call: its record, where that is a good one."""
    if _speaks(empties):
        return _record(empties, "such breaks")
    return "the chance of an accident counts it"


def _speaks(empties: Sequence[bool]) -> bool:
    return len(empties) >= _FEW and 2 * sum(empties) >= len(empties)


def _record(empties: Sequence[bool], breaks: str) -> str:
    return f"{sum(empties)} of {len(empties)} {breaks} brought nothing"


def _followed(call: _FixedEntry, day: Day) -> Iterator[tuple[Minutes, bool]]:
    """Yield each entry that an outing followed in time, and whether that brought nothing."""
    for entry in day.events:
        if entry.kind != call.kind:
            continue
        due = entry.t + call.wait
        outing = next((one for one in day.outings if due - _SOONER <= one.at <= due + _LATER), None)
        if outing is not None:
            yield entry.t, all(event.kind == "nothing" for event in outing.events)


def served_later(context: RuleContext, calls: Sequence[FixedCall], due: Minutes) -> Iterator[str]:
    """Yield which entry would have called a break by now, and which break serves it instead."""
    facts = context.facts
    latest = {"meal": facts.fed, "drink": facts.drank, "play": facts.played}
    for one in calls:
        if one.called or one.code not in _FIXED:
            continue
        call, entries = _FIXED[one.code], latest[one.code]
        if not entries or entries[-1] < max(facts.last_out or 0.0, context.awake_since):
            continue
        if entries[-1] + call.wait < due and context.now <= entries[-1] + call.wait + _LATER:
            entry = f"{context.clock(entries[-1])} {call.one}"
            proof = _proof([True] * one.empty + [False] * (one.outings - one.empty))
            yield f"The {context.clock(due)} break serves the {entry} too: {proof}"
