"""One change of several files: all of them or none, whenever the program or the computer stops.

First every new version is written beside its file and flushed, under a name of its own. Then the
journal names them all; with its own rename the change is made. Then each version takes the place of
its file, and the journal goes. Whoever finds a journal finishes it first, under the lock.
"""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Final
from zlib import crc32

from pottyboard.store.damage import Tables
from pottyboard.store.disk import (
    beside,
    read_file,
    replace_file,
    signature_of,
    write_new,
)
from pottyboard.store.json_file import JsonFile
from pottyboard.store.system.errors import StoreError, unsaved
from pottyboard.store.system.flushing import flush_folder
from pottyboard.store.system.replacing import rename

JOURNAL: Final = "change.journal"
_WAITING: Final = ".next"
_NONE: Final = "none"


class Journal:
    """The journal of one folder; every method is called under its lock."""

    def __init__(self, folder: Path) -> None:
        """Take the folder; nothing is read yet."""
        self._folder, self._path = folder, folder / JOURNAL

    def save(self, parts: Sequence[tuple[JsonFile[Any], Tables]]) -> None:
        """Save new tables of several files as one change.

        Raises :class:`StoreError`: then nothing is saved, unless it says “perhaps”.
        """
        waiting: list[tuple[Path, Path]] = []
        contents = []
        committed = False
        try:
            files = {}
            for file, tables in parts:
                content = file.prepare(tables)
                before = _sum_of(file.path)
                name = self._write(file.path, content)
                waiting.append((name, file.path))
                contents.append(content)
                files[file.path.name] = {"next": name.name, "before": before}
            replace_file(self._path, json.dumps({"files": files}).encode())
            committed = True
        except OSError as error:
            raise unsaved(self._path, error.strerror, perhaps=False) from error
        except StoreError as error:
            self._take_back(error)
            raise unsaved(self._path, str(error), perhaps=False) from error
        finally:
            if not committed:
                for name, _ in waiting:
                    with suppress(OSError):
                        os.unlink(name)
        self._finish(waiting)
        for (file, tables), content in zip(parts, contents, strict=True):
            try:
                signature = signature_of(file.path)
            except OSError:
                signature = None  # the next look reads it again
            file.settle(tables, content, signature)

    def _write(self, path: Path, content: bytes) -> Path:
        """Write a version beside its file; twice if the disk complains once."""
        first = beside(path, _WAITING)
        try:
            write_new(first, content)
        except OSError:
            with suppress(OSError):
                os.unlink(first)
            write_new(second := beside(path, _WAITING), content)
            return second
        return first

    def _take_back(self, error: StoreError) -> None:
        """Take away a journal of which nobody knows whether it is on the disk."""
        try:
            os.unlink(self._path)
            flush_folder(self._folder)
        except FileNotFoundError:
            return
        except OSError as again:
            raise unsaved(self._path, str(again), perhaps=True) from error

    def finish(self) -> None:
        """Finish a change that was cut short; raise :class:`StoreError` where that fails."""
        try:
            content, _ = read_file(self._path)
        except FileNotFoundError:
            self._sweep()
            return
        except OSError as error:
            raise unsaved(self._path, error.strerror, perhaps=True) from error
        parts = []
        for name, part in _files_in(content).items():
            path, waiting = self._folder / name, self._folder / part["next"]
            try:
                is_as_before = _sum_of(path) == part["before"]
            except OSError as error:
                raise unsaved(self._path, error.strerror, perhaps=True) from error
            if is_as_before:
                parts.append((waiting, path))
            else:  # in its place already, or somebody wrote in between who knows no journal
                with suppress(OSError):
                    rename(
                        waiting,
                        path.with_name(
                            f"{path.stem}.unfinished-{waiting.name[-21:-5]}{path.suffix}.kept"
                        ),
                    )
        self._finish(parts)
        self._sweep()

    def _finish(self, parts: Sequence[tuple[Path, Path]]) -> None:
        try:
            for waiting, path in parts:
                with suppress(FileNotFoundError):  # it is in its place already
                    rename(waiting, path)
            flush_folder(self._folder)
            with suppress(FileNotFoundError):
                os.unlink(self._path)
        except OSError as error:
            raise unsaved(self._path, error.strerror, perhaps=True) from error

    def _sweep(self) -> None:
        """Remove versions that no journal names: their writer was killed before it was made."""
        with suppress(OSError):
            for entry in os.scandir(self._folder):
                if entry.name.startswith(".events-") and entry.name.endswith(_WAITING):
                    os.unlink(entry.path)


def _files_in(content: bytes) -> dict[str, dict[str, str]]:
    """Return what a journal names, nothing if it is none: then no change was made by it."""
    try:
        found = json.loads(content)["files"]
        return {
            str(name): {"next": str(part["next"]), "before": str(part["before"])}
            for name, part in found.items()
            if os.path.basename(name) == name and os.path.basename(part["next"]) == part["next"]
        }
    except (ValueError, TypeError, KeyError, AttributeError):
        return {}


def _sum_of(path: Path) -> str:
    """Return a checksum of a file as it is now."""
    try:
        return f"{crc32(read_file(path)[0]):08x}"
    except FileNotFoundError:
        return _NONE
