"""Files that a command writes: named by the household, private, whole or not there at all."""

from __future__ import annotations

import sys
from pathlib import Path

from pottyboard.core.model.printable import printable
from pottyboard.store import StoreError
from pottyboard.store.disk import replace_file


def file_named(name: str) -> Path:
    """Return a file that can be written or replaced; what a link points to, not the link.

    Raises ``StoreError`` if it is no file or its folder does not exist.
    """
    path = Path(name).expanduser().resolve()
    if path.exists() and not path.is_file():
        raise StoreError(f"{path} is no file: name one to write.")
    if not path.parent.is_dir():
        raise StoreError(f"{path.parent} is no folder: make it first, or name another file.")
    return path


def write_private(path: Path, content: bytes) -> None:
    """Write a file that only its owner can read (0600), and say so."""
    replace_file(path, content)
    print(f"Written: {printable(str(path), 400)} (only you can read it)", file=sys.stderr)
