"""RFC 5545 on the calendar of the plan: lines and alarms by its rules and beside its examples.

s3.1, s3.3.6, s3.6.6, s3.8.6.3, s3.8.7.4 were read; where the text of an example is remembered, that
stands beside it.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from icalendar import Calendar
from icalendar import Event as Entry

from pottyboard.core.coming.days_ahead import Coming, days_ahead
from pottyboard.core.events import Event
from pottyboard.core.model.settings import Settings
from pottyboard.core.questions import settings_from
from pottyboard.papers.handover.plan_calendar import plan_calendar
from tests.reference.unfolded import DURATION, Block, by_hand, utc

vobject = pytest.importorskip("vobject")

NOW = datetime(2026, 3, 4, 11, 0, 27, tzinfo=UTC)


def household(zone: str = "Europe/Oslo", **answers: str) -> Settings:
    given = {
        "name": "Ærlige Bjørn, Åse; d'Ør\\ é日本", "weight": "8", "zone": zone,
        "arrived": "2026-03-02 09:00", "spot": "é" * 60, "absent-from": "1", "workdays": "mon-fri",
        "helpers": "Mina 9:00-16:00 10", **answers,
    }  # fmt: skip
    return settings_from(given, NOW)


def written(settings: Settings, days: int = 4) -> bytes:
    log = [Event("pee", NOW - timedelta(minutes=41, seconds=13))]
    coming = days_ahead(settings, log, NOW, days)
    dates = [date(2026, 3, 4) + timedelta(days=step) for step in range(days)]
    return plan_calendar(settings, coming, NOW, dates).content


MADE = written(household())


def entries(made: bytes) -> list[Block]:
    return [part for part in by_hand(made).parts if part.name == "VEVENT"]


def test_lines_end_in_crlf_and_are_folded_at_75_octets_between_letters() -> None:
    # s3.1 (read).
    assert MADE.endswith(b"\r\n")
    assert MADE.count(b"\n") == MADE.count(b"\r") == MADE.count(b"\r\n")
    lines = MADE.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)
    for line in lines:
        line.decode("utf-8")


def test_an_entry_has_all_that_it_needs_once() -> None:
    # s3.6.1 (read): UID and DTSTAMP; DTEND or DURATION, never both; s5: seconds are 00.
    found = entries(MADE)
    assert len(found) > 15
    assert len({entry.one("UID") for entry in found}) == len(found)
    for entry in found:
        assert re.fullmatch(r"\d{8}T\d{6}Z", entry.one("DTSTAMP"))
        assert entry.one("DTSTART") < entry.one("DTEND")
        assert entry.one("DTSTART")[-2:] == entry.one("DTEND")[-2:] == "00"
        assert not entry.all("DURATION")
        assert entry.one("STATUS") in ("CONFIRMED", "TENTATIVE")  # s3.8.1.11 (read), an event's
        assert entry.one("TRANSP") == "TRANSPARENT"  # s3.8.2.7 (from memory)
        assert entry.one("SEQUENCE") == "0"  # s3.8.7.4 (read): it begins at 0


def test_an_alarm_is_a_display_alarm_by_the_grammar() -> None:
    # s3.6.6 (read): ACTION, DESCRIPTION and TRIGGER once each; DURATION and REPEAT both or neither.
    for entry in entries(MADE):
        for alarm in entry.parts:
            assert alarm.name == "VALARM"
            assert [alarm.one("ACTION"), len(alarm.all("DESCRIPTION"))] == ["DISPLAY", 1]
            assert DURATION.fullmatch(alarm.one("TRIGGER"))
            assert not alarm.all("REPEAT")
            assert not alarm.all("DURATION")


EXAMPLES = [
    # s3.8.6.3 (read for the rule; the values from memory): minutes from the start of the entry.
    ("TRIGGER:-PT15M", -15),
    ("TRIGGER:-PT30M", -30),
    ("TRIGGER:P0D", 0),  # none of the examples: by the grammar of s3.3.6 (read), no days
]


@pytest.mark.parametrize(("line", "minutes"), EXAMPLES)
def test_a_trigger_is_written_as_the_examples_are_and_means_the_same(
    line: str, minutes: int
) -> None:
    at = datetime(2026, 3, 4, 13, tzinfo=UTC)
    coming = [Coming(date(2026, 3, 4), "break", at, at + timedelta(minutes=10), "", "log")]
    alarm = float(-minutes)
    made = plan_calendar(household(), coming, NOW, [date(2026, 3, 4)], alarm=alarm).content
    assert [each for each in made.decode().split("\r\n") if each.startswith("TRIGGER")] == [line]
    (entry,) = Calendar.from_ical(made).walk("VEVENT")
    assert isinstance(entry, Entry)
    assert entry.alarms.times[0].trigger == at + timedelta(minutes=minutes)
    (read,) = vobject.readOne(made.decode()).vevent_list
    trigger = read.valarm.trigger.value
    assert read.dtstart.value.astimezone(UTC) + trigger == at + timedelta(minutes=minutes)


CHANGES = [
    # tzdata 2025b (calculated): the instants of 2026 at which the clocks change, epoch seconds.
    ("Europe/Oslo", 1774746000), ("Europe/Oslo", 1792890000),
    ("America/New_York", 1772953200), ("America/New_York", 1793512800),
    ("Australia/Sydney", 1775318400), ("Australia/Sydney", 1791043200),
]  # fmt: skip


@pytest.mark.parametrize(("zone", "change"), CHANGES)
def test_entries_and_alarms_over_a_change_of_the_clocks_are_at_the_right_instant(
    zone: str, change: int
) -> None:
    # s3.3.5 and s3.3.6 (read): a time shown twice is the first; PT5M are five minutes exactly.
    settings, instant = household(zone), datetime.fromtimestamp(change, UTC)
    instants = [instant + timedelta(minutes=step) for step in (-70, -30, -1, 0, 2, 30, 59, 70)]
    day = instant.date()
    coming = [
        Coming(day, "break", at, at + timedelta(minutes=10), "since pee", "log") for at in instants
    ]
    made = plan_calendar(settings, coming, NOW, [day]).content
    rules = next(part for part in by_hand(made).parts if part.name == "VTIMEZONE")
    assert [utc(entry.one("DTSTART"), rules) for entry in entries(made)] == instants
    library = Calendar.from_ical(made).walk("VEVENT")
    assert [entry.decoded("DTSTART").astimezone(UTC) for entry in library] == instants
    triggers = {part.one("TRIGGER") for entry in entries(made) for part in entry.parts}
    assert triggers == {"-PT5M"}
