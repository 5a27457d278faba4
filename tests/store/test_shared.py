"""Two dogs in one home, and an accident of which nobody knows whose it is."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from pottyboard.core.model.events import Event, EventError
from pottyboard.core.view.situation import situation
from pottyboard.store import DogLog, Household, shared
from tests.store.house import ANSWERS, NOW, ago, opened


class Home:
    """Bramble and Wren, and young Moss, who came this morning."""

    def __init__(self, folder: Path) -> None:
        """Set the three dogs up."""
        self.household = Household(folder)
        self.bramble = self.household.create(ANSWERS, NOW)
        self.wren = self.household.create({**ANSWERS, "name": "Wren"}, NOW)
        late = {**ANSWERS, "name": "Moss", "arrived": "2026-04-10 13:00"}
        self.moss = self.household.create(late, NOW)

    def puddle(self, **details: object) -> Event:
        """Log an accident of an unknown dog on Bramble's board."""
        event = self.bramble.add(ago(90, "pee-inside", place="hall", unsure=True, **details), NOW)
        assert shared.follow(self.household, self.bramble, event.id, NOW) == ("Wren",)
        return event

    def logs(self) -> dict[str, list[Event]]:
        """Return every dog's log as another process reads it."""
        dog_logs = (self.bramble, self.wren, self.moss)
        return {dog_log.folder.name: [*opened(dog_log).events] for dog_log in dog_logs}


@pytest.fixture
def home(tmp_path: Path) -> Home:
    """A home with three dogs."""
    return Home(tmp_path / "home")


def test_it_is_in_the_log_of_each_dog_that_was_there_under_one_id(home: Home) -> None:
    event = home.puddle(found=True, cause="late", by="Ana")
    assert home.logs() == {
        "bramble": [event],
        "wren": [Event(**{**fields(event), "cause": ""})],
        "moss": [],
    }
    assert shared.follow(home.household, home.bramble, event.id, NOW) == ("Wren",)
    assert len(home.logs()["wren"]) == 1


def fields(event: Event) -> dict[str, Any]:
    """Return what an event is made from."""
    names = [name for name in Event.__dataclass_fields__ if name != "t"]
    return {name: getattr(event, name) for name in names}


def test_it_moves_no_interval_of_any_dog(home: Home) -> None:
    for dog_log in (home.bramble, home.wren):
        dog_log.add(ago(100), NOW)
    before = [look(dog_log) for dog_log in (home.bramble, home.wren)]
    home.puddle(found=False)
    assert [look(dog_log) for dog_log in (home.bramble, home.wren)] == before


def look(dog_log: DogLog) -> object:
    """Return the interval as the situation has it."""
    return situation(dog_log.settings, dog_log.events, NOW).interval


def test_it_is_known_to_be_unsettled_until_somebody_says_whose_it_was(home: Home) -> None:
    event = home.puddle()
    (open_one,) = shared.unsettled(home.household)
    assert (open_one.event.id, open_one.dogs) == (event.id, ("bramble", "wren"))

    stays, gone = shared.settle(home.household, event.id, "Wren", NOW, by="Ben")
    assert (stays.unsure, stays.place, gone) == (False, "hall", ("Bramble",))
    logs = home.logs()
    assert logs["bramble"] == []
    assert [each.id for each in logs["wren"]] == [event.id]
    assert shared.unsettled(home.household) == ()


def test_an_undo_of_what_was_said_makes_it_unknown_again(home: Home) -> None:
    event = home.puddle()
    shared.settle(home.household, event.id, "wren", NOW)
    undone = home.wren.undo(NOW + timedelta(minutes=1))
    shared.take_back(home.household, home.wren, undone.event, NOW + timedelta(minutes=1))
    assert [each.unsure for log in home.logs().values() for each in log] == [True, True]


def test_what_happened_is_corrected_in_every_log(home: Home) -> None:
    event = home.puddle()
    home.wren.edit(event.id, {"place": "landing", "note": "by the door"}, NOW)
    assert shared.follow(home.household, home.wren, event.id, NOW) == ("Bramble",)
    (copy,) = home.logs()["bramble"]
    assert (copy.place, copy.note, copy.unsure) == ("landing", "by the door", True)


@pytest.mark.parametrize("way", ["undo", "delete"])
def test_it_goes_from_every_log_when_it_goes_from_one(home: Home, way: str) -> None:
    event = home.puddle()
    if way == "undo":
        shared.take_back(home.household, home.bramble, home.bramble.undo(NOW).event, NOW)
    else:
        home.bramble.delete(event.id, NOW)
        shared.follow(home.household, home.bramble, event.id, NOW)
    assert home.logs() == {"bramble": [], "wren": [], "moss": []}


def test_one_cleaning_closes_the_job_of_each_dog(home: Home) -> None:
    event = home.puddle()
    cleaned = home.bramble.add(ago(80, "cleaned", about=event.id, place="hall"), NOW)
    shared.clean(home.household, home.bramble, cleaned, NOW)
    for dog_log in (home.bramble, home.wren):
        view = situation(dog_log.settings, opened(dog_log).events, NOW)
        assert [job for job in view.open_jobs if job.code == "clean"] == []
    shared.take_back(home.household, home.bramble, home.bramble.undo(NOW).event, NOW)
    assert [event.kind for event in home.logs()["wren"]] == ["pee-inside"]


def test_an_accident_of_one_dog_concerns_no_other(home: Home) -> None:
    event = home.bramble.add(ago(90, "pee-inside"), NOW)
    pee = home.bramble.add(ago(80), NOW)
    for each in (event, pee):
        assert shared.follow(home.household, home.bramble, each.id, NOW) == ()
    assert home.logs()["wren"] == []
    with pytest.raises(EventError, match="no such accident in Wren’s log"):
        shared.settle(home.household, event.id, "wren", NOW)


def test_a_dog_whose_settings_cannot_be_read_is_passed_over(home: Home) -> None:
    home.wren.add(ago(300), NOW)
    for path in home.wren.folder.rglob("*settings*"):
        path.unlink()
    event = home.bramble.add(ago(90, "pee-inside", unsure=True), NOW)
    assert shared.follow(home.household, home.bramble, event.id, NOW) == ()
