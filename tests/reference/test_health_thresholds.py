"""Where each warning begins, against the published thresholds and clues.

*Read* is a figure seen in a copy of the named source; the sources disagree where noted. Where a
source gives a clue but no number, the number is our own choice and is said to be so.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from pottyboard.core.health.warnings import TABLE
from pottyboard.core.health.water import intake
from pottyboard.core.model import figures
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.core.health.raised import alone_day, drinks, ill, raised, seen, the


def fifth_day(kg: float = 10) -> Diary:
    """Open a diary on the morning of day 5, its vet check done."""
    return diary(kg, vet="done").on(5).all_at(*MORNING)


def per_kg(page: Diary) -> float:
    (drunk,) = intake(page.settings, page.entries).values()
    return drunk.per_kg


# --- Water ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("ml", "each"), [(360, 40), (540, 60)])
def test_the_worked_example_of_a_9_kg_dog_is_usual(ml: float, each: float) -> None:
    # Cornell Riney Canine Health Center, April 2024 (read): 40 to 60 mL/kg/day, so 360 to 540 mL
    # for a dog of 9 kg. Schoeman, VIN 3866513 (read): 50 to 60.
    page = drinks(fifth_day(9), ml)
    assert per_kg(page) == each
    assert raised(page) == {}


@pytest.mark.parametrize("ml", [400, 500, 501, 600])
def test_a_10_kg_dog_may_drink_600_ml(ml: float) -> None:
    # Elwood Vet (read): the grey zone begins at 60. McGrotty and Randell, In Practice 2019 (read)
    # put a lot of *urine* at over 50 mL/kg/day, petplace.com (read) at 44: the log measures no
    # urine, so neither bound may be taken for one of drinking.
    assert raised(drinks(fifth_day(), ml)) == {}


@pytest.mark.parametrize(("kg", "ml"), [(10, 600.1), (10, 601), (9, 541), (10, 1000), (9, 900)])
def test_one_day_in_the_grey_zone_is_watched(kg: float, ml: float) -> None:
    # Elwood Vet (read): 60 to 100 mL/kg/day is a grey zone, between usual and a vet's matter.
    assert raised(drinks(fifth_day(kg), ml)) == {"drinking": "watch"}


@pytest.mark.parametrize(("kg", "ml"), [(10, 1000.1), (10, 1001), (9, 901), (5, 501)])
def test_over_100_is_for_the_vet_soon(kg: float, ml: float) -> None:
    # McGrotty and Randell, In Practice 2019, doi 10.1136/inp.l4418, and Schoeman (read): over 100.
    assert raised(drinks(fifth_day(kg), ml)) == {"drinking": "soon"}


@pytest.mark.parametrize(
    ("first", "second", "level"),
    [(601, 601, "soon"), (601, 600, "watch"), (600, 601, "watch"), (1000, 601, "soon")],
)
def test_two_days_in_the_grey_zone_are_for_the_vet_soon(
    first: float, second: float, level: str
) -> None:
    # Elwood Vet (read) for the zone; that the second day counts is our own choice.
    page = drinks(drinks(fifth_day(), first).on(6), second)
    assert raised(page) == {"drinking": level}


@pytest.mark.parametrize(("ml", "says"), [(900, False), (900.1, True), (1000, True)])
def test_over_90_is_said_but_not_called_too_much(ml: float, says: bool) -> None:
    # dvm360, 2014-04-01 (read): over 90 is too much; a textbook chapter (c.coek.info, read): often
    # up to 60, up to 90 in health. The two disagree with 100: said early, and only watched.
    warning = the("drinking", drinks(fifth_day(), ml))
    assert ("over 90" in warning.because) == says
    assert warning.level == "watch"


@pytest.mark.parametrize("kg", [5, 10, 20, 30])
def test_the_formula_for_water_need_calls_no_vet(kg: float) -> None:
    # dvm360, 2014 (read): 140 x kg^0.75 mL a day (468 mL at 5 kg, 787 at 10, 1324 at 20).
    need = 140 * kg**0.75
    assert raised(drinks(fifth_day(kg), need)).get("drinking") in (None, "watch")


def test_the_figures_name_their_sources() -> None:
    assert figures.WATER_GREY < figures.WATER_EARLY < figures.WATER_MUCH
    for figure in (figures.WATER_GREY, figures.WATER_EARLY, figures.WATER_MUCH):
        assert figure.status == "published"
        assert figure.unit == "mL/kg/day"


# --- Pees and stools ------------------------------------------------------------------------------


def test_usual_numbers_of_pees_and_stools_raise_nothing() -> None:
    # 3 to 5 pees a day, small dogs up to 8, and 1 to 3 stools: general pages of low grade (read).
    # A soft band only: a dog in training goes out more often, so many pees alone say nothing.
    for kg in (5, 10):
        page = diary(kg, vet="done")
        for day in range(1, 8):
            page = page.on(day).all_at(*CLEAR_DAY)
        assert raised(page) == {}


def with_pees(amount: str, number: int, *, before: int = 0) -> Diary:
    """Write clear days before day 5, and on it pees of one amount, 70 min apart; no other."""
    page = diary(10, vet="done")
    for day in range(5 - before, 5):
        page = page.on(day).all_at(*CLEAR_DAY)
    page = page.on(5).at("06:30", "up")
    for count in range(number):
        minute = 6 * 60 + 40 + 70 * count
        page = page.at(f"{minute // 60:02d}:{minute % 60:02d}", "pee", amount=amount)
    return page


@pytest.mark.parametrize(("before", "least"), [(0, 7), (4, 5)])
@pytest.mark.parametrize(
    ("amount", "raises"), [("small", {"small-pees": "soon"}), ("large", {"large-pees": "ask"})]
)
def test_many_small_and_many_large_pees_are_two_flags(
    amount: str, raises: dict[str, str], before: int, least: int
) -> None:
    # Elwood Vet (read): often and small is another matter than much. No source gives a number: by
    # share, against the dog's own days, is our own choice; an unknown dog needs more of them.
    assert raised(with_pees(amount, least - 1, before=before)) == {}
    assert raised(with_pees(amount, least, before=before)) == raises


def test_a_share_that_this_dog_always_has_is_no_flag() -> None:
    # Our own choice: one pee in four small on every day is what this dog does.
    page = diary(10, vet="done")
    for day in range(1, 11):
        page = page.on(day).at("06:30", "up")
        for number in range(12):
            amount = "small" if number % 4 == 1 else ""
            page = page.at(f"{7 + number}:00", "pee", amount=amount)
    assert raised(page) == {}


@pytest.mark.parametrize(("first", "expected"), [("07:40", {}), ("07:41", {"small-pees": "soon"})])
def test_a_small_pee_within_an_hour_after_a_full_one_is_its_rest(
    first: str, expected: dict[str, str]
) -> None:
    # Our own choice, as the board makes many outings a day: there is little left then.
    page = with_pees("", 0, before=4).all_at("06:40 pee")
    for clock in (first, "09:00", "11:00", "13:00", "15:00", "17:00"):
        page = page.at(clock, "pee", amount="small")
    assert raised(page) == expected


@pytest.mark.parametrize(
    ("clocks", "expected"),
    [
        ("09:00 09:40 10:20", {}),
        ("09:00 09:40 10:20 11:00", {"often": "soon"}),
        ("09:00 09:40 10:20 11:01", {}),
    ],
)
def test_four_pees_in_two_hours_that_nobody_called(clocks: str, expected: dict[str, str]) -> None:
    # Elwood Vet (read): many small pees are a flag. Four in two hours, uncalled: our own choice.
    page = fifth_day().at("08:36", "pee")
    for clock in clocks.split():
        page = page.at(clock, "pee")
    assert raised(page) == expected


@pytest.mark.parametrize(
    ("number", "kg", "expected"),
    [(5, 10, {}), (6, 10, {"stools": "soon"}), (6, 3.9, {"stools": "today"})],
)
def test_six_stools_in_a_day(number: int, kg: float, expected: dict[str, str]) -> None:
    # 1 to 3 a day: general pages of low grade (read). Six: our own choice.
    page = diary(kg, vet="done").on(5).all_at("06:30 up", "06:35 pee")
    for hour in range(number):
        page = page.at(f"{8 + 2 * hour:02d}:00", "both")
    assert raised(page) == expected


@pytest.mark.parametrize(
    ("clock", "meals", "expected"),
    [("22:29", True, {}), ("22:30", True, {"no-stool": "watch"}), ("22:30", False, {})],
)
def test_three_days_without_a_stool(clock: str, meals: bool, expected: dict[str, str]) -> None:
    # Common practice, no source; three days, and only where it eats, are our own choice.
    page = diary(10, vet="done").on(4).all_at("06:30 up", "22:30 both")
    for day in (5, 6, 7):
        page = page.on(day).all_at("06:30 up", "06:35 pee", *["07:00 meal"] * meals)
        page = page.all_at("11:00 pee", "15:00 pee", "19:00 pee")
    assert raised(page, clock) == expected
    assert raised(page.at("21:00", "poop")) == {}


def test_straining_to_pass_stool_is_told_and_is_no_straining_to_pee() -> None:
    # Common practice, no source. That people take one for the other is why both are named.
    page = ill(fifth_day(), "10:00 straining-stool")
    assert raised(page) == {"straining-stool": "ask"}
    assert "little or no pee" in the("straining-stool", page).words
    assert raised(ill(page, "12:00 off-food").at("18:00", "pee"))["straining-stool"] == "soon"


def test_straining_is_an_emergency_at_once() -> None:
    # Texas Veterinary Medical Association, texvetpets.org, January 2015 (read).
    for day in (1, 5):
        page = ill(diary(vet="done").on(day).all_at(*MORNING), "10:00 straining")
        assert raised(page, "09:59") == {}
        assert raised(page, "10:00") == {"straining": "now"}
    assert "Phone a vet now" in the("straining", page).words


def test_straining_is_never_waited_out() -> None:
    # petyourdog.com (read, a general page): life-threatening within 3 days.
    page = ill(fifth_day(), "10:00 straining").at("12:00", "pee", amount="small")
    page = seen(page, "13:00").at("14:00", "nothing")
    for day in (5, 8, 12, 18):
        assert raised(page.on(day))["straining"] == "now", day
    assert "straining" not in raised(page.on(8).at("15:00", "vet"), "15:00")


@pytest.mark.parametrize("amount", ["", "usual", "large"])
def test_a_normal_pee_lowers_straining_to_today(amount: str) -> None:
    # Our own choice: what had to be phoned for at once is still told on that day.
    page = ill(fifth_day(), "10:00 straining").at("12:00", "pee", amount=amount)
    assert raised(page, "11:59") == {"straining": "now"}
    assert raised(page, "12:00") == {"straining": "today"}
    assert "still tell the vet today" in the("straining", page).words.lower()
    assert raised(ill(page, "15:00 straining"), "15:00") == {"straining": "now"}
    assert raised(page.at("15:00", "vet"), "15:00") == {}
    assert raised(page.on(12), "11:59") == {"straining": "today"}
    assert raised(page.on(12), "12:00") == {}


def test_a_pee_after_the_vet_says_nothing_more() -> None:
    page = ill(fifth_day(), "10:00 straining").all_at("11:00 vet", "12:00 pee")
    assert raised(page) == {}


@pytest.mark.parametrize("sign", ["blood", "vomiting", "listless", "off-food"])
def test_each_sign_beside_straining_adds_urgency(sign: str) -> None:
    # Texas Veterinary Medical Association (read): blood, vomiting, lethargy, no appetite.
    alone = ill(fifth_day(), "10:00 straining")
    for page in (ill(alone, f"11:00 {sign}"), ill(fifth_day(), f"09:00 {sign}", "10:00 straining")):
        assert the("straining", page).grade > the("straining", alone).grade
        assert "with" in the("straining", page).because


@pytest.mark.parametrize(("clock", "expected"), [("06:34", {}), ("06:35", {"no-pee": "soon"})])
def test_no_pee_for_a_day(clock: str, expected: dict[str, str]) -> None:
    # No source gives the hours; little or no urine is the sign (texvetpets.org, read). 24 h: ours.
    page = fifth_day().all_at("10:00 poop", "14:00 nothing", "18:00 nothing", "22:30 nothing")
    page = page.on(6).at(clock, "nothing")
    assert raised(page, clock) == expected


@pytest.mark.parametrize(
    ("signs", "clock", "expected"),
    [
        (("09:00 listless",), "18:34", None),
        (("09:00 listless",), "18:35", "now"),
        (("09:00 vomiting", "10:00 loose-stool"), "18:35", "now"),
        (("09:00 vomiting",), "22:00", None),
        ((), "22:00", None),
    ],
)
def test_unwell_and_no_pee_for_12_h_awake(
    signs: tuple[str, ...], clock: str, expected: str | None
) -> None:
    # Little or no urine is the sign, worse with lethargy or vomiting (texvetpets.org, read). The
    # hours are our own choice.
    page = ill(fifth_day().all_at("10:30 nothing", "14:30 nothing"), *signs)
    assert raised(page, clock).get("no-pee") == expected


@pytest.mark.parametrize(("clock", "expected"), [("13:59", None), ("14:00", "now")])
def test_unwell_and_no_pee_for_16_h_with_a_night_in_it(clock: str, expected: str | None) -> None:
    # The same; by then it has been awake for 7 h 30.
    page = fifth_day().all_at("22:00 pee", "22:40 settled").on(6)
    page = ill(page.all_at("06:30 up", "06:35 nothing", "10:00 nothing"), "08:00 listless")
    assert raised(page, clock).get("no-pee") == expected


@pytest.mark.parametrize(("clock", "expected"), [("21:59", None), ("22:00", "now")])
def test_it_counts_from_the_arrival_where_no_pee_is_logged(
    clock: str, expected: str | None
) -> None:
    page = diary(vet="done", arrived="10:00").all_at("10:10 nothing", "14:00 nothing")
    page = ill(page, "12:00 vomiting", "15:00 listless").at("19:00", "nothing")
    assert raised(page, clock).get("no-pee") == expected


@pytest.mark.parametrize(
    ("signs", "codes"),
    [
        (("08:00 loose-stool", "12:00 off-food"), set()),
        (("08:00 loose-stool", "12:00 off-food", "16:00 listless"),
         {"loose-stool", "off-food", "listless"}),
    ],
)  # fmt: skip
def test_three_signs_on_day_2_are_not_nerves(signs: tuple[str, ...], codes: set[str]) -> None:
    # PLoS One 2023;18:e0289356 (read): one or two signs are common. That three count: our own.
    page = ill(diary(vet="done").on(2).all_at(*MORNING), *signs).at("16:30", "pee")
    assert {code for code, level in raised(page).items() if level == "soon"} == codes


@pytest.mark.parametrize("sign", ["loose-stool", "vomiting"])
@pytest.mark.parametrize(
    ("kg", "age", "level"),
    [(3.99, "adult", "today"), (4, "adult", "watch"), (20, "senior", "today")],
)
def test_toy_dogs_and_seniors_do_not_wait(sign: str, kg: float, age: str, level: str) -> None:
    # Common practice, no source: they dry out sooner. Under 4 kg is our own choice.
    page = ill(diary(kg, vet="done", age=age).on(5).all_at(*MORNING), f"10:00 {sign}")
    assert raised(page, "10:00") == {sign: level}


def test_what_a_vet_should_know_is_said_and_no_medicine_stopped() -> None:
    # Water is never restricted (veterinary advice, from memory); which medicine is the vet's.
    plain = drinks(fifth_day(), 1100)
    assert "medicine" not in the("drinking", plain).words
    dog = frozenset({"water-medicine", "operated"})
    told = the("drinking", drinks(diary(10, vet="done", conditions=dog).on(5), 1100)).words
    assert (
        "Tell your vet too: on a medicine that makes it pass more water, operated of late." in told
    )
    assert "Stop neither the medicine nor the water." in told
    page = ill(diary(10, vet="done", conditions=frozenset({"in-heat"})).on(5), "10:00 blood")
    assert the("blood", page).words.endswith("Tell your vet too: in heat.")


# --- Asleep ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("settled", "details", "expected"),
    [
        ("13:00", {"cause": "leak"}, {"wet-bed": "soon"}),
        ("13:00", {"surface": "fabric"}, {"wet-bed": "soon"}),
        ("13:00", {"surface": "carpet"}, {}),
        ("13:00", {}, {}),
        ("", {"cause": "leak"}, {"wet-bed": "soon"}),
        ("", {"surface": "fabric"}, {}),
        ("13:00", {"surface": "fabric", "cause": "late"}, {}),
    ],
)
def test_a_pee_that_comes_asleep_is_for_the_vet(
    settled: str, details: dict[str, str], expected: dict[str, str]
) -> None:
    # World Small Animal Veterinary Association, congress paper, VIN 3852252 (read in excerpts): a
    # leak while lying or asleep is for a vet, and no matter of training. That the log speaks of it
    # by itself only where the bed is wet is our own choice: a dog may have got up unlogged.
    page = fifth_day().all_at("12:00 pee")
    if settled:
        page = page.at(settled, "settled", sleep="nap")
    assert raised(seen(page, "13:30", **details)) == expected


@pytest.mark.parametrize(("surface", "expected"), [("fabric", {"wet-bed": "soon"}), ("wood", {})])
def test_a_wet_bed_in_the_night(surface: str, expected: dict[str, str]) -> None:
    page = fifth_day().all_at("21:00 pee", "22:40 settled").on(6)
    page = page.at("03:00", "pee-inside", found=False, surface=surface)
    assert raised(page, "04:00") == expected


# --- Behaviour ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "details", "expected"),
    [
        (2, {"amount": "small", "upright": True}, {}),
        (3, {"amount": "small", "upright": True}, {"marking": "ask"}),
        (3, {"amount": "small", "upright": False}, {}),
        (3, {"amount": "usual", "upright": True}, {}),
        (3, {"cause": "marking"}, {"marking": "ask"}),
    ],
)
def test_small_and_upright_several_times(
    number: int, details: dict[str, Any], expected: dict[str, str]
) -> None:
    # Clinician's Brief, Urine Marking in Dogs, and Lindell and others, Marking Behavior (read in
    # excerpts): upright things, small amounts. That it takes three is our own choice.
    page = fifth_day()
    for day in range(5, 5 + number):
        page = seen(page.on(day).all_at(*MORNING), "11:00", **details)
    assert raised(page) == expected


@pytest.mark.parametrize(("number", "expected"), [(1, {}), (2, {"greeting": "watch"})])
def test_peeing_at_a_greeting_is_never_scolded(number: int, expected: dict[str, str]) -> None:
    # Lindell, Clinician's Brief, February 2017 (read in a second source).
    page = fifth_day()
    for day in range(5, 5 + number):
        page = seen(page.on(day).all_at(*MORNING), "11:00", cause="greeting")
    assert raised(page) == expected
    if expected:
        assert "never scold" in the("greeting", page).words


def two_days_alone(minutes: int, *, distressed: bool = True, first: int = 5) -> Diary:
    """Write two days on which it was left, with an accident so many minutes later."""
    page = diary(10, vet="done")
    for day in (first, first + 1):
        page = alone_day(page.on(day), minutes, distressed=distressed)
    return page


@pytest.mark.parametrize(("minutes", "expected"), [(30, {"alone": "ask"}), (31, {})])
def test_soon_after_leaving(minutes: int, expected: dict[str, str]) -> None:
    # PMC6978995, 2020 (read) for the syndrome. Soon after leaving, only when alone, and that a long
    # absence says nothing: common practice, no source. 30 min, and two of them, are our own choice.
    assert raised(two_days_alone(minutes)) == expected


def found_on_return(hours: int, *, distressed: bool = True, days: int = 2) -> Diary:
    """Write days on which a puddle was found after so many hours alone."""
    page = diary(10, vet="done")
    for day in range(5, 5 + days):
        page = page.on(day).all_at("06:30 up", "06:35 both", "08:20 pee", "09:55 pee", "10:00 left")
        page = page.at(f"{10 + hours}:00", "back", note="distressed, howled" if distressed else "")
        page = page.at(f"{10 + hours}:03", "pee-inside", found=True)
    return page


@pytest.mark.parametrize(
    ("page", "expected"),
    [
        (found_on_return(2), {"alone": "ask"}),
        (found_on_return(4), {"alone": "ask"}),
        (found_on_return(5), {}),
        (found_on_return(2, distressed=False), {}),
        (found_on_return(2, days=1), {}),
        (seen(found_on_return(2), "15:00"), {}),
    ],
)
def test_a_puddle_found_on_return_counts_with_distress(
    page: Diary, expected: dict[str, str]
) -> None:
    # PMC6978995 (read): distress when left. A long absence explains a puddle by itself: common
    # practice, no source; that it does past 4 h is our own choice.
    assert raised(page) == expected


def test_one_accident_alone_says_nothing() -> None:
    assert raised(alone_day(diary(10, vet="done").on(5), 20)) == {}


def test_only_when_alone() -> None:
    company = seen(two_days_alone(20), "15:00")
    assert raised(company) == {}, "it happens in company too"
    long_after = seen(two_days_alone(20).on(7).all_at(*MORNING, "08:00 left"), "12:00", alone=True)
    assert raised(long_after, "12:30") == {"alone": "ask"}, "this one speaks neither way"


def test_without_distress_no_behaviourist_is_called_for() -> None:
    assert raised(two_days_alone(20, distressed=False)) == {}


def test_nerves_of_the_first_days_are_not_overcalled() -> None:
    # PLoS One 2023;18:e0289356 (read): signs at some time in 92.6 % of 99 newly adopted dogs,
    # falling over time; PMC6978995 (read): many shapes, so refer and name nothing.
    assert raised(two_days_alone(20, first=2)) == {}
    assert raised(two_days_alone(20, first=3)) == {}, "only the second of them counts"
    assert raised(two_days_alone(20, first=4)) == {"alone": "ask"}
    assert figures.SETTLING_DAYS == 3.0


def test_a_vet_comes_before_a_behaviourist() -> None:
    # Veterinary guidance as quoted on worksmartdogtraining.com (read in that second source).
    assert "after a vet check" in the("alone", two_days_alone(20)).words


@pytest.mark.parametrize(
    "code",
    ["no-pee", "small-pees", "large-pees", "drinking", "relapse", "vomiting", "loose-stool",
     "off-food", "listless", "often", "alone", "marking", "nights", "pad", "greeting", "stools",
     "no-stool"],
)  # fmt: skip
def test_a_number_of_our_own_is_said_to_be_so(code: str) -> None:
    (row,) = (row for row in TABLE if row.code == code)
    assert row.source.endswith("our own choice")
    assert row.source.count(";") >= 1, "beside the source of the clue"


def test_every_row_says_where_its_threshold_comes_from() -> None:
    for row in TABLE:
        assert row.source, row.code
        assert row.ends, row.code
        assert row.stands >= timedelta(days=2).total_seconds() / 60, row.code
        for level, words in row.words.items():
            assert words.endswith("."), (row.code, level)
            assert "vet" in words or "behaviourist" in words or level == "watch", row.code
