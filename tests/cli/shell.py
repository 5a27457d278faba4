"""A household's command line in a test: its own home, its own clock."""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import pytest

from pottyboard.cli.main import main

NOON = datetime(2026, 3, 2, 11, 0, tzinfo=UTC)
"""Midday in Oslo on the day that Bramble arrived."""

BRAMBLE = (
    "setup --name Bramble --weight 8 --up 06:30 --bed 22:30 --meals 07:00,17:30 "
    '--zone Europe/Oslo --arrived "2026-03-02 09:00"'
)


class Done(NamedTuple):
    """What a command left: its exit code, what it printed, what it complained of."""

    code: int
    out: str
    err: str


@dataclass
class Shell:
    """Types commands; ``now`` is what the clock shows."""

    home: Path
    capsys: pytest.CaptureFixture[str]
    now: datetime = NOON

    def run(self, *words: str) -> Done:
        """Type a command, each word as it stands, and return what it left."""
        try:
            code = main(["--home", str(self.home), *words], clock=lambda: self.now)
        except SystemExit as left:
            code = int(left.code or 0)
        out, err = self.capsys.readouterr()
        return Done(code, out, err)

    def type(self, line: str) -> Done:
        """Type a command as it would stand in a shell."""
        return self.run(*shlex.split(line))

    def set_up(self) -> None:
        """Set Bramble up, who arrived at 09:00 in Oslo."""
        assert self.type(BRAMBLE).code == 0
