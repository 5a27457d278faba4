"""The first start: few keys from an empty home to the board, and the rest as an open job."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from pottyboard.board.app import BoardApp
from pottyboard.board.screens.day import DayScreen
from pottyboard.board.set_up.full_form import SetupScreen
from pottyboard.core.model.questions import QUESTIONS, SPECIAL
from pottyboard.store import DogLog, Household
from tests.board.kitchen import ZONE, Board, Kitchen, instant, opened

FEW: int = 10
"""Keys under which a tired person is on the board (own choice)."""


@asynccontextmanager
async def empty_home(folder: Path, width: int = 80, height: int = 24) -> AsyncIterator[Board]:
    """Start the board in a home without a dog, at 09:00 in Oslo; then it is 09:00 for ever."""
    now = instant("09:00").astimezone(ZONE)
    app = BoardApp(Household(folder), None, lambda: now, {})
    async with opened(app, width, height) as board:
        yield board


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_board_is_there_in_under_ten_keys(tmp_path: Path, size: tuple[int, int]) -> None:
    keys = [*"Moss", "enter", "3", "1", "ctrl+s"]
    async with empty_home(tmp_path, *size) as board:
        for asked in ("Name", "Weight", "Arrives", "Special"):
            assert asked in board.text
        assert "Getting up" not in board.text
        shown = await board.press(*keys)
        assert len(keys) < FEW
        assert board.shows(DayScreen)
        assert "Moss" in shown
        left = f"S: set-up: {len(QUESTIONS) - 4} answers left"  # the zone is known
        assert left in shown or size == (60, 20)  # no room for jobs there
    dog = Household(tmp_path).dog_log().settings.dog
    assert (dog.name, dog.weight_kg, dog.arrived) == ("Moss", 31, instant("09:00"))


async def test_enter_alone_takes_four_keys(tmp_path: Path) -> None:
    async with empty_home(tmp_path) as board:
        await board.press("enter", "enter", "enter", "enter")
        assert board.shows(DayScreen)
    assert Household(tmp_path).dog_log().settings.home.zone == "Europe/Oslo"


@pytest.mark.parametrize("choice", SPECIAL)
async def test_the_choice_changes_what_it_says(tmp_path: Path, choice: str) -> None:
    steps = list(SPECIAL).index(choice)
    async with empty_home(tmp_path) as board:
        await board.press("down", "down", "down", *["right"] * steps)
        assert f"‹ {choice} ›" in board.text
        await board.press("enter")
        assert board.shows(DayScreen)
    dog = Household(tmp_path).dog_log().settings.dog
    found = (dog.age == "senior", dog.prone, "water-medicine" in dog.conditions)
    assert found == tuple(step == steps for step in (1, 2, 3))


async def test_only_what_was_answered_is_saved(tmp_path: Path) -> None:
    async with empty_home(tmp_path) as board:
        await board.press("enter", "enter", "enter", "right", "enter")
    saved = json.loads((tmp_path / "dog" / "settings.json").read_text("utf-8"))
    answers = {"name", "weight", "arrived", "zone", "age"}
    assert saved["answers"]["all"].keys() == answers


async def test_the_whole_set_up_ticks_the_job_off(tmp_path: Path) -> None:
    async with empty_home(tmp_path) as board:
        await board.press("enter", "enter", "enter", "enter", "S")
        assert board.shows(SetupScreen)
        assert "Getting up" in board.text or "Sex" in board.text
        shown = await board.press("escape")
        assert "answers left" in shown
        shown = await board.press("S", "ctrl+s")
        assert board.shows(DayScreen)
        assert "answers left" not in shown
    assert Household(tmp_path).dog_log().settings.unanswered == 0


async def test_a_wrong_answer_keeps_the_form_open(tmp_path: Path) -> None:
    async with empty_home(tmp_path) as board:
        await board.press("down", *"heavy", "ctrl+s")
        assert "Write the weight as a number" in board.text
        assert not board.shows(DayScreen)
    assert Household(tmp_path).dogs() == ()


async def test_one_more_answer_from_elsewhere_leaves_the_rest_open(tmp_path: Path) -> None:
    async with empty_home(tmp_path) as board:
        await board.press("enter", "enter", "enter", "enter")
    dog_log: DogLog = Household(tmp_path).dog_log()
    now: datetime = instant("09:00") + timedelta(minutes=5)
    before = dog_log.settings.unanswered
    dog_log.save_answers({**dog_log.answers, "sex": "male"}, now)
    assert dog_log.settings.unanswered == before - 1


@pytest.mark.parametrize("clock", ["10:00", "11:50"])
async def test_in_the_smallest_window_the_rest_of_the_set_up_stays_in_reach(
    tmp_path: Path, clock: str
) -> None:
    home = Kitchen(tmp_path / "other").at("09:00")
    home.household = Household(tmp_path / "home")
    given = {"name": "Bramble", "weight": "8", "zone": "Europe/Oslo", "arrived": "2026-03-02 08:00"}
    home.dog_log = home.household.create(given, home.now)
    home.at("09:40").wrote("09:30 pee")
    home.at(clock)
    async with home.board(60, 20) as board:
        assert "S: set-up: " in board.text
        assert ("break was due" in board.text) is (clock == "11:50")
    home.at("09:45").wrote("09:40 pee-inside", place="hall")
    home.at(clock)
    async with home.board(60, 20) as board:
        assert "clean hall, 3 more, A answers, S set-up" in board.text
        await board.press("S")
        assert board.shows(SetupScreen)


BAD: dict[str, tuple[str, str, str]] = {
    "weight": ("lots", "Write the weight as a number", "or 18 lb 6 oz."),
    "no dog": ("800", "800 kg is no dog's weight", "between 0.5 and 120 kg."),
    "arrived": ("31/2/2026 25:00", "“31/2/2026 25:00” is not a time", "2026-03-02 10:05"),
    "far": ("2029-03-02 10:00", "More than a year ahead", "check the date."),
    "name": ("", "Give the dog a name.", "name."),
}
"""A bad answer, and how the words about it begin and end."""


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize("asked", BAD)
async def test_what_is_wrong_stands_whole_below_its_line(
    tmp_path: Path, size: tuple[int, int], asked: str
) -> None:
    answer, first, last = BAD[asked]
    line = {"name": 0, "arrived": 2, "far": 2}.get(asked, 1)
    async with empty_home(tmp_path, *size) as board:
        await board.press(*["down"] * line, "ctrl+a", "ctrl+k", *answer)
        shown = (await board.press("down")).splitlines()
        at = next(row for row, text in enumerate(shown) if first in text)
        label = ("Name", "Weight", "Arrives")[line]
        assert shown[at - 1].split()[0] == label
        preview = {60: 0, 80: 30, 120: 38}[size[0]]
        rows = (text[: size[0] - preview] for text in shown[at : at + 3])
        below = " ".join(" ".join(rows).split())
        assert last in below
        assert "…" not in below


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_how_an_answer_was_read_is_whole_or_left_to_the_line_for_help(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with empty_home(tmp_path, *size) as board:
        shown = await board.press("down")
        assert "Weight reads: 12 kg, which is 26 lb 7 oz" in shown
        assert "…" not in shown


async def test_a_wrong_answer_far_down_the_set_up_comes_into_view_whole(tmp_path: Path) -> None:
    home = Kitchen(tmp_path / "home")
    async with home.board(60, 20) as board:
        await board.press("S", *["up"] * 3, *["down"] * 17, "ctrl+a", "ctrl+k", *"09:00", "ctrl+s")
        assert "Less than 8 h after getting up: check both times." in board.text
        lines = board.lines
        at = next(row for row, text in enumerate(lines) if text.split()[:1] == ["Bedtime"])
        assert "Less than 8 h after getting up" in lines[at + 1]
