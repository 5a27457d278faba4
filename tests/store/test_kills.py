"""Writers that are killed: nothing that was acknowledged is lost, no file is unreadable.

The same kills on TinyDB's own JSON storage do harm, or they would prove nothing about ours.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from pottyboard.store import DogLog
from pottyboard.store.damage import parse
from tests.store.house import new_dog_log
from tests.store.killing import Killer, LossError
from tests.store.stock import StockRecord

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork and SIGKILL")

KILLS = 200
EACH_CHANGE = ["add", "group", "edit", "move", "move", "delete", "undo", "undo", "undo"]


def test_200_kills_lose_nothing(tmp_path: Path) -> None:
    folder = new_dog_log(tmp_path / "home").folder
    with Killer(folder, DogLog, seed=1) as killer:
        killer.kill_often(KILLS)
    assert killer.acknowledged > KILLS
    files = [parse(path.read_bytes()) for path in folder.glob("events-*.json")]
    assert sum(len(tables["trail"]) for tables in files) > KILLS // 2


def test_stock_storage_would_not_survive_them(tmp_path: Path) -> None:
    with (
        Killer(tmp_path, StockRecord, stock=True, seed=1) as killer,
        pytest.raises(LossError, match="unreadable"),
    ):
        killer.kill_often(KILLS)


def test_death_before_each_system_call_loses_nothing(tmp_path: Path) -> None:
    folder = new_dog_log(tmp_path / "home").folder
    with Killer(folder, DogLog) as killer:
        assert killer.die_everywhere(EACH_CHANGE) > 5 * len(EACH_CHANGE)


def test_stock_storage_would_not_survive_that_either(tmp_path: Path) -> None:
    with (
        Killer(tmp_path, StockRecord, stock=True) as killer,
        pytest.raises(LossError, match="unreadable"),
    ):
        killer.die_everywhere(EACH_CHANGE)
