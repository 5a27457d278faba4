"""The dogs of the home as text: each with its key, its state and its next break."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rich.cells import cell_len
from textual.content import Content
from textual.style import Style

from pottyboard.board.control.other_dogs import Glance
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import LOOKS, GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.model.describe import describe
from pottyboard.core.model.settings import Settings
from pottyboard.store.shared import Unsettled

MOST_KEYS = 9
"""Dogs that have a digit of their own; any more are reached by the arrows."""


def page(
    glances: tuple[Glance, ...],
    chosen: int,
    here: str,
    left: tuple[Unsettled, ...],
    width: int,
    glyphs: GlyphSet,
) -> Content:
    """Return two lines for each dog, ``chosen`` marked and ``here`` named, and what is unsettled.

    ``left`` are the accidents of which nobody knows whose they are, the latest first.
    """
    lines: list[Content] = []
    for number, glance in enumerate(glances):
        lines.extend(_dog(number, glance, number == chosen, glance.folder == here, width, glyphs))
        lines.append(Content(""))
    lines += _unsettled(left, glances)
    return Content("\n").join(lines)


def row_of(chosen: int) -> int:
    """Return the row of the page on which a dog begins."""
    return 3 * chosen


def _dog(
    number: int, glance: Glance, is_chosen: bool, is_here: bool, width: int, glyphs: GlyphSet
) -> Iterator[Content]:
    mark = sign("chosen", glyphs) if is_chosen else " "
    key = str(number + 1) if number < MOST_KEYS else " "
    click = Style.from_meta({"@click": f"screen.take({number})"})
    view = glance.situation
    if view is None:
        problem = sign("problem", glyphs)
        name = one_line(glance.folder, words.NAME_WIDTH)
        yield Content.assemble(f"{mark} ", (key, "bold"), f"  {problem} ", (name, "bold"))
        yield Content(one_line(glance.problem, 300))
        return
    face = words.face(view)
    state = f"{LOOKS[face.state].glyph(glyphs)} "
    said = f"  {face.word.upper()}  {face.figures}" if face.figures != "NOW" else "  DUE NOW"
    shown = "  (on the board now)" if is_here else ""
    head = Content.assemble(
        f"{mark} ", (key, "bold"), f"  {state}", (words.name_of(view.settings), "bold"), said
    )
    if head.cell_length + cell_len(shown) <= width:
        head = Content.assemble(head, (shown, "dim"))
    yield head.stylize(click)
    yield Content.styled(f"      {face.line}", "dim").stylize(click)


def _unsettled(left: tuple[Unsettled, ...], glances: tuple[Glance, ...]) -> Iterator[Content]:
    if not left:
        return
    settings = {each.folder: each.situation.settings for each in glances if each.situation}
    known = settings.get(left[0].dogs[0])
    if known is None:
        return
    yield Content.assemble(("w", "bold"), "  whose accident was it?")
    yield Content(f"   {one_line(accident_words(left[0], known), 200)}")
    if len(left) > 1:
        yield Content.styled(f"   and {len(left) - 1} more, of which it is not known", "dim")


def accident_words(each: Unsettled, settings: Settings) -> str:
    """Return when and what an unsettled accident was; that it is unsettled is plain from where."""
    at = each.event.at.astimezone(settings.zone)
    what = describe(replace(each.event, unsure=None), settings)
    return f"{at:%a} {at.day} {at:%b %H:%M}, {what}"
