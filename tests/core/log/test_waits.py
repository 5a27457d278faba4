"""What one wait says of the dog: of holding, of digesting, and of nothing."""

from __future__ import annotations

import pytest

from pottyboard.core.log.state import LogState
from pottyboard.core.log.take_in import take_in
from pottyboard.core.log.waits import Digested, Hold, Stool, Wait
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.statistics.survival import CensoredTime
from tests.core.diary import MORNING, Diary, diary


def waits(page: Diary, clock: str = "23:00") -> list[Wait]:
    """Return the waits that the entries of the first day end."""
    day, facts = page.days(clock)[-1], LogState()
    return [wait for event in page.entries for wait in take_in(facts, event, day.plan)]


def last_hold(page: Diary) -> Hold:
    return [wait for wait in waits(page) if isinstance(wait, Hold)][-1]


def meals(page: Diary) -> list[Digested]:
    return [wait for wait in waits(page) if isinstance(wait, Digested)]


# --- From a pee -----------------------------------------------------------------------------------


def test_a_hold_has_a_part_awake_and_a_part_asleep() -> None:
    page = diary().all_at(*MORNING, "09:00 pee", "09:30 settled", "10:00 water", "11:00 pee")
    hold = last_hold(page)
    assert (hold.awake, hold.asleep, hold.length) == (90, 30, 120)
    assert (hold.how, hold.night, hold.indoors, hold.tells) == ("out", False, False, True)


def test_a_nap_counts_from_the_pee_on() -> None:
    # Out in the middle of a nap that nobody ended, as a night walk is.
    page = diary().all_at(*MORNING, "09:00 settled", "09:30 pee", "10:00 settled", "10:30 pee")
    assert (last_hold(page).awake, last_hold(page).asleep) == (30, 30)


@pytest.mark.parametrize(
    ("kind", "details", "how"),
    [
        ("pee", {}, "out"),
        ("pee", {"place": "pad"}, "pad"),
        ("pee-inside", {"found": False}, "seen"),
        ("pee-inside", {"found": True}, "found"),
        ("pee-inside", {"found": None}, "found"),
    ],
)
def test_how_a_hold_ended(kind: str, details: dict[str, object], how: str) -> None:
    hold = last_hold(diary().all_at(*MORNING).at("09:00", kind, **details))
    assert (hold.how, hold.indoors) == (how, how in ("seen", "found"))
    assert hold.tells
    assert hold.chosen == (how == "pad")


def test_what_is_found_was_dry_for_a_part_of_the_hold() -> None:
    page = diary().all_at(*MORNING).at("09:00", "pee-inside", found=True, dry="08:00")
    assert last_hold(page).dry == 85
    assert last_hold(diary().all_at(*MORNING, "09:00 pee-inside")).dry == 0


@pytest.mark.parametrize(
    ("clock", "details", "tells"),
    [
        ("07:19", {}, False),
        ("07:20", {}, True),
        ("08:20", {"cause": "unwell"}, False),
        ("08:20", {"cause": "late"}, True),
    ],
)
def test_what_says_nothing_of_holding(clock: str, details: dict[str, object], tells: bool) -> None:
    # Within 45 min of a pee it is the rest of that one, or something else.
    page = diary().all_at(*MORNING).at(clock, "pee-inside", **details)
    assert last_hold(page).tells == tells


@pytest.mark.parametrize("cause", ["marking", "greeting", "leak"])
def test_what_empties_no_bladder_ends_no_hold(cause: str) -> None:
    page = diary().all_at(*MORNING).at("08:20", "pee-inside", cause=cause)
    assert page.days("08:30")[-1].holds == ()
    assert last_hold(page.at("08:35", "pee")).length == 120


def test_a_hold_over_a_silence_is_its_part_before() -> None:
    page = diary().all_at(*MORNING, "07:30 play")
    (dry,) = page.at("12:00", "pee").days("13:00")[-1].holds
    assert (dry.awake, dry.silent, dry.proves) == (55, True, False)
    (wet,) = page.at("12:00", "pee-inside", found=False).days("13:00")[-1].holds
    assert (wet.how, wet.dry, wet.length) == ("found", 55, 325)


@pytest.mark.parametrize(("sign", "asked"), [("08:19", False), ("08:20", True), ("08:34", True)])
def test_a_pee_soon_after_a_sign_is_the_dog_s_own_time(sign: str, asked: bool) -> None:
    hold = last_hold(diary().all_at(*MORNING, f"{sign} sign", "08:35 pee"))
    assert (hold.asked, hold.proves) == (asked, not asked)


def test_a_small_pee_ends_a_hold_and_begins_the_next() -> None:
    page = diary().all_at(*MORNING).at("08:05", "pee", amount="small").at("09:05", "pee")
    assert [hold.length for hold in page.days("10:00")[-1].holds] == [90, 60]


def test_pees_of_one_outing_are_one() -> None:
    page = diary().all_at("06:30 up", "06:35 pee", "06:45 pee")
    assert waits(page) == []
    assert len(waits(page.at("06:56", "pee"))) == 1


# --- From a meal ----------------------------------------------------------------------------------


def test_a_stool_outside_came_after_the_last_outing_without() -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "07:40 pee", "08:20 poop")
    assert meals(page) == [Digested(40, 80)]
    (found,) = meals(page)
    assert found.ended
    assert found.ready == CensoredTime(40, 80)
    assert found.stool_hold == CensoredTime(20)


def test_its_own_outing_is_no_outing_without() -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "07:30 pee", "08:12 pee", "08:20 poop")
    assert meals(page) == [Digested(30, 80)]


def test_an_outing_before_the_meal_says_nothing_of_it() -> None:
    page = diary().all_at(*MORNING, "06:50 nothing", "07:00 meal", "08:20 poop")
    assert meals(page) == [Digested(0, 80)]


def test_only_the_last_meal_brought_it() -> None:
    page = diary(meals="07:00,12:00").all_at(
        *MORNING, "07:00 meal", "09:00 pee", "12:00 meal", "12:40 poop"
    )
    assert meals(page) == [Digested(120), Digested(0, 40)]
    assert [one.ended for one in meals(page)] == [False, True]
    assert meals(page)[0].ready == CensoredTime(120)
    assert meals(page)[0].stool_hold is None


def test_a_meal_is_given_up_at_the_next_one() -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "13:10 pee", "13:30 meal")
    assert meals(page) == [Digested(370)]


@pytest.mark.parametrize(
    ("details", "found"),
    [
        ({"found": False}, Digested(40, 80, indoors=True)),
        ({"found": True}, Digested(40, 80, indoors=True, dry=40)),
        ({"found": True, "dry": "08:00"}, Digested(40, 80, indoors=True, dry=60)),
        ({"found": True, "dry": "06:50"}, Digested(40, 80, indoors=True, dry=0)),
    ],
)
def test_a_stool_indoors(details: dict[str, object], found: Digested) -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "07:40 pee")
    assert meals(page.at("08:20", "poop-inside", **details)) == [found]
    assert found.stool_hold == CensoredTime(0, 40)


def test_a_stool_on_the_pad_was_held_for_nothing() -> None:
    page = diary().all_at(*MORNING, "07:00 meal", "07:40 pee").at("08:20", "poop", place="pad")
    assert meals(page) == [Digested(40, 80, pad=True)]
    assert meals(page)[0].stool_hold == CensoredTime(0)


def test_the_ends_of_what_a_stool_proves() -> None:
    assert Digested(0, 300).stool_hold == CensoredTime(60), "an hour at most"
    assert Digested(80, 80, indoors=True).stool_hold == CensoredTime(0, 1)
    assert Digested(90, 80).ready == CensoredTime(80, 80)


def test_a_stool_was_ready_half_way_back_and_half_an_hour_at_most() -> None:
    page = diary().all_at(*MORNING, "08:00 pee", "08:40 poop", "12:00 poop")
    ready = [wait.ready for wait in waits(page) if isinstance(wait, Stool)]
    assert ready[1:] == [
        minutes_of(page.instant("08:20")), minutes_of(page.instant("11:30")),
    ]  # fmt: skip
