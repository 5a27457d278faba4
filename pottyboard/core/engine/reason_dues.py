"""When each reason for a break falls due: a function for each row of the table of reasons.

Each returns epoch minutes, or None where the reason does not stand.
"""

from __future__ import annotations

import math

from pottyboard.core.engine.interval import night_hold
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import Minutes


def served(
    context: RuleContext, since: Minutes, due: Minutes, within: float = figures.SERVES_WITHIN
) -> bool:
    out = context.facts.last_out
    return out is not None and out >= since and out >= due - within


def just_succeeded(context: RuleContext, due: Minutes) -> bool:
    """Whether a success shortly before serves a reason that falls due with its entry."""
    success = context.facts.last_success
    return success is not None and success >= due - figures.SERVES_WITHIN


def after(entry: Minutes, minutes: float, context: RuleContext) -> Minutes | None:
    """Return when a reason falls due ``minutes`` after its entry, None if that is served."""
    if entry < context.awake_since or served(context, entry, entry + minutes):
        return None
    return entry + minutes


def first_after(
    entries: tuple[Minutes, ...], minutes: float, context: RuleContext
) -> Minutes | None:
    """Return when the first of ``entries`` falls due that no outing has served, None if none."""
    dues = (after(entry, minutes, context) for entry in entries)
    return next((due for due in dues if due is not None), None)


def hold(context: RuleContext) -> Minutes | None:
    facts, interval = context.facts, context.interval
    if context.for_the_night:
        return None
    pee = context.last_pee
    since = facts.last_out if pee is None else pee + interval
    due = max(since or 0.0, context.awake_since)
    tried = facts.dry_out
    if tried is not None and tried >= due - figures.SERVES_WITHIN:
        return tried + interval * figures.SHARE_AFTER_DRY_OUTING
    return due


def up(context: RuleContext) -> Minutes | None:
    facts, plan = context.facts, context.plan
    if context.for_the_night:
        return plan.next_up
    asks = [context.morning] if plan.number > 1 else []
    asked = facts.asks_up
    if asked is not None and not (context.knows_dog and peed_of_late(context, asked)):
        asks.append(asked)
    for asked in asks:
        if not served(context, asked, asked) and not just_succeeded(context, asked):
            return asked
    return plan.next_up if facts.is_up_at_night(plan) else None


def peed_of_late(context: RuleContext, at: Minutes) -> bool:
    """Whether the last pee was less than half the interval before ``at``."""
    pee = context.facts.last_pee
    return pee is not None and at - pee < context.interval * figures.SHARE_TO_RETRY


def earlier(*dues: Minutes | None) -> Minutes | None:
    """Return the earliest of those that stand: a change of the routine beside the rule."""
    return min((due for due in dues if due is not None), default=None)


def meal(context: RuleContext) -> Minutes | None:
    if context.grazes:
        return None
    fed, sooner = context.facts.fed, context.facts.measures.after_meal
    by_rule = first_after(fed, figures.AFTER_MEAL, context)
    if sooner is None:
        return by_rule
    return earlier(by_rule, first_after(fed, sooner, context))


def digestion(context: RuleContext) -> Minutes | None:
    meals, sooner = context.facts.waiting_meals, context.facts.measures.stool
    if not meals or context.grazes:
        return None  # and how long this dog digests need not be worked out
    by_rule = first_after(meals, context.digestion, context)
    return by_rule if sooner is None else earlier(by_rule, first_after(meals, sooner, context))


def drink(context: RuleContext) -> Minutes | None:
    return first_after(context.facts.drank, figures.AFTER_DRINK, context)


def play(context: RuleContext) -> Minutes | None:
    return first_after(context.facts.played, figures.AFTER_PLAY, context)


def sign(context: RuleContext) -> Minutes | None:
    sign = context.facts.sign
    return None if sign is None or sign < context.plan.morning_from else sign


def retry(context: RuleContext) -> Minutes | None:
    tries = context.tries
    if not tries:
        return None
    out = max(tries[-1], context.facts.dry_out or 0.0)
    soon, later = out + figures.AFTER_NOTHING, out + figures.WATCHED_WAIT
    risk = context.risk
    if risk is None or not risk.estimate.has_enough:
        return soon if len(tries) <= figures.RETRIES else later
    return risk.latest(limit_of(context.settings), soon, later) or later


def leaving(context: RuleContext) -> Minutes | None:
    closer = context.facts.measures.last_break
    close = () if closer is None else (closer,)
    dues = (before_leaving(context, minutes) for minutes in (figures.BEFORE_LEAVING, *close))
    return earlier(*(None if due is None else due[0] for due in dues))


def before_leaving(context: RuleContext, minutes: float) -> tuple[Minutes, Minutes] | None:
    """Return when the break before the next absence is due, ``minutes`` ahead of it, and the
    leaving itself; None where the dog has been out just before, or is not left."""
    if context.facts.left is not None:
        return None
    for leave, _ in context.plan.absences:
        due = leave - minutes
        given_up = context.now > leave + figures.ABSENCE_GIVEN_UP
        if not given_up and not served(context, due - figures.SERVES_WITHIN, due):
            return due, leave
    return None


def back(context: RuleContext) -> Minutes | None:
    back = tuple(at for at in context.facts.back if not just_succeeded(context, at))
    return first_after(back, 0, context)


def daily(context: RuleContext) -> Minutes | None:
    measures, plan, settings = context.facts.measures, context.plan, context.settings
    if not measures.daily:
        return None
    planned = measures.daily_on(plan.date, settings.home.up, settings.zone)
    return next(
        (
            at
            for at in planned
            if context.awake_since <= at < plan.bed
            and not served(context, at - figures.SERVES_WITHIN, at)
        ),
        None,
    )


def bedtime(context: RuleContext) -> Minutes | None:
    bed = context.plan.bed
    within = context.serves_within
    if context.facts.is_up_at_night(context.plan):
        return None
    return None if served(context, bed - within, bed, within) else bed


def night(context: RuleContext) -> Minutes | None:
    facts, plan = context.facts, context.plan
    if not context.for_the_night and not facts.is_up_at_night(plan):
        return None
    since = facts.last_pee or 0.0
    if since < plan.start:
        since = plan.bed
    due = since + min(night_by_rule(context), night_by_log(context))
    if (facts.last_out or 0.0) >= due - figures.SERVES_WITHIN:
        due = (facts.last_out or 0.0) + priors.NIGHT_AGAIN
    if not context.for_the_night and due > context.awake_since:
        return None  # awake, the clocks of the day call; what was due while it slept still is
    return due if due < plan.next_up - figures.NIGHT_BREAK_WORTH else None


def night_by_rule(context: RuleContext) -> float:
    """Return how long a night is planned to be held, endless where the rule plans no break."""
    return night_hold(context.settings.dog) if wants_night_break(context) else math.inf


def night_by_log(context: RuleContext) -> float:
    """Return by when a wet night becomes too likely, endless while the log says too little."""
    estimate = context.estimate
    if estimate is None or not estimate.knows_nights:
        return math.inf
    return max(estimate.night_until(float(priors.NIGHT_CHANCE)), float(priors.NIGHT_LEAST))


def model(context: RuleContext) -> Minutes | None:
    facts = context.facts
    pee, risk = context.last_pee, context.risk
    if risk is None or pee is None or context.for_the_night or not risk.estimate.has_enough:
        return None
    start = max(pee, facts.last_out or 0.0) + priors.MODEL_LEAST
    start = max(start, context.awake_since)
    end = hold(context)
    if end is None or end <= start:
        return None
    latest = risk.latest(limit_of(context.settings), start, end + priors.LATE_MOST)
    if latest is None:
        return None
    due = max(start, math.floor(latest - context.kept_late(latest)))
    if not context.log_knows:
        due = max(due, pee + math.ceil(context.interval * priors.FIRST_DAYS_SHARE))
    return due if due < end else None


def wants_night_break(context: RuleContext) -> bool:
    """Whether this night gets a planned break: the first nights, and after a wet one."""
    plan, wet = context.plan, context.facts.last_night_accident
    if plan.number <= figures.NIGHT_BREAK_NIGHTS:
        return True
    return wet is not None and context.now - wet < figures.NIGHT_ACCIDENT_NIGHTS * 1440
