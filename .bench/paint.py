"""How long a key takes to its painted answer, and how long the loop of the board is ever blocked.

    python .bench/paint.py [--entries N ...] [--keys N]

For logs of 560 and 15,000 entries: keys that log, each until the screen says so (the goal is 100 ms
for 95 of 100), and the longest time without a beat of the event loop while another process holds
the lock for five seconds and a key is pressed (the goal is 50 ms). Time in which the system let
other programs run is taken off, where it tells.
"""

from __future__ import annotations

import argparse
import asyncio
import gc
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))
sys.path.insert(0, str(Path(__file__).parent))

from store import NOW, filled

from pottyboard.board.app import BoardApp
from pottyboard.store import DogLog, Household

BEAT = 0.002
HELD = 5.0
_HOLDER = "import sys, time, filelock\nwith filelock.FileLock(sys.argv[1]):\n" + (
    "    print('held', flush=True)\n    time.sleep(float(sys.argv[2]))\n"
)


def own_time() -> float:
    """Return a clock in seconds that stands while the system lets other programs run."""
    try:
        waited = int(Path("/proc/thread-self/schedstat").read_text().split()[1])
    except (OSError, ValueError, IndexError):
        waited = 0
    return time.perf_counter() - waited / 1e9


async def beats(gaps: list[float]) -> None:
    """Note how long after its time each beat of the loop comes."""
    while True:
        begun = own_time()
        await asyncio.sleep(BEAT)
        gaps.append(own_time() - begun - BEAT)


async def measure(folder: Path, keys: int) -> tuple[list[float], float, float]:
    """Return ms from each key to its answer; the longest gap alone, and with the lock held."""
    later = [NOW + timedelta(minutes=1)]
    app = BoardApp(Household(folder.parent), DogLog(folder), lambda: later[0], {})
    took = []
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await pilot.pause()
        day = app.screen_stack[0]
        gaps: list[float] = []
        heart = asyncio.create_task(beats(gaps))
        for number in range(keys):
            later[0] += timedelta(minutes=2)
            before = len(day.entries.events)  # type: ignore[attr-defined]
            begun = own_time()
            app.simulate_key("pm"[number % 2])
            while len(day.entries.events) == before:  # type: ignore[attr-defined]
                await asyncio.sleep(0)
            painted = asyncio.Event()
            day.call_after_refresh(painted.set)
            await painted.wait()
            took.append((own_time() - begun) * 1000)
            await asyncio.sleep(0.02)
        alone = max(gaps)
        lock = str(folder / ".lock")
        command = [sys.executable, "-c", _HOLDER, lock, str(HELD)]
        holder = subprocess.Popen(command, stdout=subprocess.PIPE)
        assert holder.stdout is not None
        await asyncio.to_thread(holder.stdout.readline)
        gaps.clear()
        for key in "pm":
            later[0] += timedelta(minutes=2)
            app.simulate_key(key)
            await asyncio.sleep(HELD / 2)
        held = max(gaps)
        await asyncio.to_thread(holder.wait)
        heart.cancel()
        app.finish()
    return took, alone * 1000, held * 1000


def main() -> None:
    """Print the figures for each size."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--entries", type=int, nargs="+", default=[560, 15_000])
    parser.add_argument("--keys", type=int, default=40)
    args = parser.parse_args()
    for entries in args.entries:
        with tempfile.TemporaryDirectory() as folder:
            log = filled(Path(folder) / "home", entries)
            gc.collect()
            took, alone, held = asyncio.run(measure(log.folder, args.keys))
        median, most = statistics.median(took), statistics.quantiles(took, n=20)[-1]
        print(
            f"{entries:>7,} entries: key to painted answer {median:.0f} ms, 95 of 100 within "
            f"{most:.0f} ms; loop blocked at most {alone:.0f} ms, with the lock held {held:.0f} ms"
        )


if __name__ == "__main__":
    main()
