"""One of two processes that write at the same time; prints what the log must hold of it.

python two_writers.py FOLDER CHANGES SECONDS ours|stock NAME
"""

from __future__ import annotations

import json
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pottyboard.core.model.events import Event
from pottyboard.store import DogLog
from tests.store.stock import StockRecord

NOW = datetime(2026, 4, 10, 12, 0, tzinfo=UTC)


def main(folder: str, changes: str, seconds: str, store: str, name: str) -> None:
    """Write two entries, correct one, delete one, and so on."""
    dog_log = StockRecord(Path(folder)) if store == "stock" else DogLog(Path(folder))
    print("ready", flush=True)
    sys.stdin.readline()
    end = time.monotonic() + float(seconds)
    wanted: dict[str, str] = {}
    number = 0
    while number < int(changes) or time.monotonic() < end:
        number += 1
        entry_id = f"{name}-{number}"
        if number % 5 == 0:
            dog_log.delete(f"{name}-{number - 1}", NOW)
            del wanted[f"{name}-{number - 1}"]
        elif number % 5 == 3:
            dog_log.edit(f"{name}-{number - 1}", {"note": f"corrected by {name}"}, NOW)
            wanted[f"{name}-{number - 1}"] = f"corrected by {name}"
        else:
            at = NOW - timedelta(hours=number % 600)
            dog_log.add(Event("pee", at, entry_id, name, zone="Europe/Oslo", logged=NOW), NOW)
            wanted[entry_id] = ""
    print(json.dumps(wanted))


if __name__ == "__main__":
    main(*sys.argv[1:])
