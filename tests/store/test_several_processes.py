"""Several processes on one home: what each sees of the others, and when it reads again."""

from __future__ import annotations

import os
import stat
import threading
from pathlib import Path

import pytest
from filelock import FileLock

from pottyboard.store import DogLog, StoreError
from pottyboard.store.damage import parse as whole_parse
from pottyboard.store.damage import read as whole_read
from pottyboard.store.system import locking
from pottyboard.store.system.locking import Turn
from tests.store.house import APRIL, MARCH, NOW, ago, in_march, opened


def test_the_same_tuple_until_something_changed(dog_log: DogLog) -> None:
    dog_log.add(ago(5), NOW)
    before = dog_log.events
    assert dog_log.events is before
    (dog_log.folder / "other.json").write_text("{}")
    (dog_log.folder / "events-of-mine.json").write_text("{}")
    assert dog_log.events is before
    dog_log.add(ago(3), NOW)
    assert dog_log.events is not before


def test_a_file_that_was_only_touched_gives_the_same_tuple(dog_log: DogLog) -> None:
    dog_log.add(ago(5), NOW)
    before = dog_log.events
    os.utime(dog_log.folder / APRIL)
    assert dog_log.changed()
    assert dog_log.events is before
    assert not dog_log.changed()


def test_a_change_of_another_process_is_seen(dog_log: DogLog) -> None:
    first = dog_log.add(ago(5), NOW)
    board = opened(dog_log)
    assert board.changed()
    assert list(board.events) == [first]
    assert not board.changed()
    second = dog_log.add(ago(3), NOW)
    assert board.changed()
    assert list(board.events) == [first, second]
    assert not board.changed()
    third = dog_log.add(in_march(9), NOW)
    assert board.changed()
    assert list(board.events) == [third, first, second]
    dog_log.delete(second.id, NOW)
    assert board.changed()
    assert list(board.events) == [third, first]


def test_new_settings_of_another_process_are_seen(dog_log: DogLog) -> None:
    board = opened(dog_log)
    assert board.settings.dog.weight_kg == 8
    assert board.settings is board.settings
    assert board.events == ()
    assert not board.changed()
    dog_log.save_answers({**dog_log.answers, "weight": "9"}, NOW)
    assert board.changed()
    assert board.settings.dog.weight_kg == 9
    assert not board.changed()


def test_each_writes_on_top_of_the_other(dog_log: DogLog) -> None:
    other = opened(dog_log)
    assert other.events == ()
    saved = []
    for number in range(10):
        saved.append((dog_log, other)[number % 2].add(ago(100 - number), NOW))
    assert dog_log.events == other.events == tuple(saved)
    numbers = [row["change"] for row in parsed(dog_log)["entries"].values()]
    assert numbers == list(range(1, 11))


def parsed(dog_log: DogLog) -> dict[str, dict[str, dict[str, object]]]:
    """Return the tables of this month's file."""
    return whole_parse((dog_log.folder / APRIL).read_bytes())


def test_only_the_months_that_changed_are_read_again(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    dog_log.add_all([ago(5), in_march(5)], NOW)
    board = opened(dog_log)
    assert [event.at.month for event in board.events] == [3, 4]
    read: list[int] = []

    def counted(content: bytes) -> object:
        read.append(len(content))
        return whole_read(content)

    monkeypatch.setattr("pottyboard.store.json_file.read", counted)
    dog_log.add(in_march(6), NOW)
    assert read == []  # the writer knows what it wrote
    assert [event.at.month for event in board.events] == [3, 3, 4]
    assert read == [(dog_log.folder / MARCH).stat().st_size]


def test_a_file_that_somebody_copied_in_is_read(dog_log: DogLog) -> None:
    dog_log.add(in_march(5), NOW)
    assert len(dog_log.events) == 1
    (dog_log.folder / "events-2026-02.json").write_bytes(
        (dog_log.folder / MARCH).read_bytes().replace(b"2026-03-05T", b"2026-02-05T")
    )
    assert dog_log.changed()
    # The same id twice: that of the later change counts, or of the later month.
    assert [event.at.month for event in dog_log.events] == [3]


def test_entries_in_a_wrong_month_stand_in_order_all_the_same(dog_log: DogLog) -> None:
    early, late = dog_log.add(in_march(5), NOW), dog_log.add(ago(5), NOW)
    april, march = dog_log.folder / APRIL, dog_log.folder / MARCH
    content = april.read_bytes()
    april.write_bytes(march.read_bytes())
    march.write_bytes(content)
    assert list(dog_log.events) == [early, late]
    dog_log.edit(early.id, {"note": "moved home"}, NOW)
    assert whole_parse(march.read_bytes())["entries"].keys() == {late.id, early.id}


def test_a_month_whose_file_was_removed_while_the_board_is_open_is_back(dog_log: DogLog) -> None:
    saved = dog_log.add(in_march(5), NOW), dog_log.add(ago(5), NOW)
    assert len(dog_log.events) == 2
    (dog_log.folder / MARCH).unlink()
    assert dog_log.changed()
    assert tuple(dog_log.events) == saved
    assert (dog_log.folder / MARCH).exists()


def test_a_lock_that_is_never_released_is_named(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(locking, "_WAIT", 0.02)
    first = dog_log.add(ago(5), NOW)
    blocked = DogLog(dog_log.folder)
    blocked._turn._wait = 0.02
    with FileLock(dog_log.folder / ".lock"):
        with pytest.raises(StoreError, match=r"another program has held .* Close it"):
            blocked.add(ago(3), NOW)
        assert blocked.events == (first,)
    assert blocked.add(ago(3), NOW) in blocked.events


def test_a_turn_waits_for_the_one_before(tmp_path: Path) -> None:
    order: list[str] = []
    inside, may_leave = threading.Event(), threading.Event()

    def other() -> None:
        with Turn(tmp_path):
            inside.set()
            may_leave.wait()
            order.append("first")

    thread = threading.Thread(target=other)
    thread.start()
    inside.wait()
    threading.Timer(0.02, may_leave.set).start()
    with Turn(tmp_path):
        order.append("second")
    thread.join()
    assert order == ["first", "second"]


def test_a_turn_may_stand_within_another(tmp_path: Path) -> None:
    turn = Turn(tmp_path)
    with turn, turn, pytest.raises(StoreError), Turn(tmp_path, wait=0):
        pass
    with Turn(tmp_path, wait=0):
        pass


def test_folders_and_files_are_the_owners_alone(dog_log: DogLog) -> None:
    dog_log.add_all([ago(5), in_march(5)], NOW)
    dog_log.add(ago(4), NOW)
    home = dog_log.folder.parent
    for path in (home, *home.rglob("*")):
        mode = stat.S_IMODE(path.stat().st_mode)
        assert mode == (0o700 if path.is_dir() else 0o600), path


def test_what_a_killed_writer_left_is_cleared_away(dog_log: DogLog) -> None:
    dog_log.add(ago(5), NOW)
    left = dog_log.folder / f".{APRIL}.4711.new"
    left.write_bytes(b'{"half')
    assert len(opened(dog_log).events) == 1
    opened(dog_log).add(ago(4), NOW)
    assert not left.exists()
    assert len(opened(dog_log).events) == 2
