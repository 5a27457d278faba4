"""The household's laptop, on which the installed program runs by a clock that a test sets."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from tests.terminal.pseudo import PseudoTerminal

AT_CLOCK = Path(__file__).with_name("at_clock.py")


@dataclass
class Laptop:
    """The household's laptop: a home for the log, a zone, and a clock that a test sets."""

    home: Path
    face: Path
    environ: dict[str, str]

    def set_clock(self, clock: str, day: str = "2026-03-02") -> None:
        """Let it be this time of day in Oslo."""
        fresh = self.face.with_suffix(".new")
        fresh.write_text(f"{day}T{clock}+01:00", "ascii")
        fresh.replace(self.face)  # at once, or the program could read an empty file

    def command(self, *words: str) -> list[str]:
        """Return the command line that runs the program by this clock."""
        return [sys.executable, str(AT_CLOCK), str(self.face), "--home", str(self.home), *words]

    def board(self, *words: str, columns: int = 120, rows: int = 40) -> PseudoTerminal:
        """Start the program on a terminal."""
        return PseudoTerminal(self.command(*words), self.environ, columns, rows)

    def run(self, *words: str) -> str:
        """Run a command without a terminal; return what it prints."""
        done = subprocess.run(
            self.command(*words), env=self.environ, stdin=subprocess.DEVNULL,
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        return done.stdout
