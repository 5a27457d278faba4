"""The time awake: nights, naps, absences and the change of duty cut it into pieces."""

from __future__ import annotations

import pytest

from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.patterns.exposure import Piece, TimeAtRisk, minute_of_day, time_at_risk
from tests.core.diary import Diary, diary

DAY_1 = (
    diary()
    .at("06:30", "up")
    .at("06:40", "duty", by="Ada")
    .all_at("07:00 meal", "09:00 left", "11:00 back", "13:00 settled", "14:00 up")
    .at("15:00", "duty", by="Bo")
    .all_at("17:30 meal", "22:20 pee", "22:40 settled")
)
TWO_DAYS = DAY_1.on(2).all_at("06:30 up", "06:35 pee", "08:00 pee")


def awake(page: Diary, clock: str, first: int = 1, last: int = 2) -> TimeAtRisk:
    days = page.days(clock)
    near = range(first - 1, min(last, len(days)))
    return time_at_risk(days, near, minutes_of(page.instant(clock)), page.settings.zone)


def pieces(found: TimeAtRisk, page: Diary) -> list[tuple[str, str, str, bool]]:
    zone = page.settings.zone

    def clock(t: float) -> str:
        minute = minute_of_day(t, zone)
        return f"{int(minute) // 60:02}:{int(minute) % 60:02}"

    return [(clock(one.start), clock(one.end), one.who, one.alone) for one in found.pieces]


def test_a_day_is_cut_where_something_changes() -> None:
    assert pieces(awake(TWO_DAYS, "08:00", last=1), TWO_DAYS) == [
        ("06:30", "06:40", "", False),
        ("06:40", "09:00", "Ada", False),
        ("09:00", "11:00", "Ada", True),
        ("11:00", "13:00", "Ada", False),
        ("14:00", "15:00", "Ada", False),
        ("15:00", "22:40", "Bo", False),
    ]


def test_today_ends_now_and_knows_yesterdays_duty() -> None:
    assert pieces(awake(TWO_DAYS, "08:00", first=2), TWO_DAYS) == [("06:30", "08:00", "Bo", False)]


def test_the_minutes_add_up() -> None:
    found = awake(TWO_DAYS, "08:00")
    assert found.minutes == 16 * 60 + 10 - 60 + 90
    assert found.alone == 120
    assert found.by_person == {"Ada": 6 * 60 + 20 + 60, "Bo": 7 * 60 + 40 + 90}
    assert found.in_company.minutes == found.minutes - 120


def test_a_day_without_an_entry_tells_nothing() -> None:
    page = TWO_DAYS.on(4).all_at("06:30 up", "07:00 pee")
    assert awake(page, "08:00", first=3, last=3).pieces == ()
    # The first day, the second up to its planned bedtime, and the beginning of the fourth.
    assert awake(page, "08:00", last=4).minutes == 910 + 16 * 60 + 90


@pytest.mark.parametrize(
    ("clock", "who"), [("06:35", ""), ("06:40", "Ada"), ("12:59", "Ada"), ("15:00", "Bo")]
)
def test_who_had_charge_at_an_instant(clock: str, who: str) -> None:
    piece = awake(TWO_DAYS, "08:00").at(minutes_of(DAY_1.instant(clock)))
    assert piece is not None
    assert piece.who == who


@pytest.mark.parametrize("clock", ["06:29", "13:30", "23:30"])
def test_nobody_had_charge_of_a_dog_asleep(clock: str) -> None:
    assert awake(TWO_DAYS, "08:00").at(minutes_of(DAY_1.instant(clock))) is None


def test_what_touches_a_time() -> None:
    found = awake(TWO_DAYS, "08:00")
    first, last = (minutes_of(DAY_1.instant(clock)) for clock in ("12:30", "14:30"))
    assert [piece.who for piece in found.between(first, last)] == ["Ada", "Ada"]


# --- The clock of the time awake ------------------------------------------------------------------


def test_the_circle_has_no_room_for_sleep() -> None:
    found = awake(TWO_DAYS, "08:00", last=1)
    assert found.angle(13 * 60) == pytest.approx(found.angle(14 * 60))
    assert found.angle(22 * 60 + 40) == pytest.approx(found.angle(23 * 60 + 59))
    assert found.share(9 * 60, 11 * 60) == pytest.approx(120 / found.minutes)
    assert found.share(22 * 60, 7 * 60) == pytest.approx(70 / found.minutes)


def test_an_hour_that_passes_midnight_is_in_two_places() -> None:
    page = diary(bed="23:30").all_at("06:30 up", "22:00 pee").at("23:50", "pee")
    zone = page.settings.zone
    late = minutes_of(page.instant("23:30"))
    found = TimeAtRisk((Piece(late, late + 60, "", False),), zone)
    assert found.share(23 * 60 + 30, 0) == pytest.approx(0.5)
    assert found.share(0, 30) == pytest.approx(0.5)


def test_nothing_is_no_circle() -> None:
    found = TimeAtRisk((), diary().settings.zone)
    assert (found.minutes, found.angle(600), found.by_person) == (0, 0, {})
