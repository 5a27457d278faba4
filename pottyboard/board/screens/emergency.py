"""The Emergency page, from anywhere on the board: the signs, and to phone a vet now."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from textwrap import wrap
from typing import ClassVar, Final

from textual.binding import BindingType
from textual.content import Content

from pottyboard.board.screens.base import PageScreen, closing
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.large_lines import LargeLine, draw
from pottyboard.core.health.emergency import CARE, DO, SIGNS, WITH_IT
from pottyboard.core.model.events import CLOCK_WORDS, Clock
from pottyboard.core.model.localtime import instant_of, minutes_of, span_words
from pottyboard.core.view.situation import Situation
from pottyboard.core.written.numbers import PhoneNumber

CALL: Final = (LargeLine("PHONE A VET NOW", "PHONE A VET NOW"),)
_LARGE_FROM: Final = 22
"""Rows from which there is room for large letters above the signs."""
_TWO_LARGE_FROM: Final = 36
"""Rows from which there is room for two numbers in large letters, and the call above them."""
_AIRY_FROM: Final = 28
"""Rows from which there is room between the parts too."""


class EmergencyScreen(PageScreen[None]):
    """Says what to do; its own key, escape and q close it."""

    BINDINGS: ClassVar[list[BindingType]] = [closing("emergency")]

    stays_open = True
    """The board never comes back over it by itself."""

    def ends(self) -> tuple[str, ...]:
        """Return the dog and the clock."""
        return self.titled("emergency"), words.title(self.situation)[1]

    def page(self, width: int, height: int) -> Content:
        """Return the signs and what the log can tell the vet."""
        return Content("\n").join(_rows(self.situation, width, height))


# --- The page ------------------------------------------------------------------------------------


_NO_NUMBER: Final = "The vet's number stands here, large, once the set-up has it (Numbers)."


def _rows(situation: Situation, width: int, height: int) -> Iterator[Content]:
    glyphs, airy = situation.settings.board.glyphs, height >= _AIRY_FROM
    numbers = situation.settings.home.numbers
    # The number itself is the larger of the two where there is no room for both.
    large_from = _TWO_LARGE_FROM if numbers else _LARGE_FROM
    rows = draw(CALL, width, height // (5 if numbers else 3) if height >= large_from else 1, glyphs)
    yield from (Content.styled(f"{row:{width}}", "bold $text-error") for row in rows)
    if numbers:
        yield from _gap(airy)
        yield from _numbers(numbers, width, height, glyphs)
    yield from _gap(airy)
    yield from (Content.styled(line, "bold") for line in wrap(" ".join(DO), width))
    yield from _gap(airy)
    if airy:
        yield Content.styled("The signs, each alone", "bold dim")
    for text in SIGNS:
        mark = f"{sign('problem', glyphs)} "
        yield from map(Content, wrap(text, width, initial_indent=mark, subsequent_indent="  "))
    yield from map(Content, wrap(WITH_IT, width))
    yield from _gap(airy)
    yield from (Content.styled(line, "bold") for line in wrap(" ".join(CARE), width))
    yield from _gap(airy)
    yield Content.styled("Tell the vet", "bold dim")
    yield from map(Content, wrap(_told(situation), width))
    if not numbers:
        yield from (Content.styled(line, "dim") for line in wrap(_NO_NUMBER, width))


def _numbers(
    numbers: Sequence[PhoneNumber], width: int, height: int, glyphs: GlyphSet
) -> Iterator[Content]:
    """Yield whom to call, vets first: large where there is room, then a line for each."""
    first = [number for number in numbers if number.is_vet] or list(numbers)
    most = 2 if height >= _TWO_LARGE_FROM else height >= _LARGE_FROM
    lines = []
    for place, number in enumerate(first):
        drawn = draw((LargeLine(number.number, ""),), width, height // 5, glyphs)
        if place < most and any(drawn):
            yield Content.styled(one_line(number.name, width), "bold")
            yield from (Content.styled(row, "bold") for row in drawn)
        else:
            lines.append(str(number))
    if others := [str(number) for number in numbers if number not in first]:
        lines.append("; ".join(others))
    mark = f"{sign('further', glyphs)} "
    for text in lines:
        safe = one_line(text, 1000)
        for line in wrap(safe, width, initial_indent=mark, subsequent_indent="  "):
            yield Content.styled(line, "bold")


def _gap(airy: bool) -> Iterator[Content]:
    if airy:
        yield Content("")


def _told(situation: Situation) -> str:
    """Return what a vet asks first, from the log."""
    settings = situation.settings
    parts = [f"{words.name_of(settings)}, {settings.dog.weight_words}"]
    for clock, name in CLOCK_WORDS.items():
        ago = situation.since[clock]
        if clock in ("out", "accident"):
            continue
        if ago is None:
            parts.append(f"no {name} logged")
        else:
            at = settings.clock(_last(situation, clock, ago))
            parts.append(f"last {name} {at}, {span_words(ago)} ago")
    return f"{'; '.join(parts)}."


def _last(situation: Situation, clock: Clock, ago: int) -> datetime:
    """Return when ``clock`` was set back: as logged, for whole minutes alone may miss by one."""
    since = minutes_of(situation.now) - ago
    times = (event.at for event in situation.recent if clock in event.row.resets)
    return next((at for at in times if 0 <= since - minutes_of(at) < 1), instant_of(since))
