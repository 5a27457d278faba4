"""The home folder: where it is, which dogs are in it, and what happens when it cannot be used."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from pottyboard.core.model.questions import SettingsError
from pottyboard.store import DogLog, Household, StoreError
from pottyboard.store.system.naming import slug
from tests.store.house import ANSWERS, NOW, ago

needs_ordinary_user = pytest.mark.skipif(
    getattr(os, "geteuid", lambda: 0)() == 0, reason="nothing is forbidden to root"
)


def test_home_is_what_was_given_then_the_variable_then_the_systems_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    variable = {"POTTYBOARD_HOME": "/var/dogs"}
    assert Household.default_folder("/srv/dogs", variable) == Path("/srv/dogs")
    assert Household.default_folder(None, variable) == Path("/var/dogs")
    assert Household.default_folder("", variable) == Path("/var/dogs")
    assert Household.default_folder(None, {"POTTYBOARD_HOME": ""}) == tmp_path / "pottyboard"
    assert Household.default_folder(None, {}) == tmp_path / "pottyboard"


def test_home_may_begin_with_a_tilde_or_be_relative(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    assert Household.default_folder("~/dogs", {}) == tmp_path / "dogs"
    assert Household.default_folder("dogs", {}) == tmp_path / "dogs"
    assert Household.default_folder("~nobody-here/dogs", {}) == tmp_path / "~nobody-here/dogs"


def test_looking_makes_nothing(tmp_path: Path) -> None:
    household = Household(tmp_path / "home")
    assert household.dogs() == ()
    with pytest.raises(StoreError, match=r"No dog yet.* setup.*is the name right.*disk connected"):
        household.dog_log()
    assert not household.folder.exists()
    household.folder.mkdir()
    with pytest.raises(StoreError, match=r"No dog in .* yet\. To begin, run “pottyboard setup”\.$"):
        household.dog_log()


def test_the_only_dog_needs_no_name(tmp_path: Path) -> None:
    household = Household(tmp_path / "deep" / "home")
    created = household.create(ANSWERS, NOW)
    assert household.dogs() == ("bramble",)
    assert household.dog_log().folder == created.folder == tmp_path / "deep/home/bramble"
    assert household.dog_log().settings.dog.name == "Bramble"


def test_several_dogs_are_told_apart_by_name_or_folder(tmp_path: Path) -> None:
    household = Household(tmp_path)
    for name in ("Bramble", "Ærlig Å", "Bramble"):
        household.create({**ANSWERS, "name": name}, NOW)
    assert household.dogs() == ("bramble", "bramble-2", "ærlig-å")
    with pytest.raises(
        StoreError, match=r"choose one with --dog \(bramble-1, bramble-2, ærlig-å\)"
    ):
        household.dog_log()
    with pytest.raises(StoreError, match="2 dogs are called Bramble"):
        household.dog_log("Bramble")
    assert household.dog_log("bramble-1").folder.name == "bramble"
    assert household.dog_log("bramble-2").folder.name == "bramble-2"
    assert household.dog_log("ÆRLIG å").folder.name == "ærlig-å"
    assert household.dog_log("ærlig A\u030a").folder.name == "ærlig-å"
    with pytest.raises(StoreError, match="No dog “Moss”"):
        household.dog_log("Moss")


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("Bramble", "bramble"),
        ("  Old  Moss ", "old-moss"),
        ("Ærlig", "ærlig"),
        ("बिस्किट", "बिस्किट"),
        ("モモ", "モモ"),
        ("../../etc", "etc"),
        ("a/b\\c:d", "a-b-c-d"),
        ("[/red] x", "red-x"),
        (".", "dog"),
        ("🐕", "dog"),
        ("\u202eback", "back"),
        ("CON", "con-dog"),
        ("lpt1", "lpt1-dog"),
        ("x" * 300, "x" * 40),
        ("x" * 39 + " y", "x" * 39),
    ],
)
def test_a_folder_for_any_name(name: str, folder: str) -> None:
    assert slug(name) == folder
    assert slug(folder) == folder or folder.endswith("-dog")


def test_answers_that_do_not_fit_make_no_folder(tmp_path: Path) -> None:
    household = Household(tmp_path / "home")
    with pytest.raises(SettingsError, match="weight"):
        household.create({**ANSWERS, "weight": "heavy"}, NOW)
    assert not household.folder.exists()


def test_a_dog_that_could_not_be_saved_leaves_its_name_free(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    household = Household(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", refuse)
        with pytest.raises(StoreError, match="Not saved"):
            household.create(ANSWERS, NOW)
    assert household.dogs() == ()
    assert household.create(ANSWERS, NOW).folder.name == "bramble"


def refuse(*_: Any, **__: Any) -> Any:
    """Stand in for a system call that is not permitted."""
    raise PermissionError(13, "Permission denied")


def test_settings_come_back_as_the_same_answers(tmp_path: Path) -> None:
    created = Household(tmp_path).create(ANSWERS, NOW)
    again = DogLog(created.folder)
    assert again.settings == created.settings
    assert again.answers == created.answers
    assert again.answers["people"] == "Ana, Ben"
    saved = again.save_answers({**again.answers, "weight": "18 lb"}, NOW)
    assert created.settings == saved
    with pytest.raises(SettingsError, match="weight"):
        again.save_answers({**again.answers, "weight": "0"}, NOW)
    assert created.settings == saved


def test_old_settings_stay_good(tmp_path: Path) -> None:
    old = {**ANSWERS, "arrived": "2019-03-02 09:00"}
    then = NOW.replace(year=2019)
    created = Household(tmp_path).create(old, then)
    assert DogLog(created.folder).settings.dog.arrived.year == 2019


def test_answers_that_no_longer_fit_are_named(tmp_path: Path) -> None:
    created = Household(tmp_path).create(ANSWERS, NOW)
    path = created.folder / "settings.json"
    path.write_bytes(path.read_bytes().replace(b'"weight":"8"', b'"weight":"heavy"'))
    with pytest.raises(StoreError, match=r"weight.*setup.*the log stays"):
        _ = created.settings
    assert created.answers["weight"] == "heavy"


def test_a_home_that_is_a_file_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "home"
    path.write_text("not a folder")
    with pytest.raises(StoreError, match=r"is a file: choose a folder with --home"):
        Household(path)
    with pytest.raises(StoreError, match="--home"):
        Household(path / "deeper").create(ANSWERS, NOW)
    assert path.read_text() == "not a folder"


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000])
def test_a_home_that_no_system_allows_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(StoreError, match="--home"):
        Household(tmp_path / name).create(ANSWERS, NOW)


def test_a_home_that_cannot_be_read_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    household = Household(tmp_path)
    dog_log = household.create(ANSWERS, NOW)
    dog_log.add(ago(5), NOW)
    monkeypatch.setattr(os, "scandir", refuse)
    monkeypatch.setattr(os, "listdir", refuse)
    for read in (household.dogs, household.dog_log, dog_log.changed, lambda: dog_log.events):
        with pytest.raises(StoreError, match=r"Permission denied.*owner and permissions.*--home"):
            read()


@needs_ordinary_user
def test_a_home_without_permission_is_refused(tmp_path: Path) -> None:
    dog_log = Household(tmp_path / "home").create(ANSWERS, NOW)
    dog_log.folder.chmod(0)
    try:
        with pytest.raises(StoreError, match="owner and permissions"):
            Household(tmp_path / "home").dog_log()
    finally:
        dog_log.folder.chmod(0o700)


def test_a_home_that_cannot_be_written_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    household = Household(tmp_path)
    dog_log = household.create(ANSWERS, NOW)
    first = dog_log.add(ago(5), NOW)
    whole_open = os.open

    def read_only(path: Any, flags: int, *rest: Any, **more: Any) -> int:
        if flags & (os.O_WRONLY | os.O_RDWR):
            raise OSError(30, "Read-only file system")
        return whole_open(path, flags, *rest, **more)

    monkeypatch.setattr(os, "open", read_only)
    with pytest.raises(StoreError, match="Read-only file system"):
        Household(tmp_path).dog_log().add(ago(4), NOW)
    assert Household(tmp_path).dog_log().events == (first,)


def test_a_folder_with_a_log_but_no_settings_is_still_a_dog(tmp_path: Path) -> None:
    household = Household(tmp_path)
    dog_log = household.create(ANSWERS, NOW)
    first = dog_log.add(ago(5), NOW)
    (dog_log.folder / "settings.json").unlink()
    (dog_log.folder / "backups" / "settings.json").unlink()
    assert household.dogs() == ("bramble",)
    found = household.dog_log()
    with pytest.raises(StoreError, match="run “pottyboard setup”"):
        _ = found.settings
    with pytest.raises(StoreError, match="run “pottyboard setup”"):
        found.add(ago(4), NOW)
    assert found.events == (first,)
    found.save_answers(ANSWERS, NOW)
    assert household.dog_log().settings.dog.name == "Bramble"
    assert household.dog_log().events == (first,)


def test_the_dog_that_was_logged_last_is_the_latest(tmp_path: Path) -> None:
    household = Household(tmp_path)
    assert household.latest() is None
    dog_logs = {name: household.create({**ANSWERS, "name": name}, NOW) for name in ("Wren", "Moss")}
    for number, name in enumerate(("Moss", "Wren", "Moss"), 1):
        dog_logs[name].add(ago(number), NOW)
        for folder, second in (("moss", name == "Moss"), ("wren", name == "Wren")):
            for path in (tmp_path / folder).iterdir():
                os.utime(path, (1000 + second, 1000 + second))
        assert household.latest() == name.casefold()
