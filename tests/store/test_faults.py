"""A disk that refuses: each system call of each change fails once, or from then on.

Whatever fails, what was acknowledged stays, an entry is there as a whole or not at all, and who
made the change is told. The same faults on TinyDB's own JSON storage do harm.
"""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog, StoreError
from pottyboard.store.system import replacing
from tests.store.house import APRIL, NOW, ago, in_march, new_dog_log
from tests.store.killing import Rows, rows_of
from tests.store.stock import StockRecord

CALLS = ("open", "write", "fsync", "replace")
ERRORS = (errno.ENOSPC, errno.EIO)


def entry(name: str, **details: Any) -> Event:
    """Return an event in which nothing is left for the store to fill in."""
    at = in_march(28).at if name.startswith("march") else ago(len(name)).at
    return Event("pee", at, name, zone="Europe/Oslo", logged=NOW, **details)


Change = Callable[[Any], object]
CHANGES: dict[str, Change] = {
    "add": lambda dog_log: dog_log.add(entry("april-new"), NOW),
    "first of a month": lambda dog_log: dog_log.add(
        Event("pee", in_march(2).at.replace(month=4), "x", zone="Europe/Oslo", logged=NOW), NOW
    ),
    "group": lambda dog_log: dog_log.add_all([entry("april-new"), entry("march-new")], NOW),
    "edit": lambda dog_log: dog_log.edit("april-1", {"note": "a"}, NOW),
    "move": lambda dog_log: dog_log.edit("april-1", {"at": in_march(20).at}, NOW),
    "move back": lambda dog_log: dog_log.edit("march-1", {"at": ago(99).at}, NOW),
    "delete": lambda dog_log: dog_log.delete("april-1", NOW),
    "undo": lambda dog_log: dog_log.undo(NOW),
}


class FaultyDisk:
    """Lets system calls through until the n-th, which fails: once, or with all after it."""

    def __init__(self, patch: pytest.MonkeyPatch, number: int, error: int, lasting: bool) -> None:
        """Put this disk in the place of the system's calls."""
        self.left, self.error, self.lasting = number, error, lasting
        self.failed = False
        for name in CALLS:
            patch.setattr(os, name, self._guarded(getattr(os, name)))

    def _guarded(self, call: Callable[..., Any]) -> Callable[..., Any]:
        def guarded(*args: Any, **named: Any) -> Any:
            self.left -= 1
            if self.left == -1 or (self.left < 0 and self.lasting):
                self.failed = True
                raise OSError(self.error, os.strerror(self.error))
            return call(*args, **named)

        return guarded


class HarmError(AssertionError):
    """What a fault did to a log."""


def try_each_fault(
    home: Path, opened: Callable[[Path], Any], change: Change, error: int, lasting: bool
) -> int:
    """Make a change with the first, the second, … system call failing; return how many there are.

    Raises :class:`HarmError` if anything acknowledged is lost or changed, or an error goes unsaid.
    """
    dog_log = opened(home)
    before = rows_of(dog_log)
    whole = home.with_name("whole")
    shutil.copytree(home, whole)
    change(opened(whole))
    after = rows_of(opened(whole))
    for number in range(1000):
        folder = home.with_name(f"{number}")
        shutil.copytree(home, folder)
        dog_log = opened(folder)
        assert rows_of(dog_log) == before
        said = None
        with pytest.MonkeyPatch.context() as patch:
            disk = FaultyDisk(patch, number, error, lasting)
            try:
                change(dog_log)
            except (StoreError, OSError) as refused:
                said = refused
        if not disk.failed:
            return number
        check(dog_log, opened(folder), before, after, said)
        shutil.rmtree(folder)
    raise AssertionError("no end of system calls")


def check(dog_log: Any, fresh: Any, before: Rows, after: Rows, said: Exception | None) -> None:
    """Raise :class:`HarmError` unless the log is as before or as wanted, and the error true."""
    try:
        found = rows_of(fresh)
    except Exception as error:
        raise HarmError(f"unreadable: {error}") from error
    if fresh.notices:
        raise HarmError(f"damaged: {fresh.notices}")
    if said is None and found != after:
        raise HarmError("acknowledged, but not there")
    if said is not None and not isinstance(said, StoreError):
        raise HarmError(f"not an error of the store: {said!r}")
    unsure = said is not None and "Perhaps" in str(said)
    if found != before and not unsure and said is not None:
        raise HarmError(f"changed, yet it says: {said}")
    for entry_id in {*found, *before, *after}:  # a group in two months may be there by half
        if found.get(entry_id) not in (before.get(entry_id), after.get(entry_id)):
            raise HarmError(f"neither as before nor as wanted: {found.get(entry_id)}")
    if rows_of(dog_log) != found:
        raise HarmError("the process that wrote sees something else")
    later = dog_log.add(entry("april-later"), NOW)
    if "april-later" not in rows_of(dog_log) or later not in dog_log.events:
        raise HarmError("nothing can be saved afterwards")


def filled(dog_log: Any) -> Path:
    """Return the folder of a record with entries in two months, corrected and moved."""
    dog_log.add_all([entry(name) for name in ("april-1", "april-22", "march-1", "march-2")], NOW)
    dog_log.edit("april-22", {"note": "long " * 30}, NOW)
    dog_log.edit("april-22", {"at": in_march(25).at}, NOW)
    folder: Path = dog_log.folder
    return folder


@pytest.mark.parametrize("lasting", [False, True], ids=["once", "lasting"])
@pytest.mark.parametrize("error", ERRORS, ids=["full", "broken"])
@pytest.mark.parametrize("change", CHANGES)
def test_a_fault_at_any_system_call_does_no_harm(
    tmp_path: Path, change: str, error: int, lasting: bool
) -> None:
    folder = filled(new_dog_log(tmp_path))
    calls = try_each_fault(folder, DogLog, CHANGES[change], error, lasting)
    assert calls >= 5  # the lock, and the temporary file: opened, written, flushed, renamed


@pytest.mark.parametrize("lasting", [False, True], ids=["once", "lasting"])
@pytest.mark.parametrize("undos", [1, 3], ids=["one month", "two months"])
def test_a_fault_while_an_undo_is_taken_back_does_no_harm(
    tmp_path: Path, undos: int, lasting: bool
) -> None:
    folder = filled(new_dog_log(tmp_path))
    for _ in range(undos):
        DogLog(folder).undo(NOW)
    calls = try_each_fault(folder, DogLog, lambda log: log.redo(NOW), errno.ENOSPC, lasting)
    assert calls >= 5


@pytest.mark.parametrize("change", ["delete", "undo"])
def test_stock_storage_would_be_harmed(tmp_path: Path, change: str) -> None:
    folder = filled(StockRecord(tmp_path / "stock"))
    with pytest.raises(HarmError, match="unreadable"):
        try_each_fault(folder, StockRecord, CHANGES[change], errno.ENOSPC, False)


def test_a_fault_while_settings_are_saved_leaves_the_old_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dog_log = new_dog_log(tmp_path)
    old, answers = dog_log.settings, {**dog_log.answers, "weight": "9"}
    for number in range(4):
        with monkeypatch.context() as patch:
            FaultyDisk(patch, number, errno.EIO, lasting=True)
            with pytest.raises(StoreError):
                dog_log.save_answers(answers, NOW)
        assert dog_log.settings == DogLog(dog_log.folder).settings == old
    assert dog_log.save_answers(answers, NOW).dog.weight_kg == 9


def test_a_failed_fsync_saves_the_whole_of_it_again(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[bytes] = []
    whole_write, failures = os.write, [True]

    def write(descriptor: int, content: bytes) -> int:
        written.append(bytes(content))
        return whole_write(descriptor, content)

    def fsync(descriptor: int) -> None:
        if failures:
            failures.pop()
            raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "write", write)
    monkeypatch.setattr(os, "fsync", fsync)
    saved = dog_log.add(ago(5), NOW)
    assert written == [(dog_log.folder / APRIL).read_bytes()] * 2
    assert DogLog(dog_log.folder).events == (saved,)


def test_a_write_that_takes_only_a_part_is_continued(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole_write = os.write
    monkeypatch.setattr(os, "write", lambda fd, content: whole_write(fd, bytes(content)[:7]))
    saved = dog_log.add(ago(5, note="x" * 100), NOW)
    assert DogLog(dog_log.folder).events == (saved,)


def test_windows_may_hold_a_file_open_for_a_moment(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    busy, whole_replace, waited = [True, True, True], os.replace, list[float]()

    def replace(source: Path, target: Path) -> None:
        if busy:
            busy.pop()
            raise PermissionError(errno.EACCES, "Access is denied")
        whole_replace(source, target)

    windows = SimpleNamespace(name="nt", replace=replace)
    monkeypatch.setattr(replacing, "os", windows)
    monkeypatch.setattr("pottyboard.store.system.replacing.time.sleep", waited.append)
    saved = dog_log.add(ago(5), NOW)
    assert not busy
    assert waited == sorted(waited)
    assert DogLog(dog_log.folder).events == (saved,)
