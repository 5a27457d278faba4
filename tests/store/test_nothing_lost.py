"""What vanished, was altered from outside or cut short: noticed, brought back, and said."""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Callable

import pytest

from pottyboard.store import DogLog, StoreError
from tests.store.house import APRIL, MARCH, NOW, ago, in_march, opened

# --- A file that vanished -------------------------------------------------------------------------


@pytest.mark.parametrize("entries", [1, 2, 5])
def test_a_month_that_vanished_is_back_as_it_was(dog_log: DogLog, entries: int) -> None:
    saved = tuple(dog_log.add(in_march(day), NOW) for day in range(5, 5 + entries))
    (dog_log.folder / MARCH).unlink()
    found = opened(dog_log)
    assert found.events == saved
    [notice] = found.notices
    assert notice.startswith(f"{MARCH} was missing and is back from its backup of 2026-")
    later = opened(dog_log)
    assert later.events == saved
    assert later.kept == (notice,)


def test_a_month_that_vanished_is_back_also_where_the_disk_knows_no_links(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6, 7)]
    (dog_log.folder / MARCH).unlink()
    assert opened(dog_log).events == tuple(saved[:2])  # one change behind


def test_a_month_that_cannot_be_put_back_is_shown_all_the_same(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    saved = dog_log.add(in_march(5), NOW)
    (dog_log.folder / MARCH).unlink()

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        found = opened(dog_log)
        assert found.events == (saved,)
        assert found.notices == (f"{MARCH} is missing: its backup is shown.",)
    assert found.add(in_march(6), NOW) in opened(dog_log).events
    assert saved in opened(dog_log).events


def test_a_backup_is_never_replaced_by_less_than_it_holds(dog_log: DogLog) -> None:
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6, 7)]
    first = opened(dog_log)
    assert len(first.events) == 3
    path = dog_log.folder / MARCH
    older = dog_log.folder / "older"
    older.write_text(
        json.dumps(
            {
                "about": {"file": {"schema": 1}},
                "entries": {saved[0].id: json.loads(path.read_bytes())["entries"][saved[0].id]},
                "trail": {},
            }
        )
    )
    os.replace(older, path)  # as a program that carries folders about does with an older copy
    found = opened(dog_log)
    assert found.events == (saved[0],)
    assert "2 of its backup are missing" in found.notices[0]
    for day in range(8, 12):
        found.add(in_march(day), NOW)
    backups = [path.read_text() for path in (dog_log.folder / "backups").iterdir()]
    assert any(all(event.id in text for event in saved) for text in backups)
    assert "2 of its backup are missing" in opened(dog_log).kept[0]


def test_a_home_that_was_copied_is_not_held_to_be_altered(dog_log: DogLog) -> None:
    saved = [dog_log.add(in_march(day), NOW) for day in (5, 6, 7)]
    moved = dog_log.edit(saved[0].id, {"at": ago(9).at}, NOW)
    copy = dog_log.folder.with_name("copy")
    shutil.copytree(dog_log.folder, copy)
    found = DogLog(copy)
    assert found.events == (*saved[1:], moved)
    found.add(in_march(9), NOW)
    found.delete(saved[1].id, NOW)
    assert DogLog(copy).notices == found.notices == ()


# --- What stands in a file that nobody of ours wrote ----------------------------------------------


def test_a_name_that_stands_twice_drops_nothing(dog_log: DogLog) -> None:
    saved = tuple(dog_log.add(in_march(day), NOW) for day in (5, 6))
    path = dog_log.folder / MARCH
    content = path.read_bytes()
    path.write_bytes(content.rstrip().removesuffix(b"}") + b',"entries":{}}')
    for backup in (dog_log.folder / "backups").glob("events*"):
        backup.unlink()
    found = opened(dog_log)
    assert found.events == saved
    assert "“entries” stands twice" in found.notices[0]


ALTERED: dict[str, Callable[[bytes], bytes]] = {
    "a bit of a note": lambda c: c.replace(b"first", b"firsu"),
    "a bit of a time": lambda c: c.replace(b"T12:00:00", b"T12:10:00", 1),
    "a kind": lambda c: c.replace(b'"kind":"pee"', b'"kind":"poop"', 1),
    "the name of a field": lambda c: c.replace(b'"note"', b'"nate"', 1),
    "another layout": lambda c: json.dumps(json.loads(c), indent=2).replace("first", "x").encode(),
}


@pytest.mark.parametrize("how", ALTERED)
def test_what_changed_inside_a_value_is_told_and_kept(dog_log: DogLog, how: str) -> None:
    for day in (5, 6):
        dog_log.add(in_march(day, note="first"), NOW)
    dog_log.add(in_march(7), NOW)
    path = dog_log.folder / MARCH
    altered = ALTERED[how](path.read_bytes())
    assert altered != path.read_bytes()
    path.write_bytes(altered)
    found = opened(dog_log)
    assert len(found.events) == 3
    [notice] = found.notices
    assert "was changed outside of this program, or damaged" in notice
    assert re.search(r"[12] read otherwise than in its backup \(\w+ 2026-03-0\d", notice)
    rows, kept = (json.loads(text)["entries"] for text in (altered, path.read_bytes()))
    assert kept == rows
    assert opened(dog_log).kept == (notice,)
    assert opened(dog_log).notices == ()


def test_settings_that_were_edited_by_hand_count_and_are_told(dog_log: DogLog) -> None:
    path = dog_log.folder / "settings.json"
    path.write_bytes(path.read_bytes().replace(b'"weight":"8"', b'"weight":"9"'))
    found = opened(dog_log)
    assert found.settings.dog.weight_kg == 9
    [notice] = found.notices
    assert ": weight read otherwise than before." in notice


def test_a_version_that_a_bit_made_newer_is_damage_and_bars_nothing(dog_log: DogLog) -> None:
    saved = dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    path.write_bytes(path.read_bytes().replace(b'"schema":1', b'"schema":3'))
    found = opened(dog_log)
    assert found.events == (saved,)
    assert not found.read_only
    found.add(in_march(6), NOW)


def test_a_file_of_an_older_version_has_no_checksum_and_is_read(dog_log: DogLog) -> None:
    saved = dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    content = re.sub(rb',"sum":"[0-9a-f]{8}"', b"", path.read_bytes())
    assert content != path.read_bytes()
    fresh = path.with_name("fresh")
    fresh.write_bytes(content)
    os.replace(fresh, path)
    found = opened(dog_log)
    assert (found.events, found.notices) == ((saved,), ())
    found.add(in_march(6), NOW)
    assert b'"sum":"' in path.read_bytes()


def test_a_failed_read_hides_nothing_that_was_read_before(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    saved = dog_log.add(ago(5), NOW)
    board = opened(dog_log)
    assert board.events == (saved,)
    with monkeypatch.context() as patch:
        real = os.open

        def failing(path: object, *more: object, **named: object) -> int:
            if str(path).endswith(APRIL):
                raise OSError(5, "Input/output error")
            return real(path, *more, **named)  # type: ignore[arg-type]

        patch.setattr(os, "open", failing)
        os.utime(dog_log.folder / APRIL)
        assert board.events == (saved,)
        assert "Input/output error" in board.notices[0]
        with pytest.raises(StoreError, match="Input/output error"):
            board.add(ago(4), NOW)
    assert board.notices == ()
    assert board.add(ago(4), NOW) in opened(dog_log).events


# --- Special files --------------------------------------------------------------------------------


def test_a_pipe_in_the_place_of_a_month_holds_nothing_up(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5), NOW)
    os.mkfifo(dog_log.folder / MARCH)
    found = opened(dog_log)
    assert found.events == (saved,)
    assert "no file but a pipe" in found.notices[0]


def test_a_number_of_thousands_of_digits_bars_nothing(dog_log: DogLog) -> None:
    saved = dog_log.add(in_march(5), NOW)
    path = dog_log.folder / MARCH
    path.write_bytes(path.read_bytes().replace(b'"change":1', b'"change":' + b"9" * 4300))
    found = opened(dog_log)
    assert [event.id for event in found.events] == [saved.id]
    found.add(in_march(6), NOW)
    found.delete(saved.id, NOW)
    found.undo(NOW)
    assert len(opened(dog_log).events) == 2


# --- Several months as one change -----------------------------------------------------------------


class Stop(BaseException):
    """The computer stops."""


def stops_after(patch: pytest.MonkeyPatch, calls: int) -> None:
    """Let the computer stop after so many system calls of those that write."""
    left = [calls]

    def counted(real: Callable[..., object]) -> Callable[..., object]:
        def call(*args: object, **named: object) -> object:
            left[0] -= 1
            if left[0] < 0:
                raise Stop
            return real(*args, **named)

        return call

    for name in ("open", "write", "replace", "unlink", "link"):
        patch.setattr(os, name, counted(getattr(os, name)))


def test_a_change_over_months_is_made_wholly_or_not_at_all_wherever_it_stops(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = dog_log.add(ago(500), NOW)
    outcomes = []
    for number in range(200):
        folder = dog_log.folder.with_name(f"stop-{number}")
        shutil.copytree(dog_log.folder, folder)
        stopped = False
        with monkeypatch.context() as patch:
            stops_after(patch, number)
            try:
                DogLog(folder).add_all([in_march(5), in_march(6), ago(7)], NOW)
            except Stop:
                stopped = True
        found = DogLog(folder)
        outcomes.append(len(found.events))
        assert before in found.events
        assert found.notices == ()
        found.undo(NOW)
        assert len(found.events) == (1 if outcomes[-1] == 4 else 0)
        if not stopped:
            break
    assert set(outcomes) == {1, 4}
    assert outcomes == sorted(outcomes)


def test_who_writes_in_between_and_knows_no_journal_loses_nothing(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pottyboard.store import journal

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(journal, "rename", stop)
        with pytest.raises(KeyboardInterrupt):
            dog_log.add_all([in_march(5), ago(5)], NOW)
    row = {"id": "other", "kind": "pee", "at": "2026-03-07T12:00:00+00:00", "change": 9}
    tables = {"about": {"file": {"schema": 1}}, "entries": {"other": row}, "trail": {}}
    (dog_log.folder / MARCH).write_text(json.dumps(tables))
    found = opened(dog_log)
    assert {event.id for event in found.events} >= {"other"}
    assert len(list(dog_log.folder.glob("events-2026-03.unfinished-*.json.kept"))) == 1


def test_versions_that_no_journal_names_are_swept(dog_log: DogLog) -> None:
    left = dog_log.folder / f".{MARCH}.0123456789abcdef.next"
    left.write_text("half")
    dog_log.add(ago(5), NOW)
    assert not left.exists()
