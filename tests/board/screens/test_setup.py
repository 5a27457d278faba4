"""The set-up form: Enter alone, wrong answers, the first day, and changing answers later."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from pottyboard.board.app import BoardApp
from pottyboard.board.screens.day import DayScreen
from pottyboard.core.model.questions import QUESTIONS
from pottyboard.store import Household
from tests.board.kitchen import ZONE, Board, Kitchen, instant, opened
from tests.core.diary import CLEAR_DAY

LATE_MORNING = [entry for entry in CLEAR_DAY if entry > "09:06"]
"""What is left of a clear day after the arrival."""

TO_THE_LEVEL = next(n for n, question in enumerate(QUESTIONS) if question.key == "risk")
"""Lines down to the question how careful the board is."""


@asynccontextmanager
async def first_start(folder: Path, width: int = 120, height: int = 40) -> AsyncIterator[Board]:
    """Ask for the whole set-up in an empty home, at 09:00 of day 1 in Oslo."""
    now = instant("09:00").astimezone(ZONE)
    app = BoardApp(Household(folder), None, lambda: now, {}, set_up=True)
    async with opened(app, width, height) as board:
        yield board


async def test_enter_alone_ends_on_the_board(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        assert "A new dog: press enter to accept each answer" in board.text
        await board.at_once(*["enter"] * len(QUESTIONS))
        assert isinstance(board.app.screen, DayScreen)
        assert "Dog · day 1 of 14 · Mon 2 Mar" in board.text
    dog_log = Household(tmp_path).dog_log()
    assert dog_log.settings.home.zone == "Europe/Oslo"
    assert dog_log.settings.dog.arrived == instant("09:00")


async def test_typing_replaces_the_default(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        await board.type("Moss")
        await board.press("enter")
        await board.type("31")
        await board.press("enter", "right")
        await board.press("ctrl+s")
    dog = Household(tmp_path).dog_log().settings.dog
    assert (dog.name, dog.weight_kg, dog.age) == ("Moss", 31, "senior")


async def test_the_first_day_follows_the_answers(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        assert "11:00  break (since pee)" in board.text
        await board.press("down", "down", "down", "down", "down", "right")
        assert "‹ yes ›" in board.text  # prone to accidents: an hour and a half to begin with
        assert "10:30  break (since pee)" in board.text
        assert "11:00  break (since pee)" not in board.text


@pytest.mark.parametrize(
    ("steps", "answer", "message"),
    [
        (0, "", "Give the dog a name."),
        (1, "900", "900 kg is no dog's weight"),
        (1, "heavy", "Write the weight as a number"),
        (9, "2026-03-29 02:30", "does not exist"),
        (10, "Europe/Oslow", "Did you mean Europe/Oslo"),
    ],
)
async def test_a_wrong_answer_has_a_message_below_it(
    tmp_path: Path, steps: int, answer: str, message: str
) -> None:
    async with first_start(tmp_path, 200, 60) as board:
        await board.at_once(*["down"] * steps, "end", *["backspace"] * 30)
        await board.type(answer)
        at = next(n for n, row in enumerate(board.lines) if QUESTIONS[steps].label in row)
        assert f"▲ {message}" in board.lines[at + 1] or message in board.lines[at + 1]
        await board.press("ctrl+s")
        assert board.app.screen.id == "setup"
    assert Household(tmp_path).dogs() == ()


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_a_long_message_can_be_read_in_full(tmp_path: Path, size: tuple[int, int]) -> None:
    async with first_start(tmp_path, *size) as board:
        await board.press("down")
        await board.type("heavy")
        whole = "▲ Write the weight as a number, such as 8, 8.5 kg, 18 lb or 18 lb 6 oz."
        assert whole in " ".join(" ".join(board.lines[-3:-1]).split())


async def test_only_a_letter_that_begins_a_choice_changes_it(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        await board.at_once(*["down"] * 7)
        await board.type("not yet")
        assert board.app.screen.focused.value == "not yet"  # type: ignore[union-attr]
        await board.type("xz")
        assert board.app.screen.focused.value == "not yet"  # type: ignore[union-attr]
        await board.type("done")
        assert board.app.screen.focused.value == "done"  # type: ignore[union-attr]
        await board.press("up")
        await board.type("outdoors")
        assert board.app.screen.focused.value == "outdoors"  # type: ignore[union-attr]
        await board.press("space")
        assert board.app.screen.focused.value == "unknown"  # type: ignore[union-attr]


async def test_a_wrong_zone_hides_no_message_about_the_arrival(tmp_path: Path) -> None:
    async with first_start(tmp_path, 200, 60) as board:
        for steps, answer in ((9, "soonish"), (1, "Europe/Oslow")):
            await board.at_once(*["down"] * steps, "end", *["backspace"] * 30)
            await board.type(answer)
        for label in ("Arrives", "Time zone"):
            at = next(n for n, row in enumerate(board.lines) if label in row)
            assert "▲" in board.lines[at + 1]


async def test_saving_goes_to_the_first_answer_that_does_not_fit(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        await board.press("down", "x", *["down"] * 10, "ctrl+s")
        assert board.app.screen.focused.value == "x"  # type: ignore[union-attr]


async def test_escape_on_a_first_start_leaves_nothing(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        await board.pilot.press("escape")
    assert board.app.return_code == 0
    assert Household(tmp_path).dogs() == ()


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (200, 60)])
async def test_the_line_with_the_focus_is_always_in_view(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with first_start(tmp_path, *size) as board:
        for question in QUESTIONS[:-1]:
            assert any(question.label in line for line in board.lines[1:-3]), question.key
            await board.press("down")


async def test_it_can_be_reopened_and_the_board_follows(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path).wrote("09:05 pee").at("10:00")
    async with kitchen.board() as board:
        assert "break at 11:05" in board.text
        await board.press("S")
        assert "Set-up" in board.text
        assert "Mina, Otto" in board.text
        shown = await board.press(*["down"] * 5, "right", "ctrl+s")
        assert isinstance(board.app.screen, DayScreen)
        assert "break at 10:35, in 35 min" in shown


async def test_escape_from_a_reopened_set_up_changes_nothing(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path).wrote("09:05 pee").at("10:00")
    async with kitchen.board() as board:
        await board.press("S", *["down"] * 5, "right", "escape")
        assert isinstance(board.app.screen, DayScreen)
        assert "break at 11:05" in board.text
    assert not kitchen.dog_log.settings.dog.prone


async def test_what_was_understood_stands_beside_the_answer(tmp_path: Path) -> None:
    async with first_start(tmp_path, 120, 40) as board:
        await board.press("down")
        shown = await board.type("18lb 6oz")
        assert "8.33 kg" in next(row for row in board.lines if row.strip().startswith("Weight"))
        assert "Weight reads: 8.33 kg" in shown
        await board.press("ctrl+s")
    dog_log = Household(tmp_path).dog_log()
    assert dog_log.answers["weight"] == "18 lb 6 oz"


async def test_pounds_and_the_arrival_come_back_as_they_were_written(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    now = kitchen.clock()
    answers = kitchen.dog_log.answers
    kitchen.dog_log.save_answers({**answers, "weight": "18 lb 6 oz"}, now)
    async with kitchen.board() as board:
        shown = await board.press("S")
    assert "18 lb 6 oz" in shown
    assert "2026-03-02 09:00" in shown
    assert "+0" not in shown


async def test_escape_keeps_a_draft_and_says_so(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path).wrote("09:05 pee").at("10:00")
    async with kitchen.board() as board:
        shown = await board.press("S", *["down"] * 5, "right", "escape")
        assert "What you typed is kept" in shown
        shown = await board.press("S")
        assert "What you typed before is here again" in shown
        await board.press("ctrl+r", "ctrl+s")
        assert not kitchen.dog_log.settings.dog.prone
        shown = await board.press("S", "escape")
        assert "What you typed is kept" not in shown
        await board.press("S", *["down"] * 5, "right", "escape", "S", "ctrl+s")
    assert kitchen.dog_log.settings.dog.prone


async def test_a_first_start_asks_before_it_forgets(tmp_path: Path) -> None:
    async with first_start(tmp_path, 80, 24) as board:
        await board.type("Moss")
        shown = await board.press("escape")
        assert "Nothing is saved yet" in shown
        assert board.app.return_code is None
        await board.press("ctrl+s")
    assert Household(tmp_path).dogs() == ("moss",)


async def test_what_each_level_means_is_told_where_a_log_is(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path).wrote("09:05 up", *LATE_MORNING)
    for day in range(2, 5):
        kitchen.wrote(*CLEAR_DAY, day=day)
    async with kitchen.at("22:50", day=4).board(120, 40) as board:
        shown = await board.press("S")
        assert "as the log stands" not in shown
        await board.at_once(*["down"] * TO_THE_LEVEL)
        assert "How careful: " in board.text
        assert re.search(r"; balanced \d+ breaks a day", " ".join(board.text.split()))


async def test_without_a_log_the_level_is_told_in_words(tmp_path: Path) -> None:
    async with first_start(tmp_path) as board:
        await board.at_once(*["down"] * TO_THE_LEVEL)
        assert "How careful: how early the board calls" in board.text


# --- Ring now -------------------------------------------------------------------------------------


async def test_ring_now_rings_as_the_answers_stand_and_says_by_what(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    monkeypatch.setattr(
        "pottyboard.board.alarms.voice.Voice.say", lambda voice, said: rung.append(said)
    )
    kitchen = Kitchen(tmp_path, notice="osc9", title="no")
    async with kitchen.board(TERM="xterm") as board:
        rung.clear()
        await board.press("S", "ctrl+g")
        assert "Rang by bell, notice (OSC 9)." in board.text
        assert rung[0] == "ding"
        assert rung[1].startswith("\x1b]9;Trial of the alarm. ")


async def test_ring_now_says_what_a_terminal_does_not_show(tmp_path: Path) -> None:
    async with Kitchen(tmp_path, bell="no").board() as board:
        await board.press("S", "ctrl+g")
        assert "Nothing rang." in board.text
        assert "No notice: no terminal that shows any." in board.text
    async with Kitchen(tmp_path / "2").board(TERM="xterm") as board:
        await board.press("S", "ctrl+g")
        assert "this terminal names none; try osc9, osc99 or osc777." in board.text


@pytest.mark.parametrize(
    ("program", "words"),
    [
        ("true", "Rang by bell, “true”."),
        ("false", "Rang by bell. “false” ended with the error code 1."),
        ("no-such-program", "“no-such-program” is not on this computer"),
    ],
)
async def test_ring_now_tells_how_the_program_ended(
    tmp_path: Path, program: str, words: str
) -> None:
    kitchen = Kitchen(tmp_path, notifier=program, notice="no", title="no")
    async with kitchen.board(200, 50) as board:
        await board.press("S", "ctrl+g")
        for _ in range(200):
            if words in board.text:
                break
            await board.pilot.pause(0.02)
        assert words in board.text


async def test_ring_now_waits_for_answers_that_fit(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).board() as board:
        await board.at_once("S", "end", *["backspace"] * 10, "ctrl+g")
        assert "First mend the answers that do not fit" in board.text


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_the_bedtime_is_a_few_keys_away(tmp_path: Path, size: tuple[int, int]) -> None:
    kitchen = Kitchen(tmp_path)
    async with kitchen.board(*size) as board:
        assert "pgdn: next part" in await board.press("S")
        assert "esc: leave" in board.text
        await board.press("pagedown", "pagedown", "down", *"22:10")
        assert re.search(r"Bedtime +22:10", board.text)
        await board.press("pageup", "pageup", "pageup", "pageup")
        assert re.search(r"Name +Bramble", board.text)
        await board.press("ctrl+s")
    settings = Household(tmp_path).dog_log().settings
    assert (f"{settings.home.bed:%H:%M}", settings.dog.name) == ("22:10", "Bramble")
