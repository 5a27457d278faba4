"""The ladder of practice absences: doubling while calm, before the first long one."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.core.away.practice import Ladder, how_it_went, ladder, practices
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.model.rota import read_helpers
from tests.core.diary import Diary, diary


def household(away_from: int = 5) -> Diary:
    """A dog alone 08:30 to 12:00 from a day on, with a visit where it is needed."""
    page = diary(15, away="08:30-12:00", away_from=away_from)
    home = replace(page.settings.home, helpers=read_helpers("Mina 8:00-18:00 10"))
    return replace(page, settings=replace(page.settings, home=home))


def practise(page: Diary, *rounds: tuple[str, str, str]) -> Diary:
    """Log practices as (left, back, how it went)."""
    for left, back, how in rounds:
        page = page.at(left, "left").at(back, "back", note=how)
    return page


def seen(page: Diary, clock: str = "12:00", interval: float = 120) -> Ladder:
    plan = plan_visits(page.settings, page.instant(clock), interval, days=14)
    return ladder(page.settings, page.entries, plan, page.instant(clock))


def test_the_first_practice_takes_a_minute_and_calm_ones_double() -> None:
    page = household()
    assert seen(page).rungs == (1, 2, 4, 8, 16, 32, 64, 120)
    calm = practise(page, ("09:00", "09:01", "calm"), ("10:00", "10:02", "calm, slept"))
    assert seen(calm).rungs[0] == 4
    assert seen(calm).reached == 2
    bold = practise(page, ("09:00", "09:20", "calm"))
    assert seen(bold).rungs[:2] == (40, 80)


def test_uneasy_is_repeated_distressed_is_halved_and_unknown_changes_nothing() -> None:
    page = practise(household(), ("08:00", "08:16", "calm"))
    assert seen(page).rungs[0] == 32
    assert seen(practise(page, ("09:00", "09:32", "uneasy"))).rungs[0] == 32
    assert seen(practise(page, ("09:00", "09:32", "distressed"))).rungs[0] == 16
    assert seen(practise(page, ("09:00", "09:32", ""))).rungs[0] == 32
    assert seen(practise(page, ("09:00", "09:01", "distressed"))).rungs[0] == 1


def test_the_ladder_ends_at_the_longest_time_alone_of_the_first_absence() -> None:
    page = household()
    assert seen(page, interval=120).target == 120
    assert seen(page, interval=240).target == 210
    done = practise(page, ("07:00", "10:30", "calm"))
    found = seen(done, interval=240)
    assert (found.rungs, found.left_today, found.enough) == ((), 0, True)
    assert found.words == "practised: calm for 3 h 30 alone"


def test_three_a_day_and_whether_the_days_are_enough() -> None:
    early = seen(household(5))
    assert (early.left_today, early.enough) == (3, True)
    assert early.words == "next 1 min; 8 steps to 2 h before the first day away (Fri 6 Mar)"
    late = seen(household(2))
    assert not late.enough
    assert late.words.endswith("add a visit or stay home longer")
    assert ", too many before the first day away (" in late.words
    busy = practise(household(5), *((f"0{h}:00", f"0{h}:01", "uneasy") for h in (7, 8, 9)))
    assert seen(busy).left_today == 0


def test_distress_twice_in_a_row_is_passed_to_a_professional_without_a_label() -> None:
    once = practise(household(), ("09:00", "09:08", "distressed"))
    assert seen(once).concern == ""
    twice = practise(once, ("10:00", "10:04", "distressed: howled"))
    concern = seen(twice).concern
    assert "vet or a qualified behaviourist" in concern
    assert "anxiety" not in concern
    assert seen(practise(twice, ("11:00", "11:02", "calm"))).concern == ""


def test_an_absence_still_running_or_never_ended_is_no_practice_yet() -> None:
    page = household().at("09:00", "left")
    assert practices(page.entries) == ()
    (found,) = practices(page.at("09:30", "left").at("09:40", "back").entries)
    assert found.minutes == 10


@pytest.mark.parametrize(
    ("note", "how"),
    [("calm", "calm"), ("Calm, slept", "calm"), ("uneasy.", "uneasy"),
     ("DISTRESSED: x", "distressed"), ("not calm", ""), ("", ""), ("calmer", "")],
)  # fmt: skip
def test_how_it_went_is_the_first_word(note: str, how: str) -> None:
    assert how_it_went(note) == how
