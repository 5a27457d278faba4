"""The day's timeline as rows of text: the plan beside the log, and a line at now."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, NamedTuple

from rich.cells import cell_len

from pottyboard.board.text.glyphs import GlyphSet, kind_glyph, sign
from pottyboard.board.text.safe_text import one_line, padded
from pottyboard.core.model.describe import describe
from pottyboard.core.view.situation import Situation, Slot

BOTH_COLUMNS_FROM: Final = 40
"""From this width on, the planned time stands beside the logged one."""


NAMES_FROM: Final = 56
"""From this width on, whoever logged an entry stands at its end by name, else by initials."""
_NAME: Final = 10
_INITIALS: Final = 3

_LATE: Final = ", late"
"""How a late entry says so where there is no room for brackets."""

RowLook = Literal["logged", "accident", "planned", "due", "missed", "chosen", "now"]


class Row(NamedTuple):
    """One row of ``text``, its ``look`` and the id of the entry that it shows, if any."""

    text: str
    look: RowLook
    event_id: str = ""


def heading(width: int, situation: Situation) -> str:
    """Return the heading of the columns."""
    day = situation.date
    what = f"{day:%a} {day.day} {day:%b}" if situation.is_past else "today"
    words = f" time     {what}" if width < BOTH_COLUMNS_FROM else f" plan   done     {what}"
    return f"{words:{width}}"[:width]


def rows(situation: Situation, width: int, chosen: str = "") -> tuple[Row, ...]:
    """Return the rows of today for ``width`` cells; ``chosen`` is the id of the selected entry.

    A day of the past has no line at now.
    """
    return tuple(_rows(situation, width, chosen))


def _rows(situation: Situation, width: int, chosen: str) -> Iterator[Row]:
    glyphs = situation.settings.board.glyphs
    now_shown, names = situation.is_past, _names(situation, width)
    for slot in situation.timeline:
        if not now_shown and slot.event is None and slot.at >= situation.now:
            now_shown = True
            yield _now_line(situation, width, glyphs)
        yield _row(slot, situation, width, chosen, glyphs, names)
    if not now_shown:
        yield _now_line(situation, width, glyphs)


def _now_line(situation: Situation, width: int, glyphs: GlyphSet) -> Row:
    line, text = sign("line", glyphs), situation.settings.clock(situation.now)
    start = f"{line}{text}{line}" if width < BOTH_COLUMNS_FROM else f"{line * 8}{text}{line}"
    return Row((start + line * width)[:width], "now")


def _names(situation: Situation, width: int) -> dict[str, str]:
    """Return how each of those who logged is named where more than one did; nobody where one did.

    By name where there is room, else by as few letters as tell them apart.
    """
    logged = (slot.event.by for slot in situation.timeline if slot.event is not None)
    people = list(dict.fromkeys(filter(None, logged)))
    if len(people) < 2:
        return {}
    cut = sign("cut", situation.settings.board.glyphs)
    if width >= NAMES_FROM:
        return {name: one_line(name, _NAME, cut) for name in people}
    return {name: one_line(_apart(name, people), _INITIALS, cut) for name in people}


def _apart(name: str, people: list[str]) -> str:
    """Return the first letters of a name that no other one begins with; at least one."""
    others = [other.casefold() for other in people if other != name]
    for letters in range(1, len(name)):
        if not any(other.startswith(name[:letters].casefold()) for other in others):
            return name[:letters]
    return name


def _row(
    slot: Slot,
    situation: Situation,
    width: int,
    chosen: str,
    glyphs: GlyphSet,
    names: dict[str, str],
) -> Row:
    settings, event = situation.settings, slot.event
    wide = width >= BOTH_COLUMNS_FROM
    planned = "" if slot.planned is None else settings.clock(slot.planned)
    cut = sign("cut", glyphs)
    if event is None:
        done, mark = "", sign(slot.status, glyphs)
        forms = _planned_forms(slot, cut)
    else:
        done, mark = settings.clock(event.at), kind_glyph(event.row, glyphs)
        told = slot.kind in ("break", "visit") or event.row.is_accident
        forms = _logged_forms(describe(event, settings), slot, slot.words if told and wide else "")
    times = f"{planned:5}  {done:5}" if wide else f"{done or planned:5}"
    is_chosen = event is not None and event.id != "" and event.id == chosen
    pointer = sign("chosen", glyphs) if is_chosen else " "
    before = f"{pointer}{times}  {mark} "
    by = names.get(event.by, "") if event is not None else ""
    room = width - cell_len(before) - (cell_len(by) + 1 if by else 0)
    words = next((form for form in forms if cell_len(form) <= room), "")
    if not words and slot.status == "late":  # what is late says so, whatever has to go for it
        words = f"{one_line(forms[-1].removesuffix(_LATE), room - len(_LATE), cut)}{_LATE}"
    text = f"{before}{padded(words or forms[-1], room, cut)}{f' {by}' if by else ''}"
    return Row(text, "chosen" if is_chosen else _look(slot), event.id if event else "")


def _logged_forms(what: str, slot: Slot, told: str) -> tuple[str, ...]:
    """Return an entry with what it was for and whether it was late, in ever shorter forms."""
    if slot.status != "late":
        return (f"{what} ({told})", what) if told else (what,)
    whole = (f"{what} ({told}, late)",) if told else ()
    return (*whole, f"{what} (late)", f"{what}{_LATE}")


def _planned_forms(slot: Slot, cut: str) -> tuple[str, ...]:
    """Return what is planned with its reasons, of which whole ones go from the end."""
    words = _planned_words(slot)
    what, bracket, reasons = words.partition(" (")
    if not bracket:
        return (words,)
    each = reasons.removesuffix(")").split(", ")
    fewer = (f"{what} ({', '.join(each[:n])}{cut})" for n in range(len(each) - 1, 0, -1))
    return (words, *fewer)


def _planned_words(slot: Slot) -> str:
    if slot.kind in ("break", "night"):
        name = "break" if slot.kind == "break" else "night break"
        return f"{name} ({slot.words})" if slot.words and slot.words != slot.kind else name
    return f"{slot.words}, not logged" if slot.status == "missed" else slot.words


def _look(slot: Slot) -> RowLook:
    if slot.event is not None:
        return "accident" if slot.event.row.is_accident else "logged"
    if slot.status in ("due", "missed"):
        return slot.status
    return "planned"


def first_day(situation: Situation, width: int) -> list[str]:
    """Return the plan of a day on which nothing is logged yet, one line for each row."""
    settings = situation.settings
    cut = sign("cut", settings.board.glyphs)
    lines = []
    for slot in situation.timeline:
        forms = _planned_forms(slot, cut)
        words = next((form for form in forms if cell_len(form) <= width - 7), forms[-1])
        lines.append(f"{settings.clock(slot.at)}  {one_line(words, width - 7, cut)}")
    return lines
