"""What the situation costs: two weeks and a year, cold and growing, in ms and as a ratio.

    python .bench/core.py

Cold is the first call on a log, in a process that has never seen it. Growing is what the board and
scripts do: one more entry, or one more minute, and ask again.
"""

from __future__ import annotations

import statistics
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parent)]

from logs import entries, settings_of  # noqa: E402

from pottyboard.core.engine.history import History  # noqa: E402
from pottyboard.core.view.situation import situation  # noqa: E402

FIRST = datetime(2025, 1, 6, tzinfo=UTC)
TWO_WEEKS, YEAR = 14, 365
CALLS = 60


def milliseconds(days: int, *, learn: bool) -> dict[str, float]:
    """Return the median cost of a call on a log of so many days, by how it is called."""
    settings = settings_of(FIRST)
    log = tuple(entries(days, FIRST))
    end = log[-CALLS].at

    def timed(events: tuple, now: datetime) -> float:  # type: ignore[type-arg]
        start = time.perf_counter()
        situation(settings, events, now, learn=learn)
        return (time.perf_counter() - start) * 1000

    cold = []
    for _ in range(7 if days < 100 else 3):
        History._last = None
        cold.append(timed(log, log[-1].at))
    History._last = None
    timed(log[:-CALLS], end)
    grown = [
        timed(log[:number], log[number - 1].at) for number in range(len(log) - CALLS, len(log))
    ]
    minutes = [timed(log, log[-1].at + timedelta(minutes=minute)) for minute in range(CALLS)]
    unchanged = [timed(log, log[-1].at) for _ in range(CALLS)]
    listed = [timed(list(log), log[-1].at) for _ in range(CALLS)]  # type: ignore[arg-type]
    return {
        "entries": len(log),
        "cold": statistics.median(cold),
        "one more entry": statistics.median(grown),
        "one more minute": statistics.median(minutes),
        "nothing new": statistics.median(unchanged),
        "nothing new, as a list": statistics.median(listed),
    }


def main() -> None:
    """Print the table."""
    for learn in (False, True):
        short, long = milliseconds(TWO_WEEKS, learn=learn), milliseconds(YEAR, learn=learn)
        print("by the rule alone" if not learn else "with learning")
        for name, value in short.items():
            unit = "  " if name == "entries" else "ms"
            print(
                f"  {name:24} {value:9.2f} {unit} for {TWO_WEEKS} days, "
                f"{long[name]:9.2f} {unit} for {YEAR}: {long[name] / value:6.2f}"
            )


if __name__ == "__main__":
    main()
