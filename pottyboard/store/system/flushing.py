"""Getting bytes past every cache, down to the disk itself.

POSIX flushes a file with ``fsync``, and a new name with an ``fsync`` of its folder. macOS (manual
page of ``fsync(2)``) leaves the data in the drive's own cache and asks for ``F_FULLFSYNC``. Windows
cannot open a folder this way; there ``MoveFileEx`` takes care of the name.
"""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path


def flush(descriptor: int) -> None:
    """Return once the bytes of an open file are on the disk."""
    if sys.platform == "darwin":
        import fcntl

        with contextlib.suppress(OSError):  # not every file system knows it
            fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
            return
    os.fsync(descriptor)


def flush_folder(folder: Path) -> None:
    """Make new names in ``folder`` durable, where the system can flush a folder."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
