"""Three invented fortnights, each with its own trouble: the right warnings, and no others."""

from __future__ import annotations

from tests.core.diary import CLEAR_DAY, Diary, diary
from tests.core.health.raised import ill, raised, seen


def plain(page: Diary, first: int, last: int) -> Diary:
    """Write clear days from one to another."""
    for day in range(first, last + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page


def day_by_day(page: Diary, last: int) -> dict[int, dict[str, str]]:
    """Return what stands on the evening of each day on which something does."""
    evenings = {day: raised(page.on(day), "23:00") for day in range(1, last + 1)}
    return {day: warnings for day, warnings in evenings.items() if warnings}


def wet_bed_and_empty_bowl() -> Diary:
    """A spayed female of 9 kg, settling in with two misses, drinks more and leaks asleep."""
    page = diary(9, vet="done", sex="female", neutered=True).on(1).all_at(*CLEAR_DAY)
    page = seen(seen(page, "11:45"), "21:10", "poop-inside")  # the first day is a lot for her
    page = plain(page, 2, 5)
    for day, left in ((6, 60), (7, 110), (8, 0)):
        page = page.on(day).all_at(*CLEAR_DAY)
        page = page.at("06:30", "bowl", ml=500).at("14:30", "bowl", ml=500, rest=left)
        page = page.at("22:30", "bowl", rest=50)
    page = page.at("13:00", "settled", sleep="nap")
    return plain(seen(page, "13:40", surface="fabric"), 9, 10)


def test_drinking_and_a_wet_bed_send_to_the_vet() -> None:
    # 890, 840 and 950 mL on a dog of 9 kg: 99, 93 and 106 mL/kg.
    assert day_by_day(wet_bed_and_empty_bowl(), 10) == {
        6: {"drinking": "watch"},
        7: {"drinking": "soon"},
        8: {"drinking": "soon", "wet-bed": "soon"},
        9: {"drinking": "soon", "wet-bed": "soon"},
        10: {"drinking": "soon", "wet-bed": "soon"},
    }


def test_a_vet_check_quietens_them() -> None:
    page = wet_bed_and_empty_bowl().on(9).at("10:00", "vet")
    assert day_by_day(page, 10).keys() == {6, 7, 8}


def alone_and_upright() -> Diary:
    """An intact male of 22 kg: marks three things, and comes apart when the door closes."""
    page = diary(22, vet="done", sex="male", neutered=False)
    for day in range(1, 4):  # nerves: nobody can leave the room yet
        page = page.on(day).all_at(*CLEAR_DAY)
        page = page.all_at("10:35 left").at("11:05", "back", note="distressed, howled")
        page = seen(page, "10:50", alone=True)
    page = page.on(4).all_at(*CLEAR_DAY)
    for day, clock in ((5, "11:20"), (6, "18:40"), (8, "20:15")):
        page = page.on(day).all_at(*CLEAR_DAY)
        page = seen(page, clock, amount="small", upright=True, place="door frame")
    for day in (7, 9):
        page = page.on(day).all_at(*CLEAR_DAY)
        page = seen(page.at("14:30", "left"), "14:45", alone=True)
        page = page.at("14:55", "back", note="distressed, scratched at the door")
    return plain(page, 10, 11)


def test_patterns_ask_a_professional_and_not_before_day_four() -> None:
    assert day_by_day(alone_and_upright(), 11) == {
        8: {"marking": "ask"},
        9: {"marking": "ask", "alone": "ask"},
        10: {"marking": "ask", "alone": "ask"},
        11: {"marking": "ask", "alone": "ask"},
    }


def straining_in_the_night() -> Diary:
    """A male of 14 kg: small pees by day, then nothing but straining."""
    page = plain(diary(14, vet="done", sex="male"), 1, 5)
    page = page.on(6).at("06:30", "up")
    for clock in ("06:40", "09:00", "11:00", "13:00", "15:00"):
        page = page.at(clock, "pee", amount="small")
    page = page.all_at("07:00 meal", "17:30 meal", "19:00 nothing", "22:30 nothing")
    page = ill(page.on(7).at("05:50", "up"), "06:00 straining", "06:20 vomiting")
    return page


def test_straining_is_the_gravest() -> None:
    page = straining_in_the_night()
    assert day_by_day(page, 6) == {6: {"small-pees": "soon"}}
    assert raised(page, "06:30") == {"straining": "now", "small-pees": "soon", "vomiting": "soon"}
    assert page.read("06:30").warnings[0].code == "straining"


def test_nerves_of_the_first_three_days_raise_nothing() -> None:
    page = diary(12, vet="done").on(1).all_at("12:30 nothing", "16:00 nothing", "19:00 pee")
    page = ill(seen(page, "14:10"), "15:00 off-food")
    page = page.on(2).all_at("06:30 up", "06:40 nothing", "09:00 left", "12:00 poop", "18:00 pee")
    page = ill(
        seen(page, "09:15", alone=True).at("09:30", "back", note="distressed"), "10:00 loose-stool"
    )
    page = page.on(3).all_at("06:30 up", "06:40 pee", "09:00 left", "13:00 both", "19:00 pee")
    page = seen(seen(page, "09:12", alone=True).at("09:30", "back", note="distressed"), "16:00",
                amount="small", upright=True)  # fmt: skip
    page = ill(page, "20:00 listless")
    assert day_by_day(page, 3) == {}
