"""The page of warnings: what to do, what in the log raised it, and a note that it was seen to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from textwrap import wrap
from typing import ClassVar, Final

from textual.binding import Binding, BindingType
from textual.content import Content

from pottyboard.board.dialogs.questions import Ask
from pottyboard.board.screens.base import UNDO, UNDO_KEY, UNDOES, ChoicePage, Written, closing
from pottyboard.board.text.glyphs import sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.key_line import Key
from pottyboard.board.widgets.warning_line import STYLES, level_sign, not_noted
from pottyboard.core.health.health_views import GRAVE, LEVEL_WORDS, Warning
from pottyboard.core.model.events import Event
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation
from pottyboard.core.written.numbers import listed

_CALM: Final = "No warning stands: nothing in the log asks for a vet or a trainer."
_ALWAYS: Final = (
    "This board counts; it does not diagnose. If something worries you, ask your vet, whatever "
    "this page says."
)
_AIRY_FROM: Final = 24


class WarningsScreen(ChoicePage[None]):
    """Shows the warnings, the gravest first; the chosen one is noted by a key and a few words."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n,enter", "note", "note it", show=False),
        UNDO,
        closing("warnings"),
    ]

    @property
    def warning(self) -> Warning | None:
        """The chosen warning."""
        warnings = self.situation.warnings
        return warnings[min(self.at, len(warnings) - 1)] if warnings else None

    def ends(self) -> tuple[str, ...]:
        """Return the dog, how many warnings stand, and how many of them wait for a note."""
        number, waiting = self.count(), len(not_noted(self.situation))
        stand = f"{number} stands" if number == 1 else f"{number} stand"
        said = f"{stand}, {f'{waiting} new' if waiting else 'noted'}" if number else "none"
        return self.titled("warnings"), said

    def count(self) -> int:
        """Return how many warnings stand."""
        return len(self.situation.warnings)

    def write(self, width: int, height: int) -> Written:
        """Return the page."""
        return page(self.situation, self.at, width, height)

    def hints(self) -> Iterator[Key]:
        """Yield the keys that do something now."""
        if self.warning is not None:
            yield Key("n", "note it", "screen.note")
        yield from self.choosing()
        yield UNDO_KEY

    def action_note(self) -> None:
        """Ask for a few words, and note the chosen warning with them."""
        from pottyboard.board.dialogs.ask import AskDialog

        warning = self.warning
        if warning is None:
            return
        entry = self.entries.make("noted", about=warning.code)
        ask = Ask("note", "What was done, or who was asked? It may be empty.", read=str.strip)

        def closed(answers: dict[str, str] | None) -> None:
            if answers is not None:
                self.change(lambda: self._note(entry, answers["note"]))

        self.app.push_screen(AskDialog("Note the warning", (ask,), self.glyphs), closed)

    def _note(self, entry: Event, note: str) -> str:
        self.entries.begin(replace(entry, note=note))
        return f"Noted. It comes back if it gets worse. {UNDOES}"


# --- The page ------------------------------------------------------------------------------------


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
    if warning.noted is None and warning.level in GRAVE and settings.home.numbers:
        yield from _lines(f"Call: {listed(settings.home.numbers, vets=True)}", width, "bold")
    yield from _lines(f"Why: {warning.because}", width)
    if warning.noted is not None:
        noted = f": {one_line(warning.noted, 400)}" if warning.noted else ""
        yield from _lines(f"{sign('done', glyphs)} noted{noted}", width, "$text-success")
    if warning.ends:
        yield from _lines(f"Goes away after {warning.ends}", width, "dim")
    yield from _lines(f"Source: {warning.source}", width, "dim")


def _lines(text: str, width: int, style: str = "") -> Iterator[Content]:
    safe = one_line(text, 1000)
    for line in wrap(safe, width, initial_indent="   ", subsequent_indent="   "):
        yield Content.styled(line, style)
