"""Why a break is due: one table, a row for each reason.

A row says from which entry the reason comes, when it falls due, and how it reads. An outing serves
a reason if it comes after that entry and no more than 10 minutes before the reason is due. Getting
up and coming home ask at once: a success in the 10 minutes before serves those too, or a dog whose
people log the outing first would go out twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final

from msgspec import Struct

from pottyboard.core.engine import reason_dues, reason_words
from pottyboard.core.engine.rule_context import Code, Due, RuleContext
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes


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


RULES: Final[tuple[Rule, ...]] = (
    Rule("hold", "since pee", reason_dues.hold, reason_words.hold, figures.START_INTERVAL.source),
    Rule("up", "got up", reason_dues.up, reason_words.up, figures.LONG_NAP.source),
    Rule(
        "meal", "meal", reason_dues.meal, reason_words.meal, figures.AFTER_MEAL.source, fixed=True
    ),
    Rule(
        "digestion",
        "poop time",
        reason_dues.digestion,
        reason_words.digestion,
        figures.DIGESTION_SMALL.source,
    ),
    Rule(
        "drink",
        "long drink",
        reason_dues.drink,
        reason_words.after_entry("after the drink at {}", figures.AFTER_DRINK),
        figures.AFTER_DRINK.source,
        fixed=True,
    ),
    Rule(
        "play",
        "play",
        reason_dues.play,
        reason_words.after_entry("after the play at {}", figures.AFTER_PLAY),
        figures.AFTER_PLAY.source,
        fixed=True,
    ),
    Rule(
        "sign",
        "signal",
        reason_dues.sign,
        reason_words.sign,
        "common practice, no source: sniffing, pacing and going to the door ask for a break",
    ),
    Rule("retry", "next try", reason_dues.retry, reason_words.retry, figures.AFTER_NOTHING.source),
    Rule(
        "leaving",
        "before leaving",
        reason_dues.leaving,
        reason_words.leaving,
        figures.BEFORE_LEAVING.source,
    ),
    Rule(
        "back",
        "came home",
        reason_dues.back,
        reason_words.after_entry("somebody came home at {}", 0),
        f"{figures.RSPCA}: on return",
    ),
    Rule(
        "daily",
        "daily break",
        reason_dues.daily,
        lambda context, at: "every day at this time, since an accident",
        figures.DAILY_MARGIN.source,
    ),
    Rule(
        "bedtime",
        "last thing",
        reason_dues.bedtime,
        lambda context, at: f"last thing, bedtime at {context.clock(context.plan.bed)}",
        f"{figures.ASPCA}: last thing at night",
    ),
    Rule("night", "night", reason_dues.night, reason_words.night, figures.NIGHT_HOLD.source),
    Rule(
        "model",
        "own log",
        reason_dues.model,
        reason_words.model,
        "our own choice: the household's limit",
    ),
)

RULE_BY_CODE: Final = {rule.code: rule for rule in RULES}
_ONLY_ASLEEP: Final = frozenset({"up", "night", "sign"})
CLOCKS_OF_THE_DAY: Final = frozenset(
    {"hold", "meal", "digestion", "drink", "play", "retry", "daily", "model"}
)
"""What neither wakes a dog that sleeps by day, nor calls it out twice in a quarter of an hour."""
_OWN_WINDOW: Final = frozenset({"leaving", "digestion"})


def dues(context: RuleContext) -> Iterator[Due]:
    """Yield every reason that stands, in the order of the table.

    A dog that sleeps the night, or was out for the last thing, is left alone but for the morning,
    the night break and a sign; what would have fallen due meanwhile waits for its waking.
    """
    night = context.for_the_night
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
    if code == "sign":
        return due
    # A break of the night that nobody kept is as late as it was, now that the dog is up.
    at = due if code == "night" else max(due, context.awake_since)
    success = context.facts.last_success
    if code in CLOCKS_OF_THE_DAY:
        at = context.let_sleep(at)
    if success is not None:
        rest = figures.BREAKS_APART if code in CLOCKS_OF_THE_DAY else figures.REST_AFTER_SUCCESS
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


_KNOWN_BY_THE_CLOCK: Final = frozenset({"hold", "up", "meal", "drink", "play", "back", "leaving"})
"""What calls by entries and clock alone: to look at it costs next to nothing."""


def clock_due(context: RuleContext) -> Minutes | None:
    """Return when the clocks alone called the break that stands, without the estimate's chance.

    Where an outing answers it, the time between is how late the household keeps its breaks. None
    where none stands, or where a sign asks: that is answered at once.
    """
    if context.facts.sign is not None or context.facts.left is not None:
        return None
    dues = (
        (rule.code, due)
        for rule in RULES
        if rule.code in _KNOWN_BY_THE_CLOCK
        and rule.calls(context)
        and (due := rule.due(context)) is not None
    )
    return min((_called(context, code, due) for code, due in dues), default=None)


def first_due(context: RuleContext) -> Due:
    """Return the reason that falls due first (the bedtime or the morning always stands)."""
    return min(dues(context), key=lambda due: due.at)
