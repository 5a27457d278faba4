"""The running facts: what the log says at an instant, after the entries so far."""

from __future__ import annotations

import pytest

from pottyboard.core.engine.days import Day
from pottyboard.core.log.state import LogState, for_the_night
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def today(page: Diary, clock: str) -> Day:
    """Return the day that a clock time falls on, worked out up to it."""
    return page.days(clock)[-1]


def facts(page: Diary, clock: str) -> LogState:
    return today(page, clock).facts


def minute(page: Diary, clock: str) -> float:
    return minutes_of(page.instant(clock))


# --- Sleep ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "said", "night"),
    [
        ("13:00", "", False), ("13:00", "nap", False), ("13:00", "night", True),
        ("22:40", "", True), ("22:40", "nap", False), ("22:40", "night", True),
    ],
)  # fmt: skip
def test_a_dog_settles_for_the_night_as_said_or_by_the_hour(
    clock: str, said: str, night: bool
) -> None:
    page = diary().all_at(*MORNING)
    settled = Event("settled", page.instant(clock), sleep=said)
    assert for_the_night(settled, today(page, "13:00").plan) == night


def slept(page: Diary, at: str, *, told: str = "12:00") -> tuple[str, str | None]:
    """Return the sleep at a clock time, and since when, by a log that ends at ``told``."""
    day, now = today(page, told), minute(page, at)
    since = day.facts.asleep_from(day.plan, now)
    shift = None if since is None else since - minute(page, "00:00")
    clock = None if shift is None else f"{int(shift) // 60:02}:{int(shift) % 60:02}"
    return day.facts.sleep_at(day.plan, now), clock


def test_a_nap_lasts_until_something_shows_that_the_dog_is_awake() -> None:
    page = diary().all_at(*MORNING, "10:00 settled")
    assert slept(page, "11:00") == ("nap", "10:00")
    assert slept(page.all_at("10:30 duty", "10:40 note", "10:50 left"), "11:00") == ("nap", "10:00")
    assert slept(page.at("10:30", "water"), "11:00") == ("", None)
    assert slept(page.at("10:30", "settled"), "11:00") == ("nap", "10:00")


@pytest.mark.parametrize(
    ("last", "awake", "asleep"),
    [
        ("22:25 pee", "22:44", "22:45"),
        ("21:45 pee", "22:44", "22:45"),
        ("21:44 pee", "00:29", "00:30"),
        ("22:45 pee", "22:59", "23:00"),
        ("22:25 nothing", "00:29", "00:30"),
    ],
)
def test_after_bedtime_a_quiet_dog_is_taken_to_sleep(last: str, awake: str, asleep: str) -> None:
    # A quarter of an hour after bedtime and a last outing; without one two hours.
    page = diary().all_at(*MORNING, last)

    def at(clock: str) -> float:
        return minute(page, clock) + (1440 if clock < "12:00" else 0)

    day = today(page, "22:50")
    assert day.facts.sleep_at(day.plan, at(awake)) == ""
    assert day.facts.sleep_at(day.plan, at(asleep)) == "night"
    since = max(minute(page, "22:30"), minute(page, last.split()[0]))
    assert day.facts.asleep_from(day.plan, at(asleep)) == since


def test_a_night_that_was_logged_begins_before_bedtime_too() -> None:
    page = diary().all_at(*MORNING).at("20:00", "settled", sleep="night")
    assert slept(page, "20:30", told="20:30") == ("night", "20:00")
    assert slept(page, "22:40", told="22:40") == ("night", "20:00")


def test_a_night_nobody_ended_does_not_outlast_the_next_morning() -> None:
    page = diary().all_at(*MORNING, "22:20 pee", "22:40 settled")
    first = today(page, "23:59")
    assert first.facts.sleep == "night"
    tomorrow = page.on(2)
    before, after = minute(tomorrow, "05:00"), minute(tomorrow, "06:31")
    assert first.facts.sleep_at(first.plan, before) == "night"
    second = today(tomorrow, "06:31")
    assert second.facts.sleep_at(second.plan, after) == ""


def test_what_was_slept_since_the_last_pee() -> None:
    page = diary().all_at(*MORNING, "10:00 pee", "10:30 settled")
    day = facts(page, "11:15")
    assert day.asleep_in_hold(minute(page, "11:15")) == 45
    woken = page.at("11:15", "water")
    assert facts(woken, "12:00").asleep_in_hold(minute(page, "12:00")) == 45
    again = woken.at("12:00", "settled")
    assert facts(again, "12:30").asleep_in_hold(minute(page, "12:30")) == 75
    assert facts(again.at("12:30", "pee"), "13:00").asleep_in_hold(minute(page, "13:00")) == 0


@pytest.mark.parametrize(("end", "asks"), [("10:29", False), ("10:30", True)])
def test_only_a_nap_of_half_an_hour_asks_for_a_break(end: str, asks: bool) -> None:
    page = diary().all_at(*MORNING, "10:00 settled").at(end, "water")
    assert (facts(page, "11:00").asks_up == minute(page, end)) == asks


def test_getting_up_is_the_end_of_the_night() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).at("06:10", "up")
    found = facts(page, "06:20")
    assert found.woke == found.asks_up == minute(page, "06:10")
    assert found.night_in_hold
    assert not facts(page.at("06:15", "pee"), "06:20").night_in_hold


# --- Outings --------------------------------------------------------------------------------------


def test_outings_in_a_row_that_brought_nothing() -> None:
    page = diary().all_at(*MORNING, "09:00 nothing", "09:10 nothing")
    assert facts(page, "09:20").empties == 1, "ten minutes are one outing"
    page = page.at("09:21", "nothing")
    assert facts(page, "09:25").empties == 2
    for kind, left in (("pee", 0), ("pee-inside", 0), ("poop", 0), ("poop-inside", 2)):
        assert facts(page.at("09:40", kind), "09:45").empties == left, kind
    assert facts(page.at("09:40", "pee", place="pad"), "09:45").empties == 0


def test_an_outing_without_pee_and_one_without_stool() -> None:
    page = diary().all_at(*MORNING, "09:00 poop", "10:00 pee")
    at_nine, at_ten = minute(page, "09:00"), minute(page, "10:00")
    assert facts(page, "09:30").dry_out == at_nine
    assert facts(page, "10:30").dry_out is None
    assert facts(page, "10:30").bare_out == at_ten
    later = page.at("10:05", "pee").at("11:00", "nothing")
    found = facts(later, "11:30")
    assert (found.bare_before, found.bare_out) == (at_ten + 5, at_ten + 60)


def test_a_stool_in_the_outing_of_a_pee_belongs_to_it() -> None:
    page = diary().all_at(*MORNING, "09:00 pee", "09:06 poop")
    assert facts(page, "09:30").dry_out is None
    assert facts(page, "09:30").last_success == minute(page, "09:06")
    empty = page.at("09:08", "nothing")
    assert (facts(empty, "09:30").dry_out, facts(empty, "09:30").empties) == (None, 0)


def test_meals_wait_for_stool_and_are_forgotten_at_an_outing_six_hours_later() -> None:
    page = diary().all_at(*MORNING, "07:00 meal")
    seven = minute(page, "07:00")
    assert facts(page.at("12:59", "pee"), "23:00").waiting_meals == (seven,)
    assert facts(page.at("13:00", "pee"), "23:00").waiting_meals == ()
    assert facts(page.at("07:40", "poop"), "23:00").waiting_meals == ()


def test_a_sign_stands_until_somebody_goes() -> None:
    page = diary().all_at(*MORNING).at("09:00", "sign", sign="door").at("09:04", "sign")
    found = facts(page, "09:05")
    assert (found.sign, found.sign_words) == (minute(page, "09:00"), "door")
    for kind in ("nothing", "pee-inside", "settled"):
        assert facts(page.at("09:06", kind), "09:10").sign is None, kind
    assert facts(page.at("09:06", "poop", place="pad"), "09:10").sign is None


def test_a_sign_typed_for_the_minute_of_the_outing_asks_nothing() -> None:
    page = diary().all_at(*MORNING, "09:00 pee", "09:00 sign")
    assert facts(page, "09:05").sign is None


@pytest.mark.parametrize(
    ("kind", "out", "asks"),
    [("meal", "09:04", True), ("meal", "09:05", False), ("water", "09:09", True),
     ("water", "09:10", False), ("play", "09:04", True), ("play", "09:05", False)],
)  # fmt: skip
def test_what_an_outing_has_served_asks_no_more(kind: str, out: str, asks: bool) -> None:
    # A break serves what falls due within ten minutes: 15 after a meal or play, 20 after a drink.
    page = diary().all_at(*MORNING, f"09:00 {kind}").at(out, "nothing").at("09:30", kind)
    found = facts(page, "09:35")
    asking = {"meal": found.fed, "water": found.drank, "play": found.played}[kind]
    assert (minute(page, "09:00") in asking) == asks
    assert asking[-1] == minute(page, "09:30")


def test_the_longest_hold_is_one_by_day_that_ended_outside() -> None:
    page = diary().all_at(*MORNING, "09:05 pee", "10:00 settled", "11:00 water", "12:20 pee")
    assert facts(page, "12:30").longest_hold == 150, (
        "2 h 30 first; then 3 h 15, an hour of it asleep"
    )
    indoors = page.at("16:00", "pee-inside")
    assert facts(indoors, "16:05").longest_hold == 150
    assert facts(indoors.on(2).all_at("06:30 up", "06:35 pee"), "07:00").longest_hold == 150
    silent = page.at("22:21", "pee")
    assert facts(silent, "22:30").longest_hold == 150, "in ten silent hours it went somewhere"


# --- Alone ----------------------------------------------------------------------------------------


def test_the_dog_is_alone_until_something_after_the_return_shows_somebody() -> None:
    page = diary(away="08:30-12:00").all_at(*MORNING, "08:30 left")
    left = minute(page, "08:30")
    for entries, alone in (
        ((), True),
        (("10:00 pee",), True),  # a visit stands in
        (("11:59 pee",), True),
        (("12:00 pee",), False),
        (("12:10 note",), True),  # says nothing of the dog
        (("10:00 back",), False),
    ):
        found = facts(page.all_at(*entries), "12:15")
        assert (found.left == left) == alone, entries
    day = today(page, "12:15")
    assert day.facts.alone_from(day.plan, minute(page, "11:59")) == left
    assert day.facts.alone_from(day.plan, minute(page, "12:00")) is None


def test_nobody_is_away_still_from_the_day_before() -> None:
    page = diary().all_at(*MORNING, "20:00 left").on(2)
    assert facts(page.all_at("06:30 up"), "07:00").left is None


def test_leaving_returning_and_greeting_are_kept() -> None:
    page = diary().all_at(*MORNING, "08:00 left", "09:00 back", "10:00 play")
    found = facts(page, "10:30")
    assert found.last_left == minute(page, "08:00")
    assert found.last_back == minute(page, "09:00")
    assert (found.greeted, found.greeted_by) == (minute(page, "10:00"), "play")
    visited = facts(page.at("11:00", "visit", by="Mina"), "11:30")
    assert (visited.greeted, visited.greeted_by) == (minute(page, "11:00"), "visit")


# --- Accidents ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "details", "night"),
    [
        ("06:40", {"found": True}, True),
        ("06:40", {"found": False}, False),
        ("06:40", {"found": None}, False),
        ("06:40", {"found": True, "dry": "06:20"}, True),
        ("06:40", {"found": True, "dry": "06:30"}, False),
        ("22:35", {"found": False}, True),
        ("22:25", {"found": True}, False),
    ],
)
def test_an_accident_of_the_night(clock: str, details: dict[str, object], night: bool) -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).at("06:30", "up")
    if clock > "12:00":
        page = page.all_at("06:35 pee")
    found = facts(page.at(clock, "pee-inside", **details), "23:00")
    assert (found.last_night_accident == minute(page, clock)) == night


def test_before_the_first_night_nothing_is_of_the_night() -> None:
    page = diary().at("06:40", "pee-inside", found=True)
    assert facts(page, "07:00").last_night_accident is None


def test_what_another_dog_may_have_done_dirties_the_floor_alone() -> None:
    page = diary().all_at(*MORNING).at("09:00", "pee-inside", unsure=True)
    found = facts(page, "09:30")
    assert [event.kind for event in found.dirty] == ["pee-inside"]
    assert (found.last_accident, found.last_pee) == (None, minute(page, "06:35"))


def test_accidents_are_remembered_for_two_weeks() -> None:
    page = diary().at("10:00", "pee-inside", id="first").at("10:30", "cleaned").on(15)
    assert len(facts(page.at("10:00", "pee-inside"), "12:00").mishaps) == 2
    assert len(facts(page.at("10:01", "pee-inside"), "12:00").mishaps) == 1


def test_clocks_count_from_their_last_entry() -> None:
    page = diary().all_at("06:30 up", "07:00 pee", "07:10 poop", "07:20 meal", "07:30 water")
    page = page.at("08:00", "pee-inside", found=False)
    assert facts(page, "08:30").since(minute(page, "08:30")) == {
        "pee": 30, "poop": 80, "meal": 70, "water": 60, "out": 80, "accident": 30,
    }  # fmt: skip
    assert set(facts(diary(), "08:30").since(0).values()) == {None}


def test_of_an_empty_log_nothing_is_known() -> None:
    new = LogState()
    assert (new.empties, new.nap_in_hold, new.longest_hold, new.asleep_in_hold(90)) == (0, 0, 0, 0)
    assert not new.night_in_hold
    assert not new.seen_by_vet
    assert (new.waiting_meals, new.dirty, new.mishaps, dict(new.places)) == ((), (), (), {})


def test_a_copy_goes_its_own_way() -> None:
    found = facts(diary().all_at(*MORNING), "07:00")
    other = found.copy()
    assert other == found
    other.empties = 3
    assert found.empties == 0


def test_who_is_on_duty_and_the_vet() -> None:
    page = diary().at("07:00", "duty", by="Ana").at("08:00", "duty", by="Ben")
    assert facts(page, "08:30").on_duty == "Ben"
    assert not facts(page, "08:30").seen_by_vet
    assert facts(page.at("09:00", "vet"), "09:30").seen_by_vet
