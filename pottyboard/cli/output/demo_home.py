"""The temporary home of a demo, and what a demo that was killed has left behind.

A program that is killed outright (SIGKILL, a power cut) removes nothing. The next demo does: such
folders of ours alone as carry the mark of a demo that nobody holds any more.
"""

from __future__ import annotations

import os
import stat
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from shutil import rmtree
from typing import Final

from pottyboard.store import StoreError
from pottyboard.store.system.locking import Held, is_held
from pottyboard.store.system.privacy import is_ours

_PREFIX: Final = "pottyboard-demo-"
_MARK: Final = ".demo"
_YOUNG: Final = 60.0
"""Seconds in which a demo that has just begun is left alone."""


@contextmanager
def demo_home() -> Iterator[Path]:
    """Yield a folder that is there as long as the demo, after removing what others have left."""
    remove_left_behind()
    with tempfile.TemporaryDirectory(prefix=_PREFIX) as name:
        held = None
        with suppress(StoreError):  # a disk without locks: then nobody removes it either
            held = Held(Path(name) / _MARK)
        try:
            yield Path(name)
        finally:
            if held is not None:
                held.release()


def remove_left_behind() -> None:
    """Remove the homes of demos that were killed; whatever is in doubt stays."""
    with suppress(OSError):
        for entry in os.scandir(tempfile.gettempdir()):
            if entry.name.startswith(_PREFIX) and _is_left_behind(Path(entry.path)):
                rmtree(entry.path, ignore_errors=True)


def _is_left_behind(folder: Path) -> bool:
    """Whether a folder is ours, carries the mark of a demo, and no demo lives in it."""
    mark = folder / _MARK
    try:
        here, marked = os.lstat(folder), os.lstat(mark)
    except OSError:
        return False
    if not (stat.S_ISDIR(here.st_mode) and stat.S_ISREG(marked.st_mode)):
        return False
    if not (is_ours(here) and is_ours(marked)) or time.time() - marked.st_mtime < _YOUNG:
        return False
    return not is_held(mark)
