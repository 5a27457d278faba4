"""A day with visits: the situation while the dog is alone, and the visits in the timeline."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import instant_of
from pottyboard.core.model.rota import read_helpers, read_own_hours
from pottyboard.core.view.situation import as_json, situation
from tests.core.diary import MORNING, Diary, diary


def household(away: str = "08:30-16:00", helpers: str = "Mina 8:00-18:00 10") -> Diary:
    """A day alone, visited at 10:15, 12:00 and 14:00 at an interval of 2 h."""
    page = diary(15, away=away).all_at(*MORNING, "07:00 meal", "07:20 poop", "08:15 pee")
    home = replace(page.settings.home, helpers=read_helpers(helpers))
    return replace(page, settings=replace(page.settings, home=home))


def left(**household_words: str) -> Diary:
    return household(**household_words).at("08:30", "left")


def due(page: Diary, clock: str) -> tuple[str, str, int, str]:
    """Return the state, the clock time, the minutes to go and the first reason."""
    found = page.read(clock).next_break
    return found.state, page.clock(found.at), found.minutes, found.reasons[0].code


def rows(page: Diary, clock: str, kind: str = "visit") -> list[tuple[str, str, str]]:
    """Return (clock time, status, words) of the rows of one kind."""
    return [
        (page.clock(slot.at), slot.status, slot.words)
        for slot in page.read(clock).timeline
        if slot.kind == kind
    ]


# --- Alone ----------------------------------------------------------------------------------------


def test_alone_counts_to_the_next_visit_and_names_who_is_due() -> None:
    page = left()
    assert rows(page, "08:31") == [
        ("10:15", "due", "visit by Mina"),
        ("12:00", "planned", "visit by Mina"),
        ("14:00", "planned", "visit by Mina"),
    ]
    found = page.read("09:00")
    assert due(page, "09:00") == ("alone", "10:15", 75, "visit")
    assert found.next_break.reasons[0].words == "Mina is due at 10:15"
    assert found.watch is not None
    assert (found.watch.who, found.watch.alone) == ("Mina", 30)


@pytest.mark.parametrize(
    ("clock", "state"),
    [("10:14", "alone"), ("10:15", "due"), ("10:30", "due"), ("10:31", "late"), ("11:30", "late")],
)
def test_it_turns_late_if_nobody_reported(clock: str, state: str) -> None:
    assert due(left(), clock)[:2] == (state, "10:15")


def test_late_says_whom_to_call() -> None:
    found = left().read("10:35").next_break
    assert found.reasons[0].words == "Mina was due at 10:15, nothing reported for 20 min: call"


def test_a_report_moves_on_to_the_next_visit_and_then_to_the_return() -> None:
    page = left().at("10:05", "pee", by="Mina")
    assert due(page, "10:30") == ("alone", "12:00", 90, "visit")
    page = page.at("12:00", "nothing", by="Mina").at("14:10", "pee", by="Mina")
    assert due(page, "15:00") == ("alone", "16:00", 60, "return")
    assert due(page, "16:16")[:2] == ("late", "16:00")


def test_on_return_a_break_is_due_at_once() -> None:
    page = left().at("10:05", "pee").at("11:00", "back")
    assert due(page, "11:00") == ("due", "11:00", 0, "back")
    assert page.read("11:00").watch is None


def test_no_reason_is_due_before_the_visit_that_the_dog_waits_for() -> None:
    found = left().at("08:45", "water").read("09:30").next_break
    assert [reason.code for reason in found.reasons] == ["visit", "hold"]
    assert all(reason.at >= found.at for reason in (*found.reasons, *found.later))


def test_with_nobody_to_come_a_break_falls_due_before_the_return() -> None:
    page = left(helpers="")
    assert due(page, "09:00") == ("alone", "10:15", 75, "hold")
    assert due(page, "10:40")[0] == "late"
    short = left(away="08:30-09:30", helpers="")
    assert due(short, "09:00") == ("alone", "09:30", 30, "return")


def test_an_absence_that_nobody_planned_keeps_the_usual_reasons() -> None:
    page = household(away="18:00-19:00").at("08:30", "left")
    assert due(page, "09:00") == ("alone", "10:15", 75, "hold")
    watch = page.read("09:00").watch
    assert watch is not None
    assert watch.words == "no absence planned: Bramble needs somebody by 10:30"


def test_an_absence_over_midnight() -> None:
    page = diary(15, away="20:00-02:00").all_at("06:30 up", "19:45 pee", "20:00 left")
    home = replace(page.settings.home, helpers=read_helpers("Otto 19:00-23:30"))
    page = replace(page, settings=replace(page.settings, home=home))
    assert due(page, "20:30")[0] == "alone"
    assert due(page, "20:30")[3] == "visit"
    later = situation(page.settings, page.entries, page.on(2).instant("01:00"), learn=False)
    assert later.watch is not None


def test_the_json_says_for_whom_it_waits() -> None:
    assert as_json(household().read("08:20"))["alone"] is None
    assert as_json(left().read("09:00"))["alone"] == {
        "since": "2026-03-02T08:30+01:00",
        "waits_for": "Mina",
        "at": "2026-03-02T10:15+01:00",
        "minutes": 75,
        "words": "Mina is due at 10:15",
    }
    assert as_json(left().read("09:00"))["next_break"]["reasons"][0]["reason"] == "visit"


# --- The timeline ---------------------------------------------------------------------------------


def test_visits_stand_in_for_the_breaks_while_the_dog_is_alone() -> None:
    planned = [(at, kind) for at, kind, _ in household().planned("08:20") if at < "16:30"]
    assert planned == [
        ("08:30", "leaving"),
        ("10:15", "visit"),
        ("12:00", "visit"),
        ("14:00", "visit"),
        ("16:00", "back"),
        ("16:00", "break"),
    ]


def test_a_reported_visit_stands_beside_its_time() -> None:
    page = left().at("10:05", "pee", by="Mina").at("10:06", "poop", by="Mina")
    page = page.at("12:20", "nothing", by="Mina")
    assert rows(page, "13:00") == [
        ("10:05", "done", "visit by Mina"),
        ("12:20", "late", "visit by Mina"),
        ("14:00", "due", "visit by Mina"),
    ]


def test_a_visit_that_nobody_reported_is_waited_for_and_then_missed() -> None:
    page = left()
    assert rows(page, "10:40")[0] == ("10:40", "due", "visit by Mina")
    page = page.at("12:00", "pee", by="Mina")
    assert rows(page, "12:30")[:2] == [
        ("10:15", "missed", "visit by Mina"),
        ("12:00", "done", "visit by Mina"),
    ]


def test_nobody_is_missed_by_a_household_that_stayed_at_home() -> None:
    page = household().at("10:10", "pee")
    assert rows(page, "12:30") == []
    assert rows(page, "12:30", "back") == []


def test_an_outing_by_the_helper_is_the_visit_though_nobody_logged_the_leaving() -> None:
    page = household().at("10:10", "pee", by="Mina")
    assert rows(page, "10:30") == [("10:10", "done", "visit by Mina")]


def test_a_meal_is_planned_for_the_time_that_the_absence_leaves() -> None:
    page = household(away="06:55-11:00")
    meals = [slot for slot in page.read("06:40").timeline if slot.kind == "meal"]
    moved = next(slot for slot in meals if slot.words != "meal")
    assert (page.clock(moved.at), moved.words) == ("11:15", "meal, on return")


def test_two_absences_of_one_day_each_have_their_visits() -> None:
    page = household()
    own = read_own_hours("Ana mon 08:30-11:30; Ana mon 13:00-16:00")
    home = replace(page.settings.home, people=("Ana",), own_hours=own)
    page = replace(page, settings=replace(page.settings, home=home))
    planned = [(at, kind) for at, kind, _ in page.planned("08:20") if kind != "break"]
    assert [row for row in planned if row[1] in ("leaving", "visit", "back")] == [
        ("08:30", "leaving"), ("10:00", "visit"), ("11:30", "back"),
        ("13:00", "leaving"), ("14:00", "visit"), ("16:00", "back"),
    ]  # fmt: skip


# --- Any day away ---------------------------------------------------------------------------------


@settings(max_examples=150)
@given(
    st.lists(
        st.tuples(
            st.integers(6 * 60 + 30, 22 * 60),
            st.sampled_from(["left", "back", "pee", "nothing", "visit", "note", "meal", "settled"]),
            st.sampled_from(["", "Mina", "Otto"]),
        ),
        max_size=12,
    ),
    st.integers(6 * 60 + 30, 30 * 60),
    st.sampled_from(["08:30-16:00", "07:00-12:00", "20:00-02:00", "22:00-06:00"]),
    st.sampled_from(["", "Mina 8:00-18:00 10", "Mina 9:00-11:00; Otto 12:00-23:00"]),
)
def test_whatever_was_logged_the_parts_agree(
    log: list[tuple[int, str, str]], read: int, away: str, helpers: str
) -> None:
    page = household(away=away, helpers=helpers)
    midnight = page.instant("00:00")
    entries = [Event(kind, midnight + timedelta(minutes=at), by=by) for at, kind, by in log]
    now = midnight + timedelta(minutes=read)
    seen = situation(page.settings, (*page.entries, *entries), now, learn=False)
    due = seen.next_break
    assert due.at == due.reasons[0].at
    assert (seen.watch is None) == (seen.alone_since is None)
    assert (due.state == "alone") <= (seen.watch is not None)
    assert (due.state == "late") == (due.minutes < -15 or due.at < now - timedelta(minutes=15))
    assert [slot.at for slot in seen.timeline] == sorted(slot.at for slot in seen.timeline)
    coming = [slot for slot in seen.timeline if slot.status in ("due", "planned")]
    assert all(slot.at >= now for slot in coming)
    assert len([slot for slot in coming if slot.status == "due"]) <= 1
    shown = [slot.event for slot in seen.timeline if slot.event is not None]
    assert len({id(event) for event in shown}) == len(shown)


# --- Cost -----------------------------------------------------------------------------------------


def test_no_plan_is_made_on_a_day_at_home(monkeypatch: pytest.MonkeyPatch) -> None:
    def planned(*_: object, **__: object) -> None:
        raise AssertionError("planned")

    monkeypatch.setattr("pottyboard.core.away.visits.plan_visits", planned)
    diary(15, away="08:30-16:00", away_on=(6, 7)).all_at(*MORNING).read("09:00")
    with pytest.raises(AssertionError, match="planned"):
        left().read("09:00")


def test_a_log_in_which_nobody_ever_came_back_is_planned_for_three_days_at_most(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from pottyboard.core.away import visits

    asked: list[int] = []
    plan_visits = visits.plan_visits

    def counted(*given: object, days: int, **named: object) -> object:
        asked.append(days)
        return plan_visits(*given, days=days, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(visits, "plan_visits", counted)
    page = household()
    gone = Event("left", page.instant("08:30"))
    later = instant_of(gone.t + 9 * 1440)
    assert situation(page.settings, (gone,), later).alone_since == gone.at
    assert asked == [3]
