"""What raises each warning and what ends it, beyond the thresholds that a source gives."""

from __future__ import annotations

from datetime import timedelta

import pytest

from pottyboard.core.engine.history import History
from pottyboard.core.health.health_views import LEVELS
from pottyboard.core.health.warnings import TABLE, warnings_between
from pottyboard.core.model.describe import FINDING_WORDS
from pottyboard.core.model.events import FINDINGS
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.view.situation import as_json
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.core.health.raised import alone_day, drinks, ill, raised, seen, the


def calm(days: int = 7, kg: float = 15, first: int = 1) -> Diary:
    """Write so many clear days, and turn to the next."""
    page = diary(kg, vet="done")
    for day in range(first, first + days):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(first + days)


# --- The table ------------------------------------------------------------------------------------


def test_the_rows_are_in_order_of_gravity() -> None:
    # What frail dogs alone do not wait with stands where it does for the others.
    usual = [[level for level in row.words if level != "today"] for row in TABLE]
    worst = [min(LEVELS.index(level) for level in levels) for levels in usual]
    assert worst == sorted(worst)
    assert len({row.code for row in TABLE}) == len(TABLE)


def test_every_finding_has_words() -> None:
    assert tuple(FINDING_WORDS) == FINDINGS


def test_calm_days_raise_nothing() -> None:
    assert raised(calm()) == {}
    assert raised(diary(vet="not yet")) == {}


def test_a_finding_that_means_nothing_alone() -> None:
    assert raised(ill(calm(), "10:00 other", "11:00 distress")) == {}


# --- Health notes ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("notes", "expected"),
    [
        (["10:00 blood"], {"blood": "soon"}),
        (["10:00 pain"], {"pain": "soon"}),
        (["10:00 small-pees"], {"small-pees": "soon"}),
        (["10:00 vomiting"], {"vomiting": "watch"}),
        (["10:00 vomiting", "18:00 vomiting"], {"vomiting": "soon"}),
        (["10:00 vomiting", "18:00 pain"], {"vomiting": "soon", "pain": "soon"}),
        (["10:00 loose-stool"], {"loose-stool": "watch"}),
        (["10:00 loose-stool", "22:00 loose-stool"], {"loose-stool": "watch"}),
        (["10:00 off-food"], {"off-food": "watch"}),
        (["10:00 off-food", "12:00 listless"], {"off-food": "soon", "listless": "soon"}),
    ],
)
def test_health_notes(notes: list[str], expected: dict[str, str]) -> None:
    assert raised(ill(calm(), *notes).at("20:00", "pee")) == expected


@pytest.mark.parametrize("finding", ["loose-stool", "off-food", "listless"])
@pytest.mark.parametrize(("clock", "level"), [("09:59", "watch"), ("10:00", "soon")])
def test_what_lasts_a_day_is_for_the_vet(finding: str, clock: str, level: str) -> None:
    page = ill(calm(), f"10:00 {finding}").at("21:00", "pee").on(9)
    assert raised(ill(page, f"{clock} {finding}"), "12:00") == {finding: level}


@pytest.mark.parametrize("finding", ["loose-stool", "off-food", "listless"])
@pytest.mark.parametrize(("day", "level"), [(10, "soon"), (11, "watch"), (13, "watch")])
def test_what_comes_again_after_days_has_not_lasted(finding: str, day: int, level: str) -> None:
    # Noted twice, on day 8 and then two, three and five days later.
    page = ill(calm(), f"10:00 {finding}")
    for between in range(8, day):
        page = page.on(between).at("14:00", "both")
    page = page.on(day)
    assert raised(ill(page, f"10:00 {finding}"), "12:00") == {finding: level}


@pytest.mark.parametrize("finding", ["loose-stool", "off-food", "listless", "vomiting"])
def test_one_sign_of_nerves_is_quiet_in_the_first_days(finding: str) -> None:
    for day, expected in ((1, {}), (3, {}), (4, {finding: "watch"})):
        page = ill(diary(vet="done").on(day), f"12:00 {finding}").at("20:00", "pee")
        assert raised(page) == expected, day


def test_nerves_together_are_quiet_in_the_first_days_but_not_with_vomiting() -> None:
    page = diary(vet="done").on(2).at("20:00", "pee")
    assert raised(ill(page, "10:00 off-food", "11:00 listless")) == {}
    assert raised(ill(page, "10:00 off-food", "11:00 vomiting")) == {
        "off-food": "soon", "vomiting": "soon",
    }  # fmt: skip


def test_what_does_not_come_again_ends_by_itself() -> None:
    page = ill(calm(), "10:00 blood", "10:00 loose-stool").at("20:00", "pee")
    assert set(raised(page.on(10), "09:59")) == {"blood", "loose-stool"}
    assert set(raised(page.on(10), "10:00")) == {"blood"}
    assert set(raised(page.on(15), "09:59")) == {"blood"}
    assert raised(page.on(15), "10:00") == {}


def test_a_vet_ends_it_until_it_comes_again() -> None:
    page = ill(calm(), "10:00 blood").at("15:00", "vet")
    assert raised(page, "14:59") == {"blood": "soon"}
    assert raised(page, "15:00") == {}
    again = ill(page, "18:00 blood")
    assert raised(again) == {"blood": "soon"}
    assert the("blood", again).because == "blood: Mon 9 Mar 18:00"
    assert again.clock(the("blood", again).since) == "18:00"


def test_because_tells_what_and_when() -> None:
    page = ill(calm(), "08:00 straining", "09:00 straining", "09:30 vomiting")
    assert the("straining", page).because == (
        "straining to pee: Mon 9 Mar 08:00, Mon 9 Mar 09:00; with vomiting Mon 9 Mar 09:30"
    )


def test_vomiting_counts_with_the_other_warnings() -> None:
    page = drinks(ill(calm(kg=10), "10:00 vomiting"), 1100)
    assert raised(page) == {"drinking": "soon", "vomiting": "soon"}
    assert "1100 mL" in the("vomiting", page).because


# --- Pees -----------------------------------------------------------------------------------------


def test_small_pees_of_one_outing_count_once_and_markings_not_at_all() -> None:
    page = calm()
    for clock in ("10:00", "10:03", "10:06", "12:00"):
        page = page.at(clock, "pee", amount="small")
    assert raised(page) == {}
    for clock in ("13:00", "14:00", "15:00"):
        page = seen(page, clock, amount="small", upright=True)
    assert "small-pees" not in raised(page)


@pytest.mark.parametrize(("more", "expected"), [(3, {}), (4, {"often": "ask"})])
def test_far_more_pees_than_on_the_days_before(more: int, expected: dict[str, str]) -> None:
    usual = ("06:35 pee", "10:00 pee", "13:00 pee", "16:00 pee", "19:00 pee", "22:30 pee")
    page = diary(vet="done")
    for day in range(2, 6):
        page = page.on(day).all_at("06:30 up", *usual)
    page = page.on(6).all_at("06:30 up", *usual)
    extra = ("08:00 pee", "11:30 pee", "14:30 pee", "17:30 pee")[:more]
    assert raised(page.all_at(*extra)) == expected


def test_few_days_say_nothing_of_the_dogs_own_count() -> None:
    page = diary(vet="done")
    for day in range(2, 5):
        page = page.on(day).all_at("06:30 up", "06:35 pee", "12:00 pee", "17:00 pee", "22:30 pee")
    page = page.on(5).at("06:30", "up")
    assert raised(page.all_at(*(f"{hour}:00 pee" for hour in range(10, 22)))) == {}


def dry_day() -> Diary:
    """Write a pee at 06:35 and a day of outings that bring none."""
    page = calm().all_at("06:30 up", "06:35 both", "10:00 nothing", "13:00 poop", "18:00 nothing")
    return page.all_at("22:30 nothing").on(9)


def test_no_pee_ends_with_a_pee() -> None:
    page = dry_day().all_at("06:30 up", "06:45 nothing")
    assert raised(page, "06:50") == {"no-pee": "soon"}
    assert the("no-pee", page, "06:50").ends == "a pee or a vet check in the log"
    assert raised(page.at("06:51", "vet"), "06:51") == {}
    assert raised(page.at("07:30", "pee"), "07:30") == {}
    assert raised(page.at("07:30", "pee-inside"), "07:30") == {}


def test_a_day_without_a_pee_is_over_by_the_clock() -> None:
    page = dry_day()
    assert raised(page, "06:34") == {}
    assert raised(page, "06:35") == {"no-pee": "soon"}, "nobody has to log anything for it"
    assert page.clock(the("no-pee", page, "09:00").since) == "06:35"
    assert raised(page, "20:00") == {"no-pee": "soon"}, "it does not pass in silence"
    assert raised(page.at("06:40", "nothing"), "06:40") == {"no-pee": "soon"}
    assert raised(page.at("06:34", "pee"), "09:00") == {}
    page = page.at("06:40", "pee")
    assert raised(page, "06:40") == {}
    now = page.instant("07:00")
    history = History.of(page.settings, page.entries, minutes_of(now))
    assert [w.code for w in warnings_between(history, page.settings.dog.arrived, now)] == ["no-pee"]


def test_no_pee_and_unwell_is_an_emergency() -> None:
    page = ill(dry_day().all_at("06:30 up", "06:45 nothing"), "06:50 listless")
    assert raised(page, "06:50")["no-pee"] == "now"


def test_a_gap_in_the_log_is_no_alarm() -> None:
    page = calm().all_at(*MORNING)
    assert raised(page.on(9).all_at("08:00 up", "08:05 nothing"), "09:00") == {}, "nobody logged"
    page = page.all_at("10:00 nothing", "11:00 nothing", "12:00 nothing").on(9)
    assert raised(page.at("08:00", "nothing"), "09:00") == {}, "20 h without a word"
    quiet = calm().all_at("06:35 both", "10:00 meal", "16:00 water", "22:00 nothing").on(9)
    assert raised(quiet.at("08:00", "nothing"), "09:00") == {}, "two outings only"


# --- Water and accidents --------------------------------------------------------------------------


def test_the_bowl_counts_like_a_drink() -> None:
    page = calm(kg=10).at("07:00", "bowl", ml=1200).at("21:00", "bowl", ml=500, rest=100)
    assert raised(page) == {"drinking": "soon"}
    assert raised(page, "20:59") == {}, "not known before it was measured"


def test_two_days_of_drinking_count_within_a_week() -> None:
    page = drinks(calm(kg=10), 700)
    assert raised(drinks(page.on(14), 700)) == {"drinking": "soon"}
    assert raised(drinks(page.on(15), 700)) == {"drinking": "watch"}


@pytest.mark.parametrize(
    ("clear", "accidents", "expected"),
    [(3, 3, {"relapse": "soon"}), (2, 3, {}), (3, 2, {})],
)
def test_a_sudden_relapse(clear: int, accidents: int, expected: dict[str, str]) -> None:
    page = seen(diary(vet="done").on(1).all_at(*MORNING), "11:00").on(2)
    for day in range(2, 2 + clear):
        page = page.on(day).all_at(*CLEAR_DAY)
    page = page.on(2 + clear).all_at(*MORNING)
    for clock in ("07:30", "08:20", "09:30")[:accidents]:
        page = seen(page, clock)
    assert raised(page, "10:00") == expected


def test_late_breaks_are_no_relapse() -> None:
    page = calm(4).all_at(*MORNING)
    for clock in ("12:00", "16:00", "20:00"):
        page = seen(page, clock)
    assert "relapse" not in raised(page)


@pytest.mark.parametrize(("nights", "expected"), [(2, {}), (3, {"nights": "ask"})])
def test_wet_nights(nights: int, expected: dict[str, str]) -> None:
    page = calm(3)
    for day in range(4, 4 + nights):
        page = page.on(day).all_at(*CLEAR_DAY).on(day + 1)
        page = page.at("03:00", "pee-inside", found=True)
    assert raised(page, "05:00") == expected


@pytest.mark.parametrize(
    ("pees", "outside", "expected"),
    [(4, "nothing", {"pad": "ask"}), (3, "nothing", {}), (4, "pee", {})],
)
def test_pees_only_on_the_pad(pees: int, outside: str, expected: dict[str, str]) -> None:
    page = diary(vet="done").on(5)
    page = page.all_at("06:30 up", "07:00 nothing", "09:00 nothing", "11:00 nothing")
    page = page.all_at("13:00 nothing", "15:00 nothing", f"17:00 {outside}")
    for hour in range(18, 18 + pees):
        page = page.at(f"{hour}:00", "pee", place="pad")
    assert raised(page) == expected


def test_a_pattern_ends_after_a_week_without() -> None:
    page = diary(vet="done")
    for day in (5, 6):
        page = alone_day(page.on(day), 20)
    assert raised(page.at("18:00", "vet")) == {"alone": "ask"}, "a vet does not end it"
    assert raised(page.on(13), "10:19") == {"alone": "ask"}
    assert raised(page.on(13), "13:00") == {}


# --- As a whole -----------------------------------------------------------------------------------


def test_the_gravest_comes_first_and_noted_ones_last_of_their_level() -> None:
    page = ill(calm(), "09:00 loose-stool", "10:00 blood", "11:00 straining", "11:30 pain")
    page = page.at("12:00", "noted", about="blood")
    codes = [warning.code for warning in page.read("12:30").warnings]
    assert codes[0] == "straining"
    assert codes.index("pain") < codes.index("blood")


def test_the_log_of_a_year_weighs_no_more_than_the_last_weeks() -> None:
    page = ill(calm(2), "09:00 blood").on(200).all_at(*CLEAR_DAY)
    assert raised(page) == {}


def test_every_warning_that_stood_over_some_days() -> None:
    page = ill(calm(3), "10:00 blood").at("15:00", "vet").on(12)
    page = ill(page, "10:00 pain")
    now = page.instant("12:00")
    history = History.of(page.settings, page.entries, minutes_of(now))
    all_days = warnings_between(history, page.settings.dog.arrived, now)
    assert [warning.code for warning in all_days] == ["blood", "pain"]
    last = warnings_between(history, now - timedelta(days=2), now)
    assert [warning.code for warning in last] == ["pain"]


@pytest.mark.parametrize(
    ("clock", "expected"),
    [("09:59", {}), ("10:00", {"alone": "ask"}), ("13:00", {"alone": "ask"}), ("13:01", {})],
)
def test_whining_is_distress_at_being_left_only_while_alone(
    clock: str, expected: dict[str, str]
) -> None:
    # Left from 10:00 to 13:00 on both days.
    page = alone_day(diary(10, vet="done").on(5), 20, distressed=False)
    page = alone_day(page.on(6), 20, distressed=False).at(clock, "sign", sign="whining")
    assert raised(page) == expected


def test_json_tells_all_of_a_warning() -> None:
    page = ill(calm(), "10:00 blood").at("10:30", "noted", about="blood", note="ringing at nine")
    (found,) = as_json(page.read("11:00"))["warnings"]
    assert found == {
        "warning": "blood",
        "level": "soon",
        "words": "Call your vet soon, today if you can: blood was seen.",
        "because": "blood: Mon 9 Mar 10:00",
        "source": "Texas Veterinary Medical Association, texvetpets.org, January 2015",
        "since": "2026-03-09T10:00+01:00",
        "noted": "ringing at nine",
    }
