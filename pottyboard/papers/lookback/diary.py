"""The health diary as a paper for the vet: what it says, and as plain text.

:func:`diary_paper` puts a :class:`~pottyboard.core.review.diary.Diary` into words and tables,
:func:`diary_text` prints them at 80 columns, ``diary_page`` makes them a page. It holds what was
noted of the dog, but neither who logged it nor the other notes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from itertools import chain, groupby
from typing import Final

from msgspec import Struct

from pottyboard.core.health.health_views import LEVEL_WORDS
from pottyboard.core.model import figures
from pottyboard.core.model.figure import Figure
from pottyboard.core.model.localtime import count_words, date_words, span_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.diary import THRESHOLDS
from pottyboard.core.review.diary_views import Diary, DiaryDay, Mishap, Raised, Spread
from pottyboard.papers.columns import laid_out, wrapped
from pottyboard.papers.lookback.charts import Bar, Bars, Chart, Waits, outings_by_hour

BLANKS: Final = 6
"""Lines left free for the vet's notes."""
_NOTE: Final = 600
"""Letters of one note; the rest stays in the log."""
_INDENT: Final = "  "
_AGES: Final = {"young": "under 12 months", "adult": "adult", "senior": "senior"}


class Table(Struct, frozen=True):
    """A table: what it shows, its headings and rows; ``numbers`` are the columns flush right.

    As text each row is a sentence where the cells are ``wordy``.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...] = ()
    wordy: bool = False


class Led(Struct, frozen=True):
    """A line of text that begins with what it is about, such as a date: its ``lead``."""

    lead: str
    rest: str

    def __str__(self) -> str:
        return f"{self.lead}: {self.rest}"


class Part(Struct, frozen=True):
    """One part of the paper: a table, if it has one, then lines of text, then free lines.

    A page draws the ``charts`` above them.
    """

    title: str
    lines: tuple[str | Led, ...] = ()
    table: Table | None = None
    blanks: int = 0
    charts: tuple[Chart, ...] = ()


class Paper(Struct, frozen=True):
    """What the paper says, in the order of the page."""

    title: str
    about: str
    warning: str
    parts: tuple[Part, ...]
    made: str


def diary_paper(diary: Diary) -> Paper:
    """Return what the paper for the vet says."""
    settings, dog = diary.settings, diary.settings.dog
    name, made = printable(dog.name), diary.now.astimezone(settings.zone)
    here = settings.first_date
    neutered = "neutered" if dog.neutered else "not neutered"
    return Paper(
        title=(
            f"{name}, {dog.weight_words}, {_AGES[dog.age]}: health diary, "
            f"{date_words(diary.first, diary.last)} {diary.last.year}"
        ),
        about=(
            f"The household's log, and no diagnosis: what people saw and wrote down. "
            f"{dog.sex.capitalize()}, {neutered}, in this home since "
            f"{date_words(here, here)} {here.year}. Times are those of {settings.home.zone}."
        ),
        warning=(
            "It holds your notes about your dog as you wrote them: read it through before you "
            "hand it over. No address is in it, nor who logged what."
        ),
        parts=tuple(_parts(diary)),
        made=f"made {made:%a} {made.day} {made:%b %Y %H:%M}",
    )


# --- What it says ---------------------------------------------------------------------------------


def _parts(diary: Diary) -> Iterator[Part]:
    yield _warnings(diary)
    yield _unusual(diary)
    yield _days(diary)
    yield _between(diary)
    yield _nights(diary)
    yield _accidents(diary)
    yield _findings(diary)
    yield Part("For the vet's notes", blanks=BLANKS)
    yield _thresholds()
    yield Part("How to read it", _method())


def _warnings(diary: Diary) -> Part:
    if not diary.warnings:
        return Part("Warnings", ("None was raised in these days.",))
    lines = [line for raised in diary.warnings for line in _raised(diary.settings, raised)]
    return Part("Warnings", tuple(lines))


def _raised(settings: Settings, raised: Raised) -> Iterator[str | Led]:
    warning = raised.warning
    yield Led(
        f"{_when(settings, warning.since)}, {LEVEL_WORDS[warning.level]}",
        f"{_closed(printable(warning.because, _NOTE))} {printable(warning.words, _NOTE)} "
        f"Source: {warning.source}.",
    )
    for at, note in raised.noted:
        said = f": “{printable(note, _NOTE)}”" if note else "."
        yield f"Noted by the household {_when(settings, at)}{said}"


def _unusual(diary: Diary) -> Part:
    title = "Out of the ordinary for this dog"
    need = int(figures.DIARY_KNOWN_DAYS) + 1
    if diary.compared < need:
        known = count_words(diary.compared, "day")
        return Part(title, (f"Not known yet: {known} with enough entries, {need} are needed.",))
    lines = [Led(_date(one.date), f"{one.words}.") for one in diary.unusual]
    return Part(title, (*(lines or ("Nothing.",)), _how_compared(diary)))


def _how_compared(diary: Diary) -> str:
    count, time = figures.DIARY_COUNT_APART, span_words(figures.DIARY_TIME_APART)
    return (
        f"Compared with this dog's {diary.compared} other full days: "
        f"named is what lies outside all of them by {count:g} or more, a time by {time}, water by "
        f"{figures.DIARY_WATER_APART:g} mL/kg (our own choice). How often a dog is taken out moves "
        f"these counts as well."
    )


def _days(diary: Diary) -> Part:
    rows = tuple(_day(diary.settings, day) for day in diary.days)
    return Part(
        "Day by day",
        tuple(_lacking(diary.days)),
        Table(
            "From getting up to getting up; (in) went indoors",
            ("Day", "Pees", "Stools", "Pad", "Empty", "Water mL", "mL/kg", "Meals"),
            rows,
            (1, 2, 3, 4, 5, 6),
        ),
        charts=(
            Bars(
                "days",
                "Pees, stools and accidents by day",
                "Full: pees of each day. Open: stools. Each triangle is an accident indoors.",
                ("pees", "stools"),
                tuple(_bar(day) for day in diary.days),
            ),
        ),
    )


def _bar(day: DiaryDay) -> Bar:
    accidents = sum(one.own for one in day.accidents)
    return Bar(f"{day.date.day} {day.date:%b}", day.pees, day.stools, accidents)


def _lacking(days: Sequence[DiaryDay]) -> Iterator[str]:
    """Yield which days cannot be counted on and why, those without an entry in one line."""
    for (whole, logged), run in groupby(days, key=lambda day: (day.whole, day.entries > 0)):
        alike = () if whole else tuple(run)
        if alike and not logged:
            yield f"* {date_words(alike[0].date, alike[-1].date)}: nothing was logged."
            continue
        for day in alike:
            yield f"* {_date(day.date)}: {day.too_little}; its counts are the least there was."


def _day(settings: Settings, day: DiaryDay) -> tuple[str, ...]:
    mark = "" if day.whole else " *"
    if not day.entries:  # none were counted, which is not the same as none
        return (f"{_date(day.date)}{mark}", *"-------")
    least = "" if day.water is None or day.water.whole else "≥ "
    return (
        f"{_date(day.date)}{mark}",
        _with(day.pees, day.pees_inside, "in"),
        _with(day.stools, day.stools_inside, "in"),
        str(day.on_pad or "-"),
        str(day.nothing or "-"),
        "-" if day.water is None else f"{least}{day.water.ml:.0f}",
        "-" if day.water is None else f"{least}{day.water.per_kg:.0f}",
        " ".join(settings.clock(meal) for meal in day.meals) or "-",
    )


def _with(number: int, part: int, word: str) -> str:
    return f"{number} ({part} {word})" if part else str(number)


def _between(diary: Diary) -> Part:
    lines = [
        f"By day: {_spread_words(diary.between)}.",
        f"Over the nights: {_spread_words(diary.at_night)}.",
    ]
    amounts = sum(day.small for day in diary.days), sum(day.large for day in diary.days)
    if any(amounts):
        lines.append(f"Noted as small: {amounts[0]}; as large: {amounts[1]}.")
    if diary.gaps:
        longest = span_words(figures.SILENCE_TOO_LONG)
        gaps = count_words(diary.gaps, "time")
        lines.append(f"{gaps} over {longest} by day left out: a gap in the log, more likely.")
    dates = tuple((day.date, 0) for day in diary.days)
    waits = Waits(diary.waits, dates, "Each time by day from pee to pee, on its day.")
    return Part("Times between pees", tuple(lines), charts=(waits, outings_by_hour(diary.hours)))


def _spread_words(spread: Spread | None) -> str:
    if spread is None:
        return "not known"
    return (
        f"{span_words(spread.middle)} in the middle, {span_words(spread.least)} to "
        f"{span_words(spread.most)} ({count_words(spread.number, 'time')})"
    )


def _nights(diary: Diary) -> Part:
    settings = diary.settings
    nights = [(day.date, day.night) for day in diary.days if day.night is not None]
    if not nights:
        return Part("Nights", ("No night is over yet.",))
    rows = tuple(
        (
            f"{_date(on)}{'' if night.logged else ' *'}",
            settings.clock(night.asleep),
            "-" if night.to is None else settings.clock(night.to),
            str(night.breaks or "-"),
            str(night.accidents or "-"),
        )
        for on, night in nights
    )
    assumed = any(not night.logged for _, night in nights)
    return Part(
        "Nights",
        ("* nobody logged that it settled: taken from the routine.",) * assumed,
        Table(
            "Each night by the day on which it began",
            ("Night of", "Asleep", "Got up", "Breaks", "Accidents"),
            rows,
            (3, 4),
        ),
    )


def _accidents(diary: Diary) -> Part:
    settings = diary.settings
    mishaps = [mishap for day in diary.days for mishap in day.accidents]
    if not mishaps:
        return Part("Accidents", ("None in these days.",))
    rows = tuple(
        (_when(settings, mishap.at), mishap.what, _cause(mishap), _details(mishap))
        for mishap in mishaps
    )
    return Part(
        "Accidents",
        ("Causes are likely ones, read from the log; “said” ones are the household's.",),
        Table(
            "Each accident indoors, with its likely cause", ("When", "What", "Why", "More"), rows
        ),
    )


def _cause(mishap: Mishap) -> str:
    if not mishap.own:
        return "maybe another dog"
    return f"{mishap.cause} (said)" if mishap.said else mishap.cause


def _details(mishap: Mishap) -> str:
    details = [printable(detail) for detail in mishap.details]
    if mishap.note:
        details.append(f"“{printable(mishap.note, _NOTE)}”")
    return ", ".join(details) or "-"


def _findings(diary: Diary) -> Part:
    rows = tuple(
        (
            _when(diary.settings, finding.at),
            finding.what or "note",
            f"“{printable(finding.note, _NOTE)}”" if finding.note else "-",
        )
        for day in diary.days
        for finding in day.findings
    )
    if not rows:
        return Part("Health notes", ("None in these days.",))
    return Part(
        "Health notes",
        (),
        Table("What the household noticed", ("When", "What", "In its words"), rows),
    )


def _thresholds() -> Part:
    rows = tuple((words, _amount(figure), _source(figure)) for words, figure in THRESHOLDS)
    return Part(
        "Thresholds and their sources",
        ("They say when to ask a vet, and nothing of what a dog may have.",),
        Table("What the counts are compared with", ("What", "At", "Source"), rows, wordy=True),
    )


def _amount(figure: Figure) -> str:
    return span_words(figure) if figure.unit == "min" else f"{figure:g} {figure.unit}"


def _source(figure: Figure) -> str:
    return figure.source if figure.status != "published" else f"{figure.source} (published)"


def _method() -> tuple[str, ...]:
    outing, most = span_words(figures.ONE_OUTING), span_words(figures.SILENCE_TOO_LONG)
    return (
        f"Entries of one kind within {outing} count once. A pee on a pad counts as a pee, and "
        f"neither as an accident nor as an outing. “Empty” are outings that brought nothing.",
        f"A day has too few entries (*) under {figures.OUTINGS_FOR_CLEAR_DAY:g} outings, or with "
        f"{most} by day without an entry; it is left out of every comparison.",
        "Water is what was measured: “≥” where only some drinks or part of the day were.",
    )


def _date(on: date) -> str:
    return date_words(on, on)


def _when(settings: Settings, at: datetime) -> str:
    wall = at.astimezone(settings.zone)
    return f"{_date(wall.date())} {wall:%H:%M}"


def _closed(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?", "…")) else f"{text}."


# --- As text --------------------------------------------------------------------------------------


def diary_text(paper: Paper) -> str:
    """Return the paper as plain text of at most 80 columns."""
    lines = [*wrapped(paper.title), "", *wrapped(paper.about), ""]
    lines += wrapped(f"! {paper.warning}", _INDENT)
    for part in paper.parts:
        lines += ["", part.title.upper(), *_part_lines(part)]
    return "\n".join([*lines, "", paper.made]) + "\n"


def _part_lines(part: Part) -> Iterator[str]:
    if part.table is not None:
        yield from _table_lines(part.table)
    for line in part.lines:
        yield from wrapped(str(line), _INDENT)
    for _ in range(part.blanks):
        yield "\n" + "_" * 76


def _table_lines(table: Table) -> Sequence[str]:
    if table.wordy:
        rows = (wrapped(f"{what} {at}: {more}.", _INDENT) for what, at, more in table.rows)
        return [*wrapped(f"{table.caption}:"), *chain.from_iterable(rows)]
    return [*wrapped(table.caption), *laid_out(table.heads, table.rows, table.numbers)]
