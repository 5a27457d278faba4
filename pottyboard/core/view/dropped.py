"""The calls that a known dog no longer gets, and what its own log says for dropping them.

While a dog is not known, meals, long drinks and play call a break each. Once it is known they are
evidence for the one chance that calls: the board says which calls it dropped, and why.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct, structs

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.reasons import RULES
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.view.situation_views import DroppedCall


class _FixedCall(Struct, frozen=True):
    """A fixed reason: the ``kind`` of its entry, its words, and how long after it the call was."""

    kind: str
    one: str
    many: str
    wait: float


_FIXED: Final = {
    "meal": _FixedCall("meal", "meal", "meals", figures.AFTER_MEAL),
    "drink": _FixedCall("water", "drink", "long drinks", figures.AFTER_DRINK),
    "play": _FixedCall("play", "play", "play", figures.AFTER_PLAY),
}
_SOONER, _LATER = 10, 20
"""Minutes around a call within which an outing is taken to have followed it."""
_DAYS: Final = 14
"""Days back that speak for it: of a year ago it was another dog."""
_FEW: Final = 3
"""Outings under which their count proves nothing and is not told."""


def dropped_calls(context: RuleContext, days: Sequence[Day]) -> tuple[DroppedCall, ...]:
    """Return what calls no break of its own any more, each with its record of the last weeks."""
    newest = days[-_DAYS:]
    return tuple(
        _dropped(rule.code, newest) for rule in RULES if rule.fixed and not rule.calls(context)
    )


def _dropped(code: str, days: Sequence[Day]) -> DroppedCall:
    call = _FIXED[code]
    empties = [empty for day in days for empty in _followed(call, day)]
    one = DroppedCall(code, len(empties), sum(empties), "")
    return structs.replace(one, words=f"No break of its own after {call.many}: {_proof(one)}.")


def _proof(dropped: DroppedCall) -> str:
    """Return what the log says for dropping a call: its record, where that is a good one."""
    if dropped.outings >= _FEW and 2 * dropped.empty >= dropped.outings:
        return f"{dropped.empty} of {dropped.outings} such breaks brought nothing"
    return "the chance of an accident counts it"


def _followed(call: _FixedCall, day: Day) -> Iterator[bool]:
    """Yield for each entry that an outing followed in time whether that brought nothing."""
    for entry in day.events:
        if entry.kind != call.kind:
            continue
        due = entry.t + call.wait
        outing = next((one for one in day.outings if due - _SOONER <= one.at <= due + _LATER), None)
        if outing is not None:
            yield all(event.kind == "nothing" for event in outing.events)


def served_later(
    context: RuleContext, dropped: Sequence[DroppedCall], due: Minutes
) -> Iterator[str]:
    """Yield which entry would have called a break by now, and which break serves it instead."""
    facts = context.facts
    latest = {"meal": facts.fed, "drink": facts.drank, "play": facts.played}
    for one in dropped:
        call, entries = _FIXED[one.code], latest[one.code]
        if not entries or entries[-1] < max(facts.last_out or 0.0, context.awake_since):
            continue
        if entries[-1] + call.wait < due and context.now <= entries[-1] + call.wait + _LATER:
            entry = f"{context.clock(entries[-1])} {call.one}"
            yield f"The {context.clock(due)} break serves the {entry} too: {_proof(one)}"
