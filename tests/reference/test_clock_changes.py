"""Changes of the clocks, against the time-zone database and the rules of RFC 5545.

The instants of 2026 were computed from the IANA time-zone database, release 2025b (its rule for the
United States, second Sunday of March and first Sunday of November at 02:00 since 2007, was read
there). RFC 5545 was read in its section 3.3.5 (local times that occur twice or never) and 3.3.6
(a day is nominal, hours are exact).
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import (
    TimeError,
    at_clock,
    instant_of,
    local,
    read_when,
    zone_named,
)
from pottyboard.core.model.settings import Dog, Home, Settings
from pottyboard.core.view.situation import situation

CHANGES = [
    # zone, epoch seconds, the same in UTC, hours from UTC before and after
    ("America/New_York", 1772953200, "2026-03-08T07:00", -5, -4),
    ("America/New_York", 1793512800, "2026-11-01T06:00", -4, -5),
    ("America/Los_Angeles", 1772964000, "2026-03-08T10:00", -8, -7),
    ("America/Los_Angeles", 1793523600, "2026-11-01T09:00", -7, -8),
    ("Europe/London", 1774746000, "2026-03-29T01:00", 0, 1),
    ("Europe/London", 1792890000, "2026-10-25T01:00", 1, 0),
    ("Europe/Berlin", 1774746000, "2026-03-29T01:00", 1, 2),
    ("Europe/Berlin", 1792890000, "2026-10-25T01:00", 2, 1),
    ("Australia/Sydney", 1775318400, "2026-04-04T16:00", 11, 10),
    ("Australia/Sydney", 1791043200, "2026-10-03T16:00", 10, 11),
]


def offset(zone: str, seconds: float) -> float:
    """Return the hours from UTC at an instant in epoch seconds."""
    shift = local(seconds / 60, zone_named(zone)).utcoffset()
    assert shift is not None
    return shift / timedelta(hours=1)


def wall(zone: str, day: date, clock: str) -> datetime:
    """Return the UTC instant of a local time."""
    return instant_of(at_clock(day, time.fromisoformat(clock), zone_named(zone)))


# --- The time-zone database -----------------------------------------------------------------------


@pytest.mark.parametrize(("zone", "seconds", "instant", "before", "after"), CHANGES)
def test_the_changes_of_2026(
    zone: str, seconds: int, instant: str, before: int, after: int
) -> None:
    """Computed from the time-zone database 2025b."""
    assert datetime.fromtimestamp(seconds, UTC) == datetime.fromisoformat(f"{instant}+00:00")
    assert offset(zone, seconds - 1) == before
    assert offset(zone, seconds) == after


@pytest.mark.parametrize("zone", sorted({row[0] for row in CHANGES}))
def test_there_are_no_other_changes_in_2026(zone: str) -> None:
    """Computed from the time-zone database 2025b."""
    known = {seconds for name, seconds, *_ in CHANGES if name == zone}
    hour = int(datetime(2026, 1, 1, tzinfo=UTC).timestamp())
    found = set()
    while hour < datetime(2027, 1, 1, tzinfo=UTC).timestamp():
        if offset(zone, hour) != offset(zone, hour - 3600):
            found.add(hour)
        hour += 3600
    assert found == known


def test_arizona_never_changes() -> None:
    """Computed from the time-zone database 2025b: America/Phoenix has no change in 2026."""
    new_year = datetime(2026, 1, 1, tzinfo=UTC).timestamp()
    assert {offset("America/Phoenix", new_year + 3600 * hour) for hour in range(8760)} == {-7}


# --- Local times that occur twice, or never -------------------------------------------------------


@pytest.mark.parametrize(
    ("zone", "day", "clock", "instant"),
    [
        # Published: the two examples of RFC 5545 s3.3.5, for 2007.
        ("America/New_York", date(2007, 11, 4), "01:30", "2007-11-04T05:30"),
        ("America/New_York", date(2007, 3, 11), "02:30", "2007-03-11T07:30"),
        # By the same rule, computed from the time-zone database 2025b.
        ("America/New_York", date(2026, 11, 1), "01:30", "2026-11-01T05:30"),
        ("America/New_York", date(2026, 3, 8), "02:30", "2026-03-08T07:30"),
        ("Europe/Berlin", date(2026, 10, 25), "02:30", "2026-10-25T00:30"),
        ("Europe/Berlin", date(2026, 3, 29), "02:30", "2026-03-29T01:30"),
        ("Australia/Sydney", date(2026, 4, 5), "02:30", "2026-04-04T15:30"),
        ("Australia/Sydney", date(2026, 10, 4), "02:30", "2026-10-03T16:30"),
    ],
)
def test_a_repeated_time_is_the_first_and_a_skipped_one_takes_the_offset_before(
    zone: str, day: date, clock: str, instant: str
) -> None:
    """Published: RFC 5545 s3.3.5."""
    assert wall(zone, day, clock) == datetime.fromisoformat(f"{instant}+00:00")


def test_a_skipped_time_shows_as_the_clock_did_after_the_change() -> None:
    """Published: RFC 5545 s3.3.5: 02:30 on 11 March 2007 in New York is 03:30 EDT."""
    instant = wall("America/New_York", date(2007, 3, 11), "02:30")
    shown = instant.astimezone(zone_named("America/New_York"))
    assert (shown.strftime("%H:%M"), shown.tzname()) == ("03:30", "EDT")


@pytest.mark.parametrize(("zone", "seconds", "instant", "before", "after"), CHANGES)
def test_what_people_type_is_never_guessed(
    zone: str, seconds: int, instant: str, before: int, after: int
) -> None:
    """Our own choice: only the writer knows which was meant, so the board asks."""
    shown = datetime.fromtimestamp(seconds, UTC) + timedelta(hours=max(before, after), minutes=-30)
    now = datetime.fromtimestamp(seconds + 86400, UTC)
    with pytest.raises(TimeError):
        read_when(f"{shown:%Y-%m-%d %H:%M}", now, zone_named(zone))
    with_offset = f"{shown:%Y-%m-%dT%H:%M}{before:+03}:00"
    assert read_when(with_offset, now, zone_named(zone)) == shown.replace(tzinfo=UTC) - timedelta(
        hours=before
    )


# --- Days are nominal, hours exact ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [
        ("America/New_York", date(2026, 3, 8), 23),
        ("America/New_York", date(2026, 11, 1), 25),
        ("America/Los_Angeles", date(2026, 3, 8), 23),
        ("Europe/London", date(2026, 3, 29), 23),
        ("Europe/London", date(2026, 10, 25), 25),
        ("Europe/Berlin", date(2026, 10, 25), 25),
        ("Australia/Sydney", date(2026, 4, 5), 25),
        ("Australia/Sydney", date(2026, 10, 4), 23),
        ("America/Phoenix", date(2026, 3, 8), 24),
    ],
)
def test_the_board_s_day_is_23_or_25_hours_long(zone: str, day: date, hours: int) -> None:
    """Published: RFC 5545 s3.3.6 (a day is nominal); computed from the time-zone database 2025b."""
    midnight = wall(zone, day, "00:00"), wall(zone, day + timedelta(days=1), "00:00")
    assert midnight[1] - midnight[0] == timedelta(hours=hours)
    # From one evening to the next getting up, the board counts the hours that really pass.
    home = Settings(
        Dog("Bramble", 15, wall(zone, day - timedelta(days=1), "12:00")), Home(zone=zone)
    )
    noon = wall(zone, day - timedelta(days=1), "12:00")
    seen = situation(home, (), noon)
    tomorrow = situation(home, (), noon + timedelta(hours=hours))
    assert (seen.day, tomorrow.day) == (1, 2)
    assert tomorrow.now.astimezone(home.zone).strftime("%H:%M") == "12:00"


def test_an_interval_is_counted_in_exact_minutes_over_a_change() -> None:
    """Published: RFC 5545 s3.3.6: hours and minutes are exact."""
    zone, day = "America/New_York", date(2026, 3, 8)
    arrived = wall(zone, day, "00:30")
    home = Settings(Dog("Bramble", 15, arrived), Home(zone=zone, up=time(0, 30), bed=time(21)))
    due = situation(home, [Event("pee", arrived)], arrived).next_break
    assert due.minutes == 120
    assert due.at.astimezone(home.zone).strftime("%H:%M") == "03:30"
