"""The shape of what the views show of accidents and places; the facts of one only when asked."""

from __future__ import annotations

from datetime import datetime
from functools import cached_property

from msgspec import Struct

from pottyboard.core.engine.accident_facts import fact_lines
from pottyboard.core.engine.circumstances import Circumstances
from pottyboard.core.model.events import Event


class Offer(Struct, frozen=True):
    """One change of the routine that an accident suggests for tomorrow.

    ``measure`` is a code of ``events.MEASURES``, empty where the words are all and the plan stays;
    ``minutes`` how much, where that is a length; ``taken`` whether the household has taken it.
    """

    measure: str
    words: str
    minutes: float | None = None
    taken: bool = False


class Account(Struct, frozen=True, dict=True):
    """One accident: the facts, why it likely happened, and what may be changed.

    ``cause`` is a code of ``events.CAUSES``, ``words`` name it in a few words and ``reasoning``
    says in one sentence what in the log speaks for it; ``said`` is true where the household has set
    the cause itself. ``circumstances`` are what the log said just before it.
    """

    event: Event
    cause: str
    words: str
    reasoning: str
    circumstances: Circumstances
    said: bool = False
    offer: Offer | None = None

    @cached_property
    def facts(self) -> tuple[str, ...]:
        """What the log says about it in short lines, such as ``2 h 10 after the last pee``."""
        return fact_lines(self.circumstances)


class PadPlan(Struct, frozen=True):
    """What to do about the pad today, in words, with its caution; ``ends`` when it is removed."""

    words: str
    caution: str
    ends: datetime
