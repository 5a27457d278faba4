"""What every test in a pseudo-terminal starts from."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

import pottyboard
from tests.terminal.laptop import Laptop


@pytest.fixture
def laptop(tmp_path: Path) -> Laptop:
    """A laptop in Oslo with nothing on it yet."""
    environ = {
        **os.environ,
        "TZ": "Europe/Oslo",
        "PYTHONPATH": str(Path(pottyboard.__file__).parents[1]),
    }
    return Laptop(tmp_path / "home", tmp_path / "clock", environ)
