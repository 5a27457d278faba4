"""Bytes to disk so that a file is always whole: the old one or the new one, never a mixture."""

from __future__ import annotations

import contextlib
import os
import sys
import time
from pathlib import Path
from typing import Final

from pottyboard.store.errors import StoreError, unsaved, unusable

Signature = tuple[int, int, int]
"""Time of the last change in ns, size and inode: together they tell one version from the next."""

FOLDER_MODE: Final = 0o700
FILE_MODE: Final = 0o600
_UNFINISHED: Final = ".new"
_SAVE_TRIES: Final = 2
_WINDOWS_TRIES: Final = 20
_ON_WINDOWS: Final = os.name == "nt"


def signature_of(path: str | Path) -> Signature | None:
    """Return what tells this version of a file from the next, None if there is no file."""
    try:
        return signature_from(os.stat(path))
    except (FileNotFoundError, NotADirectoryError):
        return None


def signature_from(found: os.stat_result) -> Signature:
    """Return the signature in what ``stat`` found."""
    return found.st_mtime_ns, found.st_size, found.st_ino


def read_file(path: Path) -> tuple[bytes, Signature]:
    """Return the content of a file with the signature of exactly this content."""
    with open(path, "rb") as file:
        signature = signature_from(os.fstat(file.fileno()))
        return file.read(), signature


def replace_file(path: Path, content: bytes) -> Signature:
    """Write ``content`` to a file beside ``path``, fsync it, rename it over ``path``.

    A disk that complains gets the whole of it once more: after a failed fsync nobody knows what is
    saved, and a second fsync of the same file would say that all is well. Raises
    :class:`StoreError` if it complains again; the file is then whole, the old one or the new one.
    """
    perhaps = False
    for attempt in range(_SAVE_TRIES):
        temporary = path.with_name(f".{path.name}.{os.getpid()}{_UNFINISHED}")
        try:
            signature = _write(temporary, content)
            _rename(temporary, path)
            perhaps = True
            flush_folder(path.parent)
            return signature
        except OSError as error:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            if attempt == _SAVE_TRIES - 1:
                raise unsaved(path, error.strerror, perhaps=perhaps) from error
    raise AssertionError("unreachable")


def _write(path: Path, content: bytes) -> Signature:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | _BINARY, FILE_MODE)
    try:
        view = memoryview(content)
        while view:
            view = view[os.write(descriptor, view) :]
        _flush(descriptor)
        return signature_from(os.fstat(descriptor))
    finally:
        os.close(descriptor)


_BINARY: Final[int] = getattr(os, "O_BINARY", 0)


def _flush(descriptor: int) -> None:
    if sys.platform == "darwin":  # there fsync leaves the data in the drive's own cache
        import fcntl

        with contextlib.suppress(OSError):  # not every file system knows it
            fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
            return
    os.fsync(descriptor)


def _rename(source: Path, target: Path) -> None:
    """Replace ``target``, with patience where a virus scanner holds the file open."""
    for attempt in range(_WINDOWS_TRIES):
        try:
            os.replace(source, target)
            return
        except PermissionError:
            if not _ON_WINDOWS or attempt == _WINDOWS_TRIES - 1:
                raise
            time.sleep(0.01 * (attempt + 1))


def flush_folder(folder: Path) -> None:
    """Make new names in ``folder`` durable, where the system can flush a folder."""
    if _ON_WINDOWS:
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def make_folder(folder: Path, *, fresh: bool = False) -> None:
    """Make a folder, and those above it, that only their owner can enter.

    A folder that is there already stays as it is; with ``fresh`` it raises ``FileExistsError``.
    Raises :class:`StoreError` if the folder cannot be made.
    """
    try:
        if not folder.parent.exists():
            make_folder(folder.parent)
        try:
            folder.mkdir(mode=FOLDER_MODE)
        except FileExistsError:
            if fresh or not folder.is_dir():
                raise
            return
        flush_folder(folder.parent)
    except FileExistsError:
        if fresh:
            raise
        raise StoreError(f"{folder} is a file: choose a folder with --home.") from None
    except OSError as error:
        raise unusable(folder, error.strerror) from error
    except ValueError as error:
        raise unusable(folder, str(error)) from None


def remove_unfinished(folder: Path) -> None:
    """Remove what a writer left that was killed half-way; nobody may be writing meanwhile."""
    with contextlib.suppress(OSError):
        for path in folder.glob(f".*{_UNFINISHED}"):
            path.unlink()


def keep_version(path: Path, kept: Path) -> None:
    """Keep the present version of ``path`` under another name, without copying if possible.

    Says nothing if that fails: a backup that cannot be made must not stop an entry.
    """
    with contextlib.suppress(OSError, StoreError):
        if not kept.parent.exists():
            make_folder(kept.parent)
        fresh = kept.with_name(f".{kept.name}{_UNFINISHED}")
        fresh.unlink(missing_ok=True)
        try:
            os.link(path, fresh)
        except OSError:  # a file system without links
            _write(fresh, path.read_bytes())
        os.replace(fresh, kept)


def keep_aside(path: Path, content: bytes, word: str, stamp: str) -> Path:
    """Keep bytes that cannot be used under a new name beside ``path``, once; return where.

    Raises :class:`StoreError` if they cannot be kept.
    """
    for aside in path.parent.glob(f"{path.stem}.{word}-*.kept"):
        if aside.stat().st_size == len(content) and aside.read_bytes() == content:
            return aside
    number = 0
    while True:
        extra = f"-{number}" if number else ""
        aside = path.with_name(f"{path.stem}.{word}-{stamp}{extra}{path.suffix}.kept")
        if not aside.exists():
            replace_file(aside, content)
            return aside
        number += 1
