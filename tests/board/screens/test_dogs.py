"""Two dogs in one kitchen: the switcher, the bell for the other one, an accident of either."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from pottyboard import board
from pottyboard.board.alarms.when import AlarmClocks
from pottyboard.board.app import BoardApp
from pottyboard.board.control import entries
from pottyboard.board.control.other_dogs import OtherDogs, glance, soonest
from pottyboard.board.screens.day import DayScreen
from pottyboard.board.screens.dogs import DogsScreen
from pottyboard.board.set_up.full_form import SetupScreen
from pottyboard.board.text import words
from pottyboard.core.model.events import Event
from pottyboard.store import DogLog, StoreError
from pottyboard.store.shared import follow
from tests.board.kitchen import Kitchen, instant, opened
from tests.board.test_golden_screens import kitchen as bramble_in
from tests.board.test_golden_screens import same_as_golden


class Home(Kitchen):
    """Bramble's kitchen, with Wren in it."""

    def __init__(self, folder: Path, **answers: str) -> None:
        """Set both dogs up."""
        super().__init__(folder, **answers)
        self.wren: DogLog = self.add("Wren")

    def add(self, name: str) -> DogLog:
        """Set one more dog up."""
        return self.household.create({**self.dog_log.answers, "name": name}, self.now)

    def wren_wrote(self, *entries: str, **details: object) -> Home:
        """Write into Wren's log."""
        for entry in entries:
            clock, kind = entry.split()
            event = Event(kind, instant(clock), **details)  # type: ignore[arg-type]
            DogLog(self.wren.folder).add(event, max(self.now, event.at))
        return self

    def logs(self) -> list[list[tuple[str, bool | None]]]:
        """Return what is in both logs."""
        dog_logs = (DogLog(self.dog_log.folder), DogLog(self.wren.folder))
        return [[(e.kind, e.unsure) for e in dog_log.events] for dog_log in dog_logs]


@pytest.fixture
def home(tmp_path: Path) -> Home:
    """A kitchen with two dogs at ten: Bramble peed at 09:40, Wren at 09:10."""
    made = Home(tmp_path)
    made.at("10:00").wrote("09:05 duty", by="Mina").wrote("09:40 pee", by="Mina")
    made.wren_wrote("09:10 pee")
    return made


# --- The switcher ---------------------------------------------------------------------------------


async def test_one_key_opens_another_dogs_board_and_entries_go_to_its_log(home: Home) -> None:
    async with home.board() as board:
        assert "Bramble · day 1" in board.lines[0]
        page = await board.press("D")
        assert "1  ▂ Bramble  REST" in page
        assert "2  ▂ Wren  REST" in page
        assert "(on the board now)" in page
        shown = await board.press("2")
        assert "Wren · day 1" in board.lines[0]
        assert "09:10" in shown
        await board.press("p")
    assert home.logs() == [[("duty", None), ("pee", None)], [("pee", None), ("pee", None)]]


async def test_arrows_and_enter_choose_and_escape_stays(home: Home) -> None:
    async with home.board() as board:
        await board.press("D", "escape")
        assert "Bramble · day 1" in board.lines[0]
        await board.press("D", "down", "enter")
        assert "Wren · day 1" in board.lines[0]
        await board.press("D", "up", "up", "enter")
        assert "Bramble · day 1" in board.lines[0]


async def test_typed_minutes_do_not_go_over_to_another_dog(home: Home) -> None:
    async with home.board() as board:
        await board.press("2", "0", "D")
        await board.press("2")
        await board.press("p")
    (event,) = [e for e in DogLog(home.wren.folder).events if e.at > instant("09:30")]
    assert event.at == instant("10:00")


async def test_one_more_dog_is_set_up_from_there(home: Home) -> None:
    async with home.board() as board:
        page = await board.press("D", "n")
        assert "A new dog" in page
        await board.press("escape")
        assert "Bramble · day 1" in board.lines[0]
        await board.press("D", "n")
        await board.type("Moss")
        await board.press("ctrl+s")
        assert "Moss · day 1" in board.lines[0]
    assert home.household.dogs() == ("bramble", "moss", "wren")


async def test_a_dog_whose_log_cannot_be_opened_is_shown_and_not_taken(home: Home) -> None:
    for path in home.wren.folder.rglob("*settings*"):
        path.unlink()
    async with home.board() as board:
        page = await board.press("D")
        assert "▲ wren" in page
        await board.press("2")
        assert "holds no settings" in board.text
        await board.press("escape")
        assert "Bramble · day 1" in board.lines[0]


# --- The other dog, seen from this one's board ----------------------------------------------------


@pytest.mark.parametrize(
    ("width", "height", "right"),
    [
        (60, 20, "Wren due 11:10 · 10:00"),
        (80, 24, "Wren due 11:10 · Mina on duty · 10:00"),
        (120, 40, "Wren due 11:10 · Mina on duty · 10:00"),
    ],
)
async def test_the_top_line_names_the_other_dogs_break(
    home: Home, width: int, height: int, right: str
) -> None:
    async with home.board(width, height) as board:
        assert board.lines[0].endswith(f"{right}  ! emergency")
        assert board.lines[0].startswith((" Bramble · day 1 of 14 ", " Bramble · day 1  "))


async def test_a_single_dog_has_the_line_to_itself(tmp_path: Path) -> None:
    async with Kitchen(tmp_path).at("10:00").board() as board:
        assert "due" not in board.lines[0]


async def test_the_bell_rings_for_the_other_dog_once(
    home: Home, monkeypatch: pytest.MonkeyPatch
) -> None:
    home.wrote("10:00 meal")
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    async with home.board() as board:
        home.at("11:09")
        await board.tick()
        before = len(rung)  # Bramble's own
        for clock in ("11:10", "11:11", "11:12"):
            home.at(clock)
            await board.tick()
            assert len(rung) == before + 1, clock
        assert "Wren due" in board.lines[0]
        assert "Wren: break due at 11:10" in board.text


def test_another_dog_is_looked_at_once_a_minute_and_no_more(home: Home) -> None:
    others = OtherDogs(home.household, home.dog_log.folder, home.clock, AlarmClocks())
    seen = others.glances
    assert [each.folder for each in seen] == ["wren"]
    home.wren_wrote("09:55 pee")
    others.look()
    assert others.glances is seen
    home.at("10:01")
    others.look()
    assert others.glances[0].situation is not None
    assert others.glances[0].situation.since["pee"] == 6


def test_of_several_other_dogs_the_first_due_is_named_and_the_rest_counted(home: Home) -> None:
    home.add("Moss of the long and winding name")
    view = glance(home.dog_log, home.now).situation
    assert view is not None
    others = OtherDogs(home.household, home.dog_log.folder, home.clock, AlarmClocks()).glances
    ends = words.with_other(words.title(view), soonest(others), len(others) - 1)
    assert ends == (
        "Moss of the long and wi… late (+1) · Mina on duty · 10:00",
        "Moss of the long and wi… late (+1) · 10:00",
        "Moss of t… late · 10:00",
    )


def test_a_log_that_cannot_be_written_is_named_and_this_one_is_saved(
    home: Home, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise StoreError("The disk is full.")

    event = DogLog(home.dog_log.folder).add(Event("pee-inside", instant("09:50")), home.now)
    monkeypatch.setattr("pottyboard.store.shared.follow", refuse)
    there = entries.Entries(DogLog(home.dog_log.folder), home.clock, household=home.household)
    with pytest.raises(
        StoreError, match=r"done in the log of Bramble, but not in every other log .* The disk"
    ):
        there.correct(event.id, {"unsure": True})
    saved = there.find(event.id)
    assert saved is not None
    assert saved.unsure


# --- An accident of either ------------------------------------------------------------------------


async def test_an_accident_of_an_unknown_dog_is_in_both_logs_until_it_is_settled(
    home: Home,
) -> None:
    async with home.board() as board:
        shown = await board.press("a", "p")
        while "Which dog was it?" not in shown:
            shown = await board.press("enter")
        assert "not known: another may have done it" in shown
        shown = await board.press("n")
        assert "Saved for each dog: pee indoors" in shown
        assert [log[-1] for log in home.logs()] == [("pee-inside", True)] * 2
        page = await board.press("D")
        assert "whose accident was it?" in page
        assert "10:00, pee indoors" in page
        page = await board.press("w")
        assert "1  Bramble" in page.replace("[", "")
        page = await board.press("2")
        assert "It was Wren" in page
        assert "whose accident was it?" not in page
    assert [log[-1] for log in home.logs()] == [("pee", None), ("pee-inside", False)]


async def test_undo_takes_it_out_of_both_logs(home: Home) -> None:
    event = DogLog(home.dog_log.folder).add(
        Event("pee-inside", instant("09:50"), place="hall", unsure=True), home.now
    )
    follow(home.household, home.dog_log, event.id, home.now)
    async with home.board() as board:
        assert "Take back: " in await board.press("u")  # somebody else's entry: it asks first
        await board.press("y")
    assert [len(log) for log in home.logs()] == [2, 1]


async def test_this_dog_keeps_it_where_the_dialog_says_so(home: Home) -> None:
    async with home.board() as board:
        shown = await board.press("a", "p")
        while "Which dog was it?" not in shown:
            shown = await board.press("enter")
        await board.press("d")
    assert [log[-1] for log in home.logs()] == [("pee-inside", False), ("pee", None)]


# --- The start ------------------------------------------------------------------------------------


@pytest.mark.parametrize("set_up", [False, True])
async def test_a_home_with_several_dogs_opens_with_the_choice(home: Home, set_up: bool) -> None:
    app = BoardApp(
        home.household, home.wren, home.clock, {}, set_up=set_up, choose=True, ticks=home.ticks
    )
    async with opened(app, 80, 24) as board:
        shown: list[type] = [type(app.screen)]
        await board.press("1")
        shown.append(type(app.screen))
        assert shown == [DogsScreen, SetupScreen if set_up else DayScreen]
        below = app.screen_stack[0]
        assert isinstance(below, DayScreen)
        assert below.entries.dog_log.folder.name == "bramble"


def test_the_dog_that_was_logged_last_is_shown_first_unless_one_is_named(home: Home) -> None:
    for path in home.wren.folder.iterdir():
        os.utime(path, (1, 1))

    def first(dog: str | None) -> tuple[str, bool]:
        dog_log, choose = board._first(home.household, dog)
        assert dog_log is not None
        return dog_log.folder.name, choose

    assert first(None) == ("bramble", True)
    assert first("Wren") == ("wren", False)
    for path in home.dog_log.folder.rglob("*settings*"):
        path.unlink()
    assert first(None) == ("wren", True)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_dogs_as_a_whole_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    house = bramble_in(tmp_path).at("10:05", 4)
    answers = {**house.dog_log.answers, "name": "Wren", "glyphs": "drawn"}
    wren = house.household.create(answers, house.now)
    for clock, kind in (("06:40", "pee"), ("07:30", "both")):
        wren.add(Event(kind, instant(clock, 4), by="Mina"), house.now)
    unsure = Event("pee-inside", instant("09:45", 4), place="hall", found=True, unsure=True)
    saved = house.dog_log.add(unsure, house.now)
    follow(house.household, house.dog_log, saved.id, house.now)
    async with house.board(*size) as board:
        same_as_golden(f"dogs-{size[0]}x{size[1]}", await board.press("D"))
