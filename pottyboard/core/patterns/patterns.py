"""Patterns: what the log shows, stated only where it carries it, and said how.

Many questions are asked of one log, and the more are asked the more of them chance alone answers.
So each is tested exactly, all are allowed for together (Holm), and a pattern is stated only if
chance would show any at all in no more than one log of twenty. What is only counted (waits,
punctuality, signs, the regularity of the routine) is told as a count.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from itertools import compress

from msgspec import structs

from pottyboard.core.engine.history import History
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words, date_words, minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.patterns.accident_patterns import Asked, accident_questions
from pottyboard.core.patterns.exposure import TimeAtRisk, time_at_risk
from pottyboard.core.patterns.incidents import Incident, incidents
from pottyboard.core.patterns.pattern_views import Pattern, PatternAnswer, Patterns, RoutineTime
from pottyboard.core.patterns.routine_times import (
    TimeKept,
    drift_questions,
    regularity_told,
    times_kept,
)
from pottyboard.core.patterns.signs import sign_tallies, signs_told
from pottyboard.core.patterns.wait_patterns import waits_told
from pottyboard.core.statistics.exact_tests import holm, tarone_testable

__all__ = ["Pattern", "PatternAnswer", "Patterns", "patterns"]


def patterns(
    settings: Settings,
    events: Iterable[Event],
    now: datetime,
    first: date | None = None,
    days: int | None = None,
    *,
    learn: bool = True,
) -> Patterns:
    """Return the patterns of ``days`` local days from ``first`` on, as the log stood at ``now``.

    By default the newest eight weeks; ``first`` alone means from then on, ``days`` alone the newest
    so many. Both are brought within the log, and of more than a year the newest year is looked at.
    Raises ``TimeError`` if ``now`` (aware) has no zone.
    """
    at = minutes_of(now)
    history = History.of(settings, events, at, learn)
    known = history.days
    near = _near([day.plan.date for day in known], first, days)
    awake = time_at_risk(known, near, at, settings.zone)
    told = incidents(known, near, awake)
    kept = times_kept(settings, known, near)
    here = [event for index in near for event in known[index].events]
    asked, routine = questions(told, awake, kept)
    found, answers = answered(asked)
    drifting = {pattern.subject for pattern in found if pattern.code == "drift"}
    tallies = sign_tallies(here)
    ends = known[near[0]].plan.date, known[near[-1]].plan.date
    return Patterns(
        *ends,
        found,
        (
            *waits_told(known, near, here),
            *signs_told(tallies, here),
            *(regularity_told(one, usual) for one, usual in routine),
        ),
        answers,
        tuple(structs.replace(usual, drifts=usual.words in drifting) for _, usual in routine),
        tallies,
        _footnote(answers, told, ends),
    )


def _near(dates: Sequence[date], first: date | None, days: int | None) -> range:
    """Return the days to look at, one at least, as indices of ``dates`` (which has no gaps)."""
    last = len(dates) - 1
    if first is None:
        start = last + 1 - (int(figures.PATTERN_DAYS) if days is None else days)
        end = last
    else:
        start = (first - dates[0]).days
        end = last if days is None else start + days - 1
    start = min(max(start, 0), last)
    stop = max(start, min(end, last)) + 1
    return range(max(start, stop - int(figures.PATTERN_MOST)), stop)


def questions(
    told: Sequence[Incident], awake: TimeAtRisk, kept: Iterable[TimeKept]
) -> tuple[tuple[Asked, ...], tuple[tuple[TimeKept, RoutineTime], ...]]:
    """Return every question that can be put, and how regular each time of the routine was."""
    asked = list(accident_questions(told, awake))
    routine = []
    for one in kept:
        for question, usual in drift_questions(one):
            routine.append((one, usual))
            # The first and the last break go with getting up and bedtime: asked once is enough.
            if one.planned is not None:
                asked.append(question)
    return tuple(asked), tuple(routine)


def answered(asked: Sequence[Asked]) -> tuple[tuple[Pattern, ...], tuple[PatternAnswer, ...]]:
    """Return what is stated, the surest first, and every question with what came of it.

    A question that so few entries could not answer at all is not asked; those that are share the
    level between them.
    """
    level = float(figures.PATTERN_LEVEL)
    asks = tarone_testable([one.least for one in asked], level)
    put = list(compress(asked, asks))
    bounds = dict(zip(map(id, put), holm([one.by_chance for one in put]), strict=True))
    found, answers = [], []
    for one in asked:
        bound = bounds.get(id(one))
        stated = bound is not None and bound <= level and one.matters
        chance = None if bound is None else one.by_chance
        answers.append(
            PatternAnswer(one.code, one.subject, one.test, one.of, chance, bound, stated)
        )
        if stated and bound is not None:
            found.append(one.stated(bound, _sure(bound, len(put))))
    return tuple(sorted(found, key=lambda pattern: pattern.bound or 0.0)), tuple(answers)


def _sure(bound: float, questions: int) -> str:
    """Return how rarely chance alone shows a pattern, in words."""
    logs = next(logs for logs in (10_000, 1000, 500, 200, 100, 50, 20) if bound * logs <= 1 + 1e-9)
    allowed = f", all {questions} questions allowed for" if questions > 1 else ""
    return f"chance alone would show it in at most 1 of {logs:,} logs{allowed}"


def _footnote(
    answers: Sequence[PatternAnswer], told: Sequence[Incident], ends: tuple[date, date]
) -> str:
    """Return in a few sentences what was looked at, how, and what was left out."""
    put = [answer for answer in answers if answer.bound is not None]
    few = len(answers) - len(put)
    words = [
        f"Looked at {date_words(*ends)}: {count_words(len(told), 'accident')} and the times of "
        f"the routine, {count_words(len(answers), 'question')} in all."
    ]
    if few:
        words.append(f"{count_words(few, 'question')} had too few entries to be answered.")
    if put:
        words.append(
            f"{count_words(len(put), 'test')} (exact, or Rayleigh's on the clock), Holm's "
            f"correction: a log with nothing in it shows a pattern in at most "
            f"1 of {1 / figures.PATTERN_LEVEL:.0f} cases."
        )
    unknown = sum(incident.minute is None for incident in told)
    if unknown:
        words.append(
            f"{count_words(unknown, 'accident')} in the night, alone or of unknown hour "
            f"{'counts' if unknown == 1 else 'count'} for no hour."
        )
    return " ".join(words)
