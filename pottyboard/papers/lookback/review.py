"""The review as a paper: the story, what is behind it in tables, and what comes next.

:func:`parts` gathers what it says, :func:`review_text` prints it at 80 columns, and
:func:`pottyboard.papers.lookback.review_page.review_page` as a page with drawings.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.model.localtime import date_words
from pottyboard.core.model.printable import printable
from pottyboard.core.review.report import Review
from pottyboard.papers.columns import WIDTH, laid_out, wrapped
from pottyboard.papers.lookback.review_tables import (
    Table,
    accidents_table,
    changes_table,
    days_table,
    hold_table,
    hours_table,
    milestones_table,
    numbers_table,
    questions_table,
    regularity_table,
    rounds_table,
    routine_table,
    signs_table,
    weeks_table,
)

Drawing = Literal["rows", "days", "hours", "interval", "waits", "hold", "clock"]


class Part(Struct, frozen=True):
    """One part: a title, sentences, and tables; ``drawings`` are those that a page shows in it."""

    title: str
    sentences: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    listed: bool = True


def title(review: Review) -> str:
    """Return the title, with the dog's name."""
    numbers = review.numbers
    days = date_words(numbers.first, numbers.last)
    return f"{printable(review.settings.dog.name)}: review, {days} {numbers.last.year}"


def about(review: Review) -> str:
    """Return who the dog is and how long it has been at home."""
    dog = review.settings.dog
    prone = ", prone to accidents" if dog.prone else ""
    wall = dog.arrived.astimezone(review.settings.zone)
    return (
        f"{dog.weight_words}, {dog.age}, {dog.sex}{prone}; at home since "
        f"{date_words(wall.date(), wall.date())} {wall.year}, day {review.situation.day} today."
    )


def made(review: Review) -> str:
    """Return when the review was made."""
    wall = review.now.astimezone(review.settings.zone)
    return f"made {wall:%a} {wall.day} {wall:%b %Y %H:%M} from the household's log"


PRIVATE: Final = "This page tells of a household's days: give it only to those who are to know."

_STATISTICS: Final = "For those who want the statistics"


def parts(review: Review) -> Iterator[Part]:
    """Yield the parts of the paper in order."""
    yield Part("In short", tuple(said.words for said in review.story))
    warnings = tuple(
        f"{warning.words} Why: {warning.because}" for warning in review.situation.warnings
    )
    if warnings:
        yield Part("Warnings that stand", warnings)
    tables = (days_table(review), hours_table(review))
    yield Part("The days", (), tables, ("rows", "days", "hours"))
    yield Part("The interval", (), (changes_table(review),), ("interval",))
    yield Part("How long it can wait", _hold(review), (hold_table(review),), ("waits", "hold"))
    if review.accidents:
        yield Part("The accidents", (), (accidents_table(review),), ("clock",))
    yield Part("Patterns", _patterns(review), _pattern_tables(review))
    yield Part("What was reached", _reached(review), (milestones_table(review),))
    if len(review.rounds) > 1:
        yield Part("Round beside round", (), (rounds_table(review),))
    if review.ahead.weeks:
        yield Part("The weeks ahead", review.ahead.keeps, (weeks_table(review),))
    yield Part("On a relapse", review.ahead.relapse)
    yield Part("The numbers", (), (numbers_table(review),))
    found = review.patterns
    if found.footnote or found.questions or found.routine:
        tests = [questions_table(review)] if found.questions else []
        tests += [regularity_table(review)] if found.routine else []
        yield Part(_STATISTICS, (found.footnote,) if found.footnote else (), tuple(tests))


def _hold(review: Review) -> tuple[str, ...]:
    hold = review.hold.estimate
    said = [f"Probably: {hold.words}.", hold.proof, hold.night]
    return tuple(f"{words.rstrip('.')}." for words in said if words)


def _patterns(review: Review) -> tuple[str, ...]:
    found = review.patterns
    said = [f"{one.words.rstrip('.')}; {one.sure}." if one.sure else one.words for one in found]
    if not any(question.chance is not None for question in found.questions):
        said.insert(0, "Too few entries yet to look for a pattern.")
    elif not found.found:
        said.insert(0, "No pattern stands out: what differs here may well be chance.")
    return tuple(said)


def _pattern_tables(review: Review) -> tuple[Table, ...]:
    found = review.patterns
    tables = []
    if found.routine:
        tables.append(routine_table(review))
    if found.signs:
        tables.append(signs_table(review))
    return tuple(tables)


def _reached(review: Review) -> tuple[str, ...]:
    reached = review.reached
    said = [sentence.words for sentence in reached.story]
    return (*said, *(f"{one.words} ({one.source})" for one in reached.expected))


# --- As text --------------------------------------------------------------------------------------


def review_text(review: Review) -> str:
    """Return the review as plain text of at most 80 columns."""
    lines = [*wrapped(title(review)), *wrapped(about(review))]
    for part in parts(review):
        lines += ["", part.title.upper()]
        for said in part.sentences:
            lines += wrapped(printable(said, 1000), "    ", "  - ")
        for table in part.tables:
            lines += ["", *wrapped(f"{table.caption}:", "  ", "  ")] if part.sentences else []
            rows = [tuple(printable(cell, 400) for cell in row) for row in table.rows]
            lines += [
                f"  {line}".rstrip()
                for line in laid_out(table.heads, rows, table.numbers, WIDTH - 2)
            ]
    lines += ["", *wrapped(made(review))]
    return "\n".join(lines) + "\n"
