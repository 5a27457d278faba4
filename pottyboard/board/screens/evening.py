"""The evening page: how the day went, and what tomorrow will be like."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest
from textwrap import wrap
from typing import ClassVar, Final

from textual.binding import BindingType
from textual.content import Content

from pottyboard.board.keys.actions import BY_ID
from pottyboard.board.keys.keymap import key_words
from pottyboard.board.screens.base import PageScreen
from pottyboard.board.screens.base import closing as closes
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.board.widgets.key_line import Key
from pottyboard.board.widgets.large_lines import LargeLine, draw
from pottyboard.core.model.describe import describe
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.closing import Closing, Habit, Kept, Working, closing
from pottyboard.core.review.first_night import first_night
from pottyboard.core.review.outings import outings_words
from pottyboard.core.review.tomorrow import PlannedRow
from pottyboard.core.view.levels import level_meaning
from pottyboard.core.view.situation import Situation
from pottyboard.core.view.timeline import NOBODY_HOME

_LARGE_FROM: Final = 30
"""Rows from which there is room for large letters."""
_SIDE_BY_SIDE_FROM: Final = 110
_GAP: Final = 3
_LABEL: Final = 9
_MOST_TEXT: Final = 100
_LONGEST: Final = 300
_OF_THE_NIGHT: Final = ("settled", "sign", "up", "pee", "nothing")
"""The entries of a night."""
_WORST: Final = 4
"""So many late breaks are named one by one."""

_CALLS: Final[dict[Working, str]] = {
    "yes": "CLEAR DAY",
    "so far": "SO FAR SO GOOD",
    "mixed": "UP AND DOWN",
    "no": "NOT YET",
    "unknown": "TOO SOON TO SAY",
}
_COUNTED_FROM: Final = 3
_SIGNS: Final[dict[Working, str]] = {
    "yes": "done",
    "so far": "done",
    "mixed": "problem",
    "no": "problem",
    "unknown": "advice",
}
_INKS: Final[dict[Working, str]] = {
    "yes": "bold $text-success",
    "so far": "bold $text-success",
    "mixed": "bold $text-warning",
    "no": "bold $text-error",
    "unknown": "bold",
}


class EveningScreen(PageScreen[None]):
    """One page that scrolls."""

    BINDINGS: ClassVar[list[BindingType]] = [closes("evening")]

    def look(self) -> None:
        """Close the day."""
        log = self.entries
        now = self.situation.now
        self._evening = closing(log.settings, log.events, now)
        self._outings = outings_words(log.settings, self.situation.days, self.situation.now)
        self._levels = level_meaning(log.settings, log.events, now).sentences

    def ends(self) -> tuple[str, ...]:
        """Return the dog, what the page is about, and the day."""
        day = self._evening.date
        date = f"{day:%a} {day.day} {day:%b}"
        return self.titled("how today went"), date, self.titled("today")

    def page(self, width: int, height: int) -> Content:
        """Return the day at its close."""
        shown = page(self._evening, width, height, self._outings, self._levels)
        if not self.situation.is_first_evening:
            return shown
        return _joined([*_tonight(self.situation, self.keymap, min(width, _MOST_TEXT)), shown])

    def hints(self) -> Iterator[Key]:
        """Yield the ways on."""
        yield Key(self.arrows("up", "down"), "scroll")


# --- The page ------------------------------------------------------------------------------------


def page(
    closing: Closing, width: int, height: int, outings: str = "", levels: Sequence[str] = ()
) -> Content:
    """Return the page for a place of ``width`` × ``height`` cells; it may be longer.

    ``outings`` say by how much they fall, ``levels`` what each level of care means.
    """
    glyphs = closing.settings.board.glyphs
    top = [*_top(closing, width, height, glyphs)]
    if width < _SIDE_BY_SIDE_FROM:
        text = min(width, _MOST_TEXT)
        return _joined([*top, *_today(closing, text, glyphs, outings), Content(""),
                        *_tomorrow(closing, text, glyphs, flowing=True),
                        *_careful(levels, text)])  # fmt: skip
    half = (width - _GAP) // 2
    left = list(_today(closing, min(half, _MOST_TEXT), glyphs, outings))
    left += _careful(levels, min(half, _MOST_TEXT))
    right = list(_tomorrow(closing, min(half, _MOST_TEXT), glyphs, flowing=False))
    beside = (
        Content.assemble(one, " " * (half + _GAP - one.cell_length), other)
        for one, other in zip_longest(left, right, fillvalue=Content(""))
    )
    return _joined([*top, *beside])


def _tonight(now: Situation, keymap: Mapping[str, str], width: int) -> Iterator[Content]:
    """Yield what to expect of the first night, with the keys that log it."""
    keys = [f"{key_words(BY_ID[name], keymap)} {BY_ID[name].words}" for name in _OF_THE_NIGHT]
    logged = f"{', '.join(keys)}. Minutes typed before a key: so long ago."
    yield Content.styled("What to expect tonight", "bold")
    for about, said in (*first_night(now), ("To log", logged)):
        yield from _lines(said, width, "", f"{about:12}", " " * 12)
    yield Content("")


def _joined(lines: Sequence[Content]) -> Content:
    return Content("\n").join(lines)


def _lines(
    text: str, width: int, style: str = "", first: str = "", later: str = ""
) -> list[Content]:
    safe = one_line(text, _LONGEST)
    wrapped = wrap(safe, width, initial_indent=first, subsequent_indent=later)
    return [Content.styled(line, style) for line in wrapped]


def _top(closing: Closing, width: int, height: int, glyphs: GlyphSet) -> Iterator[Content]:
    """Yield whether it works, what changes tomorrow and why, and the one suggestion."""
    ink, airy = _INKS[closing.working], height >= _LARGE_FROM
    if airy:
        call = _call(closing)
        rows = draw((LargeLine(call, ""),), width, height // 4, glyphs)
        yield from (Content.styled(row, ink) for row in (*rows, "") if any(rows))
    mark = f"{sign(_SIGNS[closing.working], glyphs)} "
    text = min(width, _MOST_TEXT)
    yield from _lines(closing.lead, text, ink, mark, "  ")
    yield from _lines(closing.news, text, "bold", "  ", "  ")
    yield from _lines(_reason(closing), text, "", "  ", "  ")
    if closing.suggestion is not None:
        advice = f"{sign('advice', glyphs)} "
        yield from _lines(closing.suggestion.words, text, "$text-accent", advice, "  ")
    yield Content("")


def _call(closing: Closing) -> str:
    """Return the large words; a clear day or two are no proof yet, so that three are counted."""
    row = closing.tomorrow.streak
    if closing.working == "yes" and row >= _COUNTED_FROM:
        return f"{row} CLEAR DAYS"
    return _CALLS[closing.working]


def _reason(closing: Closing) -> str:
    ahead = closing.tomorrow
    if not ahead.expected:
        return ahead.words
    return f"{ahead.words} This holds if the rest of today goes to plan."


# --- Today ----------------------------------------------------------------------------------------


def _careful(levels: Sequence[str], width: int) -> Iterator[Content]:
    """Yield what each level of care means for this dog."""
    if levels:
        yield Content("")
        yield Content.styled("How careful", "bold dim")
    for words in levels:
        yield from _lines(words, width - 1, "", " ", " ")


def _today(closing: Closing, width: int, glyphs: GlyphSet, outings: str) -> Iterator[Content]:
    settings = closing.settings
    yield Content.styled(f"Day {closing.day.number}: plan and what happened", "bold dim")
    yield from _row("breaks", _breaks(closing), width)
    if outings:
        yield from _row("outings", outings, width)
    if slow := _late(closing.kept, settings):
        yield from _row("late", slow, width)
    yield from _row("waits", _holds(closing), width)
    if not closing.indoors:
        yield from _row("indoors", "nothing", width)
    mark = sign("problem", glyphs)
    accounts = {account.event: account for account in closing.accounts}
    for event in closing.indoors:
        account = accounts.get(event)
        told = f"{mark} {settings.clock(event.at)} {describe(event, settings)}"
        if account is not None:
            told += f": {account.words}. {account.reasoning}"
        yield from _row("indoors", told, width, "$text-error")
    for habit in closing.habits:
        yield from _row(*_habit(habit), width)


def _row(name: str, text: str, width: int, style: str = "") -> Iterator[Content]:
    for number, line in enumerate(wrap(one_line(text, _LONGEST), width - _LABEL - 1)):
        label = "" if number else name
        yield Content.assemble((f" {label:{_LABEL}}", "dim"), (line, style))


def _breaks(closing: Closing) -> str:
    if not closing.breaks:
        return "none was due yet"
    on_time, number = closing.before
    week = f"; {on_time} of {number} in the week before" if number else ""
    return f"{closing.on_time} of {closing.breaks} on time{week}"


def _late(kept: Sequence[Kept], settings: Settings) -> str:
    """Return what was late or missed, the worst of it in the order of the day."""
    slow = [row for row in kept if row.outcome != "on time"]
    worst = sorted(slow, key=lambda row: (row.outcome != "missed", -row.late))[:_WORST]
    told = ", ".join(_slow(row, settings) for row in slow if row in worst)
    return f"{told} and {len(slow) - _WORST} by less" if len(slow) > _WORST else told


def _slow(row: Kept, settings: Settings) -> str:
    """Return what was late or missed, such as ``10:35 by 25 min``."""
    what = "" if row.kind == "break" else f"{one_line(row.words, NAME_WIDTH)} "
    if row.outcome == "missed":
        return f"{what}{settings.clock(row.planned)} missed"
    still = ", still due" if row.at is None else ""
    return f"{what}{settings.clock(row.planned)} by {span_words(row.late)}{still}"


def _holds(closing: Closing) -> str:
    if not closing.holds:
        return "none between two pees by day"
    longest = span_words(max(closing.holds))
    near = f"{closing.near} almost as long as planned or longer"
    return f"{count_words(len(closing.holds), 'wait')}, longest {longest}; {near}"


def _habit(habit: Habit) -> tuple[str, str]:
    """Return the name of a routine time, and today's beside the plan and the days before."""
    name = {"last thing": "last out"}.get(habit.name, habit.name)
    told = f"{habit.told}, plan {_clock(habit.planned)}"
    if habit.usual is not None and habit.spread is not None:
        spread = f", give or take {round(habit.spread)} min" if round(habit.spread) else ""
        told += f", usually {_clock(habit.usual)}{spread}"
    return name, told


def _clock(minute: float) -> str:
    whole = round(minute) % 1440
    return f"{whole // 60:02}:{whole % 60:02}"


# --- Tomorrow -------------------------------------------------------------------------------------


def _tomorrow(
    closing: Closing, width: int, glyphs: GlyphSet, *, flowing: bool
) -> Iterator[Content]:
    ahead, settings = closing.tomorrow, closing.settings
    yield Content.styled(
        f"Day {ahead.number}, {ahead.date:%a} {ahead.date.day} {ahead.date:%b}{_marked(closing)}",
        "bold dim",
    )
    nights = " and ".join(settings.clock(slot.at) for slot in ahead.tonight)
    if nights:
        yield from _row("tonight", f"a planned break at {nights}", width)
    pieces = [_planned(row, settings, glyphs) for row in ahead.rows if row.slot.kind != "bedtime"]
    if not flowing:
        for text, style in pieces:
            indent = "  " if text[:1].isdigit() else ""
            line = one_line(f"{indent}{text}", width - 1, sign("cut", glyphs))
            yield Content.styled(f" {indent}{line}", style)
        return
    row = Content("")
    for text, style in pieces:
        piece = Content.styled(one_line(text, width - 1), style)
        if row.cell_length and row.cell_length + piece.cell_length + 3 > width:
            yield row
            row = Content("")
        row = Content.assemble(row, "  " if row.cell_length else " ", piece)
    yield row


def _marked(closing: Closing) -> str:
    """Return how many rows change, or that nothing can be compared."""
    if not closing.tomorrow.compared:
        return ""
    changed = sum(row.change != "same" for row in closing.tomorrow.rows)
    return f": {count_words(changed, 'change')} to today's plan" if changed else ": times as today"


def _planned(row: PlannedRow, settings: Settings, glyphs: GlyphSet) -> tuple[str, str]:
    """Return one row of the plan, with its change in a sign and a word, and its style."""
    slot, clock = row.slot, settings.clock(row.slot.at)
    what = slot.kind if slot.kind in ("break", "meal") else one_line(slot.words, NAME_WIDTH)
    if slot.words.startswith(NOBODY_HOME):
        what = f"{what}, {NOBODY_HOME}"
    if row.change == "gone":
        return f"{sign('missed', glyphs)} {clock} {what} no more", "dim"
    if row.change == "new":
        return f"+ {clock} {what} new", "bold"
    if row.before is not None:
        return f"{sign('chosen', glyphs)} {clock} {what} (was {settings.clock(row.before)})", "bold"
    return f"{clock} {what}", ""
