"""The first ten seconds, and the steps of a cleaning job for each surface."""

from __future__ import annotations

import re

import pytest

from pottyboard.core.log.cleaning import cleaning_steps, first_words
from pottyboard.core.model.events import SURFACES
from tests.core.diary import MORNING, diary

SCOLDING = re.compile(r"\b(scold|punish|rub its|shout|smack|no!)", re.IGNORECASE)


@pytest.mark.parametrize("found", [None, False, True])
def test_the_first_words_can_be_read_across_a_room(found: bool | None) -> None:
    lines = first_words(found)
    assert 1 <= len(lines) <= 3
    assert all(0 < len(line) <= 28 for line in lines)


def test_seen_goes_out_calmly_and_is_praised_there() -> None:
    """An interruption, calmly out, praise there: Arizona Humane Society; RSPCA (published)."""
    noise, out, praise = first_words(False)
    assert "one quiet ah" in noise.lower()
    assert "no scolding" in noise
    assert "calmly out" in out.lower()
    assert "praise" in praise.lower()


def test_found_says_nothing_to_the_dog_and_cleans() -> None:
    """Useless even seconds later: Arizona Humane Society (published)."""
    words = " ".join(first_words(True)).lower()
    assert "nothing to the dog" in words
    assert "call it away, never drag it" in words
    assert "enzyme" in words
    assert "noise" not in words


def test_not_said_yet_fits_both() -> None:
    words = " ".join(first_words(None)).lower()
    assert "no scolding" in words
    assert "out" in words
    assert "clean" in words
    assert "noise" not in words


@pytest.mark.parametrize("surface", ["", *SURFACES])
@pytest.mark.parametrize("kind", ["pee-inside", "poop-inside"])
def test_every_surface_is_cleaned_with_an_enzyme_cleaner_and_no_ammonia(
    surface: str, kind: str
) -> None:
    """London Vet Clinic advice page (published)."""
    steps = cleaning_steps(surface, kind)
    text = " ".join(steps)
    assert len(steps) == 5
    assert "enzyme cleaner" in text
    assert "no ammonia" in text
    assert "keep the dog off" in steps[-1]
    assert all(len(step) < 100 for step in steps)
    assert not SCOLDING.search(text)


@pytest.mark.parametrize(
    ("surface", "padding", "drying"),
    [
        ("sealed", False, "about 30 min"),
        ("wood", False, "about 2 h"),
        ("carpet", True, "about 24 h"),
        ("fabric", True, "about 24 h"),
        ("", True, "up to 24 h on anything soft"),
    ],
)
def test_soft_things_down_to_the_padding(surface: str, padding: bool, drying: str) -> None:
    """Down to the padding, and the times: common practice, no source."""
    text = " ".join(cleaning_steps(surface))
    assert ("down to the padding" in text) == padding
    assert drying in text


def test_a_repeat_is_cleaned_again_and_blocked() -> None:
    assert len(cleaning_steps("wood", nth=1)) == 5
    assert cleaning_steps("wood", nth=2)[5] == (
        "accident 2 here in two weeks: clean again, block access to the spot"
    )
    assert "accident 3 in this room" in cleaning_steps("wood", nth=3, at_spot=False)[5]


def test_the_job_carries_its_steps_until_it_is_ticked_off() -> None:
    page = diary(vet="done").on(3).all_at(*MORNING)
    page = page.at("08:00", "poop-inside", surface="carpet", place="hall", id="a")
    page = page.at("09:00", "pee-inside", surface="wood", place="hall: rug", id="b")
    first, second = page.read("09:10").open_jobs
    assert first.steps == cleaning_steps("carpet", "poop-inside")
    assert second.steps == cleaning_steps("wood", "pee-inside", 2, at_spot=False)
    later = page.on(9).read("12:00").open_jobs
    assert [job.about for job in later] == ["a", "b"]
    assert page.at("09:20", "cleaned", about="a").read("09:30").open_jobs == (second,)
