"""A fixed world for every test: no clock change by chance, no user's files, no random examples."""

from __future__ import annotations

import gc
import os
import time
from pathlib import Path

os.environ.update(TZ="UTC", TEXTUAL_ANIMATIONS="none", TERM="xterm-256color", COLORTERM="truecolor")
for name in ("POTTYBOARD_HOME", "NO_COLOR", "COLUMNS", "LINES", "PYTHONUTF8", "PYTHONIOENCODING"):
    os.environ.pop(name, None)
# A program that a test starts need not compile all of ours: that is half of its time.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
time.tzset()

import pytest  # noqa: E402  (the environment comes first: some libraries read it when imported)
from hypothesis import settings  # noqa: E402

settings.register_profile("same-every-time", derandomize=True, deadline=None, database=None)
settings.load_profile("same-every-time")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the long tests on real terminals: quick ones then fill up the end of each core."""
    items.sort(key=lambda item: "terminal" not in item.path.parts)


def pytest_collection_finish() -> None:
    """Look for garbage among what the tests make, not among all that was imported for them."""
    gc.collect()
    gc.freeze()


def pytest_sessionfinish() -> None:
    """Spare pytest's last look for garbage among all that the tests have made.

    After the whole suite it can last over five seconds: then the worker is interrupted in it.
    """
    gc.freeze()


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Send everything that a program keeps for its user to this test's own folder."""
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, f"{tmp_path}/user/{name.lower()}")
