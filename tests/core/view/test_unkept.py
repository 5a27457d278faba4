"""A dog whose chance of an accident is nearly flat: breaks alone do not keep it dry."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def flat(days: int, mean: float = 40, seed: int = 0) -> Diary:
    """Return the log of a dog with a nearly flat hazard: from 46 min after a pee on, an accident
    comes at any minute alike, ``mean`` minutes later on average. It goes out as the board asks,
    where nobody is late: a break every 45 to 60 minutes."""
    rng, page = Random(seed), Diary(diary().settings, learn=True)
    for day in range(1, days + 1):
        page = page.on(day).all_at("06:30 up", "06:35 pee")
        at, bed = page.instant("06:35"), page.instant("22:30")
        while True:
            out = at + timedelta(minutes=rng.choice((50, 55, 60)))
            wet = at + timedelta(minutes=46 + round(rng.expovariate(1 / mean)))
            if min(out, wet) >= bed:
                break
            kind, at = ("pee-inside", wet) if wet < out else ("pee", out)
            found = False if kind == "pee-inside" else None
            page = Diary(
                page.settings, (*page.entries, Event(kind, at, found=found)), page.date, True
            )
        page = page.all_at("22:30 pee", "22:40 settled")
    return page


def said(page: Diary, clock: str) -> list[str]:
    return [line for line in page.read(clock).advice if line.startswith("Breaks alone")]


def test_it_is_said_after_three_days_in_one_line_with_what_it_takes() -> None:
    page = flat(3)
    assert all(day.accidents for day in page.read("22:20").days)
    (words,) = said(page.on(4).all_at(*MORNING), "07:00")
    assert words.startswith("Breaks alone do not keep Bramble dry (")
    for needed in ("beside you", "a pad as a stop-gap", "ask your vet to rule out illness"):
        assert needed in words
    assert len(words) < 200, "no screen cuts it short"


def test_it_is_not_said_in_the_first_days() -> None:
    assert said(flat(3), "20:00") == []
    assert said(flat(2).on(3).all_at(*MORNING), "12:00") == []


def test_a_day_without_such_an_accident_takes_it_back() -> None:
    page = flat(3).on(4).all_at(*CLEAR_DAY).on(5).all_at(*MORNING)
    assert said(page, "07:00") == []


def test_a_dog_with_an_accident_a_day_and_room_left_is_no_such_dog() -> None:
    page = Diary(diary().settings, learn=True)
    for day in range(1, 4):
        page = page.on(day).all_at(*CLEAR_DAY).at("12:00", "pee-inside", cause="marking")
    assert said(page.on(4).all_at(*MORNING), "07:00") == []
    page = Diary(diary().settings, learn=True)
    for day in range(1, 4):
        page = page.on(day).all_at(*CLEAR_DAY).at("19:40", "pee-inside")
        page = page.at("22:45", "interval", minutes=120)
    assert page.read("22:50").interval.minutes > figures.FLOOR_INTERVAL
    assert said(page.on(4).all_at(*MORNING), "07:00") == []


def test_nobody_is_told_at_night() -> None:
    assert said(flat(3), "23:30") == []
