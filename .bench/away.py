"""What planning the days away costs: a month with four helpers, and the outlook to day 14.

    python .bench/away.py

Printed as milliseconds of the processor and as a ratio to one day's plan.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1])]

from pottyboard.core.away.outlook import outlook  # noqa: E402
from pottyboard.core.away.visits import plan_visits  # noqa: E402
from pottyboard.core.engine.interval import Evidence  # noqa: E402
from pottyboard.core.model.questions import default_answers, settings_from  # noqa: E402

NOW = datetime(2026, 3, 2, 7, tzinfo=UTC)
SETTINGS = settings_from(
    {
        **default_answers(NOW, "Europe/Oslo"),
        "name": "Bramble",
        "weight": "15",
        "arrived": "2026-03-02 05:00",
        "absent-from": "1",
        "workdays": "mon-fri",
        "people": "Ana, Ben",
        "own-hours": "Ben mon,wed 08:10-16:20; Ben tue,thu 09:00-18:00; Ben fri 07:40-15:00",
        "helpers": "Mina 10:00-15:00 12.50 mon-fri 30min notice 24h; Otto 9-18 15 notice 2 days; "
        "Per 7:00-10:00 3; Ida 12:00-17:00 14",
    },
    NOW,
)


def milliseconds(work: Callable[[int], object]) -> float:
    """Return the least of five times that ``work`` takes the processor, each on another interval.

    Another interval each time, since a plan that is asked for again is remembered.
    """
    took = []
    for turn in range(5):
        start = time.process_time()
        work(100 + turn)
        took.append((time.process_time() - start) * 1000)
    return min(took)


def main() -> None:
    """Print the table."""
    day = milliseconds(lambda interval: plan_visits(SETTINGS, NOW, interval, days=1))
    month = milliseconds(lambda interval: plan_visits(SETTINGS, NOW, interval, days=30))
    ahead = milliseconds(
        lambda interval: outlook(SETTINGS, NOW, interval, Evidence(0, ()), digestion=75)
    )
    print(f"one day, four helpers    {day:8.2f} ms")
    print(f"a month, four helpers    {month:8.2f} ms, {month / day:6.1f} times that of a day")
    print(f"outlook to day 14        {ahead:8.2f} ms, {ahead / day:6.1f} times that of a day")


if __name__ == "__main__":
    main()
