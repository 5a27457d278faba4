"""The page of places: spots to clean, ticked off by a key, and a plan of the home in words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from textwrap import wrap
from typing import ClassVar, Final

from rich.cells import cell_len
from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.style import Style

from pottyboard.board.screens.base import UNDO, UNDO_KEY, UNDOES, ChoicePage, Written, closing
from pottyboard.board.text.glyphs import GlyphSet, kind_glyph, sign
from pottyboard.board.text.safe_text import one_line, padded
from pottyboard.board.widgets.key_line import Key
from pottyboard.core.log.places import Spot, named_alike, place_of, places_at
from pottyboard.core.model.events import KINDS, Event
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Job, Situation

MOST_KEYS: Final = 9
"""How many jobs have a digit of their own."""

_NAME: Final = 24
_MOST_DAYS: Final = 14
_AIRY_FROM: Final = 30


class PlacesScreen(ChoicePage[None]):
    """Shows the jobs, then the rooms and spots; the chosen one is cleaned or blocked by a key."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("c,enter", "clean", "cleaned", show=False),
        Binding("b", "block", "block access", show=False),
        UNDO,
        closing("places"),
    ]

    # --- What is chosen ---------------------------------------------------------------------------

    @property
    def jobs(self) -> tuple[Job, ...]:
        """The spots to clean."""
        return cleaning_jobs(self.situation)

    @property
    def spot(self) -> Spot | None:
        """The chosen room or spot, None while a job is chosen or there is nothing."""
        at, spots = self.at - len(self.jobs), self.situation.spots
        return spots[at] if 0 <= at < len(spots) else None

    def _place(self) -> str:
        """Return the place that is chosen, by its own row or by its job; empty if it has none."""
        if self.spot is not None:
            return self.spot.name
        if self.at >= len(self.jobs):
            return ""
        accident = self.entries.find(self.jobs[self.at].about)
        return "" if accident is None else accident.place

    def _is_blocked(self, place: str) -> bool:
        return any(s.blocked and named_alike(s.name, place) for s in self.situation.spots)

    # --- What a page says -------------------------------------------------------------------------

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and how many spots are open."""
        count = len(self.jobs)
        return self.titled("places and cleaning"), f"{count} to clean" if count else "all clean"

    def count(self) -> int:
        """Return how many rows can be chosen."""
        return len(self.jobs) + len(self.situation.spots)

    def write(self, width: int, height: int) -> Written:
        """Return the page."""
        return page(self.situation, self.at, width, height)

    def hints(self) -> Iterator[Key]:
        """Yield the keys that do something now."""
        if self.jobs:
            digits = "1" if len(self.jobs) == 1 else f"1-{min(len(self.jobs), MOST_KEYS)}"
            yield Key(f"c or {digits}", "cleaned", "screen.clean")
        if place := self._place():
            words = "open again" if self._is_blocked(place) else "block access"
            yield Key("b", words, "screen.block")
        yield from self.choosing()
        yield UNDO_KEY

    # --- Doing ------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Tick off the job of a digit."""
        number = event.character or ""
        if number in "123456789" and number and int(number) <= len(self.jobs):
            event.stop()
            self.action_tick(int(number) - 1)

    def action_tick(self, number: int) -> None:
        """Tick off one job."""
        self._clean(self.jobs[number : number + 1])

    def action_clean(self) -> None:
        """Tick off the chosen job, or all jobs of the chosen room or spot."""
        if self.spot is None:
            jobs = self.jobs[self.at : self.at + 1]
        else:
            jobs = tuple(job for job in self.jobs if self._is_there(job, self.spot.name))
        self._clean(jobs)

    def _is_there(self, job: Job, place: str) -> bool:
        """Whether a job is at a place; at a room also where it is at a spot in it."""
        accident, wanted = self.entries.find(job.about), place_of(place)
        return accident is not None and wanted in places_at(accident.place)

    def _clean(self, jobs: tuple[Job, ...]) -> None:
        if not jobs:
            self.say("Nothing is open to clean here.")
            return
        entry = self.entries.make("cleaned")

        def work() -> str:
            self.entries.save_cleaned(entry, jobs)
            return f"Cleaned: {count_words(len(jobs), 'spot')}. {UNDOES}"

        self.change(work)

    def action_block(self) -> None:
        """Note that access to the chosen place is blocked, or that it is open again."""
        place = self._place()
        if not place:
            self.say("Choose a room or a spot first.")
        elif self._is_blocked(place):
            self._open_again(place)
        else:
            self._block(place)

    def _block(self, place: str) -> None:
        accident = self._newest(place)
        if accident is None:
            self.say("Block the spots in this room one by one.")
            return
        entry = self.entries.make("routine", measure="block", about=accident.id)

        def work() -> str:
            self.entries.begin(entry)
            return f"Noted: the way to {place} is blocked. {UNDOES}"

        self.change(work)

    def _open_again(self, place: str) -> None:
        blocks = [
            entry
            for entry in self.entries.events
            if entry.measure == "block"
            and (accident := self.entries.find(entry.about)) is not None
            and named_alike(accident.place, place)
        ]

        def work() -> str:
            for entry in blocks:
                self.entries.delete(entry.id)
            return f"Noted: {place} is open again. {UNDOES}"

        self.change(work)

    def _newest(self, place: str) -> Event | None:
        """Return the newest accident at exactly this room or spot."""
        return next(
            (
                event
                for event in reversed(self.entries.events)
                if event.row.is_accident and named_alike(event.place, place)
            ),
            None,
        )


# --- The page ------------------------------------------------------------------------------------


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
        lines.append(Content(f"{sign('done', settings.board.glyphs)} Nothing to clean."))
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
    days = ("days since the last one", "days since")
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
