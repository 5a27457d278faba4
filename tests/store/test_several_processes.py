"""Several processes on one home: what each sees of the others, and when it reads again."""

from __future__ import annotations

import os
import stat
import threading
from pathlib import Path

import pytest
from filelock import FileLock

from pottyboard.store import Record, StoreError, lock
from pottyboard.store.damage import parse as whole_parse
from pottyboard.store.lock import Turn
from tests.store.house import APRIL, MARCH, NOW, ago, in_march, opened


def test_the_same_tuple_until_something_changed(record: Record) -> None:
    record.add(ago(5), NOW)
    before = record.events
    assert record.events is before
    (record.folder / "other.json").write_text("{}")
    (record.folder / "events-of-mine.json").write_text("{}")
    assert record.events is before
    record.add(ago(3), NOW)
    assert record.events is not before


def test_a_file_that_was_only_touched_gives_the_same_tuple(record: Record) -> None:
    record.add(ago(5), NOW)
    before = record.events
    os.utime(record.folder / APRIL)
    assert record.changed()
    assert record.events is before
    assert not record.changed()


def test_a_change_of_another_process_is_seen(record: Record) -> None:
    first = record.add(ago(5), NOW)
    board = opened(record)
    assert board.changed()
    assert board.events == (first,)
    assert not board.changed()
    second = record.add(ago(3), NOW)
    assert board.changed()
    assert board.events == (first, second)
    assert not board.changed()
    third = record.add(in_march(9), NOW)
    assert board.changed()
    assert board.events == (third, first, second)
    record.delete(second.id, NOW)
    assert board.changed()
    assert board.events == (third, first)


def test_new_settings_of_another_process_are_seen(record: Record) -> None:
    board = opened(record)
    assert board.settings.dog.weight_kg == 8
    assert board.settings is board.settings
    assert board.events == ()
    assert not board.changed()
    record.save_answers({**record.answers, "weight": "9"}, NOW)
    assert board.changed()
    assert board.settings.dog.weight_kg == 9
    assert not board.changed()


def test_each_writes_on_top_of_the_other(record: Record) -> None:
    other = opened(record)
    assert other.events == ()
    saved = []
    for number in range(10):
        saved.append((record, other)[number % 2].add(ago(100 - number), NOW))
    assert record.events == other.events == tuple(saved)
    numbers = [row["change"] for row in parsed(record)["entries"].values()]
    assert numbers == list(range(1, 11))


def parsed(record: Record) -> dict[str, dict[str, dict[str, object]]]:
    """Return the tables of this month's file."""
    return whole_parse((record.folder / APRIL).read_bytes())


def test_only_the_months_that_changed_are_read_again(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    record.add_all([ago(5), in_march(5)], NOW)
    board = opened(record)
    assert len(board.events) == 2
    read: list[int] = []

    def counted(content: bytes) -> object:
        read.append(len(content))
        return whole_parse(content)

    monkeypatch.setattr("pottyboard.store.json_file.parse", counted)
    record.add(in_march(6), NOW)
    assert read == []  # the writer knows what it wrote
    assert len(board.events) == 3
    assert read == [(record.folder / MARCH).stat().st_size]


def test_a_file_that_somebody_copied_in_is_read(record: Record) -> None:
    record.add(in_march(5), NOW)
    assert len(record.events) == 1
    (record.folder / "events-2026-02.json").write_bytes(
        (record.folder / MARCH).read_bytes().replace(b"2026-03-05T", b"2026-02-05T")
    )
    assert record.changed()
    # The same id twice: that of the later change counts, or of the later month.
    assert [event.at.month for event in record.events] == [3]


def test_entries_in_a_wrong_month_stand_in_order_all_the_same(record: Record) -> None:
    early, late = record.add(in_march(5), NOW), record.add(ago(5), NOW)
    april, march = record.folder / APRIL, record.folder / MARCH
    content = april.read_bytes()
    april.write_bytes(march.read_bytes())
    march.write_bytes(content)
    assert record.events == (early, late)
    record.edit(early.id, {"note": "moved home"}, NOW)
    assert whole_parse(march.read_bytes())["entries"].keys() == {late.id, early.id}


def test_a_month_whose_file_was_removed_is_gone(record: Record) -> None:
    record.add(in_march(5), NOW)
    kept = record.add(ago(5), NOW)
    assert len(record.events) == 2
    (record.folder / MARCH).unlink()
    assert record.changed()
    assert record.events == (kept,)


def test_a_lock_that_is_never_released_is_named(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "_WAIT", 0.02)
    first = record.add(ago(5), NOW)
    blocked = Record(record.folder)
    blocked._turn._wait = 0.02
    with FileLock(record.folder / ".lock"):
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


def test_folders_and_files_are_the_owners_alone(record: Record) -> None:
    record.add_all([ago(5), in_march(5)], NOW)
    record.add(ago(4), NOW)
    home = record.folder.parent
    for path in (home, *home.rglob("*")):
        mode = stat.S_IMODE(path.stat().st_mode)
        assert mode == (0o700 if path.is_dir() else 0o600), path


def test_what_a_killed_writer_left_is_cleared_away(record: Record) -> None:
    record.add(ago(5), NOW)
    left = record.folder / f".{APRIL}.4711.new"
    left.write_bytes(b'{"half')
    assert len(opened(record).events) == 1
    opened(record).add(ago(4), NOW)
    assert not left.exists()
    assert len(opened(record).events) == 2
