"""What a command says beside its answer: warnings, and the exit code that it leaves."""

from __future__ import annotations

import sys
from typing import Final

from pottyboard.core.model.printable import printable

DONE: Final = 0
REFUSED: Final = 1
USAGE: Final = 2
INTERRUPTED: Final = 130

_LONGEST: Final = 2000


class UsageError(Exception):
    """A command line that cannot be read, with what to type; ``usage`` is how it is written."""

    def __init__(self, words: str, usage: str = "") -> None:
        """Keep the message and the usage."""
        super().__init__(words)
        self.usage = usage


def warn(words: str) -> None:
    """Say something beside what the command prints."""
    print(f"pottyboard: {printable(words, _LONGEST)}", file=sys.stderr)


def exit_code(done: bool) -> int:
    """Return the exit code of a command that was done, or refused with a reason."""
    return DONE if done else REFUSED
