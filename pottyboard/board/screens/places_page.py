"""What the page of places says: what is to clean and how, then every room and spot that had one."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from textwrap import wrap
from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.style import Style

from pottyboard.board.screens.chosen import Written
from pottyboard.board.text.glyphs import GlyphSet, kind_glyph, sign
from pottyboard.board.text.safe_text import one_line, padded
from pottyboard.core.log.places import Spot
from pottyboard.core.model.events import KINDS
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Job, Situation

MOST_KEYS: Final = 9
"""How many jobs have a digit of their own."""

_NAME: Final = 24
_MOST_DAYS: Final = 14
_AIRY_FROM: Final = 30


def cleaning_jobs(situation: Situation) -> tuple[Job, ...]:
    """Return the spots that are open to clean, in the order of the page."""
    return tuple(job for job in situation.open_jobs if job.code == "clean")


def page(situation: Situation, at: int, width: int, height: int) -> Written:
    """Return the page; ``at`` counts the jobs first, then the rooms and spots."""
    jobs, spots, settings = cleaning_jobs(situation), situation.spots, situation.settings
    gap = [Content("")] if height >= _AIRY_FROM else []
    lines: list[Content] = []
    first = last = 0

    def add(number: int, piece: Iterator[Content]) -> None:
        nonlocal first, last
        start = len(lines)
        lines.extend(piece)
        if number == at:
            first, last = start, len(lines) - 1

    lines.append(_title("To clean"))
    for number, job in enumerate(jobs):
        opened = number == at or (bool(gap) and len(jobs) == 1)
        add(number, _job(job, number, settings, width, chosen=number == at, opened=opened))
    if not jobs:
        lines.append(Content(f"{sign('done', settings.board.glyphs)} nothing: every spot is clean"))
    lines += [*gap, _heading(width)]
    for number, (spot, later) in enumerate(zip_longest(spots, spots[1:]), len(jobs)):
        # What is said of a room is not said again of the spot in it.
        said = "" if later is not None and later.words == spot.words else spot.words
        add(number, _spot(spot, said, settings, width, chosen=number == at))
    if not spots:
        lines.append(Content("No accident in any room so far."))
    if situation.pad is not None:
        lines += [*gap, _title("The pad")]
        lines += _wrapped(situation.pad.words, width, "bold")
        lines += _wrapped(situation.pad.caution, width)
    return Written(lines, first, last)


def _job(
    job: Job, number: int, settings: Settings, width: int, *, chosen: bool, opened: bool
) -> Iterator[Content]:
    """Yield a job with the key that ticks it off, and its steps if it is ``opened``."""
    glyphs = settings.board.glyphs
    mark = sign("chosen", glyphs) if chosen else " "
    key = f"{number + 1}" if number < MOST_KEYS else " "
    begin = f"{mark} {key} {sign('job', glyphs)} "
    click = Style.from_meta({"@click": f"screen.tick({number})"})
    for line in wrap(
        one_line(job.words, 300), width, initial_indent=begin, subsequent_indent=" " * 6
    ):
        yield Content.styled(line, "bold").stylize(click)
    for step, text in enumerate(job.steps if opened else (), 1):
        yield from map(
            Content,
            wrap(text, width, initial_indent=f"      {step}. ", subsequent_indent=" " * 9),
        )


def _heading(width: int) -> Content:
    names = f"  {'Rooms and spots':{_NAME}} {'in all':>6} {'2 weeks':>8}  "
    days = ("days since the newest", "days since")
    return _title(names + next((text for text in days if len(names + text) <= width), ""))


def _spot(
    spot: Spot, said: str, settings: Settings, width: int, *, chosen: bool
) -> Iterator[Content]:
    """Yield a room or a spot: its counts, the bare patch since the newest mark, what to do."""
    glyphs = settings.board.glyphs
    mark = sign("chosen", glyphs) if chosen else " "
    room, colon, place = spot.name.partition(": ")
    cut = sign("cut", glyphs)
    name = f"  {padded(place, _NAME - 2, cut)}" if colon else padded(room, _NAME, cut)
    counts = f"{spot.accidents:>6} {spot.repeats:>8}"
    text = f"{mark} {name} {counts}  "
    text += _since(spot, glyphs, width - cell_len(text))
    style = "bold" if chosen or not colon else ""
    state = ("to clean" * spot.to_clean, "blocked" * spot.blocked, _newest(spot, settings))
    for more in filter(None, state):
        if cell_len(text) + 2 + len(more) <= width:
            text += f"  {more}"
    yield Content.styled(text, style)
    if said:
        begin = f"    {sign('advice', glyphs)} "
        for line in wrap(said, width, initial_indent=begin, subsequent_indent=" " * 6):
            yield Content.styled(line, "$text-warning")


def _since(spot: Spot, glyphs: GlyphSet, room: int) -> str:
    """Return the newest mark and the days that were bare since, such as ``▲···· 4 days``.

    Days that do not fit into ``room`` cells are only counted.
    """
    days = count_words(spot.days_since, "day") if spot.days_since else "under a day"
    drawn = min(spot.days_since, _MOST_DAYS, max(0, room - len(days) - 2))
    return f"{kind_glyph(KINDS['pee-inside'], glyphs)}{sign('planned', glyphs) * drawn} {days}"


def _newest(spot: Spot, settings: Settings) -> str:
    at = spot.newest.astimezone(settings.zone)
    return f"({at:%a} {at.day} {at:%b} {at:%H:%M})"


def _wrapped(text: str, width: int, style: str = "") -> list[Content]:
    return [Content.styled(line, style) for line in wrap(one_line(text, 600), width)]


def _title(text: str) -> Content:
    return Content.styled(text, "bold dim")
