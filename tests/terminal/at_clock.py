"""Run the command line by a clock in a file, so that a test can let a whole day pass.

    python at_clock.py FILE [the command line]

FILE holds the instant that it is now, as ISO 8601 with an offset.
"""

from __future__ import annotations

import gc
import sys
from datetime import datetime
from pathlib import Path


def run() -> int:
    """Run as the installed command does, which looks for no garbage in a command's short life."""
    gc.disable()
    from pottyboard.cli.main import main

    face = Path(sys.argv[1])
    try:
        return main(sys.argv[2:], clock=lambda: datetime.fromisoformat(face.read_text("ascii")))
    finally:
        gc.freeze()


if __name__ == "__main__":
    sys.exit(run())
