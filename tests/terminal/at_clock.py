"""Run the command line by a clock in a file, so that a test can let a whole day pass.

    python at_clock.py FILE [the command line]

FILE holds the instant that it is now, as ISO 8601 with an offset. A board looks at it every quarter
of a second, not every other second, or the tests would mostly wait for its next look.
"""

from __future__ import annotations

import gc
import sys
from datetime import datetime
from pathlib import Path

DAY = "pottyboard.board.screens.day"


def run() -> int:
    """Run as the installed command does, which looks for no garbage in a command's short life."""
    gc.disable()
    from pottyboard.cli.main import main

    face = Path(sys.argv[1])

    def clock() -> datetime:
        if DAY in sys.modules:  # only where a board opens, and before it is there to look
            sys.modules[DAY].__dict__["_BEAT"] = 0.25
        return datetime.fromisoformat(face.read_text("ascii"))

    try:
        return main(sys.argv[2:], clock=clock)
    finally:
        gc.freeze()


if __name__ == "__main__":
    sys.exit(run())
