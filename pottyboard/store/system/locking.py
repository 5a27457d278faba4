"""The lock of a dog's folder: one writer at a time.

POSIX locks with ``flock``, Windows with ``LockFile``: filelock knows both. On a network drive a
lock may hold on one computer only, or not be known at all, which is said.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Final

from pottyboard.store.system.errors import StoreError, unusable
from pottyboard.store.system.privacy import FILE_MODE

if TYPE_CHECKING:
    from filelock import FileLock

_WAIT: Final = 5.0
_POLL: Final = 0.005
"""Seconds between two looks: at filelock's own 50 ms a second writer would wait that long."""


class Turn:
    """A writer's turn in one folder, as a context manager; turns may stand within each other.

    Raises :class:`StoreError` if the folder refuses, or another program has it for too long.
    """

    def __init__(self, folder: Path, wait: float = _WAIT) -> None:
        """Take the folder, and how many seconds to wait for it; nothing is locked yet."""
        self._folder = folder
        self._wait = wait
        self._lock: FileLock | None = None

    def __enter__(self) -> None:
        """Wait for the turn."""
        from filelock import FileLock, Timeout  # a command that only reads needs none of it

        if self._lock is None:
            path = self._folder / ".lock"
            self._lock = FileLock(path, self._wait, mode=FILE_MODE, poll_interval=_POLL)
        try:
            self._lock.acquire()
        except Timeout:
            raise StoreError(
                f"Not saved: another program has held {self._folder} for {self._wait:g} s. "
                f"Close it, then try again."
            ) from None
        except OSError as error:
            raise unusable(self._folder, error.strerror) from error
        except NotImplementedError:
            raise StoreError(
                f"Not saved: the disk of {self._folder} knows no locks. Choose a folder on "
                f"another disk with --home or POTTYBOARD_HOME."
            ) from None

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Give the turn away; what was saved is saved, whether or not the system lets go of it."""
        assert self._lock is not None
        with suppress(OSError):
            self._lock.release()


class Held:
    """A mark on a file that holds as long as this program lives, however it ends."""

    def __init__(self, path: Path) -> None:
        """Make the file and hold it; raise :class:`StoreError` if the disk knows no locks."""
        from filelock import FileLock

        self._lock = FileLock(path, 0, mode=FILE_MODE)
        try:
            self._lock.acquire()
        except (OSError, NotImplementedError) as error:  # a timeout is an OSError too
            raise unusable(path, str(error)) from error

    def release(self) -> None:
        """Let go of it."""
        with suppress(OSError):
            self._lock.release()


def is_held(path: Path) -> bool:
    """Whether a program that lives holds the mark, or nobody can tell."""
    try:
        held = Held(path)
    except StoreError:
        return True
    held.release()
    return False
