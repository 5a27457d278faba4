"""The visits as calendar entries: a second export updates the first and never doubles it."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from functools import cache

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st
from icalendar import Calendar, Event
from msgspec.structs import replace

from pottyboard.core.away.schedule import AwayPlan
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings
from pottyboard.papers.calendars.renewal import CalendarError
from pottyboard.papers.handover.calendar import calendar, uid_of

NOW = datetime(2026, 3, 2, 5, tzinfo=UTC)


def household(**answers: str) -> Settings:
    """Return a household in Oslo, away 08:30 to 17:00 on working days, visited by Mina."""
    given = {"arrived": "2026-03-02 05:00", "absent-from": "1", "workdays": "mon-fri"}
    given |= {"helpers": "Mina 8:00-18:00 10", "name": "Bramble"}
    given |= {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from(default_answers(NOW, "Europe/Oslo") | given, NOW)


def planned(settings: Settings, interval: float = 180, days: int = 2) -> AwayPlan:
    return plan_visits(settings, NOW, interval, days=days)


def events(made: bytes) -> list[Event]:
    read = Calendar.from_ical(made)
    return [entry for entry in read.walk("VEVENT") if isinstance(entry, Event)]


def sequence_of(entry: Event) -> int:
    return int(str(entry["SEQUENCE"]))


def summary(made: bytes) -> list[tuple[str, str, int]]:
    """Return (local start, status, sequence) of each entry."""
    return [
        (f"{entry.decoded('DTSTART'):%d %H:%M}", str(entry["STATUS"]), sequence_of(entry))
        for entry in events(made)
    ]


def test_every_visit_is_an_entry_with_an_alarm() -> None:
    settings = household(spot="by the hedge, left", cue="go; busy")
    made = calendar(settings, planned(settings), NOW)
    assert summary(made) == [
        ("02 11:15", "CONFIRMED", 0), ("02 14:00", "CONFIRMED", 0),
        ("03 11:15", "CONFIRMED", 0), ("03 14:00", "CONFIRMED", 0),
    ]  # fmt: skip
    first = events(made)[0]
    assert str(first["SUMMARY"]) == "Mina visits Bramble"
    assert "by the hedge, left" in str(first["DESCRIPTION"])
    assert '"go; busy"' in str(first["DESCRIPTION"])
    assert first.decoded("DTEND") - first.decoded("DTSTART") == timedelta(minutes=20)
    (alarm,) = first.walk("VALARM")
    assert alarm.decoded("TRIGGER") == timedelta(minutes=-30)


def test_the_same_plan_again_is_the_same_file() -> None:
    settings = household()
    first = calendar(settings, planned(settings), NOW)
    later = NOW + timedelta(hours=1)
    assert calendar(settings, planned(settings), later, earlier=first) == first
    assert calendar(settings, planned(settings), later) != first


def test_a_visit_that_moves_keeps_its_uid_and_counts_up() -> None:
    settings = household()
    first = calendar(settings, planned(settings, 180), NOW)
    shorter = household(**{"return": "16:00"})
    later = NOW + timedelta(hours=1)
    second = calendar(shorter, planned(shorter, 180), later, earlier=first)
    assert [str(e["UID"]) for e in events(second)] == [str(e["UID"]) for e in events(first)]
    changed = [e for e in events(second) if sequence_of(e)]
    assert changed
    for entry in changed:
        assert sequence_of(entry) == 1
        assert entry.decoded("LAST-MODIFIED") == entry.decoded("DTSTAMP") == later
        assert entry.decoded("CREATED") == NOW
    third = calendar(settings, planned(settings, 180), later, earlier=second)
    for before, entry in zip(events(second), events(third), strict=True):
        assert sequence_of(entry) == 2 * sequence_of(before)


def test_a_visit_that_falls_away_is_cancelled_once_and_comes_back_confirmed() -> None:
    settings = household()
    first = calendar(settings, planned(settings), NOW)
    home = household(exceptions="2026-03-03 home")
    second = calendar(home, planned(home), NOW, earlier=first)
    assert summary(second) == [
        ("02 11:15", "CONFIRMED", 0), ("02 14:00", "CONFIRMED", 0),
        ("03 11:15", "CANCELLED", 1), ("03 14:00", "CANCELLED", 1),
    ]  # fmt: skip
    cancelled = events(second)[-1]
    assert not cancelled.walk("VALARM")
    assert calendar(home, planned(home), NOW + timedelta(hours=2), earlier=second) == second
    back = calendar(settings, planned(settings), NOW, earlier=second)
    assert summary(back)[2:] == [("03 11:15", "CONFIRMED", 2), ("03 14:00", "CONFIRMED", 2)]


def test_what_is_past_or_not_asked_for_is_left_out_rather_than_cancelled() -> None:
    settings = household()
    first = calendar(settings, planned(settings, days=4), NOW)
    home = household(workdays="")
    noon = datetime(2026, 3, 2, 12, tzinfo=UTC)
    fewer = calendar(home, plan_visits(home, noon, 180, days=2), noon, earlier=first)
    assert summary(fewer) == [
        ("02 14:00", "CANCELLED", 1), ("03 11:15", "CANCELLED", 1), ("03 14:00", "CANCELLED", 1),
    ]  # fmt: skip


def test_uids_differ_between_days_numbers_dogs_and_households() -> None:
    settings = household()
    day = settings.first_date
    uids = {
        uid_of(settings, "bramble", day, 1), uid_of(settings, "bramble", day, 2),
        uid_of(settings, "bramble", day + timedelta(days=1), 1), uid_of(settings, "otto", day, 1),
        uid_of(household(name="Otto"), "", day, 1), uid_of(settings, "", day, 1),
        uid_of(household(arrived="2026-03-01 05:00"), "bramble", day, 1),
    }  # fmt: skip
    assert len(uids) == 7
    renamed = household(name="Otto")
    assert uid_of(renamed, "bramble", day, 1) == uid_of(settings, "bramble", day, 1)


def test_only_the_days_asked_for_and_no_word_of_how_long_the_home_is_empty() -> None:
    settings = household(spot="by the hedge")
    made = calendar(settings, planned(settings, days=1), NOW).decode()
    assert "20260303" not in made
    assert "17:00" not in made
    assert "T170000" not in made
    assert "LOCATION" not in made
    assert made.count("CLASS:PRIVATE") == 2


def test_no_visits_still_make_a_calendar_that_can_be_read() -> None:
    settings = household(workdays="")
    made = calendar(settings, planned(settings), NOW)
    assert Calendar.from_ical(made).walk("VEVENT") == []


def test_text_with_marks_and_escapes_is_harmless() -> None:
    settings = household(name="A;B,C\\n [/b]", spot="under\\the; tree, left")
    made = calendar(settings, planned(settings), NOW)
    assert str(events(made)[0]["SUMMARY"]) == "Mina visits A;B,C\\n [/b]"
    assert calendar(settings, planned(settings), NOW, earlier=made) == made


@pytest.mark.parametrize(
    "earlier",
    [b"", b"hello", b"\xff\xfe\x00", b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n", b"BEGIN:VEVENT\r\n",
     b"BEGIN:VCALENDAR\r\nPRODID:-//somebody else//EN\r\nVERSION:2.0\r\nEND:VCALENDAR\r\n"],
)  # fmt: skip
def test_a_file_that_is_no_calendar_of_visits_is_refused(earlier: bytes) -> None:
    settings = household()
    with pytest.raises(CalendarError, match="name another file"):
        calendar(settings, planned(settings), NOW, earlier=earlier)


@cache
def _whole() -> tuple[Settings, AwayPlan, bytes]:
    settings = household()
    plan = planned(settings)
    return settings, plan, calendar(settings, plan, NOW)


@tries(max_examples=120)
@given(st.data())
def test_a_damaged_file_is_read_or_refused(data: st.DataObject) -> None:
    settings, plan, whole = _whole()
    made = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(made) - 2))
        made[at : at + data.draw(st.integers(0, 30))] = data.draw(st.binary(max_size=3))
    try:
        again = calendar(settings, plan, NOW, earlier=bytes(made))
    except CalendarError:
        return
    assert len(events(again)) >= 4


@tries(max_examples=60)
@given(st.lists(st.tuples(st.sampled_from([90, 120, 150, 180, 240]),
                          st.sampled_from(["", "2026-03-03 home", "2026-03-02 9-12"])),
                min_size=2, max_size=5))  # fmt: skip
def test_whatever_changes_uids_never_double_and_sequences_never_fall(
    plans: list[tuple[int, str]],
) -> None:
    earlier: bytes | None = None
    sequence: dict[str, int] = {}
    for turn, (interval, exceptions) in enumerate(plans):
        settings = household(exceptions=exceptions)
        now = NOW + timedelta(minutes=turn)
        plan = plan_visits(settings, now, interval, days=3)
        earlier = calendar(settings, plan, now, earlier=earlier)
        entries = events(earlier)
        found = {str(entry["UID"]): entry for entry in entries}
        assert len(found) == len(entries)
        for uid, entry in found.items():
            assert sequence_of(entry) >= sequence.get(uid, 0)
        assert set(sequence) <= set(found)
        sequence = {uid: sequence_of(entry) for uid, entry in found.items()}
        confirmed = [e.decoded("DTSTART") for e in found.values() if e["STATUS"] == "CONFIRMED"]
        assert sorted(confirmed) == [visit.at for visit in plan.visits]


def test_the_library_is_loaded_only_when_a_calendar_is_made() -> None:
    code = (
        "import sys, pottyboard.papers.handover.calendar, pottyboard.papers.handover.sheet; "
        "sys.exit('icalendar' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_plan_without_a_name_for_the_household_still_has_stable_uids() -> None:
    settings = household()
    again = replace(settings, home=replace(settings.home, bed=settings.home.bed))
    one, two = (calendar(s, planned(s), NOW) for s in (settings, again))
    assert one == two
