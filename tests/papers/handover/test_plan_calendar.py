"""The plan in a phone: renewed over itself, it moves, adds and calls off, and never doubles.

It is read back by two libraries that know nothing of each other: icalendar, and vobject.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st
from icalendar import Calendar
from msgspec.structs import replace

from pottyboard.core.coming.days_ahead import Coming, ComingKind
from pottyboard.core.model.settings import Settings
from pottyboard.core.questions import settings_from
from pottyboard.papers.calendars.renewal import CalendarError
from pottyboard.papers.handover.plan_calendar import Renewed, plan_calendar

vobject = pytest.importorskip("vobject")

NOW = datetime(2026, 3, 4, 11, tzinfo=UTC)
TODAY = date(2026, 3, 4)
DAYS = [TODAY + timedelta(days=step) for step in range(3)]
KINDS: tuple[ComingKind, ...] = ("break", "meal", "last thing", "night")


def household(**answers: str) -> Settings:
    given = {
        "name": "Bramble; B,\\", "weight": "8", "zone": "Europe/Oslo",
        "arrived": "2026-03-02 09:00", "numbers": "Vet 01632 960001",
        **{key.replace("_", "-"): text for key, text in answers.items()},
    }  # fmt: skip
    return settings_from(given, NOW)


def piece(clock: str, kind: ComingKind = "break", day: int = 4, **other: Any) -> Coming:
    """Return a piece at a clock time of Oslo, an hour ahead of UTC."""
    at = datetime.fromisoformat(f"2026-03-{day:02}T{clock}:00+01:00").astimezone(UTC)
    given = {"words": "since pee", "basis": "log"} | other
    return Coming(date(2026, 3, day), kind, at, at + timedelta(minutes=10), **given)


def made(
    coming: Iterable[Coming], earlier: Renewed | None = None, now: datetime = NOW, **other: Any
) -> Renewed:
    settings = other.pop("settings", None) or household()
    before = None if earlier is None else earlier.content
    return plan_calendar(settings, coming, now, DAYS, household="b", earlier=before, **other)


Row = tuple[str, str, int, timedelta | None]
"""Local start, status, SEQUENCE, and how long before it its alarm rings."""


def rows(renewed: Renewed) -> dict[str, Row]:
    """Return the entries by their UID, read by both libraries, which have to agree."""
    one = dict(_by_icalendar(renewed.content))
    assert one == dict(_by_vobject(renewed.content.decode()))
    return one


def _by_icalendar(content: bytes) -> Iterator[tuple[str, Row]]:
    for entry in Calendar.from_ical(content).walk("VEVENT"):
        start, ahead = entry.decoded("DTSTART"), None
        for alarm in entry.walk("VALARM"):
            ahead = alarm.decoded("TRIGGER")
        row = (f"{start:%d %H:%M}", str(entry["STATUS"]), int(str(entry["SEQUENCE"])), ahead)
        yield str(entry["UID"]), row


def _by_vobject(content: str) -> Iterator[tuple[str, Row]]:
    read = vobject.readOne(content)
    assert read.validate()
    for entry in getattr(read, "vevent_list", []):
        alarms = getattr(entry, "valarm_list", [])
        ahead = alarms[0].trigger.value if alarms else None
        start, sequence = entry.dtstart.value, int(entry.sequence.value)
        yield entry.uid.value, (f"{start:%d %H:%M}", entry.status.value, sequence, ahead)


FIVE = timedelta(minutes=-5)
PLAN = [piece("13:00"), piece("15:00"), piece("17:30", "meal"), piece("22:30", "last thing")]


def test_every_piece_is_an_entry_with_an_alarm() -> None:
    found = made(PLAN)
    assert [*rows(found).values()] == [
        ("04 13:00", "CONFIRMED", 0, FIVE), ("04 15:00", "CONFIRMED", 0, FIVE),
        ("04 17:30", "CONFIRMED", 0, FIVE), ("04 22:30", "CONFIRMED", 0, FIVE),
    ]  # fmt: skip
    assert found.words == "4 entries to come: 4 new"


def test_where_nothing_has_changed_nothing_changes() -> None:
    first = made(PLAN)
    again = made(PLAN, first, NOW + timedelta(minutes=7))
    assert again.content == first.content
    assert again.words == "4 entries to come: nothing has changed"


def test_a_break_that_moves_keeps_its_uid_and_counts_up() -> None:
    first = made(PLAN)
    moved = [piece("13:00"), piece("15:20"), *PLAN[2:]]
    second = made(moved, first, NOW + timedelta(minutes=5))
    before, after = rows(first), rows(second)
    assert before.keys() == after.keys()
    assert [row[:3] for row in after.values()][1] == ("04 15:20", "CONFIRMED", 1)
    assert [row[2] for row in after.values()] == [0, 1, 0, 0]
    assert second.words == "4 entries to come: 1 changed"


def test_an_outing_ahead_of_its_break_calls_that_one_off_and_the_others_stay() -> None:
    first = made(PLAN)
    second = made(PLAN[1:], first, NOW + timedelta(minutes=30))
    assert [row[:3] for row in rows(second).values()] == [
        ("04 13:00", "CANCELLED", 1), ("04 15:00", "CONFIRMED", 0),
        ("04 17:30", "CONFIRMED", 0), ("04 22:30", "CONFIRMED", 0),
    ]  # fmt: skip
    assert rows(first).keys() == rows(second).keys()
    assert second.words == "3 entries to come: 1 called off"
    assert next(iter(rows(second).values()))[3] is None  # and does not ring any more
    third = made(PLAN[1:], second, NOW + timedelta(minutes=40))
    assert third.content == second.content
    back = made(PLAN, third, NOW + timedelta(minutes=50))
    assert next(iter(rows(back).values()))[:3] == ("04 13:00", "CONFIRMED", 2)


def test_a_new_break_has_a_uid_of_its_own_even_at_the_time_of_one_that_moved() -> None:
    first = made([piece("13:00")])
    second = made([piece("13:50")], first)
    third = made([piece("13:00"), piece("13:50")], second)
    assert [row[:3] for row in rows(third).values()] == [
        ("04 13:00", "CONFIRMED", 0), ("04 13:50", "CONFIRMED", 1),
    ]  # fmt: skip
    assert set(rows(first)) < set(rows(third))


def test_what_is_over_leaves_the_file_without_being_called_off() -> None:
    first = made(PLAN)
    second = made(PLAN[1:], first, NOW + timedelta(hours=1, minutes=1))
    assert [row[:2] for row in rows(second).values()] == [
        ("04 15:00", "CONFIRMED"), ("04 17:30", "CONFIRMED"), ("04 22:30", "CONFIRMED"),
    ]  # fmt: skip
    assert second.called_off == 0


def test_a_day_that_is_not_asked_for_any_more_is_left_out() -> None:
    first = made([*PLAN, piece("06:30", day=6)])
    content = plan_calendar(
        household(), PLAN, NOW, DAYS[:1], household="b", earlier=first.content
    ).content
    assert b"20260306" not in content


def test_a_visit_is_tentative_until_its_helper_is_told_and_rings_for_nobody_here() -> None:
    visit = piece("12:45", "visit", helper="Mina", words="near the middle")
    first = made([visit])
    second = made([replace(visit, told=True)], first)
    assert [*rows(first).values()] == [("04 12:45", "TENTATIVE", 0, None)]
    assert [*rows(second).values()] == [("04 12:45", "CONFIRMED", 1, None)]
    assert b"not told yet" in first.content
    assert b"not told yet" not in second.content
    later = replace(visit, told=True, words="at most 2 h alone", basis="plan")
    assert made([later], second).content == second.content  # agreed is agreed


@pytest.mark.parametrize(
    ("each", "ahead"),
    [
        (piece("06:30"), None),
        (piece("07:03"), timedelta()),  # five minutes before is quiet still, its own time is not
        (piece("07:05"), FIVE),
        (piece("22:29"), FIVE),
        (piece("22:40"), None),
        (piece("03:00", "night", in_quiet=True), FIVE),
        (piece("22:45", "last thing", in_quiet=True), FIVE),
    ],
)
def test_the_quiet_hours_hold_for_the_phone_too(each: Coming, ahead: timedelta | None) -> None:
    early = datetime(2026, 3, 4, tzinfo=UTC)
    found = made([each], now=early, settings=household(quiet="22:30-07:00"))
    assert [row[3] for row in rows(found).values()] == [ahead]


def test_alarms_are_as_asked_for() -> None:
    assert [row[3] for row in rows(made(PLAN, alarm=None)).values()] == [None] * 4
    zero = made(PLAN, alarm=0.0)
    assert [row[3] for row in rows(zero).values()] == [timedelta()] * 4
    later = made(PLAN, zero, alarm=10.0)
    assert [row[2:] for row in rows(later).values()] == [(1, timedelta(minutes=-10))] * 4


def test_each_entry_says_what_it_is_known_from_and_promises_nothing() -> None:
    coming = [piece("13:00"), piece("15:00", day=5, basis="plan"),
              piece("06:30", day=6, basis="routine")]  # fmt: skip
    read = Calendar.from_ical(made(coming).content).walk("VEVENT")
    said = [str(entry["DESCRIPTION"]) for entry in read]
    assert "Planned from the log so far. It moves with what happens" in said[0]
    assert "If all goes to plan until then" in said[1]
    assert "From the routine of the set-up" in said[2]
    assert all("At a signal it goes out at once" in words for words in said)


def test_only_what_a_phone_shows_counts_as_changed() -> None:
    first = made([piece("15:00", basis="plan")])
    second = made([piece("15:00")], first)
    assert second.words == "1 entry to come: nothing has changed"
    assert [row[2] for row in rows(second).values()] == [1]
    assert b"Planned from the log so far" in second.content


def test_the_numbers_are_left_out_unless_asked_for() -> None:
    assert b"960001" not in made(PLAN).content
    read = Calendar.from_ical(made(PLAN, numbers=True).content).walk("VEVENT")
    assert all("Vet 01632 960001" in str(entry["DESCRIPTION"]) for entry in read)


def test_nobody_is_busy_because_the_dog_goes_out() -> None:
    read = Calendar.from_ical(made(PLAN).content).walk("VEVENT")
    assert {(str(entry["TRANSP"]), str(entry["CLASS"])) for entry in read} == {
        ("TRANSPARENT", "PRIVATE")
    }


@pytest.mark.parametrize("earlier", [b"", b"hello", b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n"])
def test_a_file_that_is_no_calendar_of_the_plan_is_refused(earlier: bytes) -> None:
    with pytest.raises(CalendarError, match="name another file"):
        plan_calendar(household(), PLAN, NOW, DAYS, earlier=earlier)


@st.composite
def plans(draw: st.DrawFn) -> list[Coming]:
    minutes = draw(st.lists(st.integers(0, 3 * 24 * 12 - 1), max_size=7, unique=True))
    found = []
    for step in sorted(minutes):
        at = NOW + timedelta(minutes=5 * step + 1)
        day = min(at.date(), DAYS[-1])
        kind = draw(st.sampled_from(KINDS))
        found.append(Coming(day, kind, at, at + timedelta(minutes=10), "since pee", "log"))
    return found


@tries(max_examples=60)
@given(st.lists(plans(), min_size=2, max_size=4))
def test_whatever_changes_uids_never_double_and_sequences_never_fall(
    turns: list[list[Coming]],
) -> None:
    earlier, sequences = None, dict[str, int]()
    for coming in turns:
        earlier = made(coming, earlier)
        found = rows(earlier)
        live = sorted(row[0] for row in found.values() if row[1] == "CONFIRMED")
        assert live == sorted(f"{each.at + timedelta(hours=1):%d %H:%M}" for each in coming)
        assert set(sequences) <= set(found)
        assert all(found[uid][2] >= before for uid, before in sequences.items())
        sequences = {uid: row[2] for uid, row in found.items()}


@cache
def _whole() -> bytes:
    return made(PLAN).content


@tries(max_examples=60)
@given(st.data())
def test_a_damaged_file_is_read_or_refused(data: st.DataObject) -> None:
    content = bytearray(_whole())
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(content) - 2))
        content[at : at + data.draw(st.integers(0, 30))] = data.draw(st.binary(max_size=3))
    try:
        found = plan_calendar(household(), PLAN, NOW, DAYS, earlier=bytes(content))
    except CalendarError:
        return
    assert found.coming == 4
