"""How fast the program starts, and what an open board costs, as ratios on the machine at hand.

    python .bench/start.py [now] [paint] [idle]

``now``    the command against an interpreter that only imports the libraries of core and store, and
           against one that imports only those that this command loads (goal 1.3), in ms of CPU
``paint``  the board's first paint against a bare Textual app with one label (goal 1.8)
``idle``   CPU over 20 s against the same bare app ticking once a minute (goal 2)

Runs alternate, so that a busy machine slows both alike; the figure is the ratio of the medians, and
behind it that of the fastest runs.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
LIBRARIES = ["pendulum", "tinydb", "filelock", "platformdirs"]
"""The libraries of core and store."""

RUNS = 21
IDLE_SECONDS = 20.0
SETTLE_SECONDS = 3.0

BARE_APP = """
import sys
from textual.app import App
from textual.widgets import Label

class Bare(App):
    def compose(self):
        yield Label("a label of its own")

    def on_mount(self):
        if "tick" in sys.argv:
            self.set_interval(60, lambda: self.query_one(Label).update("another"))

Bare().run()
"""


def environ(home: Path) -> dict[str, str]:
    """Return an environment with a home of its own, and compiled modules as when installed."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    return {
        **kept, "POTTYBOARD_HOME": str(home), "TERM": "xterm-256color", "COLORTERM": "truecolor",
        "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": str(home / ".compiled"),
        "TZ": "Europe/Oslo",
    }  # fmt: skip


def fill(home: Path) -> None:
    """Write two weeks up to yesterday into ``home``."""
    from logs import ANSWERS, entries

    from pottyboard.store import Household

    first = datetime.now(UTC) - timedelta(days=14)
    arrived = first.replace(hour=5, minute=0, second=0, microsecond=0)
    dog_log = Household(home).create(ANSWERS | {"arrived": arrived.isoformat()}, first)
    dog_log.add_all(entries(14, first), datetime.now(UTC))
    print(f"log: {len(dog_log.events)} entries in 14 days")


def alternate(
    one: Callable[[], float], other: Callable[[], float], runs: int = RUNS
) -> tuple[list[float], list[float]]:
    """Measure two things in turn; return the figures of each."""
    one(), other()  # files into the cache
    figures = [(one(), other()) for _ in range(runs)]
    return [first for first, _ in figures], [second for _, second in figures]


def report(words: str, ours: list[float], bare: list[float], goal: float, unit: str) -> None:
    """Print a line with both figures, the ratio and the goal."""
    mine, theirs = statistics.median(ours), statistics.median(bare)
    fastest = min(ours) / min(bare)
    print(
        f"{words:34} {mine:8.1f} {unit} against {theirs:8.1f} {unit}: "
        f"{mine / theirs:.2f} (fastest {fastest:.2f}), goal {goal}"
    )


# --- A command ------------------------------------------------------------------------------------


def libraries_of_now(home: Path) -> list[str]:
    """Return the installed libraries that ``now`` loads."""
    code = (
        "import sys; before = set(sys.modules)\n"
        "from pottyboard.cli.main import main; main(['now'])\n"
        "print(*{n.split('.')[0] for n in set(sys.modules) - before}, file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=environ(home), capture_output=True, text=True, check=True
    )
    ours = {"pottyboard", "__main__"}
    names = set(done.stderr.split()) - set(sys.stdlib_module_names) - ours
    return sorted(name for name in names if not name.startswith("_"))


def measure_now(home: Path) -> None:
    """Compare commands with the imports alone."""
    loaded = libraries_of_now(home)
    for libraries in (LIBRARIES, loaded):
        print(f"against an interpreter that imports {', '.join(libraries)}")
        for words in (["now"], ["now", "--json"], ["log", "pee"]):
            ours, bare = alternate(
                partial(cpu_for, "-m", "pottyboard", *words, home=home),
                partial(cpu_for, "-c", f"import {','.join(libraries)}", home=home),
            )
            report(f"  {' '.join(words)}", ours, bare, 1.3, "ms")


def cpu_for(*words: str, home: Path) -> float:
    """Run the interpreter with ``words``; return the CPU that it used in ms."""
    program = subprocess.Popen(
        [sys.executable, *words], env=environ(home), stdout=subprocess.DEVNULL
    )
    _, status, used = os.wait4(program.pid, 0)
    program.returncode = os.waitstatus_to_exitcode(status)
    assert program.returncode == 0, words
    return (used.ru_utime + used.ru_stime) * 1000


# --- The board ------------------------------------------------------------------------------------


@contextmanager
def on_terminal(command: list[str], home: Path) -> Iterator[tuple[int, int]]:
    """Run a program on a terminal of 120×40; give its process id and our end of the terminal."""
    end, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    program = subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, env=environ(home),
        start_new_session=True,
    )  # fmt: skip
    os.close(theirs)
    try:
        yield program.pid, end
    finally:
        program.send_signal(signal.SIGKILL)
        program.wait()
        os.close(end)


def read_until(end: int, wanted: bytes, patience: float = 30) -> None:
    """Read what the program writes until ``wanted`` has come."""
    seen, deadline = b"", time.perf_counter() + patience
    while wanted not in seen:
        if time.perf_counter() > deadline:
            raise SystemExit(f"never painted {wanted!r}: {seen[-2000:]!r}")
        if select.select([end], [], [], 0.05)[0]:
            seen += os.read(end, 65536)


BOARD = [sys.executable, "-m", "pottyboard"]
BARE = [sys.executable, "-c", BARE_APP]


def measure_paint(home: Path) -> None:
    """Compare the time from start to the first whole paint."""

    def painted(command: list[str], wanted: bytes) -> float:
        start = time.perf_counter()
        with on_terminal(command, home) as (_, end):
            read_until(end, wanted)
            return (time.perf_counter() - start) * 1000

    ours, bare = alternate(
        lambda: painted(BOARD, b"help"), lambda: painted(BARE, b"a label of its own")
    )
    report("first paint", ours, bare, 1.8, "ms")


def measure_idle(home: Path) -> None:
    """Compare the CPU that an open board uses while nothing happens."""

    def used(command: list[str], wanted: bytes) -> float:
        with on_terminal(command, home) as (pid, end):
            read_until(end, wanted)
            drain(end, SETTLE_SECONDS)
            before = cpu_of(pid)
            drain(end, IDLE_SECONDS)
            return (cpu_of(pid) - before) * 1000

    ours = [used(BOARD, b"help") for _ in range(2)]
    bare = [used([*BARE, "tick"], b"a label of its own") for _ in range(2)]
    report(f"CPU in {IDLE_SECONDS:.0f} s", ours, bare, 2, "ms")


def drain(end: int, seconds: float) -> None:
    """Read and forget for a while."""
    deadline = time.perf_counter() + seconds
    while (left := deadline - time.perf_counter()) > 0:
        if select.select([end], [], [], left)[0]:
            os.read(end, 65536)


def cpu_of(pid: int) -> float:
    """Return the CPU seconds that all threads of a process have used so far."""
    tasks = Path(f"/proc/{pid}/task")
    if tasks.exists():
        schedules = (path.read_text().split() for path in tasks.glob("*/schedstat"))
        return sum(int(schedule[0]) for schedule in schedules) / 1e9
    told = subprocess.run(
        ["ps", "-o", "cputime=", "-p", str(pid)], capture_output=True, text=True, check=True
    )
    minutes, _, seconds = told.stdout.strip().rpartition(":")
    return float(minutes.rpartition(":")[2] or 0) * 60 + float(seconds)


def main() -> None:
    """Run the parts that were asked for, all if none."""
    parts = {"now": measure_now, "paint": measure_paint, "idle": measure_idle}
    sys.path[:0] = [str(ROOT), str(ROOT / ".bench")]
    with tempfile.TemporaryDirectory() as folder:
        fill(Path(folder))
        for name in sys.argv[1:] or parts:
            parts[name](Path(folder))


if __name__ == "__main__":
    main()
