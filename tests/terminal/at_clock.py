"""Run the command line by a clock in a file, so that a test can let a whole day pass.

    python at_clock.py FILE [the command line]

FILE holds the instant that it is now, as ISO 8601 with an offset.
"""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

from pottyboard.cli.main import main

if __name__ == "__main__":
    face = Path(sys.argv[1])
    sys.exit(main(sys.argv[2:], clock=lambda: datetime.fromisoformat(face.read_text("ascii"))))
