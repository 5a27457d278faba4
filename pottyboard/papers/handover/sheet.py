"""The handover sheet for a walker or sitter: one page that says when, how and whom to call.

:func:`sheet` gathers what it says, :func:`sheet_text` prints it at 80 columns, and
:func:`~pottyboard.papers.handover.sheet_page.sheet_page` as a page. It tells when the home is
empty: only the days asked for are in it, and no address.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby
from typing import Final

from msgspec import Struct

from pottyboard.core.away.schedule import AwayDay, AwayPlan
from pottyboard.core.health.emergency import CARE, SIGNS
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import date_words, span_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Home, Settings
from pottyboard.core.written.numbers import listed
from pottyboard.papers import PaperError
from pottyboard.papers.columns import columns, wrapped

_HOUSEHOLD: Final = frozenset({"us", "we", "home", "household", "family"})
"""Names, beside those of the people, under which the household itself answers."""
MOST_LINES: Final = 66
"""Lines of one printed page."""
_LABEL: Final = 25
"""Columns of a date or of whom to call."""
_MOST_NUMBERS: Final = 1000
"""Letters of the numbers on one line: none is cut off."""


class SheetError(PaperError):
    """A sheet that would not fit one page; the message says what to ask for instead."""


class Row(Struct, frozen=True):
    """One line of the times: the date or dates, and what happens on them."""

    when: str
    what: tuple[str, ...]


class Section(Struct, frozen=True):
    """One part of the sheet; with ``ticks`` its lines are steps to tick off."""

    title: str
    lines: tuple[str, ...]
    ticks: bool = False


class Sheet(Struct, frozen=True):
    """What the sheet says, in the order of the page.

    ``numbers`` are whom to call with the number, empty where it is filled in by hand.
    """

    title: str
    about: str
    warning: str
    rows: tuple[Row, ...]
    sections: tuple[Section, ...]
    numbers: tuple[tuple[str, str], ...]
    made: str


def sheet(settings: Settings, plan: AwayPlan, now: datetime, *, helper: str = "") -> Sheet:
    """Return the sheet for the days of ``plan``; with ``helper`` for that helper's visits alone.

    Raises :class:`SheetError` for more than a week, or more visits than fit the page.
    """
    most = int(figures.SHEET_DAYS)
    if len(plan.days) > most:
        raise SheetError(f"A sheet holds {most} days: ask for fewer, or make one for each week.")
    dog, name = settings.dog, printable(settings.dog.name)
    made = now.astimezone(settings.zone)
    for_whom = f", for {printable(helper)}" if helper else ""
    limit = min((day.limit for day in plan.days), default=int(figures.ALONE_MOST))
    page = Sheet(
        title=f"{name}: handover sheet{for_whom}",
        about=(
            f"{dog.weight_words}, {dog.age}, new in this home and not house-trained yet. Awake, "
            f"{name} needs a break at least every {span_words(limit)}."
        ),
        warning=(
            "This sheet tells when the home is empty: hand it over yourself, do not post or "
            "photograph it. No address belongs on it."
        ),
        rows=tuple(_rows(settings, plan.days, helper)),
        sections=tuple(_sections(settings, name)),
        numbers=tuple(_numbers(settings.home, helper)),
        made=f"made {made:%a} {made.day} {made:%b %Y %H:%M}",
    )
    if sheet_text(page).count("\n") > MOST_LINES:
        raise SheetError("Too much for one page: ask for fewer days, or for one helper alone.")
    return page


# --- What it says ---------------------------------------------------------------------------------


def _rows(settings: Settings, days: Sequence[AwayDay], helper: str) -> Iterator[Row]:
    """Yield the times, days in a row that are alike as one, then the meals."""
    for said, run in groupby(days, lambda day: _visits(settings, day, helper)):
        alike = list(run)
        yield Row(date_words(alike[0].date, alike[-1].date), said)
    for meals, run in groupby(days, lambda day: _meals(settings, day)):
        alike = list(run)
        whole = len(alike) == len(days)
        when = "Fed by us" if whole else date_words(alike[0].date, alike[-1].date)
        yield Row(when, (meals if whole else f"fed {meals}",))


def _visits(settings: Settings, day: AwayDay, helper: str) -> tuple[str, ...]:
    """Return who comes when, and when the household is back."""
    wanted = [visit for visit in day.visits if not helper or visit.helper == helper]
    said = []
    for name, visits in groupby(wanted, lambda visit: visit.helper):
        times = ", ".join(settings.clock(visit.at) for visit in visits)
        said.append(times if helper else f"{printable(name)} {times}")
    if not said:
        return ("no visit",)
    if not day.alone:
        return (*said, "somebody is home")
    return (*said, f"we are back at {settings.clock(day.alone[-1].end)}")


def _meals(settings: Settings, day: AwayDay) -> str:
    return ", ".join(settings.clock(meal.at) for meal in day.meals)


def _sections(settings: Settings, name: str) -> Iterator[Section]:
    home = settings.home
    spot = f", always the same: {printable(home.spot)}" if home.spot else ", always the same one"
    cue = f'Say "{printable(home.cue)}" once, then' if home.cue else "Then"
    retry, tries = span_words(figures.AFTER_NOTHING), f"{figures.RETRIES:g}"
    yield Section(
        "Call the vet now, at night too",
        (
            f"Any one of these: {'; '.join(SIGNS)}.",
            " ".join(CARE),
        ),
    )
    yield Section(
        "On arrival",
        (
            "Let it come to you: no reaching over, no cornering, no taking food away. It "
            "growls, hides or blocks the door: stop, step back, call us.",
            f"To the spot{spot}. Lead on before the door opens; greet later.",
            f"{cue} stand still for up to {span_words(figures.TRY_LASTS)}, on the lead.",
            "When it comes: praise at once, out there. Then stay out a little.",
            "Back in: fresh water, a look at the floor in every room.",
            f"Just before you go: out once more if {name} ate, drank a lot or played.",
        ),
        ticks=True,
    )
    yield Section(
        "Watch for",
        (
            "Going to the door, sniffing about, circling, pacing, whining: out at once.",
            f"Nothing came: keep {name} on the lead beside you or in arm's reach, never tethered "
            f"alone, and try again after {retry}, up to {tries} times. Still nothing: tell us "
            "before you leave.",
        ),
    )
    yield Section(
        "An accident",
        (
            "Seen: one quiet “ah”, calmly out, praise if the rest comes there. Found: no scolding, "
            "it teaches nothing; call it away, never drag it by the collar.",
            "Enzyme cleaner, never ammonia; never mix cleaners. Note the place.",
            *(("On the pad: no accident and no fuss, a fresh one where it lay.",) * home.pads),
        ),
    )
    yield Section(
        "Send us, one message",
        (
            "12:10 pee, 12:14 poop, water, all calm",
            "Words: pee, poop, pee and poop, nothing came, water, found pee indoors, found poop "
            "indoors. The time first; anything else after a comma.",
        ),
    )
    yield Section(
        "Call",
        (
            "The vet today, and us: blood, pain, many tiny pees, vomiting, diarrhoea, "
            "straining to pass stool, no pee for a day, much more drinking than usual.",
            f"Us: {name} is distressed when left, you cannot come, or anything seems odd. No "
            "punishment, no medicine and never less water.",
        ),
    )


def _numbers(home: Home, helper: str) -> Iterator[tuple[str, str]]:
    """Yield whom ``helper`` calls, each vet on a line, with a blank for what is not known."""
    at_home = _HOUSEHOLD | {name.casefold() for name in home.people}
    numbers = [n for n in home.numbers if n.name.casefold() != helper.casefold()]
    vets = [number for number in numbers if number.is_vet]
    ours = [number for number in numbers if number.name.casefold() in at_home]
    others = [number for number in numbers if number not in (*vets, *ours)]
    yield from ((printable(number.name), printable(number.number)) for number in vets)
    if all(number.is_at_night for number in vets):
        yield "Vet", ""
    if not any(number.is_at_night for number in vets):
        yield "Vet at night and weekends", ""
    yield "Household", printable(listed(ours), _MOST_NUMBERS)
    who_else = "Others (who has a key?)" if others else "Who else has a key"
    yield who_else, printable(listed(others), _MOST_NUMBERS)


# --- As text --------------------------------------------------------------------------------------


def sheet_text(page: Sheet) -> str:
    """Return the sheet as plain text of at most 80 columns, set close where it is long."""
    roomy = _lines(page, [""])
    lines = roomy if len(roomy) <= MOST_LINES else _lines(page, [])
    return "\n".join(lines) + "\n"


def _lines(page: Sheet, gap: list[str]) -> list[str]:
    """Return its lines, with ``gap`` above each section."""
    lines = [page.title.upper() if page.title.isascii() else page.title, ""]
    lines += wrapped(page.about)
    lines += ["", *wrapped(f"! {page.warning}", "  "), "", "WHEN"]
    for row in page.rows:
        lines += wrapped(f"{_padded(row.when)} {'; '.join(row.what)}", " " * (_LABEL + 3), "  ")
    for section in page.sections:
        lines += [*gap, section.title.upper()]
        for line in section.lines:
            mark = "  [ ] " if section.ticks else "  "
            lines += wrapped(line, " " * len(mark), mark)
    lines += [*gap, "PHONE NUMBERS"]
    for who, number in page.numbers:
        lines += wrapped(f"{_padded(who)} {number or '_' * 40}", " " * (_LABEL + 3), "  ")
    return [*lines, *gap, page.made]


def _padded(text: str) -> str:
    return text + " " * (_LABEL - columns(text))
