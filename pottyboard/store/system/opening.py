"""Opening files without being led elsewhere, and without waiting for what is no file.

``O_EXCL`` makes a file or fails, ``O_NOFOLLOW`` refuses a link (POSIX ``open``). Reading opens with
``O_NONBLOCK``, or a pipe in the place of a file would hold the program up until somebody writes
into it. Windows knows none of the three but ``O_EXCL``, and needs ``O_BINARY``.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import Final

from pottyboard.store.system.privacy import FILE_MODE

_NEW: Final = os.O_WRONLY | os.O_CREAT | os.O_EXCL
_BINARY: Final[int] = getattr(os, "O_BINARY", 0)
_NO_LINK: Final[int] = getattr(os, "O_NOFOLLOW", 0)
_NO_WAIT: Final[int] = getattr(os, "O_NONBLOCK", 0)


def open_new(path: Path) -> int:
    """Return the descriptor of a file that was not there before, for writing, private to us."""
    return os.open(path, _NEW | _BINARY | _NO_LINK, FILE_MODE)


def open_file(path: str, flags: int = os.O_RDONLY) -> int:
    """Return the descriptor of a file for reading; raise ``OSError`` if it is anything else."""
    descriptor = os.open(path, flags | _BINARY | _NO_WAIT)
    mode = os.fstat(descriptor).st_mode
    if stat.S_ISREG(mode):
        return descriptor
    os.close(descriptor)
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), path)
    raise OSError(errno.EINVAL, "it is no file but a pipe or a device", path)
