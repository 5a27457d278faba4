"""What a review costs: two weeks, a year and 150,000 entries, in seconds, and as a ratio.

    python .bench/review.py

The store is left out: see ``.bench/store.py``.
"""

from __future__ import annotations

import gc
import sys
import time
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parent)]

from logs import entries, settings_of  # noqa: E402

from pottyboard.core.engine.history import History  # noqa: E402
from pottyboard.core.review.report import review  # noqa: E402
from pottyboard.papers.lookback.review import review_text  # noqa: E402
from pottyboard.papers.lookback.review_page import review_page  # noqa: E402

FIRST = datetime(2015, 1, 5, tzinfo=UTC)
TWO_WEEKS, YEAR, TEN_YEARS = 14, 365, 3572


def main() -> None:
    """Print the table."""
    gc.disable()
    settings, base = settings_of(FIRST), 0.0
    print(f"{'entries':>8} {'review':>9} {'text':>9} {'page':>9}   ratio of the review")
    for days in (TWO_WEEKS, YEAR, TEN_YEARS):
        log = tuple(entries(days, FIRST))
        History._last = None
        marks = [time.perf_counter()]
        found = review(settings, log, log[-1].at)
        marks.append(time.perf_counter())
        review_text(found)
        marks.append(time.perf_counter())
        review_page(found)
        marks.append(time.perf_counter())
        spent = [after - before for before, after in pairwise(marks)]
        base = base or spent[0]
        print(f"{len(log):8}" + "".join(f" {s:7.2f} s" for s in spent) + f" {spent[0] / base:8.1f}")


if __name__ == "__main__":
    main()
