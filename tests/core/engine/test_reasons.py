"""When the next break is due: every row of the table, what serves it, and the states."""

from __future__ import annotations

import typing
from datetime import time

import pytest
from msgspec.structs import replace

from pottyboard.core.engine.reasons import RULES
from pottyboard.core.engine.rule_context import Code
from pottyboard.core.model.settings import EVERY_DAY, OwnHours
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def morning(kg: float = 15, **more: typing.Any) -> Diary:
    """Return the third day, up at 06:30 and out at 06:35: at 2 h the next break is due at 08:35."""
    return diary(kg, **more).on(3).all_at(*MORNING)


# --- The table ------------------------------------------------------------------------------------


def test_every_code_has_one_row_in_the_documented_order() -> None:
    assert tuple(rule.code for rule in RULES) == typing.get_args(Code)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_every_row_has_a_title_and_a_source(rule: typing.Any) -> None:
    assert rule.title
    assert rule.source


@pytest.mark.parametrize(
    ("code", "entries", "read", "due"),
    [
        ("hold", [], "07:00", "08:35"),
        ("hold", ["08:00 pee"], "08:00", "10:00"),
        ("hold", ["08:00 pee-inside"], "08:01", "09:30"),
        ("up", ["07:00 settled", "07:30 up"], "07:30", "07:30"),
        ("up", ["07:00 settled", "08:15 up"], "08:20", "08:15"),
        ("meal", ["07:00 meal"], "07:00", "07:15"),
        ("digestion", ["07:00 meal"], "07:00", "08:15"),
        ("digestion", ["07:00 meal", "07:20 pee"], "07:30", "08:15"),
        ("drink", ["07:00 water"], "07:01", "07:20"),
        ("play", ["07:00 play"], "07:10", "07:15"),
        ("sign", ["07:02 sign"], "07:02", "07:02"),
        ("retry", ["08:30 nothing"], "08:30", "08:45"),
        ("retry", ["08:30 nothing", "08:44 poop"], "08:50", "08:59"),
        ("back", ["07:00 left", "08:00 back"], "08:00", "08:00"),
        ("bedtime", [], "07:00", "22:30"),
    ],
)
def test_each_reason_falls_due(code: str, entries: list[str], read: str, due: str) -> None:
    assert morning().all_at(*entries).dues(read)[code] == due


@pytest.mark.parametrize(
    ("code", "entries", "read"),
    [
        ("up", ["07:00 settled", "07:29 up"], "07:29"),
        ("up", ["07:00 settled"], "08:00"),
        ("digestion", ["07:00 meal", "07:20 poop"], "07:30"),
        ("digestion", ["07:00 meal", "07:20 both"], "07:30"),
        ("digestion", ["07:00 meal", "07:20 poop-inside"], "07:30"),
        ("sign", ["07:02 sign", "07:05 nothing"], "07:06"),
        ("sign", ["07:02 sign", "07:02 pee"], "07:03"),
        ("sign", ["07:02 pee", "07:02 sign"], "07:03"),
        ("sign", ["07:02 sign", "07:05 pee-inside"], "07:06"),
        ("retry", ["08:30 nothing", "08:44 pee"], "08:50"),
        ("retry", ["08:30 nothing", "08:35 pee-inside"], "08:40"),
        ("back", ["07:00 left", "08:00 back", "08:01 nothing"], "08:02"),
        ("back", ["07:00 left"], "08:00"),
        ("leaving", [], "08:00"),
    ],
)
def test_a_reason_does_not_stand(code: str, entries: list[str], read: str) -> None:
    assert code not in morning().all_at(*entries).dues(read)


def test_getting_up_asks_at_once() -> None:
    page = diary().on(3).at("06:10", "up")
    assert page.dues("06:10")["up"] == "06:10"
    assert page.read("06:10").next_break.state == "due"


@pytest.mark.parametrize("ends_the_nap", ["meal", "play", "water", "visit"])
def test_a_long_nap_asks_whichever_entry_ends_it(ends_the_nap: str) -> None:
    page = morning().all_at("07:00 settled", f"07:40 {ends_the_nap}")
    assert page.dues("07:41")["up"] == "07:40"


@pytest.mark.parametrize(
    ("kg", "due"),
    [(2, "08:00"), (9.9, "08:00"), (10, "08:15"), (19.9, "08:15"), (20, "08:30"), (60, "08:30")],
)
def test_digestion_goes_by_size(kg: float, due: str) -> None:
    assert morning(kg).at("07:00", "meal").dues("07:01")["digestion"] == due


def test_an_old_meal_asks_no_more() -> None:
    page = morning().all_at("07:00 meal", "07:20 pee")
    assert page.dues("12:59")["digestion"] == "08:15"
    # Nobody went out: what is late stays late, however old the meal.
    assert page.dues("13:01")["digestion"] == "08:15"
    assert "digestion" not in page.at("13:01", "nothing").dues("13:30")


def test_the_second_meal_asks_again() -> None:
    page = morning().all_at("07:00 meal", "07:20 pee", "08:10 pee", "09:00 meal")
    assert page.dues("09:01")["meal"] == "09:15"
    assert page.dues("09:01")["digestion"] == "10:15"


@pytest.mark.parametrize(
    ("kind", "first_due"), [("meal", "07:15"), ("water", "07:20"), ("play", "07:15")]
)
def test_more_of_the_same_does_not_put_the_break_off(kind: str, first_due: str) -> None:
    code = {"water": "drink"}.get(kind, kind)
    page = morning().all_at(f"07:00 {kind}", f"07:12 {kind}")
    assert page.dues("07:13")[code] == first_due
    served = page.at("07:25", "nothing").at("07:40", kind)
    assert served.dues("07:41")[code] > "07:40"


def test_the_first_unanswered_sign_counts() -> None:
    page = morning().all_at("07:00 sign", "07:14 sign", "07:15 sign")
    assert page.dues("07:16")["sign"] == "07:00"
    assert page.read("07:16").next_break.state == "late"
    assert page.all_at("07:17 nothing", "07:18 sign").dues("07:18")["sign"] == "07:18"


def test_a_sign_before_getting_up_still_asks_after_it() -> None:
    # Common practice, no source: who asks to go out is taken out, whatever the hour.
    page = diary().all_at(*CLEAR_DAY).on(2).at("06:10", "sign", sign="door")
    for clock, minutes in (("06:29", -19), ("06:30", -20), ("06:45", -35)):
        due = page.read(clock).next_break
        assert (due.state, due.minutes) == ("late", minutes)
        assert "Bramble went to the door at 06:10" in [reason.words for reason in due.reasons]
    again = page.at("06:40", "sign")
    assert again.dues("06:41")["sign"] == "06:10"
    assert page.all_at("06:32 up").dues("06:33")["sign"] == "06:10"
    assert "sign" not in page.at("06:35", "pee").dues("06:36")
    assert "sign" not in page.at("06:15", "settled", sleep="night").dues("06:30")


def test_a_sign_of_the_day_before_asks_no_more_in_the_morning() -> None:
    page = diary().all_at(*MORNING, "20:00 sign").on(2)
    assert "sign" not in page.dues("06:30")
    assert "sign" not in page.at("06:31", "up").dues("06:32")
    page = page.at("06:10", "sign")
    assert [page.dues(clock)["sign"] for clock in ("06:12", "06:30", "06:45")] == ["06:10"] * 3
    for clock in ("06:31", "06:35"):
        again = page.at(clock, "sign")
        assert again.dues("06:40")["sign"] == "06:10"


def test_a_dog_that_settled_down_asked_for_nothing() -> None:
    page = morning().all_at("07:00 sign", "07:05 settled")
    assert "sign" not in page.dues("07:06")
    assert "sign" not in page.at("07:20", "up").dues("07:21")


# --- Nothing came ---------------------------------------------------------------------------------


def test_three_retries_then_every_half_hour() -> None:
    page = morning()
    for outing, retry in (("08:35", "08:50"), ("08:50", "09:05"), ("09:05", "09:20")):
        page = page.at(outing, "nothing")
        assert page.dues(outing)["retry"] == retry
    for outing, retry in (("09:20", "09:50"), ("09:50", "10:20"), ("10:20", "10:50")):
        page = page.at(outing, "nothing")
        assert page.dues(outing)["retry"] == retry
        assert page.read(outing).next_break.state == "watching"


def test_a_success_begins_the_count_anew() -> None:
    tries = [f"{clock} nothing" for clock in ("08:35", "08:50", "09:05", "09:20")]
    page = morning().all_at(*tries, "10:00 pee", "11:55 nothing")
    assert page.dues("11:56")["retry"] == "12:10"


def test_an_accident_begins_the_count_anew_too() -> None:
    tries = [f"{clock} nothing" for clock in ("08:35", "08:50", "09:05", "09:20")]
    page = morning().all_at(*tries, "09:25 pee-inside", "11:00 nothing")
    assert page.dues("11:01")["retry"] == "11:15"


@pytest.mark.parametrize(
    ("outing", "hold"), [("08:20", "08:35"), ("08:25", "09:25"), ("08:50", "09:50")]
)
def test_a_dry_outing_in_time_asks_again_at_half_the_interval(outing: str, hold: str) -> None:
    assert morning().at(outing, "nothing").dues(outing)["hold"] == hold
    assert morning().at(outing, "poop").dues(outing)["hold"] == hold


def test_entries_within_ten_minutes_are_one_outing() -> None:
    twice = morning().all_at("08:35 nothing", "08:45 nothing", "09:00 nothing", "09:15 nothing")
    assert twice.dues("09:16")["retry"] == "09:30", "the first two entries count as one try"
    after_a_success = morning().all_at("08:35 pee", "08:40 nothing")
    assert "retry" not in after_a_success.dues("08:41")
    assert morning().all_at("08:35 pee", "08:45 poop").read("09:00").days[-1].outings == 2
    assert morning().all_at("08:35 pee", "08:46 poop").read("09:00").days[-1].outings == 3


@pytest.mark.parametrize(
    "outing",
    [("08:35 pee", "08:38 poop"), ("08:35 poop", "08:38 pee"), ("08:35 nothing", "08:38 both")],
)
def test_pee_and_poop_in_one_outing_start_one_hold(outing: tuple[str, str]) -> None:
    page = morning().all_at(*outing)
    last_pee = "08:35" if outing[0].endswith("pee") else "08:38"
    assert page.dues("08:40") == {
        "hold": "10:35" if last_pee == "08:35" else "10:38",
        "bedtime": "22:30",
    }


def test_until_it_succeeds_the_dog_is_kept_close() -> None:
    page = morning().at("08:35", "nothing")
    assert any("arm's reach" in words for words in page.read("08:36").advice)
    assert page.at("08:50", "pee").read("08:51").advice == ()


# --- About to be left -----------------------------------------------------------------------------


def test_out_before_being_left() -> None:
    page = morning(away="08:30-17:00")
    assert page.dues("07:00")["leaving"] == "08:15"
    assert page.read("08:00").next_break.reasons[0].words.endswith("leaving at 08:30")


@pytest.mark.parametrize(("outing", "stands"), [("08:04", True), ("08:05", False)])
def test_an_outing_just_before_serves_the_leaving(outing: str, stands: bool) -> None:
    page = morning(away="08:30-17:00").at(outing, "nothing")
    assert ("leaving" in page.dues("08:10")) is stands


def test_once_gone_or_clearly_not_going_it_asks_no_more() -> None:
    page = morning(away="08:30-17:00")
    assert "leaving" in page.dues("08:21")
    assert "leaving" not in page.at("08:20", "left").dues("08:21")
    stays = morning(away="08:30-17:00")
    assert "leaving" in stays.dues("08:45")
    assert "leaving" not in stays.dues("08:46")


def test_a_second_absence_of_the_day_asks_too() -> None:
    page = morning(away="08:30-12:00")
    hours = (OwnHours("", EVERY_DAY, time(8, 30), time(12)),
             OwnHours("", EVERY_DAY, time(14), time(16)))  # fmt: skip
    home = replace(page.settings.home, own_hours=hours)
    page = replace(page, settings=replace(page.settings, home=home))
    assert page.dues("07:00")["leaving"] == "08:15"
    page = page.all_at("08:20 pee", "08:30 left", "12:00 back", "12:02 both")
    assert page.dues("12:05")["leaving"] == "13:45"
    assert page.read("13:40").next_break.reasons[0].words == "before leaving at 14:00"


def test_no_leaving_before_absences_begin_or_on_a_day_off() -> None:
    assert "leaving" not in morning(away="08:30-17:00", away_from=4).dues("07:00")
    assert "leaving" in morning(away="08:30-17:00", away_from=3).dues("07:00")
    assert "leaving" not in morning(away="08:30-17:00", away_on=(1, 2)).dues("07:00")
    assert "leaving" in morning(away="08:30-17:00", away_on=(3,)).dues("07:00"), "a Wednesday"


# --- The night break ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kg", "prone", "bed", "due"),
    [
        (15, False, "22:30", None),
        (15, False, "21:30", "05:30"),
        (30, False, "21:30", "05:30"),
        (9, False, "22:30", "04:30"),
        (15, True, "22:30", "04:30"),
        (9, False, "00:30", None),
    ],
)
def test_a_long_night_gets_a_break(kg: float, prone: bool, bed: str, due: str | None) -> None:
    page = diary(kg, bed=bed, prone=prone).on(3).all_at(*MORNING)
    after = page.on(4) if bed.startswith("0") else page
    page = after.at(bed, "pee").at(bed, "settled").on(4)
    assert page.dues("01:00").get("night") == due


def test_an_accident_at_night_brings_the_night_break_back() -> None:
    page = diary(bed="21:30").on(9).all_at(*MORNING, "21:30 pee", "21:35 settled")
    assert "night" not in page.on(10).dues("01:00"), "after the first week there is none"
    page = page.on(10).at("04:00", "pee-inside").at("04:05", "settled")
    page = page.all_at(*MORNING, "21:30 pee", "21:35 settled")
    assert page.on(11).dues("01:00")["night"] == "05:30"
    for day in (11, 12):
        page = page.on(day).all_at(*MORNING, "21:30 pee", "21:35 settled")
    assert page.on(13).dues("04:01").get("night") is None, "three nights later it is gone again"


@pytest.mark.parametrize("details", [{"dry": "05:00"}, {}])
def test_an_accident_found_first_thing_happened_in_the_night(details: dict[str, str]) -> None:
    page = diary(bed="21:30").on(9).all_at(*MORNING, "21:30 pee", "21:35 settled")
    page = page.on(10).at("06:30", "up").at("06:32", "pee-inside", found=True, **details)
    page = page.all_at("06:35 both", "21:30 pee", "21:35 settled")
    assert page.on(11).dues("01:00")["night"] == "05:30"


def test_the_night_break_once_taken_is_not_asked_again() -> None:
    page = diary(6).on(3).all_at(*MORNING, "22:30 pee", "22:40 settled")
    for entry in ("pee", "nothing"):
        woken = page.on(4).at("04:30", entry).at("04:35", "settled")
        assert set(woken.dues("04:40")) == {"up"}, entry


def test_nobody_is_woken_shortly_before_getting_up() -> None:
    early = diary().on(3).all_at(*MORNING, "21:59 pee", "22:00 settled")
    assert early.on(4).dues("03:00") == {"night": "05:59", "up": "06:30"}
    later = diary().on(3).all_at(*MORNING, "22:00 pee", "22:05 settled")
    assert later.on(4).dues("03:00") == {"up": "06:30"}


@pytest.mark.parametrize(("day", "planned"), [(1, True), (7, True), (8, False)])
def test_the_first_week_has_planned_night_breaks(day: int, planned: bool) -> None:
    page = diary(6).on(day).all_at(*MORNING, "22:30 pee", "22:40 settled")
    assert ("night" in page.on(day + 1).dues("01:00")) is planned


# --- What a break serves --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "entry", "just_too_early", "early_enough"),
    [
        ("meal", "07:00 meal", "07:04", "07:05"),
        ("digestion", "07:00 meal", "08:04", "08:05"),
        ("drink", "07:00 water", "07:09", "07:10"),
        ("play", "07:00 play", "07:04", "07:05"),
        ("bedtime", "07:00 note", "22:19", "22:20"),
    ],
)
def test_a_break_serves_what_is_due_within_ten_minutes(
    code: str, entry: str, just_too_early: str, early_enough: str
) -> None:
    page = morning().at(*entry.split())
    assert code in page.at(just_too_early, "nothing").dues(just_too_early)
    assert code not in page.at(early_enough, "nothing").dues(early_enough)


@pytest.mark.parametrize("kind", ["meal", "water", "play"])
def test_an_outing_before_the_entry_does_not_serve_it(kind: str) -> None:
    page = morning().all_at("07:00 pee", f"07:05 {kind}")
    assert {"meal": "meal", "water": "drink", "play": "play"}[kind] in page.dues("07:06")


def test_nobody_goes_out_twice_for_two_reasons() -> None:
    together = morning().at("08:27", "meal").read("08:30").next_break
    assert [reason.code for reason in together.reasons] == ["hold", "meal"]
    apart = morning().at("08:31", "meal").read("08:32").next_break
    assert [reason.code for reason in apart.reasons] == ["hold"]
    assert apart.later[0].code == "meal"


def test_the_earliest_reason_decides() -> None:
    page = morning().all_at("08:00 meal", "08:05 water", "08:06 sign")
    due = page.read("08:07").next_break
    assert (page.clock(due.at), due.reasons[0].code) == ("08:06", "sign")


# --- The rest after a success ---------------------------------------------------------------------


@pytest.mark.parametrize("success", ["pee", "poop", "both"])
def test_no_break_within_ten_minutes_of_a_success(success: str) -> None:
    page = morning().all_at("07:40 left", f"08:00 {success}", "08:05 back")
    assert page.dues("08:05").get("back", "08:10") >= "08:10"
    assert page.read("08:05").next_break.minutes >= 5


def test_a_sign_is_not_kept_waiting() -> None:
    page = morning().all_at("08:00 pee", "08:03 sign")
    assert page.read("08:03").next_break.state == "due"


def test_an_outing_without_success_gives_no_rest() -> None:
    page = morning().all_at("07:40 left", "08:00 nothing", "08:05 back")
    assert page.dues("08:05")["back"] == "08:05"


def test_coming_home_logged_after_the_outing_asks_no_second_one() -> None:
    page = morning().all_at("07:00 left", "08:32 pee", "08:34 back")
    assert "back" not in page.dues("08:35")


def test_getting_up_logged_after_the_outing_asks_no_second_one() -> None:
    page = diary().on(3).all_at("06:24 pee", "06:31 up")
    assert "up" not in page.dues("06:32")


# --- States ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("read", "state", "minutes"),
    [
        ("07:00", "rest", 95),
        ("08:19", "rest", 16),
        ("08:19:59", "rest", 16),
        ("08:20", "soon", 15),
        ("08:34", "soon", 1),
        ("08:34:59", "soon", 1),
        ("08:35", "due", 0),
        ("08:50", "due", -15),
        ("08:51", "late", -16),
        ("14:00", "late", -325),
    ],
)
def test_states_by_the_minute(read: str, state: str, minutes: int) -> None:
    due = morning().read(read).next_break
    assert (due.state, due.minutes) == (state, minutes)


@pytest.mark.parametrize(
    ("read", "state"),
    [
        ("07:10", "asleep"),
        ("08:35", "asleep"),
        ("10:04", "asleep"),
        ("10:05", "due"),
        ("10:21", "late"),
    ],
)
def test_a_nap_is_left_alone_until_it_counts_as_ended(read: str, state: str) -> None:
    page = morning().at("07:05", "settled")
    assert page.read(read).next_break.state == state
    assert page.read(read).asleep == ("nap" if state == "asleep" else "")


@pytest.mark.parametrize(
    ("read", "state"),
    [("07:10", "alone"), ("08:34", "alone"), ("08:35", "due"), ("08:51", "late")],
)
def test_alone_counts_to_the_next_visit(read: str, state: str) -> None:
    page = morning().at("07:05", "left")
    assert page.read(read).next_break.state == state


def test_the_night_counts_nothing_but_the_morning() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY)
    asleep = page.read("22:45")
    assert (asleep.next_break.state, asleep.asleep) == ("asleep", "night")
    page = page.on(4)
    assert page.dues("03:00") == {"up": "06:30"}
    assert page.read("06:29").next_break.state == "asleep"
    assert page.read("06:30").next_break.state == "due"
    assert page.read("06:46").next_break.state == "late"


def test_a_sign_at_night_is_answered_at_once() -> None:
    page = diary().on(3).all_at(*CLEAR_DAY).on(4).at("02:00", "sign", sign="whining")
    due = page.read("02:00").next_break
    assert due.state == "due"
    assert [r.words for r in due.reasons if r.code == "sign"] == ["Bramble was whining at 02:00"]


# --- Other things that asked before ---------------------------------------------------------------


@pytest.mark.parametrize("entry", ["meal", "water", "play", "nothing", "back", "sign"])
def test_what_asked_before_the_night_is_not_hours_late_in_the_morning(entry: str) -> None:
    evening = diary().on(3).all_at(*MORNING, "22:20 pee", f"22:32 {entry}", "22:35 settled")
    for page in (evening.on(4), evening.on(4).at("06:30", "up")):
        assert page.dues("06:31") == {"hold": "06:30", "up": "06:30", "bedtime": "22:30"}
    woken = evening.on(4).at("03:00", "up")
    assert woken.dues("03:01") == {"hold": "03:00", "up": "03:00"}


def test_a_sign_that_nobody_answered_is_over_in_the_morning() -> None:
    page = diary().on(3).all_at(*MORNING, "22:20 pee", "22:32 sign").on(4)
    assert page.dues("02:00")["sign"] == "2026-03-04 22:32"
    assert "sign" not in page.dues("06:31")


def test_a_dog_that_never_peed_is_due_from_the_arrival_on() -> None:
    page = diary(arrived="14:00")
    due = page.read("14:10").next_break
    assert [(reason.code, reason.words) for reason in due.reasons] == [
        ("hold", "no pee logged yet")
    ]
    assert (due.state, due.minutes) == ("due", -10)


def test_a_dog_that_arrives_after_bedtime_is_not_late_on_arrival() -> None:
    due = diary(arrived="23:00").read("23:01").next_break
    assert (due.state, due.minutes) == ("due", -1)


def test_an_interval_of_its_own_moves_the_hold() -> None:
    page = morning().at("07:00", "interval", minutes=60)
    assert page.dues("07:01")["hold"] == "07:35"


def test_the_words_name_the_entry_and_the_clock() -> None:
    page = morning().all_at("07:00 meal", "07:01 water", "07:02 play")
    due = page.read("07:04").next_break
    words = {reason.code: reason.words for reason in (*due.reasons, *due.later)}
    assert words["hold"] == "last pee 06:35; a break every 2 h"
    assert words["meal"] == "after the meal at 07:00"
    assert words["drink"] == "after the drink at 07:01"
    assert words["play"] == "after the play at 07:02"
    assert words["bedtime"] == "last thing, bedtime at 22:30"
    assert words["digestion"] == "no poop yet; usually 1 h 15 after a meal (07:00)"


def test_names_are_shown_as_they_are_written() -> None:
    page = morning()
    dog = replace(page.settings.dog, name="[/b]Bram\u202eble")
    page = replace(page, settings=replace(page.settings, dog=dog)).at("07:00", "sign")
    assert "[/b]Bram\u202eble" in page.read("07:00").next_break.reasons[0].words
