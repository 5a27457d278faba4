"""What the days away say of a gap: each one once, without a visit in its middle, on its own day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from shutil import copytree

import pytest
from msgspec.structs import replace

from pottyboard.core.away.overview import away_situation
from pottyboard.core.away.schedule import AwayDay
from pottyboard.core.model.events import Event
from pottyboard.core.model.settings import Settings
from pottyboard.store import DogLog
from tests.core.made_logs import LOGS, made

SAMPLES = Path(__file__).parents[3] / "sample_logs"
EVERY = timedelta(hours=31)
"""Between two looks: at another time of the day each time."""

AWAY = {
    "long days, nobody to visit": made("d1-5 CLEAR", away="08:00-18:00", away_from=2),
    "a small dog, left early": made("d1-4 CLEAR", away="06:45-15:30", away_from=3, kg=4.5),
    "left, with a walk late": LOGS["left alone, with a walk late"],
}


def contradictions(day: AwayDay, settings: Settings) -> Iterator[str]:
    """Yield what a day says twice, or otherwise than its plan."""
    if day.number != (day.date - settings.first_date).days + 1:
        yield f"{day.date} is called day {day.number}"
    spans = sorted((gap.start, gap.end) for gap in day.shortfalls if gap.cause == "gap")
    for one, two in pairwise(spans):
        if two[0] < one[1]:
            yield f"told twice: {one} and {two}"
    for start, end in spans:
        for visit in day.visits:
            if start < visit.at < end:
                yield f"a visit at {visit.at} lies within {start} to {end}"
    if len({gap.words for gap in day.shortfalls}) < len(day.shortfalls):
        yield f"the same words twice: {[gap.words for gap in day.shortfalls]}"


def faults_of(settings: Settings, events: tuple[Event, ...]) -> list[str]:
    """Return what the days away contradict, looked at from the arrival to the last entry."""
    now: datetime = settings.dog.arrived
    last = max(event.at for event in events)
    found = []
    while now < last:
        for day in away_situation(settings, events, now, days=3).plan.days:
            found += [f"{now}: {fault}" for fault in contradictions(day, settings)]
        now += EVERY
    return found


@pytest.mark.parametrize("name", ["fern", "odin", "wren"])
def test_no_sample_tells_a_gap_twice(tmp_path: Path, name: str) -> None:
    log = DogLog(Path(copytree(SAMPLES / name, tmp_path / name)))
    assert faults_of(log.settings, tuple(log.events)) == []


@pytest.mark.parametrize("name", AWAY)
def test_no_made_log_tells_a_gap_twice(name: str) -> None:
    page = AWAY[name]
    assert faults_of(page.settings, page.entries) == []


def test_of_a_time_away_that_is_over_nothing_is_asked_any_more() -> None:
    """No visit and no earlier return can cover it now; what is still to come is told as before."""
    page = AWAY["long days, nobody to visit"].on(3)
    before, after = (
        away_situation(page.settings, page.entries, page.instant(clock), days=2)
        for clock in ("17:59", "18:00")
    )
    today, tomorrow = before.plan.days
    assert (today.covered, today.over, today.passed) == (False, False, ())
    ended, still = after.plan.days
    assert (ended.covered, ended.over, ended.passed) == (True, True, today.shortfalls)
    assert (ended.lacks, ended.advice, ended.remedies) == ("", "", ())
    assert still.shortfalls == tomorrow.shortfalls
    assert after.plan.words() == "0 visits, 1 day not covered"
    assert after.outlook.clear.days[0].covered
    assert after.outlook.clear.uncovered == before.outlook.clear.uncovered - 1
    assert "0 visits, 1" in after.outlook.clear.words()
    assert after.ladder.first == still.date


def test_the_pad_is_for_what_nobody_covers_on_the_whole_day() -> None:
    page = made("d1-2 CLEAR", away="08:00-18:00", away_from=2).on(3)
    home = replace(page.settings.home, pads=True)
    page = replace(page, settings=replace(page.settings, home=home))
    said = [page.read(clock).pad for clock in ("12:00", "19:00")]
    assert all(pad is not None and "which nobody covers" in pad.words for pad in said)


def test_the_check_finds_what_it_is_for() -> None:
    page = AWAY["long days, nobody to visit"]
    days = away_situation(page.settings, page.entries, page.on(3).instant("07:00"), days=1)
    day = days.plan.days[0]
    assert day.shortfalls, "there is something that could be told twice"
    assert [*contradictions(day, page.settings)] == []
    twice = replace(day, shortfalls=day.shortfalls * 2)
    assert any("twice" in fault for fault in contradictions(twice, page.settings))
    other = replace(day, number=day.number - 1)
    assert any("is called day" in fault for fault in contradictions(other, page.settings))
