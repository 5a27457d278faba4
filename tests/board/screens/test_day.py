"""The Day screen, driven by keys and read as text."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pytest
from textual.events import Paste
from textual.widgets import Input

from pottyboard.board.screens.day import DayScreen
from pottyboard.core.model.events import KINDS
from tests.board.kitchen import Kitchen, instant


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """Bramble's first morning: one pee at 09:05, now 10:00."""
    return Kitchen(tmp_path).wrote("09:05 pee").at("10:00")


# --- One letter, one entry ----------------------------------------------------------------------


LETTERS = {
    "p": "pee", "o": "poop", "b": "both", "n": "nothing", "m": "meal", "w": "water", "s": "sign",
    "g": "up", "y": "play", "l": "left", "k": "back", "v": "visit", "d": "duty",
}  # fmt: skip


async def test_a_letter_logs_one_entry_now(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        for letter, kind in LETTERS.items():
            kitchen.now += timedelta(minutes=1)
            await board.press(letter)
            clock = f"{kitchen.now:%H:%M}"
            assert kitchen.last.kind == kind, letter
            assert f"{kitchen.last.at:%H:%M}" == clock


async def test_the_toast_comes_after_the_entry_is_on_disk(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        shown = await board.press("m")
        assert kitchen.log == ["09:05 pee", "10:00 meal"]
        assert "Saved: Bramble ate, 10:00. u takes it back." in shown


async def test_a_letter_pressed_twice_at_once_saves_one_entry(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("p")
        kitchen.now += timedelta(seconds=2)
        assert "Just saved pee at 10:00: press again to save another." in await board.press("p")
        assert kitchen.log == ["09:05 pee", "10:00 pee"]
        await board.press("p", "m")
        assert sorted(kitchen.log) == ["09:05 pee", "10:00 meal", "10:00 pee", "10:00 pee"]


async def test_the_same_letter_saves_again_later_after_undo_and_with_minutes(
    kitchen: Kitchen,
) -> None:
    async with kitchen.board() as board:
        await board.press("p")
        kitchen.now += timedelta(seconds=3)
        await board.press("p")
        assert kitchen.log == ["09:05 pee", "10:00 pee", "10:00 pee"]
        await board.press("u", "u", "p", "u", "p")
        assert kitchen.log == ["09:05 pee", "10:00 pee"]
        await board.press("2", "0", "p")
        assert kitchen.log == ["09:05 pee", "09:40 pee", "10:00 pee"]


async def test_praise_is_due_outside_on_the_first_days_alone(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "Praise now, right there, outside." in await board.press("p")
        assert "Praise" not in await board.press("n")
        assert "Praise" not in await board.press("3", "0", "p")
    async with kitchen.at("10:00", day=6).board() as board:
        assert "Praise" not in await board.press("p")


async def test_every_entry_carries_who_is_on_duty(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "Mina on duty · 10:00" in await board.press("d")
        await board.press("p")
        assert kitchen.last.by == "Mina"
        kitchen.now += timedelta(minutes=1)
        assert "Otto on duty · 10:01" in await board.press("d")
        kitchen.now += timedelta(minutes=1)
        await board.press("m")
        assert kitchen.last.by == "Otto"


async def test_duty_asks_where_more_than_two_take_turns(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path, people="Mina, Otto, Ada").at("10:00")
    async with kitchen.board() as board:
        await board.press("d", "3")
        assert kitchen.last.by == "Ada"
        kitchen.now += timedelta(minutes=1)
        await board.press("d", "enter")
        assert kitchen.last.by == "Mina"


async def test_duty_without_people_points_to_the_set_up(tmp_path: Path) -> None:
    async with Kitchen(tmp_path, people="").at("10:00").board() as board:
        assert "write the people into the set-up (S)" in await board.press("d")


async def test_a_refused_entry_says_why_and_saves_nothing(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        shown = await board.press("9", "9", "p")
        assert "before the dog arrived" in shown
        assert kitchen.log == ["09:05 pee"]


# --- Minutes ago --------------------------------------------------------------------------------


async def test_digits_are_minutes_ago_and_shown_while_typed(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "25 min ago: now press a letter" in await board.press("2", "5")
        shown = await board.press("p")
        assert "Saved: Bramble peed outside, 09:35 (25 min ago)." in shown
        assert "min ago: now press a letter" not in shown
        await board.press("m")
        assert kitchen.log == ["09:05 pee", "09:35 pee", "10:00 meal"]


async def test_hours_ago_are_shown_as_hours_too(kitchen: Kitchen) -> None:
    async with kitchen.at("10:00", day=2).board() as board:
        assert "399 min, 6 h 39 ago: now press a letter" in await board.press(*"399")
        await board.press("m")
        assert kitchen.last.at == kitchen.now - timedelta(minutes=399)
        kitchen.now += timedelta(minutes=1)
        await board.press(*"1440", "w")
        assert kitchen.last.at == kitchen.now - timedelta(days=1)


@pytest.mark.parametrize("digits", ["6999", "1441", "00014400"])
@pytest.mark.parametrize("letter", ["p", "a", "z", "d"])
async def test_more_than_a_day_ago_is_refused_and_cleared(
    kitchen: Kitchen, digits: str, letter: str
) -> None:
    async with kitchen.board() as board:
        shown = await board.press(*digits)
        assert "more than 24 h ago: " in shown
        assert "esc clears" in shown
        shown = await board.press(letter)
        assert "More than 24 h ago, nothing saved" in shown
        assert "esc clears" not in shown
        assert isinstance(board.app.screen, DayScreen)
        assert kitchen.log == ["09:05 pee"]


async def test_a_clock_time_before_a_letter(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        shown = await board.press(*"920")
        assert "920 min, 15 h 20 ago: now press a letter (@ or T makes it 09:20, esc" in shown
        assert "09:20: now press a letter" in await board.press("at")
        assert "Saved: Bramble peed outside, 09:20 (40 min ago)." in await board.press("p")
        assert "@ or T makes it 09:30" in await board.press(*"0930")
        await board.press("T", "m")
    assert kitchen.log == ["09:05 pee", "09:20 pee", "09:30 meal"]


async def test_a_clock_time_of_yesterday_is_named_and_asked_about(kitchen: Kitchen) -> None:
    async with kitchen.at("10:00", day=2).board() as board:
        assert "more than 24 h ago: @ or T makes it 22:40, esc" in await board.press(*"2240")
        assert "22:40 yesterday: now press a letter" in await board.press("at")
        assert "22:40 yesterday, Mon 2 Mar: log it then?" in await board.press("p")
        await board.press("escape")
        assert kitchen.log == ["09:05 pee"]
        assert "now press a letter" not in board.text
        shown = await board.press(*"2240", "at", "p", "enter")
        assert "Saved: Bramble peed outside, 22:40 yesterday (11 h 20 ago)." in shown
        await board.press(*"2300", "at", "z", "y", "t")
    assert kitchen.log == ["09:05 pee", "22:40 pee", "23:00 settled"]


async def test_what_is_no_clock_time_saves_nothing(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "2560: type it like 2240 for 22:40" in await board.press(*"2560", "at")
        shown = await board.press("p")
        assert "“2560” is no clock time, nothing saved" in shown
        assert kitchen.log == ["09:05 pee"]
        assert "Nothing was saved just now." in await board.press("u")


async def test_escape_and_backspace_take_digits_back(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("2", "5")
        assert "2 min ago:" in await board.press("backspace")
        assert "min ago:" not in await board.press("escape")
        await board.press("m")
        assert kitchen.last.at == kitchen.now


async def test_digits_left_standing_are_forgotten(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("4", "5")
        kitchen.now += timedelta(minutes=3)
        assert "min ago:" not in await board.tick()


# --- Undo, select, correct, delete --------------------------------------------------------------


async def test_undo_reaches_back_over_entries_and_deletions(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("m")
        assert "Taken back: meal 10:00, logged just now. U brings it back." in await board.press(
            "u"
        )
        assert kitchen.log == ["09:05 pee"]
        await board.press("up", "x", "y")
        assert kitchen.log == []
        assert "Back again: pee 09:05, deleted just now." in await board.press("u")
        assert kitchen.log == ["09:05 pee"]


async def test_an_undo_is_taken_back_until_something_is_logged(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("m", "o", "u", "u")
        assert kitchen.log == ["09:05 pee"]
        assert "Back again: meal 10:00, logged just now." in await board.press("U")
        assert "Back again: poop 10:00, logged just now." in await board.press("U")
        assert sorted(kitchen.log) == ["09:05 pee", "10:00 meal", "10:00 poop"]
        assert "No undo to take back" in await board.press("U")


async def test_an_old_entry_is_taken_back_after_a_question(kitchen: Kitchen) -> None:
    kitchen.at("10:20")
    async with kitchen.board() as board:
        await board.press("m")
        kitchen.now += timedelta(minutes=11)
        assert "Take back: meal 10:20, logged 11 min ago?" in await board.press("u")
        await board.press("escape")
        assert kitchen.log == ["09:05 pee", "10:20 meal"]
        await board.press("u", "enter")
        assert kitchen.log == ["09:05 pee", "10:20 meal"]
        assert "Taken back: meal 10:20, logged 11 min ago." in await board.press("u", "y")
    assert kitchen.log == ["09:05 pee"]


async def test_another_person_s_entry_is_taken_back_after_a_question(kitchen: Kitchen) -> None:
    kitchen.wrote("09:58 poop", by="Ben")
    async with kitchen.board() as board:
        assert "Take back: poop 09:58, logged by Ben" in await board.press("u")
        await board.press("y")
    assert kitchen.log == ["09:05 pee"]


async def test_another_person_s_entry_is_deleted_after_the_same_question(kitchen: Kitchen) -> None:
    """The rule of the undo: common practice, no source."""
    kitchen.wrote("09:58 poop", by="Ben")
    async with kitchen.board() as board:
        asked = "poop 09:58, logged by Ben just now?"
        assert f"Delete: {asked}" in await board.press("up", "x")
        await board.press("enter")
        assert kitchen.log == ["09:05 pee", "09:58 poop"]
        assert f"Take back: {asked}" in await board.press("u")
        await board.press("escape")
        assert "Deleted: 09:58" in await board.press("x", "y")
    assert kitchen.log == ["09:05 pee"]


async def test_an_old_entry_is_deleted_after_a_question_and_one_s_own_at_once(
    kitchen: Kitchen,
) -> None:
    async with kitchen.board() as board:
        await board.press("m", "up", "x")
        assert kitchen.log == ["09:05 pee"]
        await board.press("m")
        kitchen.now += timedelta(minutes=11)
        assert "Delete: meal 10:00, logged 11 min ago?" in await board.press("up", "x")
        await board.press("y")
    assert kitchen.log == ["09:05 pee"]


async def test_what_was_written_since_the_question_is_not_taken_back(kitchen: Kitchen) -> None:
    kitchen.wrote("09:58 poop", by="Ben")
    async with kitchen.board() as board:
        await board.press("u")
        kitchen.wrote("09:59 meal", by="Ben")
        assert "somebody else has changed the log" in await board.press("y")
    assert kitchen.log == ["09:05 pee", "09:58 poop", "09:59 meal"]


@pytest.mark.parametrize("refused", ["9999p", "300p", "1440m"])
async def test_an_undo_after_a_refused_entry_asks(kitchen: Kitchen, refused: str) -> None:
    async with kitchen.board() as board:
        await board.press("o", *refused)
        assert "10:00 poop" in kitchen.log
        text = await board.press("u")
        assert "Nothing was saved just now. Take back: poop 10:00" in " ".join(text.split())
        await board.press("escape")
        assert kitchen.log == ["09:05 pee", "10:00 poop"]
        await board.press("m", "u")  # something is saved: that one goes without a question
    assert kitchen.log == ["09:05 pee", "10:00 poop"]


async def test_undo_with_nothing_to_undo_says_so(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board() as board:
        assert "nothing to take back" in await board.press("u")


async def test_arrows_select_an_entry(kitchen: Kitchen) -> None:
    kitchen.wrote("09:30 meal", "09:50 pee")
    async with kitchen.board() as board:
        assert "e or enter corrects, x or del deletes: 09:50 pee" in await board.press("up")
        assert "deletes: 09:30 meal" in await board.press("up")
        assert "▸       09:30  ■ meal" in board.text
        assert "deletes: 09:05 pee" in await board.press("up", "up", "up")
        assert "deletes: 09:30 meal" in await board.press("down")
        assert "deletes:" not in await board.press("escape")


async def test_correct_and_delete_ask_for_a_selection_first(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        for key in ("e", "x", "enter", "delete"):
            assert "Select an entry first, with ↑ or ↓." in await board.press(key)
        assert kitchen.log == ["09:05 pee"]


async def test_an_entry_is_corrected_field_by_field(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        shown = await board.press("up", "e")
        assert "Correct: 09:05 pee" in shown
        await board.at_once("down", "end", *["backspace"] * 16)
        await board.type("09:20")
        await board.press("down")
        await board.type("birch")
        shown = await board.press("ctrl+s")
        assert "Corrected: 09:20 (40 min ago) pee, birch. u takes it back." in shown
        assert kitchen.log == ["09:20 pee"]
        assert kitchen.last.place == "birch"
        await board.press("u")
        assert kitchen.log == ["09:05 pee"]


async def test_another_kind_brings_its_own_lines(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "Found later" not in await board.press("up", "enter")
        shown = await board.press("p", "p")
        assert "‹ pee-inside ›" in shown
        assert "Found later" in shown
        assert "Cause" in shown


async def test_a_wrong_correction_stays_open_with_a_message(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.at_once("up", "e", "down", "end", *["backspace"] * 16)
        await board.type("25:99")
        assert "▲ “25:99” is not a time" in await board.press("ctrl+s")
        assert "Correct:" not in await board.press("escape")
        assert kitchen.log == ["09:05 pee"]


# --- Dialogs ------------------------------------------------------------------------------------


async def test_escape_leaves_a_dialog_without_an_entry(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        for keys in (["a"], ["z"], ["t"], ["r"], ["r", "h", "o"]):
            await board.press(*keys)
            await board.press("escape")
            assert isinstance(board.app.screen, DayScreen)
        assert kitchen.log == ["09:05 pee"]


async def test_a_dialog_says_how_to_leave_it(kitchen: Kitchen) -> None:
    async with kitchen.board(60, 20) as board:
        assert "enter accepts, esc cancel" in await board.press("z")
        await board.press("escape")
        assert "enter saves, esc cancel" in await board.press("r", "h", "o")
        await board.press("escape")
        assert "enter saves, esc cancel" in await board.press("t")


async def test_letters_log_again_after_a_dialog_with_an_input(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("t")
        await board.type("good dog")
        shown = await board.press("enter")
        assert kitchen.last.note == "good dog"
        assert "Saved, 10:00: good dog" in shown
        kitchen.now += timedelta(minutes=1)
        await board.press("m")
        assert kitchen.last.kind == "meal"


@pytest.mark.parametrize(
    ("clock", "sleep"),
    [
        ("13:00", "nap"),
        ("21:40", "nap"),
        ("21:50", "night"),
        ("23:30", "night"),
        ("06:15", "night"),
        ("06:31", "nap"),
    ],
)
async def test_settled_guesses_nap_or_night(kitchen: Kitchen, clock: str, sleep: str) -> None:
    async with kitchen.at(clock, day=2).board() as board:
        for key in ("enter", "z"):
            kitchen.now += timedelta(seconds=10)
            await board.press("z", key)
            assert kitchen.last.sleep == sleep


async def test_settled_takes_the_other_answer_by_its_letter(kitchen: Kitchen) -> None:
    async with kitchen.at("13:00").board() as board:
        await board.press("z", "t")
        assert kitchen.last.sleep == "night"
    async with kitchen.at("23:00").board(POTTYBOARD_KEYS="settled=f5") as board:
        await board.press("f5", "n")
        assert kitchen.last.sleep == "nap"
        kitchen.now += timedelta(minutes=1)
        await board.press("f5", "f5")
        assert kitchen.last.sleep == "night"


async def test_one_open_spot_is_ticked_off_at_once_and_several_are_asked(kitchen: Kitchen) -> None:
    kitchen.wrote("09:20 pee-inside", place="hall").wrote("09:40 poop-inside", place="kitchen")
    async with kitchen.board() as board:
        shown = await board.press("c")
        assert "1  09:20 hall" in shown
        await board.press("1")
        assert board.text.count("□ clean") == 1
        assert "□ clean" not in await board.press("c")
        await board.press("u", "u")
        assert board.text.count("□ clean") == 2
        assert "□ clean" not in await board.press("c", "a")


async def test_with_no_open_spot_nothing_is_cleaned(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "Nothing to clean." in await board.press("c")
        assert kitchen.log == ["09:05 pee"]


async def test_one_key_answers_what_the_board_asks(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        assert "Nothing is asked." in await board.press("A")
    kitchen.wrote("14:20 pee").at("14:30")
    async with kitchen.board() as board:
        assert "A: nothing happened from 09:05 to 14:20?" in " ".join(board.text.split())
        shown = await board.press("A")
        assert "nothing happened from" not in shown
        assert "Saved: nothing else happened until 14:30" in shown
        assert (kitchen.last.kind, kitchen.last.about) == ("quiet", "")
        assert "nothing happened from" in " ".join((await board.press("u")).split())


async def test_seen_or_found_is_answered_by_its_letter(kitchen: Kitchen) -> None:
    kitchen.wrote("11:40 pee-inside").at("11:45")
    async with kitchen.board() as board:
        assert "seen happening, or found later?" in " ".join(board.text.split())
        assert "it was seen" in await board.press("A")
        assert "found later?" not in " ".join((await board.press("f")).split())
        assert (kitchen.last.kind, bool(kitchen.last.about)) == ("found", True)


async def test_the_rarer_kinds_have_a_key_too(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("r", "v")
        assert kitchen.last.kind == "vet"
        kitchen.now += timedelta(minutes=1)
        await board.press("r", "i")
        assert "from 45 min to 4 h" in await board.press("9", "9", "9", "enter")
        await board.press(*["backspace"] * 3, "9", "0", "enter")
        assert (kitchen.last.kind, kitchen.last.minutes) == ("interval", 90)
        kitchen.now += timedelta(minutes=1)
        await board.press("r", "h", "o")
        await board.type("thirsty")
        await board.press("enter")
        assert (kitchen.last.kind, kitchen.last.note) == ("health", "thirsty")
        assert kitchen.last.finding == "other"
        assert "A break every 1 h 30" in board.text


async def test_a_health_note_names_what_was_seen(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("r", "h", "l")
        await board.type("twice")
        await board.press("enter")
        assert (kitchen.last.finding, kitchen.last.note) == ("loose-stool", "twice")
        kitchen.now += timedelta(minutes=1)
        await board.press("r", "h", "v", "enter")
        assert (kitchen.last.finding, kitchen.last.note) == ("vomiting", "")


@pytest.mark.parametrize(
    ("keys", "filled", "rest"),
    [
        (["enter", "enter"], 500, None),
        (["4", "e"], 1000, 0),
        (["t", "6", "5", "0", "enter", "t", "8", "0", "enter"], 650, 80),
    ],
)
async def test_a_bowl_has_its_amounts(
    kitchen: Kitchen, keys: list[str], filled: float, rest: float | None
) -> None:
    async with kitchen.board() as board:
        await board.press("r", "b", *keys)
        event = kitchen.last
        assert (event.kind, event.ml, event.rest) == ("bowl", filled, rest)


async def test_a_bowl_takes_no_amount_that_cannot_be(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("r", "b", "t", *"99999")
        assert "from 0 to 10000" in await board.press("enter")
        await board.press(*["backspace"] * 5, *"some")
        assert "is no amount: write millilitres" in await board.press("enter")
        await board.press("escape", "escape")
        assert kitchen.log == ["09:05 pee"]


# --- Time ---------------------------------------------------------------------------------------


async def test_a_minute_changes_the_figures_and_moves_nothing(kitchen: Kitchen) -> None:
    kitchen.at("10:20")
    async with kitchen.board() as board:

        def blanks() -> list[list[bool]]:
            """Where the panels of the left half are blank; the plot and the now line may move."""
            return [[cell == " " for cell in f"{line:70}"[:70]] for line in board.lines[21:]]

        before = blanks()
        for _ in range(5):
            kitchen.now += timedelta(minutes=1)
            await board.tick()
            assert blanks() == before
        assert "  10:25  " in board.lines[0]
        assert "break at 11:05, in 40 min" in board.text


async def test_nothing_is_painted_while_nothing_happens(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with kitchen.board() as board:
        ticks: list[None] = []
        monkeypatch.setattr(DayScreen, "tick", lambda self: ticks.append(None))
        for _ in range(5):
            kitchen.now += timedelta(seconds=1)
            await board.tick()
        assert not ticks
        kitchen.now += timedelta(minutes=1)
        await board.tick()
        assert len(ticks) == 1


async def test_an_entry_of_another_process_shows_at_the_next_second(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        kitchen.wrote("09:48 both")
        assert "09:48  ◈ pee and poop" in await board.tick()


async def test_the_bell_rings_when_due_and_when_late_and_again(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    kitchen.at("11:00")
    async with kitchen.board() as board:
        for minute in range(1, 31):
            kitchen.at(f"11:{minute:02}")
            await board.tick()
            assert len(rung) == sum(minute >= at for at in (5, 21, 26)), minute
        await board.press("p")
        kitchen.at("11:40")
        await board.tick()
        assert len(rung) == 3


async def test_whoever_goes_silences_it_and_is_asked_what_came(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    kitchen.at("11:00")
    async with kitchen.board() as board:
        kitchen.at("11:05")
        await board.tick()
        before = kitchen.log
        kitchen.at("11:07")
        shown = await board.press("space")
        assert "On the way since 11:07: log what came." in shown
        assert "Nothing is logged yet" in shown
        assert kitchen.log == before, "it is no outing"
        kitchen.at("11:16")
        assert "On the way since 11:07: log what came." in await board.tick()
        assert len(rung) == 1
        kitchen.at("11:17")
        assert "On the way since 11:07, nothing logged yet: what came?" in await board.tick()
        assert len(rung) == 2
        kitchen.at("11:18")
        await board.press("1", "p")
        assert "On the way" not in board.text
        assert kitchen.log[-1] == "11:17 pee"


async def test_five_more_minutes(kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    kitchen.at("11:00")
    async with kitchen.board() as board:
        assert "Nothing rings now: no break is due." in await board.press("plus")
        kitchen.at("11:06")
        await board.tick()
        assert "Rings again at 11:11." in await board.press("plus")
        for minute, times in ((10, 1), (11, 2), (12, 2)):
            kitchen.at(f"11:{minute}")
            await board.tick()
            assert len(rung) == times, minute
        await board.press("space")
        assert "On the way since 11:12" in board.text
        await board.press("escape")
        assert "On the way since" not in board.text


async def test_the_window_is_named_after_the_dog_whose_break_is_first(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    named: list[str] = []
    voice = "pottyboard.board.alarms.voice.Voice.name_window"
    monkeypatch.setattr(voice, lambda voice, text: named.append(text))
    kitchen.at("10:53")
    async with kitchen.board(TERM="xterm") as board:
        for clock in ("11:05", "11:21", "12:25"):
            kitchen.at(clock)
            await board.tick()
        await board.press("p")
    assert list(dict.fromkeys(named)) == [
        "12 min, Bramble", "DUE, Bramble", "LATE 16, Bramble", "LATE 1 h 20, Bramble",
        "2 h, Bramble",
    ]  # fmt: skip


async def test_a_window_without_titles_is_not_named(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    named: list[str] = []
    voice = "pottyboard.board.alarms.voice.Voice.name_window"
    monkeypatch.setattr(voice, lambda voice, text: named.append(text))
    async with kitchen.board(TERM="linux") as board:
        await board.tick()
    assert set(named) == {""}


async def test_the_bell_is_heard_while_the_help_is_open(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    async with kitchen.at("11:00").board() as board:
        await board.press("question_mark")
        kitchen.at("11:06")
        await board.tick()
        assert rung == ["ding"]


async def test_the_bell_can_be_off(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    kitchen = Kitchen(tmp_path, bell="no").wrote("09:05 pee").at("11:00")
    async with kitchen.board() as board:
        kitchen.at("11:30")
        await board.tick()
        assert not rung


async def test_each_state_has_its_word(kitchen: Kitchen) -> None:
    for clock, word, line in (
        ("10:00", "rest", "break at 11:05, in 1 h 05"),
        ("10:55", "soon", "break at 11:05, in 10 min"),
        ("11:05", "due", "break due at 11:05"),
        ("11:25", "late", "break was due at 11:05, 20 min ago"),
    ):
        async with kitchen.at(clock).board() as board:
            assert line in board.text
            assert board.app.screen.query_one("#countdown").has_class(f"-{word}")


async def test_alone_says_since_when(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        shown = await board.press("l")
        assert "; alone since 10:00" in shown
        assert board.app.screen.query_one("#countdown").has_class("-alone")


async def test_the_night_shows_the_morning_and_nothing_else(kitchen: Kitchen) -> None:
    kitchen.wrote("22:30 pee").at("22:40")
    async with kitchen.board() as board:
        shown = await board.press("z", "z")
        assert "break of the day" in shown or "wake for a planned break" in shown
        for hidden in ("Why:", "Since the last", "plan   done", "Chance of"):
            assert hidden not in shown
        kitchen.at("06:31", day=2)
        shown = await board.tick()
        assert "break due at 06:30, 1 min ago" in shown
        assert "First thing in the morning" in shown


async def test_then_is_the_break_that_the_list_shows_next(kitchen: Kitchen) -> None:
    async with kitchen.board(200, 60) as board:
        assert "Then 13:05 (since pee)" in board.text
        planned = [line for line in board.lines if "break (since pee)" in line]
        assert "11:05" in planned[0]
        assert "13:05" in planned[1]
    async with kitchen.wrote("22:10 pee").at("22:20").board(200, 60) as board:
        assert "Then 04:30 (night)" in board.text


# --- Sizes --------------------------------------------------------------------------------------


async def test_too_small_says_so_and_recovers(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        await board.pilot.resize_terminal(50, 15)
        await board.settled()
        assert "This window is 50×15: the board needs 60×20." in " ".join(board.text.split())
        assert "REST 1h05" in board.text
        await board.press("m")
        assert kitchen.last.kind == "meal"
        await board.pilot.resize_terminal(80, 24)
        await board.settled()
        assert "break at" in board.text
        assert "Saved: Bramble ate" in board.lines[-1]


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_out_in_the_night_it_says_since_when_the_dog_sleeps_again(
    kitchen: Kitchen, size: tuple[int, int]
) -> None:
    kitchen.wrote("22:30 pee").wrote("22:40 settled", sleep="night").wrote("02:20 pee", day=2)
    async with kitchen.at("02:23", 2).board(*size) as board:
        seen = " ".join(board.text.split())
        assert "night after day 1" in board.lines[0]
        assert "day 1 of 14" not in seen, "the date beside it would be that of day 2"
        assert "Asleep again from 02:20: log that Bramble got up if it is still up (g)" in seen
        await board.press("a", "p", "escape")
        assert "A answers" in board.text
        assert "clean" in board.text
        board.app.clear_notifications()
        await board.press("E")
        assert "ASLEEP" in board.lines[0]
        assert re.search(r"\d\d:\d\d", board.lines[0].partition("ASLEEP")[2]), board.lines[0]


async def test_a_resize_under_a_dialog_is_made_good(kitchen: Kitchen) -> None:
    async with kitchen.board(120, 40) as board:
        await board.press("a")
        await board.pilot.resize_terminal(60, 20)
        await board.settled()
        shown = await board.press("escape")
        assert "Since the last" not in shown
        assert "plan   done" not in shown
        assert "p pee" in board.lines[-1]


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_countdown_reasons_and_keys_at_every_size(
    kitchen: Kitchen, size: tuple[int, int]
) -> None:
    async with kitchen.board(*size) as board:
        assert "break at 11:05, in 1 h 05" in board.text
        assert "Why: Last pee 09:05; a break every 2 h" in board.text
        assert (
            board.lines[-1]
            .lstrip()
            .startswith("p pee  o poop  a accident  n nothing  m meal  u undo")
        )
        assert board.lines[-1].rstrip().endswith("? help")
        if size[0] > 60:
            assert "09:05" in board.text
            assert "● pee" in board.text
            assert "outing" in board.text


# --- Text from people -----------------------------------------------------------------------------


NASTY = {
    "markup": "[/] [bold]x[/bold [@click=app.bell]y[/]",
    "escape": "\x1b[31mred\x1b[0m \x07bell \x9b2J",
    "long": "very " * 2000,
    "turned": "\u202edrawkcab\u202c \u200fmark",
    "lines": "one\ntwo\r\nthree\tfour",
    "marks": "e" + "\u0301" * 500,
}


@pytest.mark.parametrize("name", NASTY)
async def test_text_from_people_is_shown_harmlessly(kitchen: Kitchen, name: str) -> None:
    text = NASTY[name]
    kitchen.wrote("09:40 note", note=text, by=text)
    kitchen.wrote("09:45 pee-inside", place=text, by=text, note=text)
    kitchen.wrote("09:50 duty", by=text)
    async with kitchen.board() as board:
        for keys in ([], ["up"], ["up", "e"], ["escape"], ["c"], ["u"], ["a", "p"]):
            shown = await board.press(*keys)
            assert not any(letter in shown for letter in "\x1b\x07\x9b\u202e\u202c\u200f")
        await board.press("escape")
    assert len(kitchen.log) >= 4


async def test_what_is_pasted_shows_harmlessly_too(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("t")
        board.app.post_message(Paste("tired\x1b[2J\u202e \x07\tbut happy"))
        assert "tired[2J  but happy" in await board.press("end")
        await board.press("enter")
    assert kitchen.last.note == "tired[2J  but happy"


async def test_a_corrected_entry_keeps_the_note_that_nobody_touched(kitchen: Kitchen) -> None:
    kitchen.wrote("09:40 meal", note=NASTY["escape"])
    async with kitchen.board() as board:
        await board.at_once("up", "e", "down", "end", *["backspace"] * 16)
        await board.type("09:42")
        await board.press("ctrl+s")
    entry = next(event for event in kitchen.dog_log.events if event.kind == "meal")
    assert entry.at == instant("09:42")
    assert entry.note == NASTY["escape"]


# --- Mouse, help, palette, quit -----------------------------------------------------------------


async def test_the_mouse_works_too(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.pilot.click("#keys", offset=(2, 0))
        await board.settled()
        assert kitchen.log == ["09:05 pee", "10:00 pee"]
        row = next(n for n, line in enumerate(board.lines) if "09:05  ● pee" in line)
        await board.pilot.click(offset=(85, row))
        await board.settled()
        assert "deletes: 09:05 pee" in board.text


async def test_a_choice_of_a_dialog_can_be_clicked(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.press("z")
        row = next(n for n, line in enumerate(board.lines) if "t  the night" in line)
        column = board.lines[row].index("the night")
        await board.pilot.click(offset=(column, row))
        await board.settled()
        assert kitchen.last.sleep == "night"


async def test_the_palette_logs_by_name(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        asked = await board.press("ctrl+p")
        assert "What do you want to do? Such as: meal, warnings, undo" in asked
        assert "🔎" not in asked, "two cells wide, and no plain letter"
        assert board.app.screen.query_one(Input)
        await board.type("got up")
        await board.pilot.app.workers.wait_for_complete()
        await board.press("down", "enter")
        await board.settled()
        assert kitchen.last.kind == "up"


async def test_help_lists_keys_states_and_marks(kitchen: Kitchen) -> None:
    async with kitchen.board(200, 80) as board:
        shown = await board.press("question_mark")
        for words in (
            "what to do now; saved at once, the rest is asked after",
            "take back the last entry",
        ):
            assert words in shown
        for kind in KINDS.values():
            assert kind.words in shown
        assert shown.count("ctrl+p") == 1
        assert "every action, also colours" in shown
        await board.press("escape")
        assert isinstance(board.app.screen, DayScreen)


async def test_q_quits(kitchen: Kitchen) -> None:
    async with kitchen.board() as board:
        await board.pilot.press("q")
    assert board.app.return_code == 0


async def test_own_keys_replace_the_default_ones_everywhere(kitchen: Kitchen) -> None:
    async with kitchen.board(POTTYBOARD_KEYS="meal=f5 accident=K") as board:
        assert "f5 meal" in board.lines[-1]
        assert "K accident" in board.lines[-1]
        await board.press("m")
        assert kitchen.last.kind == "pee"
        await board.press("f5")
        assert kitchen.last.kind == "meal"
        await board.press("K")
        assert "Accident, 10:00" in board.text


async def test_unknown_colours_are_named(kitchen: Kitchen) -> None:
    async with kitchen.board(POTTYBOARD_COLOURS="pink") as board:
        shown = " ".join(board.text.replace("▌", " ").split())
        assert "Unknown colours “pink”: evening, daylight or terminal." in shown


async def test_clashing_keys_are_named_and_not_used(kitchen: Kitchen) -> None:
    async with kitchen.board(POTTYBOARD_KEYS="meal=p") as board:
        shown = " ".join(board.text.replace("▌", " ").split())
        assert "Your keys are not used: “pee” and “meal” both want p." in shown
        await board.press("m")
        assert kitchen.last.kind == "meal"


# --- What is asked --------------------------------------------------------------------------------


async def test_a_question_behind_a_cleaning_job_is_named_in_a_small_window(
    kitchen: Kitchen,
) -> None:
    kitchen.wrote("09:30 pee-inside", place="hall")
    async with kitchen.board(60, 20) as board:
        assert "clean hall" in board.text
        assert "more, A answers" in board.text


async def test_a_log_that_is_silent_names_the_keys_that_answer(kitchen: Kitchen) -> None:
    async with kitchen.at("21:30").board() as board:
        shown = " ".join(board.text.split())
        assert "Nothing logged since 09:05." in shown
        assert "p o b n answer: p now, 90 p 90 minutes ago, 1130 @ p at 11:30" in shown
        await board.press(*"1130", "at", "p")
        assert kitchen.log == ["09:05 pee", "11:30 pee"]
