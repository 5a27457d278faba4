"""Rooms and spots: how names are read and merged, what repeats, and what is blocked."""

from __future__ import annotations

import pytest

from pottyboard.core.log.places import Place, Spot, known_places, named_alike, place_of
from tests.core.diary import MORNING, Diary, diary


def house(*accidents: tuple[int, str, str]) -> Diary:
    """Return a diary with accidents at (day, clock, place)."""
    page = diary().on(1).all_at(*MORNING)
    for day, clock, place in accidents:
        page = page.on(day).at(clock, "pee-inside", place=place, id=f"{day}-{clock}")
    return page


def rows(page: Diary, day: int) -> dict[str, Spot]:
    """Return the spots on a day at noon by name."""
    return {spot.name: spot for spot in page.on(day).read("12:00").spots}


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("kitchen", Place("kitchen")),
        ("  kitchen  floor ", Place("kitchen floor")),
        ("kitchen: by the door", Place("kitchen", "by the door")),
        ("kitchen,by the door", Place("kitchen", "by the door")),
        ("kitchen, shelf: left", Place("kitchen", "shelf: left")),
        ("kitchen:", Place("kitchen")),
        (": by the door", Place("by the door")),
        ("", None),
        (" : ", None),
        (",", None),
    ],
)
def test_a_name_is_a_room_or_a_spot_in_it(text: str, place: Place | None) -> None:
    assert place_of(text) == place
    if place is not None:
        assert place_of(place.name) == place, "and it may be written again"


def test_capitals_spaces_and_the_mark_between_do_not_part_a_place() -> None:
    assert named_alike("Kitchen: by the door", "kitchen ,By  the DOOR")
    assert not named_alike("kitchen", "kitchen: by the door")
    assert named_alike("", " ")
    assert not named_alike("", "kitchen")


def test_known_places_the_most_used_first_then_the_newest() -> None:
    page = house(
        (2, "08:00", "hall"), (2, "10:00", "kitchen: rug"), (3, "08:00", "Kitchen, rug"),
        (4, "08:00", "bedroom"), (4, "09:00", ""),
    )  # fmt: skip
    assert known_places(page.entries) == ("Kitchen: rug", "bedroom", "hall")
    assert known_places(reversed(page.entries)) == ("Kitchen: rug", "bedroom", "hall")
    assert known_places(diary().on(2).at("09:00", "cleaned", place="attic").entries) == ()


def test_a_room_counts_its_spots_and_comes_before_them() -> None:
    page = house(
        (2, "08:00", "kitchen: rug"), (3, "08:00", "Kitchen"), (4, "08:00", "hall"),
        (4, "09:00", ""),
    )  # fmt: skip
    shown = page.on(5).read("12:00").spots
    assert [spot.name for spot in shown] == ["hall", "Kitchen", "kitchen: rug"]
    assert [spot.accidents for spot in shown] == [1, 2, 1]
    assert [page.clock(spot.newest)[-5:] for spot in shown] == ["08:00", "08:00", "08:00"]
    assert [spot.days_since for spot in shown] == [1, 2, 3]


def test_days_since_are_whole_days() -> None:
    page = house((2, "12:01", "hall"))
    assert rows(page, 3)["hall"].days_since == 0
    assert page.on(3).read("12:01").spots[0].days_since == 1


def test_a_repeat_within_the_fortnight_asks_to_clean_and_block() -> None:
    page = house((2, "12:00", "hall"), (5, "12:00", "hall"))
    spot = rows(page, 16)["hall"]
    assert (spot.accidents, spot.repeats) == (2, 2)
    assert spot.words == "2 accidents in two weeks: clean again, block access"
    later = rows(page, 17)["hall"]
    assert (later.accidents, later.repeats, later.words) == (2, 1, "")


def test_the_same_room_counts_as_beside() -> None:
    spots = rows(house((2, "08:00", "hall: mat"), (3, "08:00", "hall: coat")), 4)
    assert spots["hall"].words == "2 accidents in two weeks: clean again, block access"
    assert spots["hall: mat"].words == "2 accidents in this room in two weeks: clean again"
    assert spots["hall: mat"].repeats == 1


def test_what_is_to_clean_is_marked_until_it_is_done() -> None:
    page = house((2, "08:00", "hall: mat"))
    assert [spot.to_clean for spot in page.read("12:00").spots] == [True, True]
    done = page.at("09:00", "cleaned", place="Hall, mat")
    assert [spot.to_clean for spot in done.read("12:00").spots] == [False, False]


def test_a_block_is_about_the_spot_of_the_accident() -> None:
    page = house((2, "08:00", "hall: mat"), (2, "09:00", "kitchen"))
    page = page.at("10:00", "routine", measure="block", about="2-08:00", id="block")
    spots = rows(page, 4)
    assert {name: spot.blocked for name, spot in spots.items()} == {
        "kitchen": False, "hall": False, "hall: mat": True,
    }  # fmt: skip
    assert spots["hall: mat"].words == "blocked for 2 days"
    again = page.on(4).at("11:00", "pee-inside", place="hall: mat")
    assert (
        rows(again, 4)["hall: mat"].words
        == "blocked, but it happened again: check the block, clean again"
    )
    assert not any(spot.blocked for spot in rows(page.without("block"), 4).values())
