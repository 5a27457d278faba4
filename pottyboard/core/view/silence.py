"""A log that has gone silent for half a day awake: what the board knows then, and what it asks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, local


def silent_since(context: RuleContext, events: Sequence[Event]) -> Minutes | None:
    """Return when the last of all ``events`` happened, the arrival without any, if nobody has
    logged anything for half a day awake since; None otherwise, and while the dog sleeps."""
    since = max((event.t for event in events), default=context.settings.arrived)
    if context.sleep:
        return None
    awake = context.now - since - _nights(context, since)
    return since if awake >= figures.LOG_STOPPED else None


def _nights(context: RuleContext, since: Minutes) -> Minutes:
    """Return the minutes of the nights that are over, from ``since`` on."""
    settings, asleep = context.settings, 0.0
    day = local(since, settings.zone).date() - timedelta(days=1)
    while settings.up_on(day + timedelta(days=1)) <= context.now:
        bed, day = settings.bed_on(day), day + timedelta(days=1)
        asleep += max(0.0, settings.up_on(day) - max(bed, since))
    return asleep


def silence_words(context: RuleContext, since: Minutes) -> str:
    """Return what is known of a dog of which nothing is logged ``since``, and the question."""
    name = context.settings.dog.name
    return (
        f"Nothing logged since {context.clock(since)}. Was {name} out? Log what you know, with the "
        "minutes ago or the time; until then nobody can say how likely an accident is"
    )
