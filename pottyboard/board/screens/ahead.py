"""The page of the weeks after the first two: what was reached, the plan, a relapse, a new round."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import ClassVar, Final

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.base import UNDO, UNDO_KEY, PageScreen, closing
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.key_line import Key
from pottyboard.core.model.localtime import count_words, date_words, span_words
from pottyboard.core.review.ahead import Week
from pottyboard.core.review.next_steps import NextSteps, next_steps
from pottyboard.core.review.reached import Milestone, Round
from pottyboard.core.view.situation import Situation

_ASKS: Final = "Begin a new round? Press b once more; undo takes it back."

_MOST_TEXT: Final = 100
_LONGEST: Final = 400


class AheadScreen(PageScreen[None]):
    """One page that scrolls; b, pressed twice, begins a new round, and its own key closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        closing("ahead"),
        Binding("b", "begin", "new round", show=False),
        UNDO,
    ]

    def __init__(self, entries: Entries) -> None:
        """Look ahead from the log of ``entries``."""
        self._asked = False
        super().__init__(entries)

    def look(self) -> None:
        """Look ahead from now."""
        now, log = self.situation, self.entries
        self._steps = next_steps(log.settings, log.events, now.now, now)

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and the day of the round."""
        number = len(self._steps.rounds)
        which = f", round {number}" if number > 1 else ""
        return self.titled("the weeks ahead"), f"day {self.situation.round_day}{which}"

    def page(self, width: int, height: int) -> Content:
        """Return the page."""
        return page(self._steps, self.situation, width)

    def hints(self) -> Iterator[Key]:
        """Yield the keys that do something."""
        yield Key("b", "begin a new round", "screen.begin")
        yield UNDO_KEY

    def action_begin(self) -> None:
        """Ask once, then begin a new round of the programme."""
        if not self._asked:
            self._asked = True
            self.say(_ASKS)
            return
        self._asked = False
        self.change(lambda: self.entries.save(self.entries.make("round")))

    def action_undo(self) -> None:
        """Take back the last change."""
        self._asked = False
        super().action_undo()


# --- The page ------------------------------------------------------------------------------------


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
