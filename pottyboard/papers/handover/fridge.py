"""The page for the fridge: one day's breaks and meals to tick off, the signals, whom to call.

It is for everybody at home who does not stand before the board. :func:`fridge` gathers what it
says, :func:`fridge_text` prints it at 80 columns, :func:`fridge_page` as one printed page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from msgspec import Struct

from pottyboard.core.health.emergency import SIGNS, TITLE
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import span_words
from pottyboard.core.model.printable import printable
from pottyboard.core.view.situation_views import Situation, Slot
from pottyboard.papers import page as frame
from pottyboard.papers.columns import wrapped
from pottyboard.papers.page import Html, joined, paragraph, tag, text

_LEFT_OUT: Final = frozenset({"entry", "up", "bedtime"})
_WORDS: Final = {
    "leaving": "everybody leaves",
    "back": "somebody comes home",
    "night": "night break",
}
_MOST_ROWS: Final = 22
"""Lines of times that one printed page has room for."""
_STYLE: Final = """
body { font-size: 13pt; line-height: 1.3; }
h1 { font-size: 25pt; }
td { padding: .9mm 3mm .9mm 0; border-bottom: .3pt solid var(--line); }
td.tick { width: 9mm; font-size: 15pt; line-height: 1; }
td.when { width: 22mm; font-size: 16pt; font-weight: bold; font-variant-numeric: tabular-nums; }
ul { padding-left: 5mm; }
body.dense { font-size: 10.2pt; }
body.dense td { padding: .3mm 3mm .3mm 0; }
body.dense td.when, body.dense td.tick { font-size: 11.5pt; }
body.dense section { padding-top: 1.6mm; }
"""
_DENSE_FROM: Final = 15


class FridgePage(Struct, frozen=True):
    """What the page says: rows of clock and words, then lines under headings."""

    title: str
    about: str
    rows: tuple[tuple[str, str], ...]
    sections: tuple[tuple[str, tuple[str, ...]], ...]
    made: str


def fridge(
    view: Situation, day: date, slots: Sequence[Slot], numbers: Sequence[str] = ()
) -> FridgePage:
    """Return the page for the local date ``day``, whose plan are ``slots``.

    ``numbers`` are lines such as ``Vet: 01632 960001``; without any there is room to write them.
    """
    settings, name = view.settings, printable(view.settings.dog.name)
    made = view.now.astimezone(settings.zone)
    rows = [(settings.clock(slot.at), _words(slot)) for slot in slots if slot.kind not in _LEFT_OUT]
    return FridgePage(
        title=f"{name}: {day:%A} {day.day} {day:%B}",
        about=(
            f"As planned at {made:%H:%M}; it moves with what happens: the board knows. A break at "
            f"least every {span_words(view.interval.minutes)} while awake."
        ),
        rows=tuple(rows[:_MOST_ROWS]),
        sections=tuple(_sections(view, name, numbers)),
        made=f"made {made:%a} {made.day} {made:%b %Y %H:%M}",
    )


def _words(slot: Slot) -> str:
    if slot.kind in ("break", "visit") and slot.words:
        return f"{slot.kind}: {printable(slot.words)}"
    if slot.kind == "night":
        return _WORDS[slot.kind]
    return _WORDS.get(slot.kind, printable(slot.words) or slot.kind)


def _sections(
    view: Situation, name: str, numbers: Sequence[str]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    spot = printable(view.settings.home.spot)
    yield (
        "Sooner than that, out at once",
        (
            f"{name} goes to the door, sniffs about, circles, paces or whines.",
            f"{name} has just woken up, played, or drunk a lot.",
        ),
    )
    yield (
        "Each time",
        (
            f"On the lead to {spot or 'the same spot'}, up to {span_words(figures.TRY_LASTS)}.",
            "It comes: praise out there. Nothing comes: keep it beside you, then try again.",
            "Indoors: no scolding. Enzyme cleaner, never mixed. Tell the board.",
        ),
    )
    yield (TITLE, (f"{'; '.join(SIGNS)}.",))
    yield ("Numbers", tuple(map(printable, numbers)) or ("Vet:", "Vet at night:", "Us:"))


def fridge_text(page: FridgePage) -> str:
    """Return the page as plain text of at most 80 columns."""
    lines = [page.title.upper() if page.title.isascii() else page.title, ""]
    lines += [*wrapped(page.about), ""]
    for clock, words in page.rows:
        lines += wrapped(f"{clock}  {words}", " " * 13, "  [ ] ")
    for title, said in page.sections:
        lines += ["", title.upper()]
        for line in said:
            lines += wrapped(line, "    ", "  ")
    return "\n".join((*lines, "", page.made)) + "\n"


def fridge_page(page: FridgePage) -> str:
    """Return it as HTML that prints on one A4 or Letter page: nothing is loaded or run."""
    dense = "dense" if len(page.rows) >= _DENSE_FROM else ""
    return frame.page(page.title, _parts(page), style=_STYLE, body=dense)


def _parts(page: FridgePage) -> Iterator[Html]:
    yield tag("h1", text(page.title))
    yield paragraph(page.about, "faint")
    yield tag("table", joined(_row(clock, words) for clock, words in page.rows))
    for title, lines in page.sections:
        yield frame.section(title, [frame.bullets(lines)])
    yield tag("footer", text(page.made))


def _row(clock: str, words: str) -> Html:
    box = tag("td", Html("&#9744;"), "tick")
    return tag("tr", joined((box, tag("td", text(clock), "when"), tag("td", text(words)))))
