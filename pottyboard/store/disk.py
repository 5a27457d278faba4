"""Bytes to disk so that a file is always whole: the old one or the new one, never a mixture."""

from __future__ import annotations

import contextlib
import os
import sys
import time
from pathlib import Path

from pottyboard.store.errors import StoreError

Signature = tuple[int, int, int]
"""Time of the last change in ns, size and inode: together they tell one version from the next."""

FOLDER_MODE = 0o700
FILE_MODE = 0o600
_WINDOWS_TRIES = 20


def signature_of(path: Path) -> Signature | None:
    """Return what tells this version of a file from the next, None if there is no file."""
    try:
        found = os.stat(path)
    except FileNotFoundError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def make_folder(folder: Path) -> None:
    """Make a folder that only its owner can enter; raise :class:`StoreError` if that fails."""
    try:
        folder.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    except FileExistsError:
        raise StoreError(f"{folder} is a file: give a folder with --home.") from None
    except OSError as error:
        raise StoreError(
            f"Cannot make the folder {folder}: {error.strerror}. Choose another with --home."
        ) from error


def replace_file(path: Path, content: bytes) -> None:
    """Write ``content`` to a temporary file beside ``path``, fsync it, and put it in its place.

    Raises :class:`StoreError` if the disk does not take it; the old file is then still there.
    """
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        descriptor = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, FILE_MODE)
        try:
            view = memoryview(content)
            while view:
                view = view[os.write(descriptor, view) :]
            _flush(descriptor)
        finally:
            os.close(descriptor)
        _rename(temporary, path)
        _flush_folder(path.parent)
    except OSError as error:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise StoreError(
            f"Could not save to {path}: {error.strerror}. Nothing that was saved is lost. "
            f"Make room or check the disk, then log it again."
        ) from error


def _flush(descriptor: int) -> None:
    if sys.platform == "darwin":
        import fcntl

        fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
    else:
        os.fsync(descriptor)


def _rename(source: Path, target: Path) -> None:
    """Replace ``target``, with patience where a virus scanner holds the file open."""
    for attempt in range(_WINDOWS_TRIES):
        try:
            os.replace(source, target)
            return
        except PermissionError:
            if os.name != "nt" or attempt == _WINDOWS_TRIES - 1:
                raise
            time.sleep(0.01 * (attempt + 1))


def _flush_folder(folder: Path) -> None:
    """Make the new name itself durable, where the system can flush a folder."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def keep_aside(path: Path, content: bytes, why: str, stamp: str) -> Path:
    """Keep the bytes of a file that cannot be used under a new name; return where."""
    for number in range(1000):
        extra = f"-{number}" if number else ""
        aside = path.with_name(f"{path.stem}.{why}-{stamp}{extra}{path.suffix}.kept")
        if not aside.exists():
            replace_file(aside, content)
            return aside
    raise StoreError(f"Too many kept copies of {path.name} in {path.parent}: remove some.")
