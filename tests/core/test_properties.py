"""What holds for every log: checked on random ones, over clock changes, late entries and gaps."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.engine.history import History
from pottyboard.core.model import figures
from pottyboard.core.model.events import CHOICES, KINDS, Event, check_details
from pottyboard.core.model.localtime import at_clock, instant_of
from pottyboard.core.model.permitted import household_limit
from pottyboard.core.model.settings import Dog, Home, Settings, Work
from pottyboard.core.view.situation import Situation, as_json, situation

quick = settings(max_examples=60)

# Three days around a change of the clocks (or around nothing), in zones that do it differently.
ARRIVALS = st.sampled_from(
    [
        ("Europe/Oslo", date(2026, 3, 2)),
        ("Europe/Oslo", date(2026, 3, 28)),
        ("Europe/Oslo", date(2026, 10, 24)),
        ("America/New_York", date(2026, 10, 31)),
        ("Australia/Lord_Howe", date(2026, 4, 4)),
        ("America/Phoenix", date(2026, 3, 7)),
    ]
)
CLOCKS = st.integers(0, 47).map(lambda half: time(half // 2, half % 2 * 30))
MOMENTS = st.integers(0, 4 * 1440)
"""Whole minutes after the arrival."""


@st.composite
def households(draw: st.DrawFn) -> Settings:
    """Draw a dog and a routine that the set-up would accept, odd ones among them."""
    zone, day = draw(ARRIVALS)
    up = draw(st.sampled_from([time(6, 30), time(4, 0), time(8, 15)]))
    bed = draw(st.sampled_from([time(22, 30), time(21, 0), time(0, 30)]))
    work = draw(st.none() | st.just(Work(frozenset(range(1, 8)), time(9), time(17), 1)))
    home = Home(zone=zone, up=up, bed=bed, work=work)
    dog = Dog(
        "Bramble",
        draw(st.sampled_from([4.0, 15.0, 32.0])),
        datetime(2026, 1, 1, tzinfo=UTC),
        age=draw(st.sampled_from(["young", "adult", "senior"])),
        prone=draw(st.booleans()),
    )
    made = Settings(dog, home)
    arrived = instant_of(at_clock(day, draw(CLOCKS), made.zone))
    return replace(made, dog=replace(dog, arrived=arrived))


DETAILS: dict[str, st.SearchStrategy[Any]] = {
    "place": st.sampled_from(["", "rug", "pad"]),
    "found": st.sampled_from([None, True, False]),
    "alone": st.sampled_from([None, True, False]),
    **{name: st.sampled_from(["", "", *values]) for name, values in CHOICES.items()},
    "upright": st.sampled_from([None, True, False]),
    "unsure": st.sampled_from([None, None, True]),
    "ml": st.sampled_from([None, 150.0]),
    "rest": st.sampled_from([None, 50.0]),
    "minutes": st.sampled_from([1.0, 60.0, 1440.0]),
}


@st.composite
def entries_after(draw: st.DrawFn, arrived: datetime, number: int) -> Event:
    """Draw one entry in the days after the arrival."""
    at = arrived + timedelta(minutes=draw(MOMENTS), seconds=draw(st.sampled_from([0, 0, 29])))
    kind = draw(st.sampled_from(list(KINDS)))
    details = {name: draw(DETAILS[name]) for name in KINDS[kind].carries if name in DETAILS}
    if KINDS[kind].is_accident and details["place"] == "pad":
        details["place"] = "beside the pad"
    if "dry" in KINDS[kind].carries and draw(st.booleans()):
        details["dry"] = at - timedelta(minutes=draw(st.integers(0, 600)))
    return check_details(Event(kind, at, id=f"e{number:03}", **details))


@st.composite
def logs(draw: st.DrawFn, most: int = 30) -> tuple[Settings, tuple[Event, ...], datetime]:
    """Draw a household, a log in any order, and an instant at which to look."""
    household = draw(households())
    arrived = household.dog.arrived
    count = draw(st.integers(0, most))
    entries = tuple(draw(entries_after(arrived, number)) for number in range(count))
    return household, entries, arrived + timedelta(minutes=draw(MOMENTS))


def from_scratch(household: Settings, entries: Sequence[Event], now: datetime) -> Situation:
    """Return the situation worked out without what an earlier call left behind."""
    kept, History._last = History._last, None
    try:
        return situation(household, entries, now)
    finally:
        History._last = kept


# --- Any log --------------------------------------------------------------------------------------


@quick
@given(logs(), st.booleans())
def test_it_always_answers_and_the_parts_agree(
    log: tuple[Settings, tuple[Event, ...], datetime], learn: bool
) -> None:
    household, entries, now = log
    seen = situation(household, entries, now, learn=learn)
    due = seen.next_break
    assert due.reasons
    assert due.at == due.reasons[0].at
    if due.state == "late":
        assert due.minutes <= -figures.LATE
    elif due.state == "due":
        assert -figures.LATE <= due.minutes <= 0
    elif due.state == "soon":
        assert 0 < due.minutes <= figures.SOON
    elif due.state == "rest":
        assert due.minutes > figures.SOON
    else:
        assert due.minutes > 0
    assert (due.state == "asleep") <= bool(seen.asleep)
    assert (due.state == "alone") <= (seen.alone_since is not None)
    assert all(minutes is None or minutes >= 0 for minutes in seen.since.values())
    assert seen.day == (seen.date - household.first_date).days + 1 == len(seen.days)
    assert [slot.at for slot in seen.timeline] == sorted(slot.at for slot in seen.timeline)
    coming = [slot for slot in seen.timeline if slot.status in ("due", "planned")]
    assert all(slot.at >= now for slot in coming)
    assert len(coming) < 60


@quick
@given(logs())
def test_the_json_is_plain_and_stable(log: tuple[Settings, tuple[Event, ...], datetime]) -> None:
    household, entries, now = log
    data = as_json(situation(household, entries, now))
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert as_json(from_scratch(household, entries, now)) == data


@quick
@given(logs(), st.randoms(use_true_random=False))
def test_the_order_of_entries_does_not_matter(
    log: tuple[Settings, tuple[Event, ...], datetime], random: Any
) -> None:
    household, entries, now = log
    shuffled = list(entries)
    random.shuffle(shuffled)
    assert situation(household, shuffled, now) == from_scratch(household, entries, now)


@quick
@given(logs())
def test_entries_still_to_come_are_not_seen(
    log: tuple[Settings, tuple[Event, ...], datetime],
) -> None:
    household, entries, now = log
    so_far = tuple(event for event in entries if event.at <= now)
    assert situation(household, entries, now) == from_scratch(household, so_far, now)


@quick
@given(logs())
def test_the_interval_stays_within_its_limits(
    log: tuple[Settings, tuple[Event, ...], datetime],
) -> None:
    household, entries, now = log
    changes = situation(household, entries, now, learn=False).interval.changes
    widths = [change.after for change in changes]
    assert min(widths) >= figures.FLOOR_INTERVAL
    assert max(widths) <= household_limit(household.dog)
    assert [change.before for change in changes[1:]] == widths[:-1]
    assert [change.at for change in changes] == sorted(change.at for change in changes)


# --- Changes of the log ---------------------------------------------------------------------------


@quick
@given(logs(), st.data())
def test_an_entry_and_its_undo_leave_no_trace(
    log: tuple[Settings, tuple[Event, ...], datetime], data: st.DataObject
) -> None:
    household, entries, now = log
    before = situation(household, entries, now)
    added = data.draw(entries_after(household.dog.arrived, 999))
    situation(household, (*entries, added), now)
    assert situation(household, entries, now) == before


@settings(max_examples=40)
@given(logs(most=25), st.data())
def test_a_log_that_grows_is_read_as_if_from_scratch(
    log: tuple[Settings, tuple[Event, ...], datetime], data: st.DataObject
) -> None:
    household, entries, now = log
    other = data.draw(households())
    arrived, number = household.dog.arrived, 500
    for _ in range(data.draw(st.integers(2, 6))):
        what = data.draw(
            st.sampled_from(["add", "add", "edit", "delete", "look", "look", "settings"])
        )
        if what == "add":
            number += 1
            entries = (*entries, data.draw(entries_after(arrived, number)))
        elif what == "edit" and entries:
            place = data.draw(st.integers(0, len(entries) - 1))
            shift = timedelta(minutes=data.draw(st.integers(-300, 300)))
            moved = dataclasses.replace(entries[place], at=entries[place].at + shift, dry=None)
            entries = (*entries[:place], moved, *entries[place + 1 :])
        elif what == "delete" and entries:
            place = data.draw(st.integers(0, len(entries) - 1))
            entries = (*entries[:place], *entries[place + 1 :])
        elif what == "look":
            now = arrived + timedelta(minutes=data.draw(MOMENTS))
        elif what == "settings":
            household = replace(household, home=replace(other.home, zone=household.home.zone))
        assert situation(household, entries, now) == from_scratch(household, entries, now)


# --- The earliest reason decides ------------------------------------------------------------------


@st.composite
def waking_days(draw: st.DrawFn) -> tuple[Settings, tuple[Event, ...], datetime]:
    """Draw a log of one day without sleep, from getting up at 06:30 to before bedtime."""
    household = replace(draw(households()), home=Home(zone="Europe/Oslo", up=time(6, 30)))
    day = household.first_date + timedelta(days=1)
    up = instant_of(at_clock(day, time(6, 30), household.zone))
    kinds = st.sampled_from(["pee", "poop", "nothing", "meal", "water", "play", "sign", "back"])
    minutes = draw(st.lists(st.integers(1, 900), max_size=15))
    entries = [Event("up", up, id="up")]
    for number, minute in enumerate(minutes):
        entries.append(Event(draw(kinds), up + timedelta(minutes=minute), id=f"{number:03}"))
    return household, tuple(entries), up + timedelta(minutes=draw(st.integers(1, 900)))


@settings(max_examples=150)
@given(waking_days())
def test_the_due_instant_is_never_after_any_single_reason_s(
    log: tuple[Settings, tuple[Event, ...], datetime],
) -> None:
    """Read the log naively, one reason at a time, and compare."""
    household, entries, now = log
    past = [event for event in entries if event.at <= now]
    outings = [event.at for event in past if event.row.is_outing]
    successes = [event.at for event in past if event.row.is_success]
    rested = max(successes) + timedelta(minutes=10) if successes else now - timedelta(days=9)
    seen = situation(household, entries, now, learn=False)

    def outings_from(instant: datetime) -> list[datetime]:
        return [outing for outing in outings if outing >= instant]

    waits = {"meal": 15, "water": 20, "play": 15}
    for event in past:
        if event.kind in waits:
            due = event.at + timedelta(minutes=waits[event.kind])
            if not outings_from(max(event.at, due - timedelta(minutes=10))):
                assert seen.next_break.at <= max(due, rested), event.kind
        if event.kind == "sign" and not outings_from(event.at):
            assert seen.next_break.at <= event.at
        if event.kind == "back":
            shortly_before = event.at - timedelta(minutes=10)
            served = [success for success in successes if success >= shortly_before]
            if not served and not outings_from(event.at):
                assert seen.next_break.at <= max(event.at, rested)
    pees = [event.at for event in past if event.kind == "pee"]
    if pees:
        due = max(pees) + timedelta(minutes=seen.interval.minutes)
        if not [out for out in outings_from(due - timedelta(minutes=10)) if out > max(pees)]:
            assert seen.next_break.at <= max(due, rested)
    elif not outings:
        assert seen.next_break.at <= now


@settings(max_examples=100)
@given(waking_days(), st.booleans())
def test_no_break_but_for_a_sign_soon_after_a_success(
    log: tuple[Settings, tuple[Event, ...], datetime], learn: bool
) -> None:
    household, entries, now = log
    successes = [e.at for e in entries if e.at <= now and e.row.is_success]
    due = situation(household, entries, now, learn=learn).next_break
    for reason in (*due.reasons, *due.later):
        if successes and reason.code != "sign":
            assert reason.at >= max(successes) + timedelta(minutes=10)


@settings(max_examples=100)
@given(waking_days())
def test_the_estimate_only_ever_brings_a_break_forward(
    log: tuple[Settings, tuple[Event, ...], datetime],
) -> None:
    household, entries, now = log
    with_estimate = situation(household, entries, now).next_break
    if with_estimate.reasons[0].code != "digestion":
        assert with_estimate.at <= situation(household, entries, now, learn=False).next_break.at
