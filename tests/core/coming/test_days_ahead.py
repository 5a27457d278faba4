"""What the coming days hold: today from the log, tomorrow as planned, then the routine alone."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from pottyboard.core.coming.days_ahead import Coming, days_ahead
from pottyboard.core.events import Event
from pottyboard.core.model.settings import Settings
from pottyboard.core.questions import settings_from
from pottyboard.core.review.tomorrow import tomorrow
from pottyboard.core.view.situation import situation

NOW = datetime(2026, 3, 4, 11, tzinfo=UTC)
"""Wednesday noon in Oslo, day 3."""
AWAY = {"absent-from": "1", "workdays": "thu-fri", "leave": "08:30", "return": "15:00"}


def household(**answers: str) -> Settings:
    given = {
        "name": "Bramble", "weight": "8", "zone": "Europe/Oslo", "arrived": "2026-03-02 09:00",
        "up": "06:30", "bed": "22:30", "meals": "07:00,17:30",
        **{key.replace("_", "-"): text for key, text in answers.items()},
    }  # fmt: skip
    return settings_from(given, NOW)


def logged() -> list[Event]:
    start = datetime(2026, 3, 2, 8, 10, tzinfo=UTC)
    hours = [start + timedelta(hours=2 * step) for step in range(40)]
    return [Event("pee", at) for at in hours if 6 <= at.hour <= 21 and at < NOW]


def clocks(settings: Settings, coming: tuple[Coming, ...], day: int) -> list[str]:
    return [f"{settings.clock(piece.at)} {piece.kind}" for piece in coming if piece.date.day == day]


def test_today_and_tomorrow_are_what_the_board_has_planned() -> None:
    settings = household()
    coming = days_ahead(settings, logged(), NOW, 2)
    view = situation(settings, logged(), NOW)
    today = [slot for slot in view.timeline if slot.status in ("due", "planned")]
    breaks = [slot.at for slot in today if slot.kind in ("break", "night")]
    ours = [piece for piece in coming if piece.kind in ("break", "last thing", "night")]
    assert [piece.at for piece in ours if piece.basis == "log"] == breaks
    after = tomorrow(settings, logged(), NOW)
    rows = [row.slot.at for row in after.rows if row.slot.kind == "break" and row.change != "gone"]
    assert [piece.at for piece in ours if piece.basis == "plan"] == rows


def test_of_later_days_there_is_the_routine_alone() -> None:
    settings = household()
    coming = days_ahead(settings, logged(), NOW, 4)
    for day in (6, 7):
        assert clocks(settings, coming, day) == [
            "06:30 break", "07:00 meal", "17:30 meal", "22:30 last thing",
        ]  # fmt: skip
        assert {piece.basis for piece in coming if piece.date.day == day} == {"routine"}


def test_what_is_due_already_is_left_to_the_board() -> None:
    settings = household()
    late = NOW + timedelta(hours=3)
    coming = days_ahead(settings, logged(), late, 1)
    assert situation(settings, logged(), late).next_break.state == "late"
    assert all(piece.at > late for piece in coming)


def test_a_day_away_has_its_visits_and_the_breaks_around_it() -> None:
    settings = household(**AWAY, helpers="Mina 9:00-16:00 10 notice 24h")
    coming = days_ahead(settings, logged(), NOW, 3)
    friday = clocks(settings, coming, 6)
    visits = [clock for clock in friday if clock.endswith("visit")]
    assert visits
    assert friday[0] == "06:30 break"
    assert "15:00 break" in friday
    told = [piece.told for piece in coming if piece.kind == "visit"]
    assert not any(told)
    leaving = [piece for piece in coming if piece.words == "before leaving"]
    assert all(piece.in_quiet for piece in leaving)
    # Whoever visits goes out with the dog, and coming home is a break.
    assert not any("nobody home" in piece.words for piece in coming)
    assert "15:00 break" in clocks(settings, coming, 5)


def test_where_nobody_can_visit_the_break_that_nobody_keeps_stands_there() -> None:
    settings = household(**AWAY)
    coming = days_ahead(settings, logged(), NOW, 2)
    assert any(piece.words.startswith("nobody home") for piece in coming)


@pytest.mark.parametrize("hour", [23, 24, 28])
def test_at_night_no_piece_stands_twice_and_all_are_in_order(hour: int) -> None:
    settings, now = household(), datetime(2026, 3, 4, tzinfo=UTC) + timedelta(hours=hour)
    coming = days_ahead(settings, logged(), now, 4)
    found = [(piece.at, piece.kind) for piece in coming]
    assert found == sorted(set(found))


def test_nothing_comes_before_the_dog_does() -> None:
    settings = household(arrived="2026-03-06 15:00")
    coming = days_ahead(settings, (), NOW, 4)
    assert coming
    assert min(piece.at for piece in coming) > settings.dog.arrived


def test_coming_home_is_a_break_though_the_board_had_one_just_before() -> None:
    settings = household(**(AWAY | {"return": "15:50"}), helpers="Mina 9:00-16:00 10 notice 24h")
    rows = [row.slot for row in tomorrow(settings, logged(), NOW).rows if row.change != "gone"]
    assert not any(settings.clock(row.at) == "15:50" for row in rows if row.kind == "break")
    assert "15:50 break" in clocks(settings, days_ahead(settings, logged(), NOW, 2), 5)
