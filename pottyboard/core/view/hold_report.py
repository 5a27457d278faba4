"""What the estimate says, for the board: the hold, the risk of the next hours, and how sure.

The numbers come from :mod:`pottyboard.core.estimate`; here they are put into values and words that
a view shows as they are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import datetime

from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import (
    Estimate,
    EvidenceSoFar,
    censored_hold,
    estimate_of,
    holds_by_day,
)
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.model import figures, priors
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import (
    Minutes,
    count_words,
    in_100,
    instant_of,
    minutes_of,
    span_words,
)
from pottyboard.core.model.settings import Settings
from pottyboard.core.statistics.survival import turnbull
from pottyboard.core.view.hold_words import (
    calling_words,
    dry_holds,
    in_fives,
    night_words,
    proof_words,
    safe_wait,
    safe_words,
    shown,
    shown_words,
    told_to,
)
from pottyboard.core.view.situation_views import (
    DRY_OF_100,
    HoldDay,
    HoldEstimate,
    HoldReport,
    RiskEstimate,
)

CURVE_AHEAD = 240
CURVE_STEP = 10
_STUDY_DAYS = 56
"""Days of the belief, the newest: eight weeks are longer than any retraining."""
_STUDY_STEP = 10
_STUDY_MOST = 960


def hold_estimate(history: History, estimate: Estimate) -> HoldEstimate:
    """Return what the log has taught about the hold awake, in minutes and in words."""
    evidence_so_far = estimate.evidence_so_far
    dry = dry_holds(history.days)
    most = told_to(dry)
    low, middle, high = (_ended_by(estimate, share, most) for share in (0.1, 0.5, 0.9))
    name = history.settings.dog.name
    brief = shown_words(name, dry) if estimate.has_enough else _unknown(history, estimate)
    words = brief + (safe_words(estimate, dry) if estimate.has_enough else "")
    if evidence_so_far.gaps:
        words += f"; {count_words(evidence_so_far.gaps, 'silence')} in the log counted low"
    so_far = shown(dry)
    return HoldEstimate(
        median_minutes=middle,
        range80=(low, high),
        holds=evidence_so_far.holds,
        accidents=evidence_so_far.accidents,
        knows=estimate.has_enough,
        words=words,
        proof=proof_words(estimate, history.days, dry),
        night=night_words(history.days),
        shown=so_far.minutes if so_far else 0,
        times=so_far.times if so_far else 0,
        safe=safe_wait(estimate, dry),
        brief=brief,
    )


def _ended_by(estimate: Estimate, share: float, most: int) -> int | None:
    """Return the minutes by which this share of the waits has ended indoors; None past ``most``."""
    if not most or estimate.pees_by(most) < share:
        return None
    return round(estimate.wait_within(share))


def _unknown(history: History, estimate: Estimate) -> str:
    """Return that the log says too little, and by what the breaks go meanwhile."""
    every, enough = span_words(history.today.interval), int(priors.HOLDS_TO_SPEAK)
    return (
        f"the board does not know {history.settings.dog.name} yet, so a break every {every} "
        f"({estimate.evidence_so_far.holds} of {enough} waits logged)"
    )


def hold_report(settings: Settings, events: Iterable[Event], now: datetime) -> HoldReport:
    """Return the hold awake as curves, from all ``events`` up to ``now`` (aware)."""
    history = History.of(settings, events, minutes_of(now))
    estimate = estimate_of(settings.dog, history.today.evidence_so_far)
    holds = holds_by_day(hold for day in history.days for hold in day.holds)
    seen = [censored_hold(hold) for hold in holds]
    curve = turnbull(seen) if seen else None
    reach = max((one.high if one.ended else one.low for one in seen), default=0.0)
    before = estimate_of(settings.dog, EvidenceSoFar())
    dry = sorted((hold.awake for hold in holds if hold.how == "out"), reverse=True)
    beyond = figures.BEYOND_SHOWN * dry[0] if dry else 2 * estimate.wait_within(0.5)
    longest = max(beyond, reach, history.today.interval)
    last = min(_STUDY_MOST, _STUDY_STEP * math.ceil(longest / _STUDY_STEP))
    minutes = tuple(range(0, last + 1, _STUDY_STEP))
    today = history.today
    context = RuleContext(
        today.facts, today.plan, settings, today.interval, minutes_of(now), estimate
    )
    return HoldReport(
        minutes=minutes,
        log=tuple(curve.survival(t) if curve and t <= reach else None for t in minutes),
        posterior=tuple(1 - estimate.pees_by(t) for t in minutes),
        prior=tuple(1 - before.pees_by(t) for t in minutes),
        accidents=tuple(round(hold.awake) for hold in holds if hold.indoors),
        longest=tuple(round(hold) for hold in dry[:3]),
        days=tuple(_hold_day(settings, day) for day in history.days[-_STUDY_DAYS:]),
        estimate=hold_estimate(history, estimate),
        limit=limit_of(settings),
        told_to=told_to(dry_holds(history.days)),
        calling=calling_words(context),
    )


def _hold_day(settings: Settings, day: Day) -> HoldDay:
    estimate = estimate_of(settings.dog, day.evidence_so_far)
    most, many, half = (in_fives(estimate.wait_within(1 - dry / 100)) for dry in DRY_OF_100)
    return HoldDay(day.plan.number, (most, many, half), estimate.has_enough)


def risk_estimate(context: RuleContext, due: Minutes) -> RiskEstimate | None:
    """Return the risk now, at the next break ``due`` and over the next four hours."""
    pee = context.last_pee
    over_night = context.for_the_night or pee is None or pee < context.awake_since
    risk = context.risk
    if risk is None or pee is None or over_night:
        return None
    # The curve's instants stand still while the clock moves, so that nothing is worked out twice.
    first = pee + CURVE_STEP * ((context.now - pee) // CURVE_STEP)
    instants = [first + CURVE_STEP * step for step in range(CURVE_AHEAD // CURVE_STEP + 1)]
    return RiskEstimate(
        now=risk.chance_by(context.now),
        at_due=risk.chance_by(max(due, context.now)),
        limit=limit_of(context.settings),
        over_from=_over_from(context, due),
        curve=tuple((instant_of(at), risk.chance_by(at)) for at in instants),
    )


def _over_from(context: RuleContext, due: Minutes) -> datetime | None:
    """Return from when the chance is over the limit before the break at ``due``; None if it is not,
    and once the break is due."""
    over = None if due <= context.now else context.over_limit_from(due)
    return None if over is None else instant_of(over)


def confidence(
    hold: HoldEstimate, risk: RiskEstimate | None, context: RuleContext, due: datetime
) -> str:
    """Return in one line what the board believes, from how much, and how sure it is; where the
    chance passes the limit before a break, from when and what holds that break back."""
    over = ""
    if risk is not None and risk.over_from is not None:
        since = context.clock(minutes_of(risk.over_from))
        over = f"over your limit from {since}, {_held_back(hold, context)}"
    if risk is None or not hold.knows:
        words = f"{hold.brief}; judging by other dogs, {over}" if over else hold.brief
        return words[0].upper() + words[1:]
    when = "before this break" if minutes_of(due) > context.now else "by now"
    chance = f"Chance of an accident {when}: {in_100(risk.at_due)}"
    return f"{chance} (you allow {100 * risk.limit:g}){over and f', {over}'}; {hold.brief}"


def _held_back(hold: HoldEstimate, context: RuleContext) -> str:
    """Return why no break is due though the chance is over the limit."""
    if context.facts.left is not None:
        return "but nobody is home"
    if context.sleep:
        return "but let it sleep"
    if not hold.knows:
        return "but too few waits are known to go by that"
    if not context.log_knows:
        return "but in the first days no break comes much sooner than the interval"
    if context.tries:
        return "and it has just been out"
    return f"but no break sooner than {priors.MODEL_LEAST:g} min after an outing"
