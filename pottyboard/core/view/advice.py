"""What to do right now, in short sentences that come and go with what they are about."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from pottyboard.core.engine.reasons import dues
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes, minutes_of, span_words
from pottyboard.core.view.dropped import served_later
from pottyboard.core.view.situation_views import FixedCall, WatchWindow

_STRAINING: Final = (
    "Does it squat again and again, straining, and little or nothing comes? "
    "That cannot wait: press ! and phone a vet"
)
_STRAINING_IN_BRIEF: Final = "Squats, strains, little comes? Press !, phone a vet"
_NEAR: Final = "Nothing came: keep "


def in_brief(words: str, name: str) -> str:
    """Return a sentence of the advice about the dog of this ``name`` as short as it can be."""
    if words == _STRAINING:
        return _STRAINING_IN_BRIEF
    # In arm's reach is the one of the three ways that needs no caution beside it.
    return f"{_NEAR}{name} in arm's reach" if words.startswith(_NEAR) else words


def advice(context: RuleContext) -> tuple[str, ...]:
    """Return what to do at ``context.now``."""
    if context.facts.left is not None:
        return tuple(_alone(context))
    if context.sleep == "night":
        return tuple(_back_to_bed(context))
    return tuple(_asleep(context) if context.sleep else _watching(context))


def _alone(context: RuleContext) -> Iterator[str]:
    facts = context.facts
    alone = context.now - max(facts.left or 0.0, facts.last_out or 0.0)
    if alone > figures.MOST_INTERVAL:
        yield f"Alone for {span_words(alone)}: send somebody now"


def _back_to_bed(context: RuleContext) -> Iterator[str]:
    """Say that a dog that was out in the night is taken to sleep, until it is quiet for long."""
    facts, plan, name = context.facts, context.plan, context.settings.dog.name
    if facts.sleep_at(plan, context.now) != "night":
        since = context.clock(facts.quiet_from(plan))
        asleep = "Asleep again" if facts.is_up_at_night(plan) else "Asleep"
        yield f"{asleep} from {since}: log that {name} got up if it is still up"


def _asleep(context: RuleContext) -> Iterator[str]:
    """Name the break that waits until a nap is over."""
    held = [due for due in dues(context) if due.clock <= context.now < due.at]
    for due in sorted(held, key=lambda due: due.clock)[:1]:
        waits = f"the break of {context.clock(due.clock)} waits until it stirs"
        latest = f"{context.clock(due.at)} at the latest"
        yield f"{context.settings.dog.name} sleeps: {waits}, {latest}"


def _watching(context: RuleContext) -> Iterator[str]:
    """Say how to keep a dog near that was due and brought nothing, and what straining may mean."""
    if not context.tries:
        return
    name = context.settings.dog.name
    how = "tethered beside you, crated with you in the room, or in arm's reach"
    if context.facts.measures.watch is not None:
        how = "on the lead beside you, as agreed,"
    yield f"{_NEAR}{name} {how} until it does; never tethered alone"
    if len(context.tries) >= figures.RETRIES:
        yield _STRAINING


def advice_once_known(
    context: RuleContext,
    watched: WatchWindow | None,
    calls: tuple[FixedCall, ...],
    due: Minutes,
) -> Iterator[str]:
    """Yield from when to keep the dog in sight, and what the next break (``due``) serves too."""
    if context.facts.left is not None or due <= context.now:
        return
    soon = context.now + figures.SOON
    if watched is not None and not context.tries and minutes_of(watched.since) <= soon:
        yield watched.words
    yield from served_later(context, calls, due)
