"""Why a break is due: one table, a row for each reason.

A row says from which entry the reason comes, when it falls due, and how it reads. An outing serves
a reason if it comes after that entry and no more than 10 minutes before the reason is due. Getting
up and coming home ask at once: a success in the 10 minutes before serves those too, or a dog whose
people log the outing first would go out twice.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from typing import Final

from msgspec import Struct

from pottyboard.core.engine.interval import night_hold
from pottyboard.core.engine.rule_context import Code, Due, RuleContext
from pottyboard.core.estimate.risk import limit_of, risk_now
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, percent_words, span_words


class Rule(Struct, frozen=True):
    """One row of the table.

    ``due`` returns when the reason falls due, or None if it does not stand; ``words`` how it reads.
    ``source`` names where the figure comes from. ``fixed`` is true of what calls only while the dog
    is not known, and is evidence from then on, unless the household asks for it.
    """

    code: Code
    title: str
    due: Callable[[RuleContext], Minutes | None]
    words: Callable[[RuleContext, Minutes], str]
    source: str
    fixed: bool = False

    def calls(self, context: RuleContext) -> bool:
        """Whether it calls a break of its own."""
        return not self.fixed or self.code in context.facts.measures.calls or not context.knows_dog


def _served(
    context: RuleContext, since: Minutes, due: Minutes, within: float = figures.SERVES_WITHIN
) -> bool:
    out = context.facts.last_out
    return out is not None and out >= since and out >= due - within


def _just_succeeded(context: RuleContext, due: Minutes) -> bool:
    """Whether a success shortly before serves a reason that falls due with its entry."""
    success = context.facts.last_success
    return success is not None and success >= due - figures.SERVES_WITHIN


def _after(entry: Minutes, minutes: float, context: RuleContext) -> Minutes | None:
    """Return when a reason falls due ``minutes`` after its entry, None if that is served."""
    if entry < context.awake_since or _served(context, entry, entry + minutes):
        return None
    return entry + minutes


def _first_after(
    entries: tuple[Minutes, ...], minutes: float, context: RuleContext
) -> Minutes | None:
    """Return when the first of ``entries`` falls due that no outing has served, None if none."""
    dues = (_after(entry, minutes, context) for entry in entries)
    return next((due for due in dues if due is not None), None)


# --- When each reason falls due -------------------------------------------------------------------


def _hold(context: RuleContext) -> Minutes | None:
    facts, interval = context.facts, context.interval
    if context.sleep == "night":
        return None
    pee = context.last_pee
    since = facts.last_out if pee is None else pee + interval
    due = max(since or 0.0, context.awake_since)
    tried = facts.dry_out
    if tried is not None and tried >= due - figures.SERVES_WITHIN:
        return tried + interval * figures.SHARE_AFTER_DRY_OUTING
    return due


def _up(context: RuleContext) -> Minutes | None:
    facts, plan = context.facts, context.plan
    if context.sleep == "night":
        return plan.next_up
    asked = facts.asks_up
    if asked is not None and context.knows_dog and _peed_of_late(context, asked):
        asked = None
    if plan.number > 1:
        asked = max(asked or 0.0, plan.start)
    if asked is None or _served(context, asked, asked) or _just_succeeded(context, asked):
        return plan.next_up if facts.is_up_at_night(plan) else None
    return asked


def _peed_of_late(context: RuleContext, at: Minutes) -> bool:
    """Whether the last pee was less than half the interval before ``at``."""
    pee = context.facts.last_pee
    return pee is not None and at - pee < context.interval * figures.SHARE_TO_RETRY


def _earlier(*dues: Minutes | None) -> Minutes | None:
    """Return the earliest of those that stand: a change of the routine beside the rule."""
    return min((due for due in dues if due is not None), default=None)


def _meal(context: RuleContext) -> Minutes | None:
    fed, sooner = context.facts.fed, context.facts.measures.after_meal
    by_rule = _first_after(fed, figures.AFTER_MEAL, context)
    if sooner is None:
        return by_rule
    return _earlier(by_rule, _first_after(fed, sooner, context))


def _digestion(context: RuleContext) -> Minutes | None:
    meals, sooner = context.facts.waiting_meals, context.facts.measures.stool
    if not meals:
        return None  # and how long this dog digests need not be worked out
    by_rule = _first_after(meals, context.digestion, context)
    return by_rule if sooner is None else _earlier(by_rule, _first_after(meals, sooner, context))


def _drink(context: RuleContext) -> Minutes | None:
    return _first_after(context.facts.drank, figures.AFTER_DRINK, context)


def _play(context: RuleContext) -> Minutes | None:
    return _first_after(context.facts.played, figures.AFTER_PLAY, context)


def _sign(context: RuleContext) -> Minutes | None:
    sign = context.facts.sign
    return None if sign is None or sign < context.awake_since else sign


def _retry(context: RuleContext) -> Minutes | None:
    tries = context.tries
    if not tries:
        return None
    out = max(tries[-1], context.facts.dry_out or 0.0)
    soon, later = out + figures.AFTER_NOTHING, out + figures.WATCHED_WAIT
    if context.estimate is None or not context.estimate.has_enough:
        return soon if len(tries) <= figures.RETRIES else later
    risk = risk_now(context.estimate, context.facts, context.now, context.last_pee)
    return risk.latest(limit_of(context.settings), soon, later) or later


def _leaving(context: RuleContext) -> Minutes | None:
    closer = context.facts.measures.last_break
    close = () if closer is None else (closer,)
    dues = (_before_leaving(context, minutes) for minutes in (figures.BEFORE_LEAVING, *close))
    return _earlier(*(None if due is None else due[0] for due in dues))


def _before_leaving(context: RuleContext, minutes: float) -> tuple[Minutes, Minutes] | None:
    """Return when the break before the next absence is due, ``minutes`` ahead of it, and the
    leaving itself; None where the dog has been out just before, or is not left."""
    if context.facts.left is not None:
        return None
    for leave, _ in context.plan.absences:
        due = leave - minutes
        given_up = context.now > leave + figures.ABSENCE_GIVEN_UP
        if not given_up and not _served(context, due - figures.SERVES_WITHIN, due):
            return due, leave
    return None


def _back(context: RuleContext) -> Minutes | None:
    back = tuple(at for at in context.facts.back if not _just_succeeded(context, at))
    return _first_after(back, 0, context)


def _daily(context: RuleContext) -> Minutes | None:
    measures, plan, settings = context.facts.measures, context.plan, context.settings
    if not measures.daily:
        return None
    planned = measures.daily_on(plan.date, settings.home.up, settings.zone)
    return next(
        (
            at
            for at in planned
            if context.awake_since <= at < plan.bed
            and not _served(context, at - figures.SERVES_WITHIN, at)
        ),
        None,
    )


def _bedtime(context: RuleContext) -> Minutes | None:
    bed = context.plan.bed
    within = context.serves_within
    if context.facts.is_up_at_night(context.plan):
        return None
    return None if _served(context, bed - within, bed, within) else bed


def _night(context: RuleContext) -> Minutes | None:
    facts, plan = context.facts, context.plan
    if context.sleep != "night":
        return None
    since = facts.last_pee or 0.0
    if since < plan.start:
        since = plan.bed
    due = since + min(_night_by_rule(context), _night_by_log(context))
    if (facts.last_out or 0.0) >= due - figures.SERVES_WITHIN:
        due = (facts.last_out or 0.0) + figures.NIGHT_AGAIN
    return due if due < plan.next_up - figures.NIGHT_BREAK_WORTH else None


def _night_by_rule(context: RuleContext) -> float:
    """Return how long a night is planned to be held, endless where the rule plans no break."""
    return night_hold(context.settings.dog) if wants_night_break(context) else math.inf


def _night_by_log(context: RuleContext) -> float:
    """Return by when a wet night becomes too likely, endless while the log says too little."""
    estimate = context.estimate
    if estimate is None or not estimate.knows_nights:
        return math.inf
    return max(estimate.night_until(float(figures.NIGHT_CHANCE)), float(figures.NIGHT_LEAST))


def _model(context: RuleContext) -> Minutes | None:
    facts = context.facts
    pee = context.last_pee
    if context.estimate is None or pee is None or context.sleep == "night":
        return None
    if not context.estimate.has_enough:
        return None
    start = max(pee, facts.last_out or 0.0) + figures.MODEL_LEAST
    start = max(start, context.awake_since)
    end = _hold(context)
    if end is None or end <= start:
        return None
    risk, late = risk_now(context.estimate, facts, context.now, pee), figures.KEPT_LATE
    latest = risk.latest(limit_of(context.settings), start + late, end + late)
    return None if latest is None else max(start, latest - late)


def wants_night_break(context: RuleContext) -> bool:
    """Whether this night gets a planned break: the first nights, and after a wet one."""
    plan, wet = context.plan, context.facts.last_night_accident
    if plan.number <= figures.NIGHT_BREAK_NIGHTS:
        return True
    return wet is not None and context.now - wet < figures.NIGHT_ACCIDENT_NIGHTS * 1440


# --- How each reason reads ------------------------------------------------------------------------


def _hold_words(context: RuleContext, at: Minutes) -> str:
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


def _up_words(context: RuleContext, at: Minutes) -> str:
    if context.facts.asks_up != at:
        return "first thing in the morning"
    return f"got up at {context.clock(context.facts.asks_up or at)}"


def _entry_words(text: str, minutes: float) -> Callable[[RuleContext, Minutes], str]:
    return lambda context, at: text.format(context.clock(at - minutes))


def _meal_words(context: RuleContext, at: Minutes) -> str:
    sooner = context.facts.measures.after_meal or figures.AFTER_MEAL
    took = sooner if at - sooner in context.facts.fed else figures.AFTER_MEAL
    return f"after the meal at {context.clock(at - took)}"


def _digestion_words(context: RuleContext, at: Minutes) -> str:
    sooner = context.facts.measures.stool
    if sooner is not None and at - sooner in context.facts.meals:
        return f"no stool since the meal at {context.clock(at - sooner)}, sooner after an accident"
    meal = context.clock(at - context.digestion)
    return f"no stool since the meal at {meal}, usual after {span_words(context.digestion)}"


def _sign_words(context: RuleContext, at: Minutes) -> str:
    sign = context.facts.sign_words
    shown = {"door": "went to the door", "": "showed a sign"}.get(sign, f"was {sign}")
    return f"{context.settings.dog.name} {shown} at {context.clock(at)}"


def _retry_words(context: RuleContext, at: Minutes) -> str:
    tries = context.tries
    tried = ", ".join(context.clock(one) for one in tries[-int(figures.RETRIES) :])
    return f"nothing came at {tried}: try {len(tries) + 1}"


def _leaving_words(context: RuleContext, at: Minutes) -> str:
    found = _before_leaving(context, context.facts.measures.last_break or figures.BEFORE_LEAVING)
    return f"before leaving at {context.clock(at if found is None else found[1])}"


def _night_words(context: RuleContext, at: Minutes) -> str:
    if _night_by_log(context) < _night_by_rule(context):
        return "from its own nights: later, a wet one becomes likely"
    hold = span_words(night_hold(context.settings.dog))
    return f"the night is longer than {hold}, as long as it can be expected to hold asleep"


def _model_words(context: RuleContext, at: Minutes) -> str:
    limit, estimate = limit_of(context.settings), context.estimate
    words = f"your limit, {percent_words(limit)}"
    if estimate is not None:
        risk = risk_now(estimate, context.facts, context.now, context.last_pee)
        if risk.chance_by(at) > limit:
            return f"the risk is over {words}"
    return f"by {context.clock(at)} the risk reaches {words}"


RULES: Final[tuple[Rule, ...]] = (
    Rule("hold", "hold", _hold, _hold_words, figures.START_INTERVAL.source),
    Rule("up", "got up", _up, _up_words, figures.LONG_NAP.source),
    Rule("meal", "meal", _meal, _meal_words, figures.AFTER_MEAL.source, fixed=True),
    Rule("digestion", "digestion", _digestion, _digestion_words, figures.DIGESTION_SMALL.source),
    Rule("drink", "long drink", _drink, _entry_words("after the drink at {}", figures.AFTER_DRINK),
         figures.AFTER_DRINK.source, fixed=True),
    Rule("play", "play", _play, _entry_words("after the play at {}", figures.AFTER_PLAY),
         figures.AFTER_PLAY.source, fixed=True),
    Rule("sign", "sign", _sign, _sign_words,
         "common practice, no source: sniffing, pacing and going to the door ask for a break"),
    Rule("retry", "nothing came", _retry, _retry_words, figures.AFTER_NOTHING.source),
    Rule("leaving", "about to be left", _leaving, _leaving_words, figures.BEFORE_LEAVING.source),
    Rule("back", "came home", _back, _entry_words("somebody came home at {}", 0),
         f"{figures.RSPCA}: on return"),
    Rule("daily", "daily break", _daily,
         lambda context, at: "every day at this time, since an accident",
         figures.DAILY_MARGIN.source),
    Rule("bedtime", "last thing", _bedtime,
         lambda context, at: f"last thing, bedtime at {context.clock(context.plan.bed)}",
         f"{figures.ASPCA}: last thing at night"),
    Rule("night", "night", _night, _night_words, figures.NIGHT_HOLD.source),
    Rule("model", "estimate", _model,
         _model_words,
         "our own choice: the household's limit"),
)  # fmt: skip

RULE_BY_CODE: Final = {rule.code: rule for rule in RULES}
_ONLY_ASLEEP: Final = frozenset({"up", "night", "sign"})
_CLOCKS_OF_THE_DAY: Final = frozenset(
    {"hold", "meal", "digestion", "drink", "play", "retry", "daily", "model"}
)
"""What neither wakes a dog that sleeps by day, nor calls it out twice in a quarter of an hour."""
_OWN_WINDOW: Final = frozenset({"leaving", "digestion"})


def dues(context: RuleContext) -> Iterator[Due]:
    """Yield every reason that stands, in the order of the table.

    A dog asleep for the night is left alone but for the morning, the night break and a sign; what
    would have fallen due meanwhile waits for its waking.
    """
    night = context.sleep == "night"
    for rule in RULES:
        if (night and rule.code not in _ONLY_ASLEEP) or not rule.calls(context):
            continue
        at = rule.due(context)
        if at is None:
            continue
        yield Due(rule.code, at if night else _called(context, rule.code, at), at)


def _called(context: RuleContext, code: Code, due: Minutes) -> Minutes:
    """Return when a reason that falls ``due`` calls by day: never right after a success, but for a
    sign; a clock of the day lets the dog sleep, and a little longer be."""
    at = max(due, context.awake_since)
    success = context.facts.last_success
    if code == "sign":
        return at
    if code in _CLOCKS_OF_THE_DAY:
        at = context.let_sleep(at)
    if success is not None:
        rest = figures.BREAKS_APART if code in _CLOCKS_OF_THE_DAY else figures.REST_AFTER_SUCCESS
        at = max(at, success + rest)
    return at


def served_by(context: RuleContext, at: Minutes, standing: Iterable[Due]) -> list[Due]:
    """Return the reasons that a break at ``at`` serves, in the order given.

    Once the dog is known one break serves more; leaving and digestion keep their own windows.
    """
    within = context.serves_within
    return [
        due
        for due in standing
        if due.at <= at + (figures.SERVES_WITHIN if due.code in _OWN_WINDOW else within)
    ]


def first_due(context: RuleContext) -> Due:
    """Return the reason that falls due first (the bedtime or the morning always stands)."""
    return min(dues(context), key=lambda due: due.at)
