"""A disk that can only be read: the log is shown, and what cannot be saved is said."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from typing import Any

import pytest

from pottyboard.store import DogLog, StoreError
from tests.store.house import APRIL, NOW, ago, in_march, opened

WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT


def make_read_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the system refuse every write, as it does where a disk is mounted read-only."""
    really_open, really_access = os.open, os.access

    def refuse(*args: Any, **named: Any) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    def open_to_read(path: Any, flags: int, *args: Any, **named: Any) -> int:
        if flags & WRITES:
            refuse()
        return really_open(path, flags, *args, **named)

    def may(path: Any, mode: int, **named: Any) -> bool:
        return not mode & os.W_OK and really_access(path, mode, **named)

    monkeypatch.setattr(os, "open", open_to_read)
    monkeypatch.setattr(os, "access", may)
    for name in ("link", "mkdir", "rename", "replace", "unlink"):
        monkeypatch.setattr(os, name, refuse)


CHANGES: list[Callable[[DogLog], object]] = [
    lambda dog_log: dog_log.add(ago(1), NOW),
    lambda dog_log: dog_log.edit(dog_log.events[0].id, {"note": "no"}, NOW),
    lambda dog_log: dog_log.delete(dog_log.events[0].id, NOW),
    lambda dog_log: dog_log.undo(NOW),
    lambda dog_log: dog_log.save_answers(dog_log.answers, NOW),
]


def test_the_log_is_shown_and_says_that_nothing_can_be_saved(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    events = (dog_log.add(in_march(5), NOW), dog_log.add(ago(5), NOW))
    assert not dog_log.read_only
    make_read_only(monkeypatch)
    board = opened(dog_log)
    assert board.settings.dog.name == "Bramble"
    assert board.events == events
    assert board.read_only
    [notice] = board.notices
    assert "nothing can be saved" in notice
    for change in CHANGES:
        with pytest.raises(StoreError, match=str(dog_log.folder)):
            change(board)
    assert board.events == events


def test_a_damaged_file_is_read_as_far_as_it_goes_and_left_alone(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second = dog_log.add(ago(9), NOW), dog_log.add(ago(5), NOW)
    path = dog_log.folder / APRIL
    content = b"<<<<<<< ours\n" + path.read_bytes()
    path.write_bytes(content)
    with monkeypatch.context() as patched:
        make_read_only(patched)
        board = opened(dog_log)
        assert board.events == (first, second)
        assert any(APRIL in notice for notice in board.notices)
        for change in CHANGES:
            with pytest.raises(StoreError):
                change(board)
        assert path.read_bytes() == content
    third = board.add(ago(1), NOW)
    assert opened(dog_log).events == (first, second, third)
    [kept] = dog_log.folder.glob("*.kept")
    assert kept.read_bytes() == content
