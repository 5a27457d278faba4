"""What the page of warnings says: each with what raised it, where it comes from, what ends it."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from textual.content import Content

from pottyboard.board.screens.chosen import Written
from pottyboard.board.text.glyphs import sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.warning_line import STYLES, level_sign
from pottyboard.core.health.health_views import LEVEL_WORDS, Warning
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation

_CALM: Final = "No warning stands: nothing in the log asks for a vet or a trainer."
_ALWAYS: Final = (
    "This board counts; it does not diagnose. If something worries you, ask your vet whatever "
    "stands here."
)
_AIRY_FROM: Final = 24


def page(situation: Situation, at: int, width: int, height: int) -> Written:
    """Return the page with the warning number ``at`` chosen, the gravest being 0."""
    gap = [Content("")] if height >= _AIRY_FROM else []
    lines: list[Content] = []
    first = last = 0
    for number, warning in enumerate(situation.warnings):
        start = len(lines)
        lines += _warning(warning, situation.settings, width, chosen=number == at)
        if number == at:
            first, last = start, len(lines) - 1
        lines += gap
    if not situation.warnings:
        lines = [Content(_CALM), *gap]
    for job in situation.open_jobs:
        if job.code == "vet":
            mark = sign("job", situation.settings.board.glyphs)
            lines += [Content.styled(line, "bold") for line in wrap(f"{mark} {job.words}", width)]
            lines += [line for step in job.steps for line in _lines(step, width)]
            lines += gap
    lines += [Content.styled(line, "dim") for line in wrap(_ALWAYS, width)]
    return Written(lines, first, last)


def _warning(
    warning: Warning, settings: Settings, width: int, *, chosen: bool
) -> Iterator[Content]:
    glyphs = settings.board.glyphs
    since = warning.since.astimezone(settings.zone)
    when = f"since {since:%a} {since.day} {since:%b} {since:%H:%M}"
    mark = sign("chosen", glyphs) if chosen else " "
    style = "" if warning.noted is not None else STYLES[warning.level]
    level = f" {level_sign(warning.level, glyphs)} {LEVEL_WORDS[warning.level].upper()} "
    yield Content.assemble(f"{mark}", (level, style), f" {when}")
    yield from _lines(warning.words, width, "bold")
    yield from _lines(f"Why: {warning.because}", width)
    if warning.noted is not None:
        noted = f": {one_line(warning.noted, 400)}" if warning.noted else ""
        yield from _lines(f"{sign('done', glyphs)} noted{noted}", width, "$text-success")
    if warning.ends:
        yield from _lines(f"Ends: {warning.ends}", width, "dim")
    yield from _lines(f"Source: {warning.source}", width, "dim")


def _lines(text: str, width: int, style: str = "") -> Iterator[Content]:
    safe = one_line(text, 1000)
    for line in wrap(safe, width, initial_indent="   ", subsequent_indent="   "):
        yield Content.styled(line, style)
