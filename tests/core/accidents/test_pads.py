"""The pad: nearer to the door day by day, gone inside the fortnight, never without its caution."""

from __future__ import annotations

from datetime import timedelta

import pytest
from msgspec.structs import replace

from pottyboard.core.accidents.accident_views import PadPlan
from pottyboard.core.accidents.pads import STEPS, PadDay, ahead, last_date, walked
from pottyboard.core.model import figures
from pottyboard.core.model.settings import Helper
from pottyboard.core.view.situation import as_json
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def with_pads(**given: str) -> Diary:
    """Open the diary of a home with a pad."""
    page = diary(**given)  # type: ignore[arg-type]
    home = replace(page.settings.home, pads=True)
    return replace(page, settings=replace(page.settings, home=home))


def lived(page: Diary, days: int) -> Diary:
    """Write clear days from day 2 on, and turn to the day after."""
    for day in range(2, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(days + 1)


def plan_on(page: Diary, clock: str = "12:00") -> PadPlan:
    plan = page.read(clock).pad
    assert plan is not None
    return plan


def walk(page: Diary) -> list[PadDay]:
    return list(walked(page.settings, page.days("12:00")))


def test_without_a_pad_there_is_no_plan() -> None:
    assert diary().on(3).all_at(*MORNING).read("12:00").pad is None


def test_it_reaches_the_door_and_goes_inside_the_fortnight() -> None:
    page = with_pads()
    plan = ahead(page.settings)
    assert [day.step for day in plan] == [0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 7, 7, 7]
    assert [day.stage for day in plan[:4]] == ["stays", "stays", "stays", "moves"]
    assert [day.stage for day in plan[10:]] == ["door", "door", "gone"]
    assert plan[0].date == page.settings.first_date
    assert len(plan) <= figures.PROGRAMME_DAYS
    ends = plan_on(page).ends
    assert ends.astimezone(page.settings.zone).date() == last_date(page.settings)
    assert (last_date(page.settings) - page.settings.first_date).days + 1 == 12


def test_day_by_day_in_words() -> None:
    words = {day: plan_on(lived(with_pads(), day - 1)).words for day in (2, 3, 4, 10, 11, 12, 13)}
    assert words[2].startswith("Leave the pad where it is, 2 days more.")
    assert words[3].startswith("Leave the pad where it is, 1 day more.")
    assert words[4].startswith("Move the pad towards the door today: step 1 of 7 to the door.")
    assert words[10].startswith("Move the pad towards the door today: step 7 of 7 to the door.")
    assert words[11].startswith("The pad lies right at the door today.")
    assert "take it up for good at bedtime" in words[12]
    assert words[13] == "Take the pad up for good. Log it: pad, taken up for good"


def test_a_day_after_an_accident_waits_and_the_rest_is_shared() -> None:
    page = lived(with_pads(), 4).all_at(*CLEAR_DAY).at("12:00", "pee-inside", found=False).on(6)
    page = page.all_at(*CLEAR_DAY).on(7).all_at(*CLEAR_DAY).on(8).all_at(*CLEAR_DAY).on(9)
    page = page.all_at(*CLEAR_DAY).on(10).all_at(*CLEAR_DAY)
    days = walk(page)
    assert [day.step for day in days] == [0, 0, 0, 1, 2, 2, 3, 4, 6, 7]
    assert days[5].stage == "waits"
    assert "An accident yesterday: leave the pad today, step 2 of 7" in days[5].words


def test_it_is_at_the_door_in_time_whatever_happens() -> None:
    page = with_pads()
    for day in range(2, 12):
        page = page.on(day).all_at(*CLEAR_DAY).at("12:00", "pee-inside", found=False)
    days = walk(page)
    assert [day.step for day in days][3:9] == [0] * 6
    assert days[9].step == STEPS
    assert days[9].stage == "moves"


def test_marking_does_not_hold_it_up() -> None:
    page = lived(with_pads(), 4).all_at(*CLEAR_DAY)
    page = page.at("12:00", "pee-inside", found=False, cause="marking").on(6)
    assert walk(page)[5].stage == "moves"


def test_it_is_for_the_times_that_nobody_covers() -> None:
    gap = with_pads(away="09:00-17:00").on(2).all_at(*MORNING, "08:50 pee")
    assert "It is for 08:55 to 17:00, which nobody covers" in plan_on(gap, "08:55").words
    home = replace(
        gap.settings.home,
        helpers=(Helper("Mina", gap.settings.home.up, gap.settings.home.bed),),
    )
    covered = replace(gap, settings=replace(gap.settings, home=home))
    assert "Somebody can come at every time today" in plan_on(covered, "08:55").words


def test_a_pad_that_is_not_used_can_go_at_once() -> None:
    page = lived(with_pads(), 4)
    assert "Not used for 3 days" in plan_on(page).words
    used = page.on(3).at("12:30", "pee", place="pad").on(5)
    assert "Not used" not in plan_on(used).words
    early = lived(with_pads(), 2)
    assert "Not used" not in plan_on(early).words


def test_what_the_log_says_of_the_pad() -> None:
    page = lived(with_pads(), 4).all_at(*MORNING)
    moved = page.at("10:00", "pad", place="nearer the door")
    assert "Moved today: let it lie there" in plan_on(moved).words
    changed = page.at("10:00", "pad")
    assert "Moved today" not in plan_on(changed).words
    assert page.at("10:00", "pad", place="Removed").read("12:00").pad is None
    back = page.at("10:00", "pad", place="removed").at("11:00", "pee", place="pad")
    assert back.read("12:00").pad is not None


def test_after_its_last_day_it_is_named_only_while_it_is_used() -> None:
    page = lived(with_pads(), 13)
    assert page.read("12:00").pad is None
    used = page.on(12).at("12:00", "pee", place="pad").on(14)
    assert plan_on(used).words.startswith("Take the pad up for good.")
    assert lived(with_pads(), 20).read("12:00").pad is None


def test_a_new_round_begins_the_plan_again() -> None:
    page = lived(with_pads(), 20).all_at(*MORNING, "07:00 round").on(22).all_at(*MORNING)
    plan = plan_on(page)
    assert plan.words.startswith("Leave the pad where it is, 2 days more.")
    assert plan.ends.astimezone(page.settings.zone).date() == (
        page.settings.first_date + timedelta(days=20 + 11)
    )


@pytest.mark.parametrize("day", [2, 6, 12])
def test_the_caution_always_comes_with_it(day: int) -> None:
    caution = plan_on(lived(with_pads(), day - 1)).caution
    assert "indoors is allowed" in caution
    assert "longer than Bramble can hold" in caution


def test_it_is_in_the_situation_for_other_programs() -> None:
    page = lived(with_pads(), 3)
    told = as_json(page.read("12:00"))["pad"]
    assert told["words"] == plan_on(page).words
    assert told["caution"] == plan_on(page).caution
    assert told["ends"].startswith("2026-03-13T22:30")
    assert as_json(diary().read("12:00"))["pad"] is None
