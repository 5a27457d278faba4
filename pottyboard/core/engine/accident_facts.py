"""What the log says about an accident, in short lines."""

from __future__ import annotations

from collections.abc import Iterator

from pottyboard.core.engine.circumstances import Circumstances
from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.model.describe import SURFACE_WORDS
from pottyboard.core.model.localtime import minutes_of, span_words


def fact_lines(circumstances: Circumstances) -> tuple[str, ...]:
    """Return what the log says about an accident in short lines, the most telling first."""
    return tuple(_lines(circumstances))


def _lines(c: Circumstances) -> Iterator[str]:
    event, facts = c.event, c.facts
    if event.found is None:
        yield "seen or found: not said yet"
    elif event.found is False:
        yield "seen happening"
    else:
        yield "found" + (
            "" if event.dry is None else f", last dry {c.clock(minutes_of(event.dry))}"
        )
    if event.unsure:
        yield "another dog may have done it"
    if facts.last_pee is not None:
        yield f"{span_words(c.at - facts.last_pee)} after the last pee"
    out = facts.last_out
    if out is not None and out != facts.last_pee:
        nothing = ", nothing came" if out in facts.tries else ""
        yield f"{span_words(c.at - out)} after the last outing{nothing}"
    if facts.last_meal is not None:
        yield f"{span_words(c.at - facts.last_meal)} after the last meal"
    yield f"break due at {c.clock(c.due.at)} ({RULE_BY_CODE[c.due.code].title})"
    if c.alone_from is not None:
        yield f"alone for {span_words(c.at - c.alone_from)}"
    elif event.alone:
        yield "alone"
    if facts.sleep and facts.slept_from is not None:
        yield f"settled {span_words(c.at - facts.slept_from)} before"
    how = [
        *([f"{event.amount} amount"] if event.amount else []),
        *(["upright"] if event.upright else ["on the floor"] if event.upright is False else []),
        *([f"on {SURFACE_WORDS[event.surface]}"] if event.surface else []),
    ]
    if how:
        yield ", ".join(how)
    if event.place:
        yield event.place
