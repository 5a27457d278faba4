"""Bytes to disk so that a file is always whole: the old one or the new one, never a mixture."""

from __future__ import annotations

import contextlib
import os
import time
from pathlib import Path
from typing import Final

from pottyboard.store.system.errors import StoreError, unsaved, unusable
from pottyboard.store.system.flushing import flush, flush_folder
from pottyboard.store.system.opening import open_file, open_new
from pottyboard.store.system.privacy import FOLDER_MODE, is_ours
from pottyboard.store.system.replacing import rename

Signature = tuple[int, int, int]
"""Time of the last change in ns, size and inode: together they tell one version from the next."""

_UNFINISHED: Final = ".new"
_SAVE_TRIES: Final = 2
_LEFT_BEHIND: Final = 3600.0
"""Seconds after which nobody is writing a file any more."""


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
    with open(path, "rb", opener=open_file) as file:
        signature = signature_from(os.fstat(file.fileno()))
        return file.read(), signature


def beside(path: Path, ending: str = _UNFINISHED) -> Path:
    """Return a name in the folder of ``path`` that nobody can foresee."""
    return path.with_name(f".{path.name[:_NAME]}.{os.urandom(8).hex()}{ending}")


_NAME: Final = 200
"""Letters of a name that are repeated in another one, which may have no more than 255 bytes."""


def replace_file(path: Path, content: bytes) -> Signature:
    """Write ``content`` to a file beside ``path``, fsync it, rename it over ``path``.

    A disk that complains gets the whole of it once more: after a failed fsync nobody knows what is
    saved, and a second fsync of the same file would say that all is well. Raises
    :class:`StoreError` if it complains again; the file is then whole, the old one or the new one.
    """
    perhaps = False
    for attempt in range(_SAVE_TRIES):
        temporary = beside(path)
        try:
            signature = write_new(temporary, content)
            rename(temporary, path)
            perhaps = True
            flush_folder(path.parent)
            return signature
        except OSError as error:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            if attempt == _SAVE_TRIES - 1:
                raise unsaved(path, error.strerror, perhaps=perhaps) from error
    raise AssertionError("unreachable")


def write_new(path: Path, content: bytes) -> Signature:
    """Write a file that was not there before and flush it; raise ``OSError`` if it cannot be."""
    descriptor = open_new(path)
    try:
        view = memoryview(content)
        while view:
            view = view[os.write(descriptor, view) :]
        flush(descriptor)
        return signature_from(os.fstat(descriptor))
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


def remove_unfinished(folder: Path, name: str = "", older: float = 0.0) -> None:
    """Remove what writers of ours left that were killed half-way, of one file or of all.

    Either nobody may be writing meanwhile, or what is younger than ``older`` seconds stays.
    """
    with contextlib.suppress(OSError):
        for entry in os.scandir(folder):
            if entry.name.startswith(f".{name}") and entry.name.endswith(_UNFINISHED):
                found = entry.stat(follow_symlinks=False)
                if is_ours(found) and (not older or found.st_mtime < time.time() - older):
                    os.unlink(entry.path)


def remove_left_behind(path: Path) -> None:
    """Remove what an export to ``path`` left beside it that was cut short long ago."""
    remove_unfinished(path.parent, f"{path.name[:_NAME]}.", _LEFT_BEHIND)


def keep_version(path: Path, kept: Path) -> None:
    """Keep the present version of ``path`` under another name, without copying if possible.

    Says nothing if that fails: a backup that cannot be made must not stop an entry.
    """
    with contextlib.suppress(OSError, StoreError):
        if not kept.parent.exists():
            make_folder(kept.parent)
        fresh = beside(kept)
        try:
            os.link(path, fresh)
        except OSError:  # a file system without links
            write_new(fresh, read_file(path)[0])
        os.replace(fresh, kept)
        with contextlib.suppress(FileNotFoundError):  # where both were one file already
            os.unlink(fresh)


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
