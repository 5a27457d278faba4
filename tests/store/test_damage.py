"""Files that were damaged, emptied or swapped: kept aside, saved as far as possible, and named."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog, StoreError
from tests.store.house import APRIL, MARCH, NOW, ago, in_march, opened

Damage = Callable[[bytes], bytes]


def merged_by_hand(content: bytes) -> bytes:
    """Return a file in which two versions of a line stand between the marks of a merge."""
    lines = content.decode().splitlines()
    place = next(i for i, line in enumerate(lines) if '"kind"' in line)
    other = lines[place].replace('"by":"Ana"', '"by":"Ben"').replace('"change":1', '"change":0')
    marks = ["<<<<<<< mine", lines[place], "=======", other, ">>>>>>> theirs"]
    return "\n".join([*lines[:place], *marks, *lines[place + 1 :]]).encode()


def nothing_readable(content: bytes) -> bytes:
    """Return bytes of no file at all."""
    return bytes(range(256)) * 20


WHOLE_ENTRIES: dict[str, tuple[Damage, str]] = {
    "a byte-order mark": (lambda c: b"\xef\xbb\xbf" + c, "byte-order mark"),
    "an old tail after the end": (lambda c: c + c[len(c) // 2 :], "is damaged in line"),
    "marks of a merge": (merged_by_hand, "is damaged in line"),
    "a missing comma": (lambda c: c.replace(b"},\n", b"}\n", 1), "is damaged in line"),
    "a missing end": (lambda c: c.rstrip(b"}\n") + b"}", "is damaged in line"),
    "bytes that are no text": (lambda c: b"\xff\xfe" + c, "not text"),
}
NO_ENTRIES: dict[str, tuple[Damage, str]] = {
    "nothing": (lambda c: b"", "is empty"),
    "spaces": (lambda c: b" \n\n", "is empty"),
    "zeros, as after a power cut": (lambda c: bytes(len(c)), "is empty"),
    "a list": (lambda c: b"[1, 2, 3]", "not a file of this program"),
    "a number": (lambda c: b"7", "not a file of this program"),
    "another program's file": (lambda c: b'{"name": "x", "scripts": {}}', "not a file of"),
    "tables that are none": (lambda c: b'{"about":{"file":{"schema":1}},"entries":[]}', "not a"),
    "no version": (lambda c: b'{"entries":{},"trail":{}}', "not a file of this program"),
    "a version that is no number": (lambda c: b'{"about":{"file":{"schema":true}}}', "not a file"),
    "no number at all": (lambda c: b'{"about":{"file":{"schema":NaN}}}', "is damaged"),
    "brackets without end": (lambda c: b'{"a":' * 100_000, "is damaged"),
    "anything": (nothing_readable, "not text"),
}


@pytest.mark.parametrize("damage", WHOLE_ENTRIES)
def test_whole_entries_are_saved_from_a_damaged_file(dog_log: DogLog, damage: str) -> None:
    spoil, why = WHOLE_ENTRIES[damage]
    saved = [dog_log.add(in_march(day, note="} \\ { \n", by="Ana"), NOW) for day in (5, 6, 7)]
    other = dog_log.add(ago(5), NOW)
    forget_backups(dog_log, MARCH)
    path = dog_log.folder / MARCH
    damaged = spoil(path.read_bytes())
    path.write_bytes(damaged)

    found = opened(dog_log)
    assert found.events == (*saved, other)
    [notice] = found.notices
    [kept] = dog_log.folder.glob("*.kept")
    assert kept.read_bytes() == damaged
    assert kept.name.startswith("events-2026-03.damaged-")
    assert why in notice
    assert f"kept as {kept.name}: 3 entries saved from it, 0 from its backup." in notice


@pytest.mark.parametrize("damage", NO_ENTRIES)
def test_the_backup_stands_in_where_nothing_can_be_saved(dog_log: DogLog, damage: str) -> None:
    spoil, why = NO_ENTRIES[damage]
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6, 7)]
    path = dog_log.folder / MARCH
    damaged = spoil(path.read_bytes())
    path.write_bytes(damaged)

    found = opened(dog_log)
    assert found.events == tuple(saved[:2])  # the backup is one change behind
    [notice] = found.notices
    [kept] = dog_log.folder.glob("*.kept")
    assert kept.read_bytes() == damaged
    assert why in notice
    assert f"kept as {kept.name}: 0 entries saved from it, 2 from its backup." in notice


def forget_backups(dog_log: DogLog, name: str) -> None:
    """Remove the backups of one file."""
    for path in (dog_log.folder / "backups").glob(f"{Path(name).stem}*"):
        path.unlink()


def test_every_length_of_a_cut_file_gives_its_whole_entries(dog_log: DogLog) -> None:
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6, 7)]
    dog_log.delete(saved[1].id, NOW)
    path = dog_log.folder / MARCH
    whole = path.read_bytes()
    ends = [whole.index(f'"change":{number}}}'.encode()) + 11 for number in (1, 3)]
    for length in range(0, len(whole) - 1, 7):
        forget_backups(dog_log, MARCH)
        for kept in dog_log.folder.glob("*.kept"):
            kept.unlink()
        path.write_bytes(whole[:length])
        wanted = [saved[place] for place, end in ((0, ends[0]), (2, ends[1])) if end <= length]
        assert list(opened(dog_log).events) == wanted


def test_what_was_saved_is_merged_with_the_backup(dog_log: DogLog) -> None:
    saved = [dog_log.add(in_march(day, note="a"), NOW) for day in (5, 6, 7)]
    edited = dog_log.edit(saved[0].id, {"note": "b"}, NOW)
    path = dog_log.folder / MARCH
    cut = path.read_bytes()
    path.write_bytes(cut[cut.index(saved[0].id.encode()) - 1 :][:-40])  # the edit stands whole
    assert opened(dog_log).events == (edited, *saved[1:])


def test_a_deleted_entry_does_not_come_back_from_the_backup(dog_log: DogLog) -> None:
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6, 7)]
    dog_log.delete(saved[1].id, NOW)
    path = dog_log.folder / MARCH
    damaged = path.read_bytes()[2:]
    path.write_bytes(damaged)
    found = opened(dog_log)
    assert found.events == (saved[0], saved[2])
    assert found.undo(NOW).event == saved[1]
    assert found.events == tuple(saved)


def test_an_entry_that_moved_on_does_not_come_back_from_the_backup(dog_log: DogLog) -> None:
    first = dog_log.add(ago(5), NOW)
    moved = dog_log.edit(first.id, {"at": in_march(9).at}, NOW)
    (dog_log.folder / APRIL).write_bytes(b"")  # its backup still holds the entry
    assert backup(dog_log, APRIL) == [first.id]
    found = opened(dog_log)
    assert found.events == (moved,)
    assert found.delete(first.id, NOW) == moved
    assert found.events == opened(dog_log).events == ()


def test_after_a_repair_everything_goes_on_and_the_message_stays_to_be_read(
    dog_log: DogLog,
) -> None:
    first = dog_log.add(in_march(5), NOW)
    (dog_log.folder / MARCH).write_bytes((dog_log.folder / MARCH).read_bytes()[:-9])
    found = opened(dog_log)
    assert found.events == (first,)
    second = found.add(in_march(6), NOW)
    later = opened(dog_log)
    assert later.events == (first, second)
    assert later.notices == ()
    assert later.kept == found.kept == found.notices
    [kept] = dog_log.folder.glob("*.kept")
    kept.unlink()
    assert opened(dog_log).kept == ()
    assert later.undo(NOW).event == second
    assert later.undo(NOW).event == first


def test_damage_while_the_board_is_open(dog_log: DogLog) -> None:
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6)]
    assert dog_log.events == tuple(saved)
    (dog_log.folder / MARCH).write_bytes(b"")
    assert dog_log.changed()
    third = dog_log.add(in_march(7), NOW)
    assert dog_log.events == (saved[0], third)
    assert "is empty" in dog_log.notices[0]


def test_several_months_are_repaired_each_by_itself(dog_log: DogLog) -> None:
    dog_log.add_all([in_march(5), ago(5)], NOW)
    good = dog_log.add(Event("pee", NOW - timedelta(days=38)), NOW)
    for name in (MARCH, APRIL):
        (dog_log.folder / name).write_bytes((dog_log.folder / name).read_bytes() + b"}")
    found = opened(dog_log)
    assert len(found.events) == 3
    assert good in found.events
    assert len(found.notices) == len(list(dog_log.folder.glob("*.kept"))) == 2


def test_the_same_damage_twice_is_kept_twice(dog_log: DogLog) -> None:
    dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    for content in (b"one", b"two", b"two"):
        path.write_bytes(content)
        assert len(opened(dog_log).notices) == 1
    kept = [path.read_bytes() for path in dog_log.folder.glob("*.kept")]
    assert sorted(kept) == [b"one", b"two"]


def with_rows(path: Path, rows: dict[str, Any]) -> None:
    """Put rows among the entries of a file."""
    content = json.loads(path.read_bytes())
    content["entries"].update(rows)
    path.write_text(json.dumps(content))


def test_entries_that_make_no_sense_are_left_out_and_kept(dog_log: DogLog) -> None:
    good = dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    strange: dict[str, Any] = {
        "a": {"id": "a", "kind": "bark", "at": "2026-03-06T12:00:00+00:00"},
        "b": {"id": "b", "kind": "pee", "at": "2026-03-32T12:00:00+00:00"},
        "c": {"id": "other", "kind": "pee", "at": "2026-03-06T12:00:00+00:00"},
        "d": {"kind": "pee", "at": "2026-03-06T12:00:00+00:00"},
        "e": 5,
    }
    with_rows(path, strange)
    damaged = path.read_bytes()
    found = opened(dog_log)
    assert found.events == (good,)
    [notice] = found.notices
    [kept] = dog_log.folder.glob("*.kept")
    assert kept.read_bytes() == damaged
    assert f"{MARCH} holds 5 rows that cannot be understood. It is kept as {kept.name}" in notice
    assert "1 entry saved from it, 0 from its backup, 5 left out" in notice
    assert json.loads(path.read_bytes())["unread"] == strange
    again = opened(dog_log)
    assert (again.events, again.notices) == ((good,), ())
    again.add(in_march(6), NOW)
    assert json.loads(path.read_bytes())["unread"] == strange


def test_the_backup_stands_in_for_an_entry_that_makes_no_sense(dog_log: DogLog) -> None:
    first = dog_log.add(in_march(5), NOW)
    second = dog_log.add(in_march(6), NOW)
    third = dog_log.add(in_march(7), NOW)
    dog_log.delete(third.id, NOW)
    path = dog_log.folder / MARCH
    with_rows(path, {first.id: {"id": first.id, "kind": "pee", "at": "noon"}})
    found = opened(dog_log)
    assert found.events == (first, second)
    assert "1 entry saved from it, 1 from its backup." in found.notices[0]


def test_an_entry_of_a_kind_that_came_later_is_read_once_it_is_known(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = dog_log.add(in_march(5), NOW)
    with_rows(
        dog_log.folder / MARCH,
        {"a": {"id": "a", "kind": "bath", "at": "2026-03-06T12:00:00+00:00", "change": 9}},
    )
    assert opened(dog_log).events == (good,)
    from pottyboard.core.model.events import KINDS

    monkeypatch.setitem(KINDS, "bath", KINDS["note"])
    found = opened(dog_log)
    assert [event.kind for event in found.events] == ["pee", "bath"]
    assert found.edit("a", {"note": "in the tub"}, NOW).kind == "bath"
    assert opened(dog_log).events == found.events


def test_a_file_that_cannot_be_kept_aside_is_left_alone(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    damaged = path.read_bytes()[:-3]
    path.write_bytes(damaged)

    def full(*_: Any) -> int:
        raise OSError(28, "No space left on device")

    found = opened(dog_log)
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        assert list(found.events) == [first]
        assert "left as it is" in found.notices[0]
        with pytest.raises(StoreError, match="No space left"):
            found.add(in_march(6), NOW)
    assert path.read_bytes() == damaged
    assert not list(dog_log.folder.glob("*.kept"))
    second = found.add(in_march(6), NOW)
    assert opened(dog_log).events == found.events == (first, second)
    assert "kept as" in found.notices[0]


def test_a_month_that_cannot_be_read_does_not_hide_the_rest(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    dog_log.add(in_march(5), NOW)
    second = dog_log.add(ago(5), NOW)
    path = dog_log.folder / MARCH
    content = path.read_bytes()
    path.unlink()
    path.mkdir()
    found = opened(dog_log)
    assert found.events == (second,)
    [notice] = found.notices
    assert f"{path} cannot be used: Is a directory" in notice
    assert not found.changed()
    third = found.add(ago(4), NOW)
    with pytest.raises(StoreError, match="Is a directory"):
        found.add(in_march(6), NOW)
    path.rmdir()
    path.write_bytes(content)
    assert [event.at.month for event in found.events] == [3, 4, 4]
    assert found.notices == ()
    assert third in found.events


def test_a_second_process_that_repairs_at_the_same_time_does_it_once(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = dog_log.add(in_march(5), NOW)
    (dog_log.folder / MARCH).write_bytes((dog_log.folder / MARCH).read_bytes()[:-3])
    slow, quick = opened(dog_log), opened(dog_log)
    whole_enter = type(slow._turn).__enter__

    def overtaken(turn: Any) -> None:
        if turn is slow._turn:
            assert quick.events == (first,)
        whole_enter(turn)

    monkeypatch.setattr(type(slow._turn), "__enter__", overtaken)
    assert slow.events == (first,)
    assert (len(quick.notices), slow.notices) == (1, ())
    assert len(list(dog_log.folder.glob("*.kept"))) == 1


# --- Settings -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "spoil",
    [
        lambda content: b"",
        lambda content: content[:50],
        lambda content: b"[]",
        lambda content: content.replace(b'"8"', b"8"),
        lambda content: content.replace(b'"all"', b'"lost"'),
    ],
)
def test_damaged_settings_come_back_from_their_backup(dog_log: DogLog, spoil: Damage) -> None:
    first = dog_log.add(ago(5), NOW)
    settings = dog_log.save_answers({**dog_log.answers, "weight": "8.0"}, NOW)
    path = dog_log.folder / "settings.json"
    damaged = spoil(path.read_bytes())
    path.write_bytes(damaged)
    found = opened(dog_log)
    if b'"lost"' in damaged:  # a file like ours, only without the answers
        with pytest.raises(StoreError, match="setup"):
            _ = found.settings
        return
    assert found.settings == settings
    [notice] = found.notices
    [kept] = dog_log.folder.glob("settings*.kept")
    assert kept.read_bytes() == damaged
    assert f"kept as {kept.name}: the answers were saved from its backup." in notice
    assert found.events == (first,)


def test_whole_answers_are_saved_from_damaged_settings(dog_log: DogLog) -> None:
    path = dog_log.folder / "settings.json"
    (dog_log.folder / "backups" / path.name).unlink()
    path.write_bytes(path.read_bytes() + b"}}}")
    assert opened(dog_log).answers == dog_log.answers


def test_settings_that_are_lost_leave_the_log_as_it_is(dog_log: DogLog) -> None:
    first = dog_log.add(ago(5), NOW)
    path = dog_log.folder / "settings.json"
    (dog_log.folder / "backups" / path.name).unlink()
    path.write_bytes(b"{")
    found = opened(dog_log)
    for _ in range(2):
        with pytest.raises(StoreError, match=r"run “pottyboard setup”.*stays as it is"):
            _ = found.settings
    assert found.events == (first,)
    with pytest.raises(StoreError, match="setup"):
        found.add(ago(4), NOW)
    found.save_answers({"name": "Bramble", "arrived": "2026-03-02 09:00"}, NOW)
    assert found.settings.dog.name == "Bramble"
    assert opened(dog_log).events == (first,)


def test_missing_settings_come_back_from_their_backup(dog_log: DogLog) -> None:
    settings = dog_log.settings
    (dog_log.folder / "settings.json").unlink()
    found = opened(dog_log)
    assert found.settings == settings
    assert found.notices == ("settings.json was missing and is back from its backup.",)
    assert opened(dog_log).notices == ()


# --- Backups --------------------------------------------------------------------------------------


def backup(dog_log: DogLog, name: str) -> list[str]:
    """Return the ids in a backup."""
    path = dog_log.folder / "backups" / name
    return list(json.loads(path.read_bytes())["entries"])


def test_backups_are_one_change_and_one_day_behind(dog_log: DogLog) -> None:
    path = dog_log.folder / MARCH
    ids = []
    for day in (5, 6, 7):
        ids.append(dog_log.add(in_march(day), NOW).id)
    assert backup(dog_log, MARCH) == ids[:2]
    assert backup(dog_log, "events-2026-03.day.json") == ids[:1]
    tomorrow = path.stat().st_mtime + 24 * 3600 + 1
    os.utime(path, (tomorrow, tomorrow))
    ids.append(dog_log.add(in_march(8), NOW).id)
    assert backup(dog_log, MARCH) == backup(dog_log, "events-2026-03.day.json") == ids[:3]


def test_where_the_newest_backup_is_damaged_too_the_older_stands_in(dog_log: DogLog) -> None:
    first = dog_log.add(in_march(5), NOW)
    dog_log.add(in_march(6), NOW)
    dog_log.add(in_march(7), NOW)
    for path in (dog_log.folder / MARCH, dog_log.folder / "backups" / MARCH):
        path.write_bytes(b"")
    assert opened(dog_log).events == (first,)


def test_backups_are_made_on_a_disk_without_links(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_: Any) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("pottyboard.store.disk.os.link", no_links)
    ids = [dog_log.add(in_march(day), NOW).id for day in (5, 6, 7)]
    assert backup(dog_log, MARCH) == ids[:2]


def test_a_backup_that_cannot_be_made_stops_nothing(dog_log: DogLog) -> None:
    (dog_log.folder / "backups" / "settings.json").unlink()
    (dog_log.folder / "backups").rmdir()
    (dog_log.folder / "backups").write_text("in the way")
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6)]
    dog_log.save_answers(dog_log.answers, NOW)
    assert opened(dog_log).events == tuple(saved)


@pytest.mark.parametrize(
    "junk", [b'"a":{"b":"', b'"a":{"id":"x","note":"', b'"a":{' * 150 + b"\n", b'"a":' + b" " * 200]
)
def test_much_junk_is_looked_through_in_one_go(dog_log: DogLog, junk: bytes) -> None:
    saved = dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    path.write_bytes(path.read_bytes().rstrip(b"}\n") + b"},\n" + junk * (1_000_000 // len(junk)))
    begun = time.process_time()
    assert opened(dog_log).events == (saved,)
    assert time.process_time() - begun < 4  # it was some 14 s for each million letters, and grew
