"""The answers about the alarm: quiet hours, and the program that shows a notice."""

from __future__ import annotations

from datetime import UTC, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.alarms import (
    NOTICES,
    Alarms,
    alarm_answers,
    read_notifier,
    read_quiet,
)
from pottyboard.core.model.questions import BY_KEY, answers_from, settings_from


@pytest.mark.parametrize(
    ("answer", "span"),
    [
        ("22:30-07:00", (time(22, 30), time(7, 0))),
        (" 13:00 – 14:30 ", (time(13, 0), time(14, 30))),
        ("10:30 pm to 7am", (time(22, 30), time(7, 0))),
        ("22 until 6.30", (time(22, 0), time(6, 30))),
        ("", None),
        ("none", None),
    ],
)
def test_quiet_hours_are_read(answer: str, span: tuple[time, time] | None) -> None:
    assert read_quiet(answer) == span


@pytest.mark.parametrize("answer", ["22:30", "night", "22:30-", "22:30-25:00", "07:00-07:00"])
def test_what_is_no_span_is_refused(answer: str) -> None:
    with pytest.raises(ValueError, match=r"22:30-07:00|clock time|They end"):
        read_quiet(answer)


@pytest.mark.parametrize(
    ("quiet", "clock", "is_quiet"),
    [
        ("22:30-07:00", time(22, 29), False),
        ("22:30-07:00", time(22, 30), True),
        ("22:30-07:00", time(0, 0), True),
        ("22:30-07:00", time(6, 59), True),
        ("22:30-07:00", time(7, 0), False),
        ("13:00-14:00", time(13, 0), True),
        ("13:00-14:00", time(14, 0), False),
        ("", time(3, 0), False),
    ],
)
def test_the_end_is_no_longer_quiet(quiet: str, clock: time, is_quiet: bool) -> None:
    assert Alarms(quiet=read_quiet(quiet)).is_quiet(clock) is is_quiet


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        ("", ()),
        ("none", ()),
        ("show", ("show",)),
        ("show -u 'very critical'", ("show", "-u", "very critical")),
        ("/opt/my\\ tools/show $HOME `id`", ("/opt/my tools/show", "$HOME", "`id`")),
    ],
)
def test_a_program_is_read_word_by_word(answer: str, words: tuple[str, ...]) -> None:
    assert read_notifier(answer) == words


@pytest.mark.parametrize("answer", ["-rf", "show 'open", "''", "show\nmore", "x" * 301, "a " * 21])
def test_what_is_no_program_is_refused(answer: str) -> None:
    with pytest.raises(ValueError, match=r"Write the program's name|A quote"):
        read_notifier(answer)


@given(
    st.builds(
        Alarms,
        bell=st.booleans(),
        notice=st.sampled_from(NOTICES),
        title=st.booleans(),
        notifier=st.lists(st.text("abz' \"$\\", max_size=6), max_size=3).map(
            lambda words: ("show", *words)
        ),
        again=st.booleans(),
        quiet=st.none() | st.just((time(22, 30), time(7, 0))),
    )
)
def test_what_is_written_is_read_back(alarms: Alarms) -> None:
    answers = alarm_answers(alarms)
    assert Alarms(**{key: BY_KEY[key].read(answer) for key, answer in answers.items()}) == alarms


@pytest.mark.parametrize(
    ("answers", "notice"),
    [
        ({}, "auto"),
        ({"bell": "yes"}, "auto"),
        ({"bell": "no"}, "no"),  # silence was asked for before there were notices
        ({"bell": "no", "notice": "auto"}, "auto"),
        ({"bell": "no", "notice": "osc9"}, "osc9"),
    ],
)
def test_who_has_switched_the_bell_off_gets_no_notice_unasked(
    answers: dict[str, str], notice: str
) -> None:
    now = datetime(2026, 3, 2, 11, tzinfo=UTC)
    needed = {"name": "Bramble", "weight": "8", "zone": "UTC", "arrived": "2026-03-02 09:00"}
    settings = settings_from({**needed, **answers}, now)
    assert settings.board.alarms.notice == notice
    assert answers_from(settings)["notice"] == notice
