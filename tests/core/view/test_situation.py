"""The situation as one value: what it says, its form as JSON, and its cost."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import pytest

from pottyboard.core.engine.days import Day, DayAtWork
from pottyboard.core.model.localtime import TimeError
from pottyboard.core.view.situation import SCHEMA, as_json, situation
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def busy_morning() -> Diary:
    """Return a third day with a little of everything by 12:00."""
    page = diary(8, vet="done").on(3).all_at(*MORNING, "07:00 meal", "07:15 poop")
    page = page.at("08:30", "pee", by="Mina").at("09:00", "water", ml=120)
    page = page.at("09:50", "nothing").at("10:00", "pee-inside", id="rug", place="rug")
    return page.at("11:00", "duty", by="Otto")


# --- What it says ---------------------------------------------------------------------------------


def test_times_since_the_last_of_each() -> None:
    assert busy_morning().read("12:00").since == {
        "pee": 120, "poop": 285, "meal": 300, "water": 180, "out": 130, "accident": 120,
    }  # fmt: skip


def test_what_never_happened_is_unknown() -> None:
    assert set(diary().read("07:00").since.values()) == {None}


def test_who_is_on_duty() -> None:
    page = busy_morning()
    assert page.read("10:59").on_duty == ""
    assert page.read("11:00").on_duty == "Otto"
    assert page.on(4).read("08:00").on_duty == "Otto"


def test_the_last_entries_newest_first() -> None:
    recent = busy_morning().read("12:00").recent
    assert [event.kind for event in recent[:3]] == ["duty", "pee-inside", "nothing"]
    page = diary()
    for day in range(1, 6):
        page = page.on(day).all_at(*CLEAR_DAY)
    assert len(page.on(6).read("12:00").recent) == 40


def test_alone_since() -> None:
    page = diary().on(3).all_at(*MORNING, "08:00 left")
    seen = page.read("08:10")
    assert seen.alone_since == page.instant("08:00")
    assert page.at("09:00", "back").read("09:01").alone_since is None


@pytest.mark.parametrize(("day", "says"), [(13, False), (14, True), (15, True)])
def test_two_weeks_are_not_house_trained(day: int, says: bool) -> None:
    """Six clean weeks: Ahimsa Rescue Foundation (published)."""
    page = diary().on(day).all_at(*MORNING)
    assert ("6 weeks without an accident" in page.read("07:00").reminder) is says


def test_the_whole_value_is_frozen() -> None:
    seen = busy_morning().read("12:00")
    with pytest.raises(AttributeError, match="immutable"):
        seen.day = 5  # type: ignore[misc]


def test_no_time_without_a_zone() -> None:
    with pytest.raises(TimeError):
        situation(diary().settings, (), datetime(2026, 3, 2, 10, 0))


def test_any_iterable_of_entries_will_do() -> None:
    page = busy_morning()
    expected = page.read("12:00")
    now = page.instant("12:00")
    for entries in (list(page.entries), iter(page.entries), (e for e in page.entries)):
        assert situation(page.settings, entries, now, learn=False) == expected


def test_a_pad_pee_starts_the_hold_and_is_no_accident() -> None:
    page = diary().on(3).all_at(*MORNING).at("08:00", "pee", place="pad")
    seen = page.read("08:01")
    assert page.dues("08:01")["hold"] == "10:00"
    assert seen.days[-1].verdict == "open"
    assert seen.open_jobs[0].code == "vet"


# --- As JSON --------------------------------------------------------------------------------------


def test_the_documented_form() -> None:
    data = as_json(busy_morning().read("12:05"))
    assert data["schema"] == SCHEMA == 1
    assert data["now"] == "2026-03-04T12:05+01:00"
    assert data["day"] == 3
    assert data["next_break"] == {
        "at": "2026-03-04T11:30+01:00",
        "minutes": -35,
        "state": "late",
        "reasons": [
            {
                "reason": "hold",
                "at": "2026-03-04T11:30+01:00",
                "words": "last pee 10:00; a break every 1 h 30",
            }
        ],
    }
    assert data["since_minutes"] == {
        "pee": 125, "poop": 290, "meal": 305, "water": 185, "out": 135, "accident": 125,
    }  # fmt: skip
    assert data["interval_minutes"] == 90
    assert data["streak_days"] == 0
    assert data["open_jobs"] == [
        {
            "job": "clean",
            "words": "clean rug (pee indoors, 10:00): enzyme cleaner, no ammonia",
            "since": "2026-03-04T10:00+01:00",
            "about": "rug",
        }
    ]


def test_the_documented_keys_are_there_from_the_start() -> None:
    data = as_json(diary().read("06:30"))
    assert {
        "schema", "now", "day", "next_break", "since_minutes", "interval_minutes", "streak_days",
        "open_jobs",
    } <= set(data)  # fmt: skip
    assert set(data["next_break"]) >= {"at", "minutes", "state", "reasons"}


def test_it_is_plain_json() -> None:
    data = as_json(busy_morning().read("12:05"))
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_offsets_are_the_home_s() -> None:
    page = diary(zone="America/St_Johns").on(3).all_at(*MORNING)
    assert as_json(page.read("07:00"))["now"].endswith("-03:30")


# --- Cost -----------------------------------------------------------------------------------------


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Return the numbers of the days that are worked out from now on, as they come."""
    numbers: list[int] = []
    plain = DayAtWork.done

    def done(self: Any, *args: Any) -> Day:
        numbers.append(self.plan.number)
        return plain(self, *args)

    monkeypatch.setattr(DayAtWork, "done", done)
    return numbers


def test_an_entry_more_redoes_only_the_last_days(worked_out: list[int]) -> None:
    page = diary()
    for day in range(1, 61):
        page = page.on(day).all_at(*CLEAR_DAY)
    page.read("22:50")
    worked_out.clear()
    page.read("22:50")
    page.read("22:51")
    page.at("22:51", "note").read("22:51")
    page.on(61).at("06:35", "pee").read("06:36")
    # The days that an answer may still touch are looked at, and begun anew only where they changed.
    assert set(worked_out) <= {57, 58, 59, 60, 61}
    assert len(worked_out) <= 20


def test_a_correction_redoes_the_days_from_there_on(worked_out: list[int]) -> None:
    page = diary()
    for day in range(1, 31):
        page = page.on(day).all_at(*CLEAR_DAY)
    page.read("22:50")
    worked_out.clear()
    page.on(20).at("12:00", "pee-inside").on(30).read("22:50")
    assert set(worked_out) <= set(range(17, 31))
    assert set(worked_out) >= set(range(20, 31))


def test_before_the_dog_is_known_it_says_so_first_and_whose_chance_it_goes_by() -> None:
    page = Diary(diary(kg=8).settings, learn=True)
    seen = page.all_at("06:30 up", "06:35 pee").read("07:30")
    assert seen.confidence.startswith("The board does not know Bramble yet, so a break every 2 h")
    assert "; judging by other dogs, over your limit from " in seen.confidence


def test_waits_of_long_ago_are_not_said_never_to_have_been() -> None:
    page = Diary(diary().settings, learn=True)
    for day in range(1, 5):
        page = page.on(day).all_at(*CLEAR_DAY)
    words = page.on(60).all_at(*MORNING).read("07:00").hold.words
    assert "no wait of the last 4 weeks ended outside" in words
    assert "yet" not in words
