"""The sample logs: they open without a word, are rich, and tell the stories they should."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import sys
from collections import Counter
from datetime import datetime, timedelta
from pathlib import Path
from types import ModuleType

import pytest

from pottyboard.core.model.events import ANSWERS, KINDS, SIGNS, Event
from pottyboard.core.view.situation import Situation, situation
from pottyboard.store import DogLog
from tests.core.coherence import who_calls

ROOT = Path(__file__).parent.parent
SAMPLES = ROOT / "sample_logs"
GENERATOR = ROOT / ".bench" / "sample_logs.py"
NAMES = ("fern", "odin", "wren")


@pytest.fixture(scope="module")
def dog_logs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, DogLog]:
    """The samples, copied so that reading them can leave nothing behind."""
    copy = tmp_path_factory.mktemp("samples")
    shutil.copytree(SAMPLES, copy, dirs_exist_ok=True)
    for folder in (copy, *(path for path in copy.rglob("*") if path.is_dir())):
        folder.chmod(0o700)  # as a household's own folders are
    return {name: DogLog(copy / name) for name in NAMES}


def at_the_end(dog_log: DogLog) -> Situation:
    return situation(dog_log.settings, dog_log.events, last_typed(dog_log) + timedelta(minutes=1))


def last_typed(dog_log: DogLog) -> datetime:
    return max(event.logged for event in dog_log.events if event.logged)


def by_day(dog_log: DogLog) -> dict[int, list[Event]]:
    settings = dog_log.settings
    days: dict[int, list[Event]] = {}
    for event in dog_log.events:
        number = settings.day_number(event.at.astimezone(settings.zone).date())
        days.setdefault(number, []).append(event)
    return days


def accidents(dog_log: DogLog, first: int, last: int) -> list[Event]:
    days = by_day(dog_log)
    return [
        event
        for number in range(first, last + 1)
        for event in days.get(number, ())
        if event.row.is_accident
    ]


def trail(name: str) -> list[dict[str, str]]:
    files = sorted((SAMPLES / name).glob("events-*.json"))
    return [note for file in files for note in json.loads(file.read_text())["trail"].values()]


# --- The files ------------------------------------------------------------------------------------


def test_there_is_nothing_but_settings_and_events() -> None:
    assert sorted(path.name for path in SAMPLES.iterdir()) == list(NAMES)
    for path in SAMPLES.glob("*/*"):
        assert path.name == "settings.json" or path.match("events-????-??.json")
        assert path.stat().st_size < 2**20


@pytest.mark.parametrize("name", NAMES)
def test_it_opens_without_notices(name: str, dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs[name]
    assert dog_log.events
    assert dog_log.notices == ()
    assert not dog_log.read_only


def test_the_generator_writes_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)  # a thousand changes to disk
    load_generator(monkeypatch).write_samples(tmp_path)
    assert contents(tmp_path) == contents(SAMPLES)


def load_generator(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    monkeypatch.syspath_prepend(str(GENERATOR.parent))
    spec = importlib.util.spec_from_file_location("sample_logs", GENERATOR)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "sample_logs", module)
    spec.loader.exec_module(module)
    return module


def contents(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


# --- One truth on every page ----------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_the_evening_and_the_hold_agree_on_who_calls(
    name: str, dog_logs: dict[str, DogLog]
) -> None:
    """Source: our own rule, a screen never contradicts another."""
    dog_log, step = dog_logs[name], timedelta(hours=9, minutes=35)
    settings, now, said = dog_log.settings, dog_log.settings.dog.arrived, set[str]()
    while (now := now + step) < last_typed(dog_log) + step:
        faults = who_calls(settings, dog_log.events, now)
        said |= {f"{settings.clock(now)}: {fault}" for fault in faults}
    assert said == set()


# --- Rich, and honest about time ------------------------------------------------------------------


@pytest.mark.parametrize(("name", "days"), [("fern", 14), ("odin", 13)])
def test_a_full_day_has_30_to_45_entries(name: str, days: int, dog_logs: dict[str, DogLog]) -> None:
    counts = {number: len(events) for number, events in by_day(dog_logs[name]).items()}
    assert sorted(counts) == list(range(1, days + 1))
    assert {n: c for n, c in counts.items() if 1 < n < days and not 30 <= c <= 45} == {}


def test_every_kind_and_every_sign_occurs(dog_logs: dict[str, DogLog]) -> None:
    events = [event for dog_log in dog_logs.values() for event in dog_log.events]
    assert {event.kind for event in events} == set(KINDS) - {
        *("round", "told", "called-off", "left-so"),
        *ANSWERS,
    }, "a story is one round, without agreements"
    assert {event.sign for event in events} >= set(SIGNS)
    assert {event.sleep for event in events} >= {"nap", "night"}
    assert {event.cause for event in events} >= {"marking", "greeting", "leak"}
    found = [event for event in events if event.row.is_accident and event.found]
    assert any(event.dry for event in found)
    assert any(event.alone for event in found)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_happens_before_the_arrival_or_after_it_was_typed(
    name: str, dog_logs: dict[str, DogLog]
) -> None:
    dog_log = dog_logs[name]
    for event in dog_log.events:
        assert event.logged is not None
        assert dog_log.settings.dog.arrived <= event.at <= event.logged


@pytest.mark.parametrize("name", ["fern", "odin"])
def test_people_type_late_take_turns_and_correct(name: str, dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs[name]
    late = [e for e in dog_log.events if e.logged and e.logged - e.at > timedelta(minutes=4)]
    assert len(late) >= 8
    assert {event.by for event in dog_log.events} >= set(dog_log.settings.home.people)
    assert {note["action"] for note in trail(name)} == {"edit", "delete", "undo"}


@pytest.mark.parametrize("name", ["fern", "odin"])
def test_every_cleaning_is_about_an_accident(name: str, dog_logs: dict[str, DogLog]) -> None:
    spots = {event.id for event in dog_logs[name].events if event.row.is_accident}
    cleaned = Counter(event.about for event in dog_logs[name].events if event.kind == "cleaned")
    assert cleaned
    assert cleaned.keys() <= spots
    assert set(cleaned.values()) == {1}


@pytest.mark.parametrize("name", NAMES)
def test_nobody_takes_a_sleeping_dog_out(name: str, dog_logs: dict[str, DogLog]) -> None:
    asleep = False
    for event in dog_logs[name].events:
        if event.kind in ("settled", "up"):
            asleep = event.kind == "settled"
        assert not (asleep and event.row.is_outing), event


# --- The stories ----------------------------------------------------------------------------------


def test_fern_has_a_rocky_first_week_and_a_better_second(dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs["fern"]
    first, second = accidents(dog_log, 1, 7), accidents(dog_log, 8, 14)
    assert len(first) >= 6
    assert len(second) < len(first) / 2
    assert {event.kind for event in first} == {"pee-inside", "poop-inside"}
    assert {event.found for event in first} == {True, False}
    shown = at_the_end(dog_log)
    causes = [change.cause for change in shown.interval.changes]
    assert "narrower" in causes
    assert "household" in causes
    assert "wider" in causes[causes.index("narrower") :]


def test_fern_ends_with_a_break_soon_and_a_spot_to_clean(dog_logs: dict[str, DogLog]) -> None:
    shown = at_the_end(dog_logs["fern"])
    assert shown.day == 14
    assert shown.next_break.state in ("soon", "due")
    assert [job.code for job in shown.open_jobs] == ["clean"]


def test_odin_earned_three_hours_step_by_step(dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs["odin"]
    shown = at_the_end(dog_log)
    wider = [change for change in shown.interval.changes if change.cause == "wider"]
    assert len(wider) >= 2
    assert all(change.after - change.before == 30 for change in wider)
    assert shown.interval.minutes >= 180
    assert shown.streak_days >= 3
    assert len(accidents(dog_log, 1, 13)) <= 4


def test_odin_is_left_on_working_days_and_a_helper_visits(dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs["odin"]
    helper = dog_log.settings.home.helpers[0].name
    visits = [event for event in dog_log.events if event.kind == "visit"]
    assert len(visits) >= 6
    assert {event.by for event in visits} == {helper}
    days = by_day(dog_log)
    for visit in visits:
        number = dog_log.settings.day_number(visit.at.astimezone(dog_log.settings.zone).date())
        left = next(event.at for event in days[number] if event.kind == "left")
        back = next(event.at for event in days[number] if event.kind == "back")
        assert left < visit.at < back
        assert max(visit.at - left, back - visit.at) <= timedelta(hours=4)


def test_odin_ends_with_an_estimate_that_knows_him(dog_logs: dict[str, DogLog]) -> None:
    shown = at_the_end(dog_logs["odin"])
    assert shown.day == 13
    assert shown.next_break.minutes > 0
    assert shown.hold.knows
    assert shown.risk is not None
    assert 0.01 <= shown.risk.at_due <= shown.risk.limit + 0.001
    assert shown.risk.curve[-1][1] > 3 * shown.risk.at_due
    assert shown.open_jobs == ()


def test_wren_has_just_arrived(dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs["wren"]
    shown = at_the_end(dog_log)
    assert shown.day == 1
    assert 10 <= len(dog_log.events) <= 15
    assert not shown.hold.knows
    assert shown.next_break.state == "soon"
    assert [job.code for job in shown.open_jobs] == ["vet"]


# --- Warnings -------------------------------------------------------------------------------------


def warned(dog_log: DogLog) -> dict[str, datetime]:
    """Return every warning that the log raises, looked at every six hours, and since when."""
    found: dict[str, datetime] = {}
    at, end = dog_log.settings.dog.arrived, last_typed(dog_log) + timedelta(hours=6)
    while at < end:
        for warning in situation(dog_log.settings, dog_log.events, at, learn=False).warnings:
            found[warning.code] = warning.since
        at += timedelta(hours=6)
    return found


@pytest.mark.parametrize("name", ["odin", "wren"])
def test_a_calm_log_raises_no_warning(name: str, dog_logs: dict[str, DogLog]) -> None:
    assert warned(dog_logs[name]) == {}


def test_fern_was_wet_in_her_sleep_once_and_nothing_else(dog_logs: dict[str, DogLog]) -> None:
    dog_log = dog_logs["fern"]
    (code, since), *others = warned(dog_log).items()
    assert (code, others) == ("wet-bed", [])
    assert dog_log.settings.day_number(since.astimezone(dog_log.settings.zone).date()) == 10
