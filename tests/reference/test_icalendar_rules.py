"""RFC 5545 on our own calendar: its rules read by hand from the unfolded lines, and by the library.

The RFC's text was read for every rule but the three marked "from memory". The instants of the clock
changes are those of tzdata 2025b, recomputed.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

import pytest
from icalendar import Calendar

from pottyboard.core.away.visits import plan_visits
from pottyboard.core.model.localtime import at_clock, instant_of, zone_named
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings
from pottyboard.papers.handover.calendar import calendar
from tests.reference.unfolded import DURATION, Block, by_hand, offset, utc

LONG_NAME = "Ærlige Bjørn, Åse; d'Ør\\ é日本 ééééééééé"


def household(zone: str = "Europe/Oslo", **answers: str) -> Settings:
    given = {
        "arrived": "2026-03-01 05:00", "zone": zone, "absent-from": "1", "workdays": "mon-fri",
        "helpers": "Mina 0:00-23:55 10", "name": LONG_NAME, "spot": "é" * 60, "cue": "go, now; ok",
        "people": "", **{key.replace("_", "-"): text for key, text in answers.items()},
    }  # fmt: skip
    now = datetime(2026, 2, 1, tzinfo=UTC)
    return settings_from(default_answers(now, zone) | given, now)


def exported(settings: Settings, first: date, days: int = 1, interval: float = 120) -> bytes:
    now = datetime(2026, 3, 1, 9, 30, 15, 5, tzinfo=UTC)
    plan = plan_visits(settings, now, interval, first=first, days=days)
    return calendar(settings, plan, now, household="bramble")


MADE = exported(household(), date(2026, 3, 2), 5)


def visits(made: bytes) -> list[Block]:
    return [part for part in by_hand(made).parts if part.name == "VEVENT"]


# --- Lines ----------------------------------------------------------------------------------------


def test_every_line_ends_in_crlf() -> None:
    # s3.1 (read).
    assert MADE.endswith(b"\r\n")
    assert MADE.count(b"\n") == MADE.count(b"\r") == MADE.count(b"\r\n")


def test_no_line_is_longer_than_75_octets_without_its_break() -> None:
    # s3.1 (read): octets, not characters.
    assert max(len(line) for line in MADE.split(b"\r\n")) <= 75
    assert any(line.startswith(b" ") for line in MADE.split(b"\r\n"))


def test_no_character_is_split_by_a_fold() -> None:
    # s3.1 (read) warns of it; s3.1.4 and s6 (read) ask for UTF-8.
    for line in MADE.split(b"\r\n"):
        line.decode("utf-8")


def test_unfolding_gives_the_text_back() -> None:
    # s3.1 (read) and s3.3.11 (escapes: examples read, rule from memory).
    value = visits(MADE)[0].one("SUMMARY")
    assert value == "Mina visits Ærlige Bjørn\\, Åse\\; d'Ør\\\\ é日本 ééééééééé"
    unescaped = re.sub(r"\\(.)", r"\1", value)
    assert unescaped == f"Mina visits {LONG_NAME}"
    described = visits(MADE)[0].one("DESCRIPTION")
    assert described.count("\\n") == 2
    assert "go\\, now\\; ok" in described


# --- What a calendar and an entry need ------------------------------------------------------------


def test_a_calendar_has_a_product_a_version_and_a_component() -> None:
    # s3.6 (read).
    whole = by_hand(MADE)
    assert (whole.name, whole.one("VERSION")) == ("VCALENDAR", "2.0")
    assert whole.one("PRODID").startswith("-//pottyboard//")
    assert whole.parts


def test_an_entry_has_one_uid_stamp_and_start_and_an_end_but_no_duration() -> None:
    # s3.6.1 (read); DTSTAMP in UTC and UID globally unique: from memory.
    found = visits(MADE)
    assert len(found) == 20
    for visit in found:
        assert re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", visit.one("UID"))
        assert re.fullmatch(r"\d{8}T\d{6}Z", visit.one("DTSTAMP"))
        assert visit.one("DTSTART") < visit.one("DTEND")
        assert not visit.all("DURATION")
    assert len({visit.one("UID") for visit in found}) == len(found)


def test_seconds_are_written_as_00() -> None:
    # s5 (read): for a program without seconds.
    for visit in visits(MADE):
        assert visit.one("DTSTART").endswith("00")
        assert visit.one("DTEND").endswith("00")


def test_an_alarm_shows_a_text_once_and_stands_in_its_entry_alone() -> None:
    # s3.6.6 (read): DISPLAY has a description; REPEAT and DURATION both or neither.
    assert all(part.name != "VALARM" for part in by_hand(MADE).parts)
    for visit in visits(MADE):
        (alarm,) = visit.parts
        assert (alarm.name, alarm.one("ACTION")) == ("VALARM", "DISPLAY")
        assert alarm.one("DESCRIPTION")
        assert DURATION.fullmatch(alarm.one("TRIGGER"))
        assert not alarm.all("REPEAT")
        assert not alarm.all("DURATION")
        assert not alarm.parts


@pytest.mark.parametrize(
    ("text", "valid"),
    [("P15DT5H0M20S", True), ("P7W", True), ("-PT30M", True), ("PT15M", True),
     ("P1M", False), ("P1Y", False), ("PT1H20S", False)],
)  # fmt: skip
def test_the_grammar_of_a_duration_used_above(text: str, valid: bool) -> None:
    # s3.3.6 (read), its examples and what it leaves out.
    assert bool(DURATION.fullmatch(text)) == valid


# --- Zones ----------------------------------------------------------------------------------------


def test_no_zone_is_named_on_a_time_in_utc() -> None:
    # s3.3.5 (read).
    utc = exported(household("UTC"), date(2026, 3, 2))
    for made in (MADE, utc):
        for visit in visits(made):
            for name, parameters, value in visit.lines:
                if re.fullmatch(r"\d{8}T\d{6}Z", value):
                    assert parameters == "", name
    assert b"VTIMEZONE" not in utc
    assert visits(utc)[0].one("DTSTART").endswith("Z")


def test_every_zone_that_is_named_is_described_once() -> None:
    # s3.6.5 (read): a VTIMEZONE for each TZID.
    named = {
        parameters.removeprefix("TZID=")
        for visit in visits(MADE)
        for name, parameters, _ in visit.lines
        if name in ("DTSTART", "DTEND")
    }
    zones = [part for part in by_hand(MADE).parts if part.name == "VTIMEZONE"]
    assert named == {"Europe/Oslo"} == {zone.one("TZID") for zone in zones}
    assert len(zones) == 1


@pytest.mark.parametrize(
    ("wall", "zone", "instant"),
    [
        # s3.3.5 (read): of a repeated time the first, a skipped one by the offset before it.
        ("2007-11-04 01:30", "America/New_York", "2007-11-04 05:30"),
        ("2007-03-11 02:30", "America/New_York", "2007-03-11 07:30"),
        # The same rule with tzdata 2025b (calculated).
        ("2026-11-01 01:30", "America/New_York", "2026-11-01 05:30"),
        ("2026-03-08 02:30", "America/New_York", "2026-03-08 07:30"),
    ],
)
def test_times_that_the_clock_repeats_or_skips(wall: str, zone: str, instant: str) -> None:
    meant = datetime.fromisoformat(wall)
    found = instant_of(at_clock(meant.date(), meant.time(), zone_named(zone)))
    assert f"{found:%Y-%m-%d %H:%M}" == instant


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [("America/New_York", date(2026, 3, 8), 23), ("America/New_York", date(2026, 11, 1), 25)],
)
def test_a_day_is_nominal_and_hours_are_exact(zone: str, day: date, hours: int) -> None:
    # s3.3.6 (read): P1D over a change of the clocks is 23 or 25 hours.
    start, end = (
        at_clock(when, time(0), zone_named(zone)) for when in (day, day + timedelta(days=1))
    )
    assert end - start == hours * 60


CHANGES = [
    # tzdata 2025b (calculated): the instants at which the clocks change in 2026, in epoch seconds.
    ("America/New_York", 1772953200, -5, -4),
    ("America/New_York", 1793512800, -4, -5),
    ("America/Los_Angeles", 1772964000, -8, -7),
    ("America/Los_Angeles", 1793523600, -7, -8),
    ("Europe/London", 1774746000, 0, 1),
    ("Europe/London", 1792890000, 1, 0),
    ("Europe/Berlin", 1774746000, 1, 2),
    ("Europe/Berlin", 1792890000, 2, 1),
    ("Australia/Sydney", 1775318400, 11, 10),
    ("Australia/Sydney", 1791043200, 10, 11),
]


def night_of(zone: str, change: int) -> tuple[Settings, date]:
    """Return a household away over the change, with visited as often as one helper comes."""
    day = datetime.fromtimestamp(change, zone_named(zone)).date() - timedelta(days=1)
    settings = household(
        zone, workdays="", bed="07:00", up="12:00", meals="13:00",
        exceptions=f"{day} 21:00-06:55", name="Bramble",
    )  # fmt: skip
    return settings, day


@pytest.mark.parametrize(("zone", "change", "before", "after"), CHANGES)
def test_visits_over_a_change_of_the_clocks_are_at_the_right_instant(
    zone: str, change: int, before: int, after: int
) -> None:
    settings, day = night_of(zone, change)
    now = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
    plan = plan_visits(settings, now, 45, first=day, days=1)
    made = calendar(settings, plan, now)
    wanted = [(visit.at, visit.until) for visit in plan.visits]
    instant = datetime.fromtimestamp(change, UTC)
    # One helper comes every hour and a half at most.
    assert any(abs(at - instant) <= timedelta(minutes=90) for at, _ in wanted)
    assert all(b - a <= timedelta(minutes=105) for (a, _), (b, _) in pairwise(wanted))
    rules = next(part for part in by_hand(made).parts if part.name == "VTIMEZONE")
    assert [read_by_hand(visit, rules) for visit in visits(made)] == wanted
    library = [
        tuple(entry.decoded(name).astimezone(UTC) for name in ("DTSTART", "DTEND"))
        for entry in Calendar.from_ical(made).walk("VEVENT")
    ]
    assert library == wanted


@pytest.mark.parametrize(("zone", "change", "before", "after"), CHANGES)
def test_the_zone_s_rules_begin_at_the_change_in_the_time_before_it(
    zone: str, change: int, before: int, after: int
) -> None:
    # s3.6.5 (read): the onset is a local time by TZOFFSETFROM.
    settings, day = night_of(zone, change)
    now = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
    made = calendar(settings, plan_visits(settings, now, 60, first=day, days=1), now)
    rules = next(part for part in by_hand(made).parts if part.name == "VTIMEZONE")
    onset = datetime.fromtimestamp(change, UTC) + timedelta(hours=before)
    (rule,) = [r for r in rules.parts if r.one("DTSTART") == f"{onset:%Y%m%dT%H%M%S}"]
    assert rule.name == ("DAYLIGHT" if after > before else "STANDARD")
    assert (offset(rule, "TZOFFSETFROM"), offset(rule, "TZOFFSETTO")) == (
        timedelta(hours=before), timedelta(hours=after),
    )  # fmt: skip


def read_by_hand(visit: Block, rules: Block) -> tuple[datetime, datetime]:
    """Return the instants of a visit by the zone's rules in the file, with nothing else known."""
    return utc(visit.one("DTSTART"), rules), utc(visit.one("DTEND"), rules)
