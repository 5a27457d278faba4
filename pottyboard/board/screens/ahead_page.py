"""What the page of the weeks ahead says: what was reached, week by week, and a relapse."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from textual.content import Content

from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.model.localtime import count_words, date_words, span_words
from pottyboard.core.review.ahead import Week
from pottyboard.core.review.next_steps import NextSteps
from pottyboard.core.review.reached import Milestone, Round
from pottyboard.core.view.situation import Situation

_MOST_TEXT: Final = 100
_LONGEST: Final = 400


def page(steps: NextSteps, now: Situation, width: int) -> Content:
    """Return the page for a place of ``width`` cells."""
    glyphs = now.settings.board.glyphs
    return Content("\n").join(_rows(steps, now, min(width, _MOST_TEXT), glyphs))


def _rows(steps: NextSteps, now: Situation, width: int, glyphs: GlyphSet) -> Iterator[Content]:
    first, *others = steps.reached.story
    yield from _wrapped(first.words, width, "bold")
    for said in others:
        yield from _wrapped(said.words, width)
    yield from _wrapped(steps.reached.expected[0].words, width)
    yield from _heading("Clear days in a row")
    for milestone in steps.reached.milestones:
        yield from _milestone(milestone, width, glyphs)
    if len(steps.rounds) > 1:
        yield from _heading("Round beside round")
        for one in steps.rounds:
            yield from _wrapped(_round_words(one), width, later="  ")
    if steps.ahead.weeks:
        yield from _heading("Week by week, each after a clear one")
        for week in steps.ahead.weeks:
            yield from _week(week, width)
        yield from _heading("In every week")
        for rule in steps.ahead.keeps:
            yield from _point(rule, width, glyphs)
    yield from _heading("On a relapse")
    for step in steps.ahead.relapse:
        yield from _point(step, width, glyphs)


def _heading(text: str) -> Iterator[Content]:
    yield Content("")
    yield Content.styled(text, "bold dim")


def _wrapped(
    text: str, width: int, style: str = "", first: str = "", later: str = ""
) -> Iterator[Content]:
    lines = wrap(
        one_line(text, _LONGEST), width, initial_indent=first, subsequent_indent=later or first
    )
    for line in lines:
        yield Content.styled(line, style) if style else Content(line)


def _point(text: str, width: int, glyphs: GlyphSet) -> Iterator[Content]:
    yield from _wrapped(text, width, first=f"{sign('between', glyphs)} ", later="  ")


def _milestone(one: Milestone, width: int, glyphs: GlyphSet) -> Iterator[Content]:
    """Yield whether it is reached, by glyph and by number."""
    mark = sign("done" if one.is_reached else "planned", glyphs)
    text = f"{min(one.have, one.need)} of {one.need}: {one.words}"
    yield from _wrapped(text, width, "bold" if one.is_reached else "", f"{mark} ", "  ")


def _round_words(one: Round) -> str:
    return (
        f"Round {one.number}, {date_words(one.first, one.last)}: {one.clear} of "
        f"{count_words(one.days, 'day')} clear, {count_words(one.accidents, 'accident')} in "
        f"{count_words(one.outings, 'outing')}, interval {span_words(one.first_interval)} to "
        f"{span_words(one.interval)}"
    )


def _week(week: Week, width: int) -> Iterator[Content]:
    by_hand = " (set it yourself)" if week.by_hand else ""
    yield Content.assemble(
        (f"Week {week.number}", "bold"), f"  {date_words(week.first, week.last)}"
    )
    yield from _wrapped(
        f"Interval up to {span_words(week.interval)}{by_hand}, alone up to "
        f"{span_words(week.alone)}; {span_words(week.freedom)} of freedom after a success, in "
        f"{week.rooms}. Treat: {week.treats}.",
        width,
        first="  ",
    )
