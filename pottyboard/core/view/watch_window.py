"""From when a dog is worth a look before its break, and which signs it gives.

To watch the dog is what every trainer says first; it costs no outing and calls none. The window
opens when the chance of an accident passes a share of the household's limit.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final

from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.risk import limit_of
from pottyboard.core.model import priors
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, instant_of
from pottyboard.core.view.situation_views import WatchWindow

_OF_LATE: Final = 500
"""Entries in which its signs are looked for."""

SIGN_WORDS: Final = {
    "door": "going to the door",
    "sniffing": "sniffing",
    "circling": "circling",
    "pacing": "pacing",
    "whining": "whining",
}
"""How a dog asks, by the signs of ``events.SIGNS``."""


def watch_window(context: RuleContext, due: Minutes, events: Sequence[Event]) -> WatchWindow | None:
    """Return the window before the break ``due`` (epoch minutes), None where it would be empty.

    None too while the estimate has too little log. ``events`` are those of the log: the signs that
    this dog gave of late are named, the commonest first.
    """
    risk = context.risk
    if risk is None or not risk.estimate.has_enough:
        return None
    out = max(context.last_pee or 0.0, context.facts.last_out or 0.0)
    start = max(out, context.awake_since)
    if due <= start:
        return None
    opens = risk.latest(priors.WATCH_SHARE * limit_of(context.settings), start, due)
    if opens is None or due - opens < 1:
        return None
    name = context.settings.dog.name
    when = "Keep" if opens <= context.now else f"From {context.clock(opens)} keep"
    return WatchWindow(
        instant_of(opens), f"{when} {name} in sight: it may ask{_by_its_signs(events[-_OF_LATE:])}"
    )


def _by_its_signs(events: Iterable[Event]) -> str:
    """Return how this dog asks, as its log has it; nothing where no sign was named yet."""
    signs = Counter(event.sign for event in events if event.kind == "sign" and event.sign)
    named = [SIGN_WORDS[sign] for sign, _ in signs.most_common(2) if sign in SIGN_WORDS]
    return f", by {' or '.join(named)}" if named else ""
