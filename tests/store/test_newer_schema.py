"""Files of a newer version: read as far as they can be understood, and never written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from pottyboard.store import DogLog, StoreError
from tests.store.house import ANSWERS, APRIL, MARCH, NOW, ago, in_march, opened


def make_newer(path: Path) -> bytes:
    """Rewrite a file as a version to come might; return its bytes."""
    content = json.loads(path.read_bytes())
    content["about"]["file"]["schema"] = 2
    content["photos"] = ["a list, where we know only tables"]
    content.setdefault("entries", {})["p"] = {"id": "p", "kind": "photo", "at": "2026-03-09"}
    path.write_text(json.dumps(content))
    return path.read_bytes()


def test_a_newer_month_can_be_read_but_nothing_written(dog_log: DogLog) -> None:
    first, second = dog_log.add(in_march(5), NOW), dog_log.add(ago(5), NOW)
    assert not dog_log.read_only
    newer = make_newer(dog_log.folder / MARCH)
    this_month = (dog_log.folder / APRIL).read_bytes()
    found = opened(dog_log)
    assert found.events == (first, second)
    assert found.read_only
    [notice] = found.notices
    assert MARCH in notice
    assert "Not shown: 1 row." in notice
    for change in (
        lambda: found.add(in_march(6), NOW),
        lambda: found.add(ago(4), NOW),
        lambda: found.edit(second.id, {"note": "x"}, NOW),
        lambda: found.delete(first.id, NOW),
        lambda: found.undo(NOW),
    ):
        with pytest.raises(StoreError, match="Update the program"):
            change()
    assert (dog_log.folder / MARCH).read_bytes() == newer
    assert (dog_log.folder / APRIL).read_bytes() == this_month
    assert not list(dog_log.folder.glob("*.kept"))


def test_a_board_that_is_open_when_the_newer_version_writes(dog_log: DogLog) -> None:
    dog_log.add(in_march(5), NOW)
    newer = make_newer(dog_log.folder / MARCH)
    with pytest.raises(StoreError, match="Update the program"):
        dog_log.add(in_march(6), NOW)
    assert dog_log.read_only
    assert (dog_log.folder / MARCH).read_bytes() == newer


def test_newer_settings_are_read_but_not_written(dog_log: DogLog) -> None:
    path = dog_log.folder / "settings.json"
    content = json.loads(path.read_bytes())
    content["about"]["file"]["schema"] = 2
    content["answers"]["all"]["favourite toy"] = "a ball"
    path.write_text(json.dumps(content))
    newer = path.read_bytes()
    found = opened(dog_log)
    assert found.settings == dog_log.settings
    assert found.read_only
    with pytest.raises(StoreError, match="Update the program"):
        found.save_answers(ANSWERS, NOW)
    assert path.read_bytes() == newer


def test_settings_that_became_newer_while_the_board_is_open(dog_log: DogLog) -> None:
    assert dog_log.settings.dog.name == "Bramble"
    newer = make_newer(dog_log.folder / "settings.json")
    with pytest.raises(StoreError, match="Update the program"):
        dog_log.save_answers(ANSWERS, NOW)
    assert (dog_log.folder / "settings.json").read_bytes() == newer
