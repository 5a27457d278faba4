"""Files that a command writes: named by the household, private, whole or not there at all."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

from pottyboard.core.model.printable import printable
from pottyboard.store import StoreError
from pottyboard.store.disk import remove_left_behind, replace_file
from pottyboard.store.household import is_of_a_log
from pottyboard.store.system.privacy import is_ours


def file_named(name: str) -> Path:
    """Return a file that can be written or replaced; what a link of ours points to, not the link.

    Raises ``StoreError`` if it is no file, if its folder does not exist, if it belongs to a log, or
    if somebody else has laid a link there.
    """
    path = Path(name).expanduser()
    try:
        found = os.lstat(path)
        if stat.S_ISLNK(found.st_mode) and not is_ours(found):
            raise StoreError(f"{path} is a link that somebody else made: name another file.")
    except (FileNotFoundError, NotADirectoryError):
        pass
    try:
        path = path.resolve()
    except (RuntimeError, OSError):
        raise StoreError(f"{path} is a link that leads nowhere: name another file.") from None
    if path.exists() and not path.is_file():
        raise StoreError(f"{path} is no file: name one to write.")
    if not path.parent.is_dir():
        raise StoreError(f"{path.parent} is no folder: make it first, or name another file.")
    if is_of_a_log(path):
        raise StoreError(f"{path} is where a dog’s log is kept: name a file in another folder.")
    return path


def write_private(path: Path, content: bytes) -> None:
    """Write a file that only its owner can read (0600), and say so."""
    replace_file(path, content)
    remove_left_behind(path)
    print(f"Written: {printable(str(path), 400)} (only you can read it)", file=sys.stderr)
