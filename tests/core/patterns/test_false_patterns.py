"""How often a log with nothing in it shows a pattern: no more often than the level that is stated.

A thousand fortnights are shuffled: each accident comes at any minute awake, in any room, for any
cause, and the days of the routine change places. What is then found is chance alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
from msgspec.structs import replace
from scipy.stats import binom

from pottyboard.core.engine.history import History
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.patterns.exposure import TimeAtRisk, minute_of_day, time_at_risk
from pottyboard.core.patterns.incidents import Incident
from pottyboard.core.patterns.pattern_views import PatternAnswer
from pottyboard.core.patterns.patterns import answered, patterns, questions
from pottyboard.core.patterns.routine_times import TimeKept, times_kept
from tests.core.patterns.fortnights import (
    CAUSES,
    DAYS,
    NOW,
    ROOMS,
    SETTINGS,
    accident,
    any_minute,
    fortnight,
    with_accidents,
)

LOGS = 1000
LEVEL = float(figures.PATTERN_LEVEL)


@pytest.fixture(scope="module")
def fortnights() -> tuple[TimeAtRisk, tuple[TimeKept, ...]]:
    """The time awake and the routine of one fortnight, from its log."""
    now = minutes_of(NOW)
    days = History.of(SETTINGS, fortnight(Random(0)), now, learn=False).days
    near = range(len(days))
    return time_at_risk(days, near, now, SETTINGS.zone), times_kept(SETTINGS, days, near)


def shuffled(awake: TimeAtRisk, random: Random) -> Iterator[Incident]:
    """Yield between 4 and 20 accidents in which nothing is true."""
    lengths = [piece.length for piece in awake.pieces]
    for piece in random.choices(awake.pieces, lengths, k=random.randint(4, 20)):
        t = random.uniform(piece.start, piece.end)
        minute = minute_of_day(t, awake.zone)
        room, cause = random.choice(ROOMS), random.choice(CAUSES)
        if piece.alone:
            yield Incident(t, alone=True, room=room, cause=cause)
        else:
            yield Incident(t, True, False, minute, piece.who, room, cause)


def out_of_order(kept: TimeKept, random: Random) -> TimeKept:
    """Return a time of the routine with its days in any order."""
    minutes = random.sample(kept.minutes, len(kept.minutes))
    dates = (date for date, _ in kept.on)
    return replace(kept, on=tuple(zip(dates, minutes, strict=True)))


@pytest.fixture(scope="module")
def answers(fortnights: tuple[TimeAtRisk, tuple[TimeKept, ...]]) -> list[tuple[PatternAnswer, ...]]:
    """What came of every question in each of the shuffled fortnights."""
    awake, kept = fortnights
    random = Random(20260302)
    return [
        answered(
            questions(
                tuple(shuffled(awake, random)), awake, [out_of_order(one, random) for one in kept]
            )[0]
        )[1]
        for _ in range(LOGS)
    ]


def test_no_more_logs_than_stated_show_a_pattern(answers: list[tuple[PatternAnswer, ...]]) -> None:
    wrong = sum(any(one.stated or _sure(one) for one in log) for log in answers)
    # So many of a thousand would be passed by chance one time in a thousand at the level itself.
    assert wrong <= binom.isf(0.001, LOGS, LEVEL)
    assert wrong / LOGS <= LEVEL
    assert wrong > 0


def _sure(question: PatternAnswer) -> bool:
    """Whether the test itself was passed, though the answer may not be worth a word."""
    return question.bound is not None and question.bound <= LEVEL


def test_without_the_allowance_many_more_would(answers: list[tuple[PatternAnswer, ...]]) -> None:
    bare = sum(any((one.chance or 1.0) <= LEVEL for one in log) for log in answers)
    assert bare / LOGS > 3 * LEVEL


@pytest.mark.parametrize("code", ["clock", "place", "cause", "duty", "alone", "drift"])
def test_every_question_is_put_and_none_alone_is_too_eager(
    code: str, answers: list[tuple[PatternAnswer, ...]]
) -> None:
    put = [one for log in answers for one in log if one.code == code and one.chance is not None]
    assert len(put) > LOGS / 4
    for level in (0.01, 0.05, 0.2):
        share = sum((one.chance or 0.0) <= level for one in put) / len(put)
        assert share <= level + 4 * (level * (1 - level) / len(put)) ** 0.5


def test_whole_logs_do_no_worse() -> None:
    """The same from entries to sentences, on fewer logs."""
    random, logs = Random(7), 60
    base = fortnight(random)
    wrong = 0
    for _ in range(logs):
        accidents = [
            accident(random.randint(1, DAYS), any_minute(random), random)
            for _ in range(random.randint(4, 20))
        ]
        wrong += bool(patterns(SETTINGS, with_accidents(base, accidents), NOW, learn=False).found)
    assert wrong <= binom.isf(0.001, logs, LEVEL)
