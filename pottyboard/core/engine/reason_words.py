"""How each reason for a break reads, for people: a function for each row of their table."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from pottyboard.core.engine.interval import night_hold
from pottyboard.core.engine.reason_dues import before_leaving, night_by_log, night_by_rule
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.risk import Risk, limit_of
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, span_words


def hold(context: RuleContext, at: Minutes) -> str:
    facts, zone_clock = context.facts, context.clock
    if facts.last_pee is None:
        return "no pee logged yet"
    if facts.last_small is not None and at > facts.last_pee + context.interval:
        return f"half the usual time after the small pee at {zone_clock(facts.last_small)}"
    if facts.dry_out is not None and at > facts.last_pee + context.interval:
        return f"out since, but no pee since {zone_clock(facts.last_pee)}"
    every = span_words(context.interval)
    return f"{_last_pee(context)} {zone_clock(facts.last_pee)}; a break every {every}"


def _last_pee(context: RuleContext) -> str:
    """Return what the pee is called that the hold counts from: a small one since has not emptied
    the bladder, though it is the newest that is shown."""
    return "last pee" if context.facts.last_small is None else "last full pee"


def up(context: RuleContext, at: Minutes) -> str:
    if context.facts.asks_up != at:
        return "first thing in the morning"
    return f"got up at {context.clock(context.facts.asks_up or at)}"


def after_entry(text: str, minutes: float) -> Callable[[RuleContext, Minutes], str]:
    return lambda context, at: text.format(context.clock(at - minutes))


def meal(context: RuleContext, at: Minutes) -> str:
    sooner = context.facts.measures.after_meal or figures.AFTER_MEAL
    took = sooner if at - sooner in context.facts.fed else figures.AFTER_MEAL
    return f"after the meal at {context.clock(at - took)}"


def digestion(context: RuleContext, at: Minutes) -> str:
    sooner = context.facts.measures.stool
    if sooner is not None and at - sooner in context.facts.meals:
        meal = context.clock(at - sooner)
        return f"no poop yet; sooner after a meal ({meal}), as agreed after an accident"
    meal = context.clock(at - context.digestion)
    return f"no poop yet; usually {span_words(context.digestion)} after a meal ({meal})"


def sign(context: RuleContext, at: Minutes) -> str:
    signs = context.facts.sign_words
    shown = {"door": "went to the door", "": "showed a signal"}.get(signs, f"was {signs}")
    return f"{context.settings.dog.name} {shown} at {context.clock(at)}"


_ORDINALS: Final = {2: "second", 3: "third"}


def retry(context: RuleContext, at: Minutes) -> str:
    tries = context.tries
    tried = ", ".join(context.clock(one) for one in tries[-int(figures.RETRIES) :])
    number = _ORDINALS.get(len(tries) + 1, f"{len(tries) + 1}th")
    return f"nothing at {tried}: {number} try"


def leaving(context: RuleContext, at: Minutes) -> str:
    found = before_leaving(context, context.facts.measures.last_break or figures.BEFORE_LEAVING)
    return f"before leaving at {context.clock(at if found is None else found[1])}"


def night(context: RuleContext, at: Minutes) -> str:
    if night_by_log(context) < night_by_rule(context):
        return "from its own nights: later, a wet one becomes likely"
    facts, hold = context.facts, span_words(night_hold(context.settings.dog))
    since = facts.last_pee or 0.0
    if at > max(since, context.plan.bed) + night_hold(context.settings.dog):
        return f"nothing came at {context.clock(facts.last_out or at)} in the night: once more"
    last = f"the {_last_pee(context)} ({context.clock(since)})"
    after = last if since >= context.plan.start else "bedtime"
    return f"{hold} after {after}: as long as it can be expected to hold asleep"


def model(context: RuleContext, at: Minutes) -> str:
    limit, risk = limit_of(context.settings), context.risk
    words = f"likely (over {100 * limit:g} in 100)"
    last, early, what = at, "", "an accident"
    if risk is not None:
        if risk.chance_by(context.now) > limit:
            return f"an accident is already too {words}"
        over = context.over_limit_from(at)
        if over is not None and at > context.now:
            least = "after an outing" if context.log_knows else "in the first days"
            what = _mostly(risk, over)
            return f"after {context.clock(over)} {what} gets too {words}; no sooner {least}"
        # From a whole minute on, as the chance beside it is asked: both name the same one.
        last = risk.latest(limit, math.floor(at), at + figures.MOST_INTERVAL) or at
        what = _mostly(risk, last)
    # A household that goes out late is called earlier than the limit is passed.
    if last - at >= 1:
        early = f"called {span_words(last - at)} early: "
    return f"{early}after {context.clock(last)} {what} gets too {words}"


def _mostly(risk: Risk, at: Minutes) -> str:
    """Return what would happen by then: poop, where most of the chance is of it."""
    return "poop indoors" if risk.stool_by(at) > 2 * risk.pees_by(at) else "an accident"
