"""What goes on the pad counts neither as an accident nor as a success outside, anywhere."""

from __future__ import annotations

from typing import Any

import pytest

from pottyboard.core.estimate.learning import censored_hold
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event, EventError, check_details
from pottyboard.core.statistics.survival import CensoredTime
from pottyboard.core.view.hold_report import hold_report
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def three_days(last_pee: dict[str, Any]) -> Diary:
    """Return a clear day, then a day whose pee at 18:15 is as given, read on the day after."""
    page = diary().on(2).all_at(*CLEAR_DAY).on(3)
    page = page.all_at("06:30 up", "06:35 pee", "14:20 pee", "22:10 pee")
    return page.at("10:30", "pee", place="pad").at("18:15", "pee", **last_pee).on(4)


def test_a_place_is_the_pad_however_it_is_written() -> None:
    at = diary().instant("12:00")
    for place in ("pad", "Pad", "PAD"):
        assert Event("pee", at, place=place).on_pad
        assert not Event("pee", at, place=place).went_out
    assert not Event("pee", at, place="by the pad").on_pad
    assert not Event("pad", at, place="pad").on_pad


def test_an_accident_on_the_pad_is_asked_back() -> None:
    at = diary().instant("12:00")
    for kind in ("pee-inside", "poop-inside"):
        with pytest.raises(EventError, match="log pee or poop with the place “pad”"):
            check_details(Event(kind, at, place="Pad"))
    check_details(Event("pee-inside", at, place="beside the pad"))


def test_it_does_not_read_as_outside() -> None:
    at = diary().instant("12:00")
    for kind in ("pee", "poop", "both", "nothing"):
        assert "outside" not in Event(kind, at, place="pad").done
        assert "pad" in Event(kind, at, place="pad").done
        assert Event(kind, at).done == Event(kind, at).row.done


def test_no_outing_of_a_clear_day() -> None:
    assert three_days({}).read("12:00").days[2].verdict == "clear"
    on_pad = three_days({"place": "pad"}).read("12:00").days[2]
    assert on_pad.verdict == "unknown"
    assert on_pad.outings == 3
    assert on_pad.accidents == 0


def test_it_does_not_break_the_streak_or_open_a_job() -> None:
    page = diary(vet="done").on(2).all_at(*CLEAR_DAY).on(3).all_at(*CLEAR_DAY)
    page = page.at("11:00", "pee", place="pad").on(4)
    seen = page.read("07:00")
    assert seen.streak_days == 2
    assert seen.open_jobs == ()
    assert seen.since["accident"] is None


def test_an_outing_right_after_the_pad_counts_by_itself() -> None:
    page = three_days({"place": "pad"}).on(3).at("17:05", "poop").on(4)
    assert page.read("12:00").days[2].outings == 4


def test_it_empties_the_bladder_and_ends_the_retries() -> None:
    page = diary().on(3).all_at(*MORNING, "08:35 nothing")
    assert "retry" in page.dues("08:40")
    assert page.read("08:40").advice
    page = page.at("08:45", "pee", place="pad")
    assert "retry" not in page.dues("08:46")
    assert not any("Nothing came" in words for words in page.read("08:46").advice)
    assert page.dues("08:46")["hold"] == "10:45"


def test_nothing_on_the_pad_is_no_outing_without_success() -> None:
    page = diary().on(3).all_at(*MORNING).at("08:35", "nothing", place="pad")
    assert "retry" not in page.dues("08:40")
    assert page.dues("08:40")["hold"] == "08:35"


def test_a_break_after_a_meal_still_stands() -> None:
    page = diary().on(3).all_at(*MORNING, "07:00 meal").at("07:05", "pee", place="pad")
    assert page.dues("07:06")["meal"] == "07:15"
    assert "meal" not in page.at("07:14", "pee").dues("07:15")


def test_holds_that_ended_on_it_widen_nothing() -> None:
    outside = diary().on(2).all_at(*CLEAR_DAY).on(3).all_at(*CLEAR_DAY).on(4)
    assert outside.read("07:00").interval.minutes == 150
    page = diary()
    for day in (2, 3):
        page = page.on(day).all_at(*MORNING, "07:00 meal", "07:20 poop")
        for clock in ("08:35", "10:30", "12:25", "14:20", "16:15", "19:45", "21:30"):
            # Outside brings nothing but stool; the pee is always on the pad before.
            page = page.at(clock, "pee", place="pad").at(f"{clock[:3]}{int(clock[3:]) + 1}", "poop")
        page = page.all_at("22:30 pee", "22:40 settled")
    seen = page.on(4).read("07:00")
    assert [day.verdict for day in seen.days[1:3]] == ["clear", "clear"]
    assert seen.interval.minutes == 120
    assert seen.interval.missing


def test_its_hold_says_about_now() -> None:
    page = diary().on(2).all_at(*MORNING)
    without = page.at("09:00", "pee").days("12:00")[-1].evidence_so_far
    on_pad = page.at("09:00", "pee", place="pad").days("12:00")[-1]
    assert without.holds == 1
    assert (on_pad.evidence_so_far.holds, on_pad.evidence_so_far.accidents) == (1, 0)
    (hold,) = on_pad.holds
    assert hold.how == "pad"
    assert censored_hold(hold) == CensoredTime(130, 160, figures.ASKED_WEIGHT)
    # The hold that begins with it counts as any other.
    later = page.at("09:00", "pee", place="pad").at("11:00", "pee").days("12:00")[-1]
    assert later.awake_holds == (120.0,)
    assert later.evidence_so_far.holds == 2


def test_it_is_no_accident_in_what_the_board_says_of_the_hold() -> None:
    page = diary().on(2).all_at(*MORNING, "08:35 pee", "10:30 pee", "12:25 pee")
    page = page.at("14:20", "pee", place="pad").at("16:15", "pee")
    study = hold_report(page.settings, page.entries, page.instant("17:00"))
    assert study.accidents == ()
    assert study.estimate.accidents == 0
    assert study.estimate.proof.startswith("4 dry waits of 1 h 55 or longer: ")


def test_stool_on_it_says_when_but_not_how_long_it_would_have_held() -> None:
    page = diary().on(2).all_at(*MORNING, "07:00 meal").at("08:00", "poop", place="pad")
    outside = diary().on(2).all_at(*MORNING, "07:00 meal", "08:00 poop")
    on_pad, out = (each.days("12:00")[-1].evidence_so_far for each in (page, outside))
    assert on_pad.stools == out.stools == 1
    assert on_pad.ready == out.ready
    # Nothing else but how long it would have held tells the two apart.
    assert on_pad != out


def test_on_the_timeline_it_is_an_entry_and_no_planned_break() -> None:
    page = diary().on(3).all_at(*MORNING).at("08:35", "pee", place="pad")
    row = next(slot for slot in page.read("09:00").timeline if slot.event and slot.event.on_pad)
    assert (row.kind, row.status, row.planned) == ("entry", "logged", None)


def test_it_is_no_visit_to_a_lone_dog() -> None:
    page = diary(away="08:30-17:00").on(2).all_at(*MORNING, "08:20 pee", "08:30 left")
    alone = page.read("13:10")
    seen = page.at("11:00", "pee", place="pad").read("13:10")
    assert seen.watch is not None
    assert alone.watch is not None
    assert seen.watch.alone == alone.watch.alone
    assert (
        [words for words in seen.advice if "Alone for" in words]
        == [words for words in alone.advice if "Alone for" in words]
        != []
    )


def test_a_pee_on_the_pad_before_the_morning_does_not_begin_the_day() -> None:
    page = diary().on(2).all_at(*CLEAR_DAY).on(3)
    assert page.at("05:30", "pee").read("05:40").day == 3
    assert page.at("05:30", "pee", place="pad").read("05:40").day == 2
