"""Files of a newer version: read as far as they can be understood, and never written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from pottyboard.store import Record, StoreError
from tests.store.house import ANSWERS, APRIL, MARCH, NOW, ago, in_march, opened


def make_newer(path: Path) -> bytes:
    """Rewrite a file as a version to come might; return its bytes."""
    content = json.loads(path.read_bytes())
    content["about"]["file"]["schema"] = 2
    content["photos"] = ["a list, where we know only tables"]
    content.setdefault("entries", {})["p"] = {"id": "p", "kind": "photo", "at": "2026-03-09"}
    path.write_text(json.dumps(content))
    return path.read_bytes()


def test_a_newer_month_can_be_read_but_nothing_written(record: Record) -> None:
    first, second = record.add(in_march(5), NOW), record.add(ago(5), NOW)
    assert not record.read_only
    newer = make_newer(record.folder / MARCH)
    this_month = (record.folder / APRIL).read_bytes()
    found = opened(record)
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
    assert (record.folder / MARCH).read_bytes() == newer
    assert (record.folder / APRIL).read_bytes() == this_month
    assert not list(record.folder.glob("*.kept"))


def test_a_board_that_is_open_when_the_newer_version_writes(record: Record) -> None:
    record.add(in_march(5), NOW)
    newer = make_newer(record.folder / MARCH)
    with pytest.raises(StoreError, match="Update the program"):
        record.add(in_march(6), NOW)
    assert record.read_only
    assert (record.folder / MARCH).read_bytes() == newer


def test_newer_settings_are_read_but_not_written(record: Record) -> None:
    path = record.folder / "settings.json"
    content = json.loads(path.read_bytes())
    content["about"]["file"]["schema"] = 2
    content["answers"]["all"]["favourite toy"] = "a ball"
    path.write_text(json.dumps(content))
    newer = path.read_bytes()
    found = opened(record)
    assert found.settings == record.settings
    assert found.read_only
    with pytest.raises(StoreError, match="Update the program"):
        found.save_answers(ANSWERS, NOW)
    assert path.read_bytes() == newer


def test_settings_that_became_newer_while_the_board_is_open(record: Record) -> None:
    assert record.settings.dog.name == "Bramble"
    newer = make_newer(record.folder / "settings.json")
    with pytest.raises(StoreError, match="Update the program"):
        record.save_answers(ANSWERS, NOW)
    assert (record.folder / "settings.json").read_bytes() == newer
