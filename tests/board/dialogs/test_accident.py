"""The first ten seconds of an accident: what to do now, saved at once, completed later."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from textual.events import Key

from pottyboard.board.dialogs.accident import AccidentDialog
from pottyboard.board.dialogs.accident_asks import (
    accident_asks,
    answers_of,
    changes_of,
    first_lines,
    open_words,
)
from pottyboard.board.dialogs.questions import Ask
from pottyboard.board.screens.day import DayScreen
from pottyboard.board.screens.emergency import EmergencyScreen
from pottyboard.board.widgets import large
from pottyboard.core.model.events import Event, check_details
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.store import DogLog, StoreError
from tests.board.kitchen import ZONE, Kitchen, instant
from tests.board.test_golden_screens import kitchen as fourth_day
from tests.board.test_golden_screens import same_as_golden

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """A morning with one pee."""
    return Kitchen(tmp_path).at("10:00").wrote("09:05 pee")


# --- What to do now -----------------------------------------------------------------------------


@pytest.mark.parametrize("found", [None, False, True])
def test_the_first_words_are_three_lines_that_can_be_drawn_large(found: bool | None) -> None:
    lines = first_lines(found)
    assert len(lines) == 3
    for line in lines:
        assert len(large.words(line.large)[0]) <= 74  # a window of 80 columns, less the frame
        assert len(line.plain) <= 28


async def test_it_says_what_to_do_before_it_asks(kitchen: Kitchen) -> None:
    async with kitchen.board(60, 20) as board:
        shown = await board.press("a")
        assert shown.index("No scolding") < shown.index("Pee or poop?")
        assert "One quiet ah" not in shown
        assert "One quiet ah" in await board.press("s")
        await board.press("escape")
        kitchen.at("10:01")
        assert "Say nothing to the dog" in await board.press("a", "f")


async def test_in_a_usual_window_it_stays_large_beside_every_question(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("a")
        for key in ("f", "p", "2", "1", "y", "l", "c"):
            assert len([line for line in board.text.splitlines() if "▀" in line]) >= 9
            assert "one key saves" in board.text or "ask me later" in board.text
            await board.press(key)
        assert kitchen.last.surface == "carpet", "each key was the answer that it should be"


# --- Saved at once ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "kind", "found"),
    [
        ("p", "pee-inside", None),
        ("o", "poop-inside", None),
        ("s", "pee-inside", False),
        ("f", "pee-inside", True),
        ("enter", "pee-inside", None),
    ],
)
async def test_two_keys_save_it(kitchen: Kitchen, key: str, kind: str, found: bool | None) -> None:
    async with kitchen.board(60, 20) as board:
        assert "✓ saved: 10:00" in await board.press("a", key)
        event = kitchen.last
        assert (event.kind, event.found, event.place, event.alone) == (kind, found, "", None)
        await board.press("escape")
        assert board.shows(DayScreen)
        assert kitchen.last == event
        await board.press("u")
        assert kitchen.log == ["09:05 pee"]


async def test_a_repeat_at_a_spot_is_said_as_it_is_saved(kitchen: Kitchen) -> None:
    kitchen.wrote("09:20 pee-inside", place="hall: rug").wrote("09:25 cleaned")
    async with kitchen.board() as board:
        for places, said in (("1", "Accident 2 here in two weeks"), ("2", "")):
            await board.press("a", "p", "s", places)
            shown = " ".join((await board.press("escape")).split())
            assert "No scolding" in shown
            assert ("block access" in shown) == bool(said)
            assert said in shown


async def test_two_keys_save_it_however_fast_they_come(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        for key in "ap":
            board.app.post_message(Key(key, key))
        while not board.shows(AccidentDialog):
            await board.settled()
        await board.press()
        assert "✓ saved: 10:00 pee indoors" in board.text
        assert kitchen.log == ["09:05 pee", "10:00 pee-inside"]


@pytest.mark.parametrize("key", ["escape", "full_stop", "tab"])
async def test_without_an_answer_nothing_is_saved(kitchen: Kitchen, key: str) -> None:
    async with kitchen.board() as board:
        assert "esc saves nothing" in await board.press("a")
        await board.press("a", "x", key)
        assert board.shows(DayScreen)
    assert kitchen.log == ["09:05 pee"]


async def test_every_answer_is_on_disk_at_once_and_one_undo_takes_all_back(
    kitchen: Kitchen,
) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "f", "2", "3")
        event = kitchen.last
        assert (event.place, event.found, event.alone) == ("hall", True, None)
        assert event.dry == event.at - timedelta(minutes=30)
        shown = await board.press("y", "l", "c", "u")
        event = kitchen.last
        assert (event.alone, event.amount, event.surface, event.upright) == (
            True, "large", "carpet", True,
        )  # fmt: skip
        assert board.shows(DayScreen)
        assert "Saved: Bramble peed indoors, 10:00. No scolding" in shown
        assert "More questions later" not in shown
        await board.press("u")
        assert kitchen.log == ["09:05 pee"]


@pytest.mark.parametrize("key", ["escape", "full_stop", "tab"])
async def test_the_rest_may_wait(kitchen: Kitchen, key: str) -> None:
    async with kitchen.board() as board:
        shown = await board.press("a", "o", key)
        assert board.shows(DayScreen)
        assert "More questions later: press a, then r." in " ".join(shown.replace("▌", " ").split())
    assert kitchen.log == ["09:05 pee", "10:00 poop-inside"]


async def test_enter_leaves_a_question_open(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "enter", "1", "enter", "enter", "w", "enter")
        assert board.shows(DayScreen)
        event = kitchen.last
        assert (event.found, event.place, event.alone) == (None, "kitchen", None)
        assert (event.amount, event.surface, event.upright) == ("", "wood", None)


async def test_it_counts_from_its_key_however_long_the_answers_take(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("5", "a")
        kitchen.now += timedelta(minutes=7)
        await board.press("p")
        kitchen.now += timedelta(minutes=7)
        await board.press("f", "n", "1", "escape")
    assert kitchen.log[-1] == "09:55 pee-inside"
    assert kitchen.last.place == "kitchen"


async def test_backspace_returns_to_the_question_before(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "f", "2", "backspace", "backspace")
        assert "▸ Seen happening, or found?" in board.text
        await board.press("s")
        assert (kitchen.last.found, kitchen.last.dry) == (False, None)
        assert "▸ Where?" in board.text


async def test_a_place_can_be_typed_and_comes_first_the_next_time(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "s", "t")
        await board.type("cellar stairs")
        await board.press("enter", "escape")
        assert kitchen.last.place == "cellar stairs"
        kitchen.at("10:05")
        assert "1  cellar stairs" in await board.press("a", "p", "s")


async def test_the_places_are_learned_and_the_most_used_comes_first(kitchen: Kitchen) -> None:
    for clock, place in (("09:10", "Hall"), ("09:20", "stairs"), ("09:30", "stairs")):
        kitchen.wrote(f"{clock} pee-inside", place=place)
    async with kitchen.board() as board:
        shown = await board.press("a", "p", "s")
        for number, place in enumerate(("stairs", "Hall", "kitchen", "living room", "bedroom"), 1):
            assert f"{number}  {place}" in shown
        assert "hall" not in shown


async def test_a_wrong_time_is_refused_with_a_message(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "f", "t")
        await board.type("10:30")
        shown = await board.press("enter")
        assert "▲ That is" in shown
        await board.press("escape", "escape")
        assert kitchen.last.dry is None


async def test_a_choice_can_be_clicked(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a")
        row = next(n for n, line in enumerate(board.lines) if "seen happening" in line)
        await board.pilot.click(offset=(board.lines[row].index("happening"), row))
        await board.settled()
        assert kitchen.last.found is False


async def test_an_emergency_opens_over_it(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "exclamation_mark")
        assert board.shows(EmergencyScreen)
        await board.press("escape")
        assert board.shows(AccidentDialog)


async def test_what_the_disk_refuses_is_said_and_may_be_answered_again(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*args: object) -> Event:
        raise StoreError("Not saved: the disk is full.")

    async with kitchen.board() as board:
        await board.press("a")
        with monkeypatch.context() as patched:
            patched.setattr(DogLog, "add", full)
            assert "▲ Not saved: the disk is full." in await board.press("p")
        assert kitchen.log == ["09:05 pee"]
        assert "✓ saved: 10:00" in await board.press("p")


# --- Completed later ----------------------------------------------------------------------------


async def test_the_rest_is_asked_later_and_taken_back_by_itself(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("a", "p", "escape")
        kitchen.at("10:20")
        await board.press("m")
        assert "r  the other questions about 10:00" in await board.press("a")
        assert "▸ Seen happening, or found?" in await board.press("r")
        await board.press("f", "n", "2", "n", "s", "s")
        assert board.shows(AccidentDialog)
        await board.press("f")
        assert board.shows(DayScreen)
        event = next(event for event in DogLog(kitchen.dog_log.folder).events if event.found)
        assert (event.place, event.surface, event.upright) == ("living room", "sealed", False)
        assert kitchen.log == ["09:05 pee", "10:00 pee-inside", "10:20 meal"]
        await board.press("u")
        assert not any(event.found for event in DogLog(kitchen.dog_log.folder).events)
        assert len(kitchen.log) == 3


async def test_what_is_known_already_is_not_asked_again(kitchen: Kitchen) -> None:
    kitchen.wrote("09:40 pee-inside", place="hall", found=False, alone=False, amount="small")
    async with kitchen.board() as board:
        assert "▸ On what?" in await board.press("a", "r")
        assert "Pee or poop?" not in board.text


async def test_nothing_is_offered_for_what_is_complete_or_long_ago(kitchen: Kitchen) -> None:
    kitchen.wrote("09:10 pee-inside")
    kitchen.wrote(
        "09:40 poop-inside", place="hall", found=True, alone=False, surface="wood"
    )  # fmt: skip
    async with kitchen.board() as board:
        assert "the other questions about" not in await board.press("a")
        await board.press("r", "escape")
    assert len(kitchen.log) == 3
    fresh = Kitchen(kitchen.household.folder.parent / "other").at("10:00", 3)
    fresh.wrote("09:05 pee", day=1).wrote("09:50 pee-inside", day=2)
    async with fresh.board() as board:
        assert "the other questions about" not in await board.press("a")


# --- The questions, without a screen --------------------------------------------------------------

SETTINGS = settings_from(default_answers(instant("09:00"), ZONE.key), instant("09:00"))
PEE = Event("pee-inside", instant("10:00"), id="a")


def asks(*, several_dogs: bool = False) -> tuple[Ask, ...]:
    """The questions in a house with two rooms."""
    return accident_asks(SETTINGS, ("hall", "kitchen"), PEE.at, several_dogs=several_dogs)


def test_answers_become_fields_and_back() -> None:
    answers = {
        "kind": "pee-inside", "found": "yes", "dry": "30", "place": "hall", "alone": "no",
        "amount": "small", "surface": "wood", "upright": "yes",
    }  # fmt: skip
    changes = changes_of(PEE, asks(), answers)
    event = check_details(Event(**{"kind": "pee-inside", "at": PEE.at, **changes}))
    assert event.dry == PEE.at - timedelta(minutes=30)
    held = answers_of(event, asks())
    assert {**held, "dry": "30"} == answers
    assert open_words(event, asks()) == ()


def test_what_no_longer_fits_is_taken_out() -> None:
    event = Event(
        "pee-inside", PEE.at, found=True, dry=PEE.at - timedelta(hours=1), amount="small",
        upright=True,
    )  # fmt: skip
    answers = {"kind": "poop-inside", "found": "no"}
    assert changes_of(event, asks(), answers) == {
        "kind": "poop-inside", "found": False, "dry": None, "amount": "", "upright": None,
    }  # fmt: skip


def test_a_question_that_is_left_open_changes_nothing() -> None:
    event = Event("pee-inside", PEE.at, place="hall")
    assert changes_of(event, asks(), {"kind": "pee-inside", "place": ""}) == {}


def test_another_dog_is_asked_about_only_where_there_is_one() -> None:
    alone, several = (open_words(PEE, asks(several_dogs=many)) for many in (False, True))
    assert several[: len(alone)] == alone
    assert len(several) == len(alone) + 1


# --- Whole screens --------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("name", "keys"), [("accident", "a"), ("accident-found", "apfn")])
async def test_a_screen(tmp_path: Path, size: tuple[int, int], name: str, keys: str) -> None:
    async with fourth_day(tmp_path).at("10:05", 4).board(*size) as board:
        shown = await board.press(*keys)
    same_as_golden(f"{name}-{size[0]}x{size[1]}", f"{shown}\n")


@pytest.mark.parametrize("size", [(80, 24), (200, 60)])
async def test_a_screen_in_ascii(tmp_path: Path, size: tuple[int, int]) -> None:
    async with fourth_day(tmp_path, glyphs="ascii").at("10:05", 4).board(*size) as board:
        shown = await board.press("a", "f")
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
    same_as_golden(f"accident-ascii-{size[0]}x{size[1]}", f"{shown}\n")
