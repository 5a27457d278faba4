"""Other systems, stood in for: what their own documentation says that they do otherwise.

Sources: Apple's manual page of ``fsync(2)`` (F_FULLFSYNC); Microsoft's "Naming Files, Paths, and
Namespaces" (devices, endings, superscript digits) and "File Attribute Constants"; POSIX ``open``.
"""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from pottyboard.store import DogLog
from pottyboard.store.system import flushing, naming, opening, privacy, replacing
from tests.store.house import NOW, ago, opened


def stand_in(name: str, **calls: Any) -> SimpleNamespace:
    """Return ``os`` as another system has it."""
    return SimpleNamespace(**{**vars(os), "name": name, **calls})


# --- Flushing -------------------------------------------------------------------------------------


def test_macos_is_asked_to_empty_the_cache_of_the_drive(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[int, int]] = []
    cache = SimpleNamespace(F_FULLFSYNC=51, fcntl=lambda fd, what: asked.append((fd, what)))
    monkeypatch.setitem(sys.modules, "fcntl", cache)
    monkeypatch.setattr(flushing, "sys", SimpleNamespace(platform="darwin"))
    flushing.flush(7)
    assert asked == [(7, 51)]


def test_where_macos_refuses_that_the_plain_flush_stands_in(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(45, "Operation not supported")

    flushed: list[int] = []
    monkeypatch.setitem(sys.modules, "fcntl", SimpleNamespace(F_FULLFSYNC=51, fcntl=refuse))
    monkeypatch.setattr(flushing, "sys", SimpleNamespace(platform="darwin"))
    monkeypatch.setattr(flushing, "os", stand_in("posix", fsync=flushed.append))
    flushing.flush(7)
    assert flushed == [7]


def test_windows_cannot_open_a_folder_and_is_not_asked_to(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(flushing, "os", stand_in("nt", open=refuse))
    flushing.flush_folder(tmp_path)


# --- Replacing ------------------------------------------------------------------------------------


def test_a_file_that_windows_never_lets_go_of_is_refused_in_the_end(
    dog_log: DogLog, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pottyboard.store import StoreError

    def busy(*_: object) -> None:
        raise PermissionError(13, "The process cannot access the file")

    first = dog_log.add(ago(9), NOW)
    with monkeypatch.context() as patch:
        patch.setattr(replacing, "os", stand_in("nt", replace=busy))
        patch.setattr("pottyboard.store.system.replacing.time.sleep", lambda seconds: None)
        with pytest.raises(StoreError, match="Not saved"):
            dog_log.add(ago(5), NOW)
    assert opened(dog_log).events == (first,)


def test_a_file_that_another_program_holds_for_a_moment_is_replaced_in_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tries: list[int] = []
    waited: list[float] = []

    def busy_twice(source: Path, target: Path) -> None:
        tries.append(1)
        if len(tries) < 3:
            raise PermissionError(13, "The process cannot access the file")
        os.rename(source, target)

    (tmp_path / "new").write_text("new")
    (tmp_path / "old").write_text("old")
    monkeypatch.setattr(replacing, "os", stand_in("nt", replace=busy_twice))
    monkeypatch.setattr("pottyboard.store.system.replacing.time.sleep", waited.append)
    replacing.rename(tmp_path / "new", tmp_path / "old")
    assert (tmp_path / "old").read_text() == "new"
    assert len(waited) == 2
    assert waited[0] < waited[1], "a little longer each time"


def test_where_no_file_is_held_a_refusal_is_not_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tries: list[int] = []

    def refuse(*_: object) -> None:
        tries.append(1)
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(replacing, "os", stand_in("posix", replace=refuse))
    monkeypatch.setattr("pottyboard.store.system.replacing.time.sleep", lambda seconds: None)
    with pytest.raises(PermissionError):
        replacing.rename(tmp_path / "new", tmp_path / "old")
    assert tries == [1]


# --- Names ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    ["CON", "con", "Con.", "PRN ", "aux", "NUL.", "COM1", "com9", "COM¹", "LPT²", "lpt0", "CONIN$"],
)
def test_no_folder_has_the_name_of_a_device(name: str) -> None:
    assert naming.slug(name).endswith("-dog")


@pytest.mark.parametrize(
    "name", ["Rex.", "Rex ", "Rex...", "R<e>x", 'R"ex', "Re/x", "Re\\x", "Rex?"]
)
def test_no_folder_has_a_letter_that_windows_does_not_keep(name: str) -> None:
    slug = naming.slug(name)
    assert slug[-1].isalnum()
    assert not set(slug) & set('<>:"/\\|?*. ')


def test_names_that_differ_in_case_alone_are_one_folder() -> None:
    assert naming.slug("REX") == naming.slug("rex") == naming.slug("Rex")


# --- Rights ---------------------------------------------------------------------------------------


def test_windows_keeps_rights_in_lists_and_no_mode_is_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("it has no such users, and this would mark it for reading only")

    tmp_path.chmod(0o755)  # as Windows shows every folder
    monkeypatch.setattr(privacy, "os", stand_in("nt", chmod=never, geteuid=never))
    assert not privacy.closed_to_others(tmp_path)
    assert privacy.is_ours(tmp_path.stat())


def test_a_folder_for_everybody_stays_open(tmp_path: Path) -> None:
    tmp_path.chmod(0o1777)
    assert not privacy.closed_to_others(tmp_path)
    assert tmp_path.stat().st_mode & 0o777 == 0o777
    tmp_path.chmod(0o700)


# --- Opening --------------------------------------------------------------------------------------


@pytest.fixture
def without_flags(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let the system know no O_NOFOLLOW and no O_NONBLOCK, but O_BINARY, as Windows does."""
    with monkeypatch.context() as patch:
        for flag in ("O_NOFOLLOW", "O_NONBLOCK"):
            patch.delattr(os, flag, raising=False)
        patch.setattr(os, "O_BINARY", 0, raising=False)
        importlib.reload(opening)
        yield
    importlib.reload(opening)


def test_files_are_made_and_read_where_the_flags_are_not_known(
    tmp_path: Path, without_flags: None
) -> None:
    path = tmp_path / "file"
    os.close(opening.open_new(path))
    with pytest.raises(FileExistsError):
        opening.open_new(path)
    os.close(opening.open_file(str(path)))
    with pytest.raises(IsADirectoryError):
        opening.open_file(str(tmp_path))


def test_windows_is_told_to_leave_the_ends_of_lines_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []

    def opened_with(path: str, flags: int, *mode: int) -> int:
        asked.append(flags)
        return os.open(path, flags, *mode)

    with monkeypatch.context() as patch:
        patch.setattr(os, "O_BINARY", os.O_SYNC, raising=False)  # one that this system knows
        importlib.reload(opening)
        patch.setattr(opening, "os", stand_in("nt", open=opened_with))
        os.close(opening.open_new(tmp_path / "file"))
        os.close(opening.open_file(str(tmp_path / "file")))
    importlib.reload(opening)
    assert [flags & os.O_SYNC for flags in asked] == [os.O_SYNC] * 2
