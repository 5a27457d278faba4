"""A sample log copied for a demo: moved by whole days, complete, and without what is to come."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import read_when, zone_named
from pottyboard.store import DogLog, Household, StoreError, samples
from pottyboard.store.samples import Demo, copy_sample, read_sample, sample_names

OSLO = zone_named("Europe/Oslo")
WRITTEN = datetime(2026, 3, 4, 21, 0, tzinfo=UTC)


def wall(dog_log: DogLog) -> list[tuple[date, str, str]]:
    """Return each entry as (local date, local clock time, kind)."""
    zone = dog_log.settings.zone
    local = ((event.at.astimezone(zone), event.kind) for event in dog_log.events)
    return [(at.date(), f"{at:%H:%M}", kind) for at, kind in local]


@pytest.fixture
def original(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> DogLog:
    """A sample of three days in Oslo, with a correction and an entry that was deleted."""
    place = tmp_path / "samples"
    monkeypatch.setattr(samples, "_PLACES", (tmp_path / "nowhere", place))
    answers = {
        "name": "Tilly",
        "weight": "6",
        "arrived": "2026-03-02 09:00",
        "zone": "Europe/Oslo",
        "people": "Ana, Ben",
        "workdays": "mon-fri",
        "absent-from": "1",
        "exceptions": "2026-03-05 home",
    }
    dog_log = Household(place).create(answers, WRITTEN)

    def log(when: str, kind: str, **details: object) -> Event:
        at = read_when(when, WRITTEN, OSLO)
        event = Event(kind, at, logged=at + timedelta(minutes=1), **details)  # type: ignore[arg-type]
        return dog_log.add(event, at + timedelta(minutes=1))

    log("2026-03-02 10:05", "pee")
    found = read_when("2026-03-02 14:00", WRITTEN, OSLO)
    log("2026-03-02 14:30", "pee-inside", found=True, dry=found)
    log("2026-03-03 07:00", "meal")
    log("2026-03-04 06:40", "both")
    wrong = log("2026-03-04 09:10", "poop")
    dog_log.edit(wrong.id, {"kind": "pee"}, wrong.at + timedelta(minutes=5))
    log("2026-03-04 16:20", "pee")
    late = log("2026-03-04 20:00", "water")
    dog_log.delete(late.id, late.at + timedelta(minutes=2))
    log("2026-03-04 21:50", "pee")
    return dog_log


def copied(home: Path, now: datetime, zone: str = "Europe/Oslo") -> Demo:
    """Copy the only sample."""
    return copy_sample(read_sample(None), home, now, zone)


def test_the_last_day_is_today_and_clock_times_stay(original: DogLog, tmp_path: Path) -> None:
    evening = datetime(2027, 8, 9, 20, 5, tzinfo=UTC)
    demo = copied(tmp_path / "home", evening)
    assert demo.opens_at == evening
    moved = wall(demo.dog_log)
    assert [(clock, kind) for _, clock, kind in moved] == [
        (clock, kind) for _, clock, kind in wall(original)
    ]
    assert [day.isoformat() for day, _, _ in moved] == [
        *("2027-08-07", "2027-08-07", "2027-08-08"),
        *("2027-08-09", "2027-08-09", "2027-08-09", "2027-08-09"),
    ]
    settings = demo.dog_log.settings
    assert settings.first_date == date(2027, 8, 7)
    assert f"{settings.dog.arrived.astimezone(OSLO):%H:%M}" == "09:00"
    assert settings.home.other_days[0].first == date(2027, 8, 10)


def test_every_instant_of_an_entry_moves(original: DogLog, tmp_path: Path) -> None:
    demo = copied(tmp_path / "home", datetime(2027, 8, 9, 20, 5, tzinfo=UTC))
    accident = next(event for event in demo.dog_log.events if event.kind == "pee-inside")
    assert accident.dry is not None
    assert accident.logged is not None
    assert accident.at - accident.dry == timedelta(minutes=30)
    assert accident.logged - accident.at == timedelta(minutes=1)


def test_working_days_move_along_with_the_log(original: DogLog, tmp_path: Path) -> None:
    evening = datetime(2026, 3, 5, 20, 55, tzinfo=UTC)
    demo = copied(tmp_path / "home", evening)
    assert original.settings.home.work is not None
    assert demo.dog_log.settings.home.work is not None
    assert original.settings.home.work.days == {1, 2, 3, 4, 5}
    assert demo.dog_log.settings.home.work.days == {2, 3, 4, 5, 6}


@pytest.mark.parametrize("zone", ["America/Denver", "Asia/Kathmandu", "Pacific/Auckland", "UTC"])
def test_the_clock_is_that_of_whoever_looks(original: DogLog, tmp_path: Path, zone: str) -> None:
    evening = datetime(2026, 7, 1, 22, 0, tzinfo=zone_named(zone)).astimezone(UTC)
    demo = copied(tmp_path / "home", evening, zone)
    assert demo.dog_log.settings.home.zone == zone
    assert [row[1:] for row in wall(demo.dog_log)] == [row[1:] for row in wall(original)]
    assert wall(demo.dog_log)[-1][0] == date(2026, 7, 1)
    assert {event.zone for event in demo.dog_log.events} == {zone}


def test_what_is_still_to_come_is_left_out(original: DogLog, tmp_path: Path) -> None:
    noon = datetime(2026, 7, 1, 10, 0, tzinfo=UTC)
    demo = copied(tmp_path / "home", noon)
    assert demo.opens_at == noon
    assert wall(demo.dog_log)[-1][1:] == ("09:10", "pee")
    assert all(event.at <= noon for event in demo.dog_log.events)
    assert not demo.dog_log.notices


@pytest.mark.parametrize("hour", [0, 4, 23])
def test_outside_the_hours_of_the_log_it_opens_in_the_afternoon(
    original: DogLog, tmp_path: Path, hour: int
) -> None:
    now = datetime(2026, 7, 1, hour, 0, tzinfo=OSLO).astimezone(UTC)
    demo = copied(tmp_path / "home", now)
    assert demo.opens_at == datetime(2026, 7, 1, 16, 25, tzinfo=OSLO)
    assert wall(demo.dog_log)[-1] == (date(2026, 7, 1), "16:20", "pee")


def test_a_copied_log_can_be_undone_and_continued(original: DogLog, tmp_path: Path) -> None:
    demo = copied(tmp_path / "home", datetime(2026, 7, 1, 20, 5, tzinfo=UTC))
    dog_log, now = demo.dog_log, demo.opens_at
    dog_log.add(Event("pee", now), now)
    assert dog_log.undo(now).words.startswith("Taken back: pee")
    assert dog_log.undo(now).words.startswith("Taken back: pee 21:50, logged")
    assert dog_log.undo(now).words.startswith("Back again: long drink 20:00, deleted")
    assert dog_log.undo(now).action == "add"
    assert dog_log.undo(now).action == "add"
    assert dog_log.undo(now).words.startswith("Correction taken back: poop 09:10 again, corrected")


def test_the_original_is_not_touched(original: DogLog, tmp_path: Path) -> None:
    before = {path: path.read_bytes() for path in original.folder.rglob("*") if path.is_file()}
    demo = copied(tmp_path / "home", datetime(2026, 7, 1, 20, 5, tzinfo=UTC))
    demo.dog_log.add(Event("pee", demo.opens_at), demo.opens_at)
    after = {path: path.read_bytes() for path in original.folder.rglob("*") if path.is_file()}
    assert after == before


def test_names_and_unknown_names(original: DogLog, tmp_path: Path) -> None:
    assert sample_names() == ("tilly",)
    with pytest.raises(StoreError, match=r"No sample “nobody”\. There is: tilly\."):
        read_sample("nobody")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(samples, "_PLACES", (tmp_path / "nowhere",))
        assert sample_names() == ()
        with pytest.raises(StoreError, match="missing"):
            read_sample(None)


def test_a_sample_opens_many_years_after_it_was_written(tmp_path: Path) -> None:
    later = datetime(2039, 6, 1, 15, 0, tzinfo=UTC)
    assert copy_sample(read_sample(None), tmp_path, later, "Europe/Oslo").dog_log.events
