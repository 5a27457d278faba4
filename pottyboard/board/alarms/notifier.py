"""The system's own notice, by a program that the household has named. No shell reads its words."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
from contextlib import suppress
from threading import Lock, Thread
from typing import Final

PATIENCE: Final = 10.0
"""Seconds that a program may take before it is ended (our own choice)."""


class Notifier:
    """Runs the household's program beside the board, one at a time, and says once what fails."""

    def __init__(self) -> None:
        """Begin with nothing run."""
        self._thread: Thread | None = None
        self._lock = Lock()
        self._ended: list[str] = []
        self._told = ""
        self.problem = ""
        """What went wrong with the last program that ended, empty if nothing."""

    def show(self, command: tuple[str, ...], text: str) -> bool:
        """Run ``command`` with ``text`` as its last word; return whether it was begun.

        Returns at once. While the one before still runs, nothing is begun.
        """
        if not command or self.is_busy:
            return False
        self._thread = Thread(target=self._run, args=(command, text), daemon=True)
        self._thread.start()
        return True

    @property
    def is_busy(self) -> bool:
        """Whether a program still runs."""
        return self._thread is not None and self._thread.is_alive()

    def news(self) -> str:
        """Return what has gone wrong since the last time, empty if nothing or if it was told."""
        with self._lock:
            ended, self._ended = self._ended, []
        new = ""
        for problem in ended:
            if problem != self._told:
                self._told = new = problem
        return new

    def _run(self, command: tuple[str, ...], text: str) -> None:
        problem = shown_by(command, text)
        with self._lock:
            self._ended.append(problem)
            self.problem = problem


def shown_by(command: tuple[str, ...], text: str) -> str:
    """Run a program with ``text`` as its last word; return what went wrong, empty if nothing.

    ``text`` begins with a letter, or the program could take it for an option. Waits for its end,
    :data:`PATIENCE` at most; what it prints is not read.
    """
    assert text[:1].isalpha(), text
    name = command[0]
    program = shutil.which(name)
    if program is None:
        return f"“{name}” is not on this computer: the notice by a program is not shown."
    try:
        child = subprocess.Popen(
            [program, *command[1:], text],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        return f"“{name}” cannot be started: {why}."
    try:
        code = child.wait(PATIENCE)
    except subprocess.TimeoutExpired:
        _end(child)
        return f"“{name}” took more than {PATIENCE:g} s and was ended."
    return f"“{name}” ended with the error code {code}." if code else ""


def _end(child: subprocess.Popen[bytes]) -> None:
    """End a program and all that it has started."""
    with suppress(OSError):
        if hasattr(os, "killpg"):
            os.killpg(child.pid, signal.SIGKILL)
        else:
            child.kill()
    child.wait()
