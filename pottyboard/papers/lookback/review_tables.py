"""The tables of the review: the data behind its sentences and drawings."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

from msgspec import Struct

from pottyboard.core.model.localtime import date_words, minute_words, span_words
from pottyboard.core.patterns.pattern_views import RoutineTime
from pottyboard.core.review.report import Review
from pottyboard.core.review.tally import Tally


class Table(Struct, frozen=True):
    """A table of text: its caption, headings and rows; ``numbers`` are columns of numbers."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...] = ()


def _when(review: Review, at: datetime) -> str:
    wall = at.astimezone(review.settings.zone)
    return f"{date_words(wall.date(), wall.date())} {wall:%H:%M}"


def days_table(review: Review) -> Table:
    """Return one row for each day."""
    return Table(
        "Day by day",
        ("date", "day", "verdict", "out", "indoors", "interval", "longest wait", "why"),
        tuple(
            (
                date_words(day.date, day.date),
                str(day.number),
                day.verdict,
                str(day.outings),
                str(day.accidents),
                span_words(day.interval),
                span_words(max(day.holds)) if day.holds else "none",
                day.words,
            )
            for day in review.days
        ),
        (1, 3, 4, 5, 6),
    )


def hours_table(review: Review) -> Table:
    """Return one row for each hour of the clock in which something was logged."""
    return Table(
        "All days together, by the hour",
        ("hour", "out", "came", "nothing", "indoors"),
        tuple(
            (
                f"{hour:02}:00",
                str(one.outings),
                str(one.brought),
                str(one.empty),
                str(one.accidents),
            )
            for hour, one in enumerate(review.by_hour)
            if one.outings or one.accidents
        ),
        (1, 2, 3, 4),
    )


def changes_table(review: Review) -> Table:
    """Return the changes of the interval with their reasons, the one in force before first."""
    return Table(
        "The changes of the interval",
        ("when", "from", "to", "why"),
        tuple(
            (
                _when(review, change.at),
                span_words(change.before),
                span_words(change.after),
                change.words,
            )
            for change in review.changes
        ),
        (1, 2),
    )


def hold_table(review: Review) -> Table:
    """Return the curves of the hold every half hour."""
    study = review.hold
    return Table(
        "Of 100 waits, how many last past a time",
        ("time", "best guess", "log only", "dogs of this size"),
        tuple(
            (
                span_words(minutes) if minutes else "0",
                f"{100 * posterior:.0f}",
                "no data" if log is None else f"{100 * log:.0f}",
                f"{100 * prior:.0f}",
            )
            for minutes, posterior, log, prior in zip(
                study.minutes, study.posterior, study.log, study.prior, strict=True
            )
            if minutes % 30 == 0
        ),
        (1, 2, 3),
    )


def accidents_table(review: Review) -> Table:
    """Return every accident, with its likely cause where the log is recent enough to tell."""
    why = {account.event.id: f"{account.words}: {account.reasoning}" for account in review.accounts}
    return Table(
        "Every accident, with why it likely happened",
        ("when", "what", "where", "how", "likely why"),
        tuple(
            (
                _when(review, event.at),
                event.row.words,
                event.place or "not said",
                {True: "found", False: "seen", None: "not said"}[event.found]
                + (", maybe another dog" if event.unsure else ""),
                why.get(event.id, "over two weeks ago: not worked out"),
            )
            for event in review.accidents
        ),
    )


def milestones_table(review: Review) -> Table:
    """Return what others call reliable, beside what there is."""
    return Table(
        "Clear days in a row, beside what is called reliable",
        ("what", "now", "needed", "who says so"),
        tuple(
            (one.words, str(one.have), f"{one.need} days", one.source)
            for one in review.reached.milestones
        ),
        (1,),
    )


def rounds_table(review: Review) -> Table:
    """Return the rounds of the programme, side by side."""
    return Table(
        "The rounds of the programme",
        ("round", "from", "to", "clear", "accident", "unknown", "out", "indoors", "interval"),
        tuple(
            (
                str(one.number),
                f"{one.first.day} {one.first:%b}",
                f"{one.last.day} {one.last:%b}",
                str(one.clear),
                str(one.mishaps),
                str(one.unknown),
                str(one.outings),
                str(one.accidents),
                f"{span_words(one.first_interval)} to {span_words(one.interval)}",
            )
            for one in review.rounds
        ),
        tuple(range(3, 8)),
    )


def weeks_table(review: Review) -> Table:
    """Return the plan for the weeks ahead."""
    return Table(
        "Week by week, if the weeks before were clear",
        ("dates", "week", "interval up to", "alone up to", "freedom", "where", "treat for"),
        tuple(
            (
                date_words(week.first, week.last),
                str(week.number),
                span_words(week.interval) + (", set by you" if week.by_hand else ""),
                span_words(week.alone),
                span_words(week.freedom),
                week.rooms,
                week.treats,
            )
            for week in review.ahead.weeks
        ),
        (1, 3, 4),
    )


def questions_table(review: Review) -> Table:
    """Return everything that was looked at for a pattern."""
    return Table(
        "What was looked at for a pattern",
        ("about", "of", "test", "entries", "chance", "all allowed for", "stated"),
        tuple(
            (
                one.code,
                one.subject or "all",
                one.test,
                str(one.of),
                "too few" if one.chance is None else f"{one.chance:.3f}",
                "" if one.bound is None else f"{one.bound:.3f}",
                "yes" if one.stated else "no",
            )
            for one in review.patterns.questions
        ),
        (3, 4, 5),
    )


def routine_table(review: Review) -> Table:
    """Return when each time of the routine was, beside its plan."""

    def clock(minute: float | None) -> str:
        return "" if minute is None else minute_words(minute)

    return Table(
        "How regular the times were",
        ("time", "days", "planned", "on average", "give or take"),
        tuple(
            (
                one.words,
                str(one.days),
                clock(one.planned),
                clock(one.mean),
                span_words(one.spread),
            )
            for one in review.patterns.routine
        ),
        (1,),
    )


def regularity_table(review: Review) -> Table:
    """Return the figures of clock times for each time of the routine."""

    def limits(one: RoutineTime) -> str:
        return "none" if one.limits is None else " to ".join(map(minute_words, one.limits))

    return Table(
        "The clock times of the routine",
        ("time", "days", "mean", "95% limits of the mean", "regularity, 0 to 1"),
        tuple(
            (one.words, str(one.days), minute_words(one.mean), limits(one), f"{one.r:.2f}")
            for one in review.patterns.routine
        ),
        (1, 4),
    )


def signs_table(review: Review) -> Table:
    """Return which signs came before a success or an accident."""

    def lead(minutes: tuple[float, float, float] | None) -> str:
        return "" if minutes is None else span_words(minutes[1])

    return Table(
        "The signals, and what followed",
        ("signal", "shown", "before a success", "minutes ahead", "before an accident",
         "minutes ahead"),
        tuple(
            (
                one.sign or "not said",
                str(one.shown),
                str(one.before_success),
                lead(one.lead_success),
                str(one.before_accident),
                lead(one.lead_accident),
            )
            for one in review.patterns.signs
        ),
        (1, 2, 4),
    )  # fmt: skip


_COUNTED: tuple[tuple[str, Callable[[Tally], str]], ...] = (
    ("days", lambda tally: str(tally.days)),
    ("clear days", lambda tally: str(tally.clear)),
    ("days with an accident", lambda tally: str(tally.mishaps)),
    ("unknown days", lambda tally: str(tally.unknown)),
    ("outings", lambda tally: str(tally.outings)),
    ("outings that brought something", lambda tally: str(tally.fruitful)),
    ("outings over 15 min late by the rule", lambda tally: str(tally.tardy)),
    ("on the pad", lambda tally: str(tally.pad)),
    ("accidents", lambda tally: str(tally.accidents)),
    ("accidents seen", lambda tally: str(tally.seen)),
    ("accidents found", lambda tally: str(tally.found)),
    ("accidents maybe of another dog", lambda tally: str(tally.unsure)),
    ("accidents after a late break", lambda tally: str(tally.late)),
    ("accidents by night", lambda tally: str(tally.by_night)),
    ("nights", lambda tally: str(tally.nights)),
    ("dry nights", lambda tally: str(tally.dry)),
    ("longest wait by day", lambda tally: span_words(tally.longest_hold)),
    ("meals", lambda tally: str(tally.meals)),
    ("times alone", lambda tally: str(tally.absences)),
    ("longest time alone", lambda tally: span_words(tally.longest_alone)),
    ("visits", lambda tally: str(tally.visits)),
)


def numbers_table(review: Review) -> Table:
    """Return everything counted, beside the same number of days before where the log has them."""
    now, before = review.numbers, review.before
    heads = [date_words(now.first, now.last)]
    if before is not None:
        heads.insert(0, date_words(before.first, before.last))

    def cells(of: Callable[[Tally], str]) -> Iterator[str]:
        if before is not None:
            yield of(before)
        yield of(now)

    return Table(
        "Everything counted" + (", beside the days before" if before else ""),
        ("what", *heads),
        tuple((name, *cells(of)) for name, of in _COUNTED),
        (1, 2) if before else (1,),
    )
