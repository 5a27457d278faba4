"""The situation as plain text: a page, one line, or a day from its morning to its end.

Nothing here computes; every text is the wording of a ``Situation``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from pottyboard.core.accidents.accident_views import PadPlan
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.health.health_views import GRAVE, LEVEL_WORDS, Warning
from pottyboard.core.model import figures
from pottyboard.core.model.describe import MEASURE_WORDS, describe
from pottyboard.core.model.events import CLOCK_WORDS
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.in_short import awaited
from pottyboard.core.view.situation import Change, Job, Situation, Slot
from pottyboard.core.written.numbers import PhoneNumber, listed

_INDENT: Final = "  "
_MOST_NUMBERS: Final = 1000
"""Letters of the numbers to call: none is cut off."""


# --- Now ------------------------------------------------------------------------------------------


def now_line(situation: Situation) -> str:
    """Return the next break in one line, for a status bar or a glance.

    The gravest warning that nobody has noted yet comes before it.
    """
    name = printable(situation.settings.called)
    reason = printable(situation.next_break.reasons[0].words)
    level = next((w.level for w in situation.warnings if w.noted is None), None)
    warned = f"{LEVEL_WORDS[level]}; " if level else ""
    return f"{name}: {warned}{situation.next_break.state}, {break_words(situation)}: {reason}"


def break_words(situation: Situation) -> str:
    """Return when the next break is, such as ``break 12:05, in 1 h 05``.

    For a lone dog it is the visit or the return that it waits for.
    """
    due = situation.next_break
    at = f"{awaited(situation)} {situation.settings.clock(due.at)}"
    if due.minutes > 0:
        return f"{at}, in {span_words(due.minutes)}"
    if due.minutes == 0:
        return f"{at}, now"
    return f"{at}, {span_words(due.minutes)} ago"


def now_text(situation: Situation) -> str:
    """Return the situation as a page: the next break and why, warnings, times since, jobs."""
    lines = [_title(situation, with_clock=True), ""]
    numbers = situation.settings.home.numbers
    first = [w for w in situation.warnings if w.level == "now" and w.noted is None]
    if first:  # a phone call comes before any break
        lines += [*warning_lines(first, numbers), ""]
    lines += _next_break(situation)
    lines += [f"{_INDENT}! {printable(words)}" for words in situation.advice]
    lines += [f"{_INDENT}{printable(situation.reminder)}"] if situation.reminder else []
    if situation.pad:
        lines += pad_lines(situation.pad)
    if others := [w for w in situation.warnings if w not in first]:
        lines += ["", "Warnings:"]
        lines += [f"{_INDENT}{line}" for line in warning_lines(others, numbers)]
    lines += ["", *_where_things_stand(situation)]
    if situation.open_jobs:
        lines += ["", "To do:"]
        lines += [f"{_INDENT}{line}" for job in situation.open_jobs for line in _job(job)]
    return "\n".join(lines)


def _job(job: Job) -> Iterator[str]:
    """Yield an open job, and what answers it where that is a change of the routine."""
    yield f"[ ] {printable(job.words)}"
    for measure in job.measures:
        yield f"{_INDENT * 2}{MEASURE_WORDS[measure]}: pottyboard log routine --measure {measure}"


def warning_lines(
    warnings: Iterable[Warning], numbers: Sequence[PhoneNumber] = ()
) -> Iterator[str]:
    """Yield what each warning says to do and what raised it; a noted one keeps to one line.

    Where it says to call, whom of ``numbers``.
    """
    for warning in warnings:
        if warning.noted is not None:
            note = f" ({printable(warning.noted)})" if warning.noted else ""
            yield f"- noted{note}: {printable(warning.because)}"
            continue
        yield f"! {warning.words}"
        yield from call_lines(warning, numbers)
        yield f"{_INDENT}{printable(warning.because)}"


def call_lines(warning: Warning, numbers: Sequence[PhoneNumber]) -> Iterator[str]:
    """Yield whom of ``numbers`` to call about a warning, if it is one to call about."""
    if warning.level in GRAVE and numbers:
        yield f"{_INDENT}Call: {printable(listed(numbers, vets=True), _MOST_NUMBERS)}"


def pad_lines(pad: PadPlan) -> Iterator[str]:
    """Yield what to do about the pad today, and why it is no more than a stop-gap, wrapped."""
    from textwrap import wrap  # most homes have no pad

    for words in (f"Pad: {pad.words}.", f"{pad.caution}."):
        shown = printable(words, 400)
        yield from wrap(shown, 80, initial_indent=_INDENT, subsequent_indent=_INDENT * 2)


def _title(situation: Situation, *, with_clock: bool = False) -> str:
    day = f"day {situation.day}"
    if situation.day <= figures.PROGRAMME_DAYS:
        day += f" of {figures.PROGRAMME_DAYS:g}"
    title = f"{printable(situation.settings.called)}, {day}, {situation.date:%a %Y-%m-%d}"
    return f"{title}, {situation.settings.clock(situation.now)}" if with_clock else title


def _next_break(situation: Situation) -> Iterator[str]:
    words = break_words(situation)
    yield f"{situation.next_break.state.upper()}: {words}"
    for reason in situation.next_break.reasons:
        yield f"{_INDENT}- {printable(reason.words)}"
    if situation.then:
        yield f"{_INDENT}{printable(situation.then)}"
    yield f"{_INDENT}({printable(situation.confidence)})"


def _where_things_stand(situation: Situation) -> Iterator[str]:
    ago = situation.since
    yield "Since the last: " + ", ".join(
        f"{words} {'-' if (minutes := ago[key]) is None else span_words(minutes)}"
        for key, words in CLOCK_WORDS.items()
    )
    interval = situation.interval
    longest = "the longest" if interval.at_top else f"{span_words(interval.top)} is the longest"
    every = f"every {span_words(interval.minutes)}; {longest} in these two weeks"
    yield f"A break {every}. {printable(_changed(situation))}"
    if interval.missing:
        yield f"{_INDENT}next step needs: {', and '.join(interval.missing)}"
    yield f"In a row: {count_words(situation.streak_days, 'clear day')}"
    if situation.asleep:
        yield f"Asleep: {situation.asleep}"
    if situation.alone_since is not None:
        yield f"Alone since: {situation.settings.clock(situation.alone_since)}"
    if situation.on_duty:
        yield f"On duty: {printable(situation.on_duty)}"


def _changed(situation: Situation) -> str:
    change = situation.interval.last_change
    if change.cause == "start":
        return change.words
    wall = change.at.astimezone(situation.settings.zone)
    return f"{wall:%a %H:%M}: {change.words}"


# --- A day ----------------------------------------------------------------------------------------


def day_text(situation: Situation) -> str:
    """Return the day that ``situation.date`` names: verdict, interval, then its rows.

    Each row has the time that it happened, the time that it was planned for, and the status.
    """
    settings = situation.settings
    summary = _summary(situation)
    verdict = f": {summary.verdict}, {summary.words}" if summary else ""
    lines = [_title(situation) + verdict]
    lines.append(f"A break every {span_words(situation.interval.minutes)}")
    lines += [f"{_INDENT}{_change_words(change, settings)}" for change in _changes_on(situation)]
    lines += ["", f"{_INDENT}time   plan   status   what"]
    past = True
    for slot in situation.timeline:
        if past and slot.status in ("due", "planned"):
            past = False
            lines.append(f"{_INDENT}{settings.clock(situation.now)}  -- now --")
        lines.append(_row(slot, settings))
    return "\n".join(lines)


def _summary(situation: Situation) -> DaySummary | None:
    return next((day for day in situation.days if day.date == situation.date), None)


def _changes_on(situation: Situation) -> Iterator[Change]:
    for change in situation.interval.changes:
        if change.at.astimezone(situation.settings.zone).date() == situation.date:
            yield change


def _change_words(change: Change, settings: Settings) -> str:
    return f"{settings.clock(change.at)}  {printable(change.words)}"


def _row(slot: Slot, settings: Settings) -> str:
    happened = settings.clock(slot.event.at) if slot.event else ""
    planned = settings.clock(slot.planned) if slot.planned else ""
    what = describe(slot.event, settings, whole=True) if slot.event else _planned_words(slot)
    named = slot.event.row.words if slot.event else what
    if slot.words and printable(slot.words) != named:
        what += f" ({printable(slot.words)})"
    return f"{_INDENT}{happened:5}  {planned:5}  {slot.status:7}  {what}".rstrip()


def _planned_words(slot: Slot) -> str:
    """Return what a row without an entry is; a visit names who comes."""
    return printable(slot.words) if slot.kind == "visit" else slot.kind
