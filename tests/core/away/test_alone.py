"""While the dog is alone: who is due, when it turns late, and how long it has been."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.core.away.alone import Watch, minutes_alone, watch
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.model.rota import read_helpers
from tests.core.diary import Diary, diary


def household(away: str = "08:30-16:00") -> Diary:
    """A dog alone by day, visited at 10:45 and 13:30 at an interval of 3 h."""
    page = diary(15, away=away)
    home = replace(page.settings.home, helpers=read_helpers("Mina 8:00-18:00 10"))
    return replace(page, settings=replace(page.settings, home=home))


def seen(page: Diary, clock: str, since: str = "08:30") -> Watch:
    """Return what the dog left at ``since`` waits for at a clock time of day 1."""
    now = page.instant(clock)
    plan = plan_visits(page.settings, page.instant("07:00"), 180, days=1)
    return watch(page.settings, plan, page.entries, page.instant(since), now)


def times(page: Diary) -> list[str]:
    plan = plan_visits(page.settings, page.instant("07:00"), 180, days=1)
    return [page.clock(visit.at) for visit in plan.visits]


def test_counts_to_the_next_visit_and_says_who_is_due() -> None:
    page = household()
    assert times(page) == ["10:45", "13:30"]
    found = seen(page, "10:00")
    assert (found.state, found.minutes, found.alone, found.who) == ("alone", 45, 90, "Mina")
    assert found.words == "Mina is due at 10:45"
    assert seen(page, "10:30").state == "soon"
    assert seen(page, "10:45").state == "due"
    assert seen(page, "11:00").state == "due"


def test_turns_late_if_nobody_reported() -> None:
    found = seen(household(), "11:01")
    assert found.state == "late"
    assert found.words == "Mina was due at 10:45, nothing reported for 16 min: call"


@pytest.mark.parametrize(
    ("kind", "by"), [("pee", "Mina"), ("nothing", ""), ("visit", ""), ("note", "Mina")]
)
def test_a_report_moves_on_to_the_next_visit(kind: str, by: str) -> None:
    page = household().at("10:40", kind, by=by)
    found = seen(page, "11:30")
    assert page.clock(found.at) == "13:30"
    assert seen(page.at("13:35", kind, by=by), "14:00").visit is None


def test_somebody_else_s_note_is_no_report_and_an_early_outing_neither() -> None:
    page = household().at("11:05", "note", by="Ana").at("09:00", "pee")
    assert seen(page, "11:30").state == "late"


def test_after_the_last_visit_it_waits_for_the_return() -> None:
    page = household().at("11:00", "pee").at("13:30", "pee")
    found = seen(page, "15:00")
    assert (found.visit, page.clock(found.at), found.minutes) == (None, "16:00", 60)
    assert seen(page, "16:20").words.startswith("somebody was due at 16:00")


def test_leaving_early_or_late_is_still_that_absence() -> None:
    page = household()
    assert page.clock(seen(page, "09:30", since="07:40").at) == "10:45"
    assert page.clock(seen(page, "09:30", since="09:20").at) == "10:45"


def test_an_absence_that_nobody_planned_waits_for_the_limit() -> None:
    page = household("20:00-21:00")
    found = seen(page, "09:00")
    assert (found.visit, page.clock(found.at)) == (None, "11:30")
    assert found.words == "no absence planned: Bramble needs somebody by 11:30"
    assert page.clock(seen(page.at("10:00", "pee"), "10:30").at) == "13:00"


def test_minutes_since_leaving_mark_an_accident_alone() -> None:
    page = household().all_at("08:30 left", "08:50 pee-inside", "09:00 back", "09:30 poop-inside")
    by_kind = {event.kind: event for event in page.entries}
    assert minutes_alone(page.entries, by_kind["pee-inside"]) == 20
    assert minutes_alone(page.entries, by_kind["poop-inside"]) is None
    assert minutes_alone((), by_kind["pee-inside"]) is None
