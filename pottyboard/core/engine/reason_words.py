"""How each reason for a break reads, for people: a function for each row of their table."""

from __future__ import annotations

from collections.abc import Callable

from pottyboard.core.engine.interval import night_hold
from pottyboard.core.engine.reason_dues import before_leaving, night_by_log, night_by_rule
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.risk import limit_of, risk_now
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, percent_words, span_words


def hold(context: RuleContext, at: Minutes) -> str:
    facts, zone_clock = context.facts, context.clock
    if facts.last_pee is None:
        return "no pee logged yet"
    if facts.last_small is not None and at > facts.last_pee + context.interval:
        return f"half the interval after the small pee at {zone_clock(facts.last_small)}"
    if facts.dry_out is not None and at > facts.last_pee + context.interval:
        return f"no pee since {zone_clock(facts.last_pee)}, in spite of an outing"
    return (
        f"last pee at {zone_clock(facts.last_pee)}, interval today {span_words(context.interval)}"
    )


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
        return f"no stool since the meal at {context.clock(at - sooner)}, sooner after an accident"
    meal = context.clock(at - context.digestion)
    return f"no stool since the meal at {meal}, usual after {span_words(context.digestion)}"


def sign(context: RuleContext, at: Minutes) -> str:
    signs = context.facts.sign_words
    shown = {"door": "went to the door", "": "showed a sign"}.get(signs, f"was {signs}")
    return f"{context.settings.dog.name} {shown} at {context.clock(at)}"


def retry(context: RuleContext, at: Minutes) -> str:
    tries = context.tries
    tried = ", ".join(context.clock(one) for one in tries[-int(figures.RETRIES) :])
    return f"nothing came at {tried}: try {len(tries) + 1}"


def leaving(context: RuleContext, at: Minutes) -> str:
    found = before_leaving(context, context.facts.measures.last_break or figures.BEFORE_LEAVING)
    return f"before leaving at {context.clock(at if found is None else found[1])}"


def night(context: RuleContext, at: Minutes) -> str:
    if night_by_log(context) < night_by_rule(context):
        return "from its own nights: later, a wet one becomes likely"
    hold = span_words(night_hold(context.settings.dog))
    return f"the night is longer than {hold}, as long as it can be expected to hold asleep"


def model(context: RuleContext, at: Minutes) -> str:
    limit, estimate = limit_of(context.settings), context.estimate
    words = f"your limit, {percent_words(limit)}"
    if estimate is not None:
        risk = risk_now(estimate, context.facts, context.now, context.last_pee)
        if risk.chance_by(at) > limit:
            return f"the risk is over {words}"
    return f"by {context.clock(at)} the risk reaches {words}"
